'use strict';
// What the page holds is brought to life, with the slider at a column angle, else straight ahead; returns what tests and a live page
// go by. A live page does so anew for every drawing that takes the place of the one before.
function enliven(column) {
  const show = JSON.parse(document.getElementById('show').textContent);
  const digit = new Map([...show.alphabet].map((c, i) => [c, i]));
  const base = show.alphabet.length - 1, half = Math.floor((base - 1) / 2);
  document.documentElement.classList.add('js');

  // A course is stored by how much it departs from going on as before: what comes out is a row of whole numbers a pose.
  function course(text, width) {
    const out = [];
    let at = 0;
    for (let pose = 0; at < text.length; pose++) {
      for (let i = 0; i < width; i++) {
        let n = digit.get(text[at++]);
        if (n === 0) {
          n = 0;
          for (let k = 0; k < show.long; k++) n = n * base + digit.get(text[at++]) - 1;
          n -= Math.floor(base ** show.long / 2);
        } else {
          n -= 1 + half;
        }
        const k = pose * width + i;
        if (pose === 1) n += out[k - width];
        if (pose > 1) n += 2 * out[k - width] - out[k - 2 * width];
        out.push(n);
      }
    }
    return Float64Array.from(out);
  }

  const films = show.films.map((f, i) => ({
    ...f,
    solids: f.pieces.map(list => list.map(s => ({ n: s.n, at: course(s.d, 2 * s.n) }))),
    texts: Object.fromEntries(Object.entries(f.texts).map(([k, v]) => [k, v.split('|')])),
    turns: course(f.turn, 8),
    group: document.querySelector(`g[data-film="${i}"]`),
  }));
  for (const f of films) {
    f.edges = [...f.group.querySelectorAll('.edge')];
    f.fills = [...f.group.querySelectorAll('.fill')];
  }
  const main = films[0];
  const byId = id => document.getElementById(id);
  const slide = byId('slide'), near = byId('near'), whole = byId('whole');
  const cells = [...document.querySelectorAll('td[data-film]')];
  const cursors = [...document.querySelectorAll('.cursor')];
  const contacts = [...byId('contacts').children];
  const marks = main.limits;

  // The outlines of a film at a frame; between two stored ones corners go straight.
  function draw(f, frame) {
    const i = Math.max(0, Math.min(f.count - 1, frame - f.first));
    let k = 0;
    while (k + 2 < f.keys.length && f.keys[k + 1] <= i) k++;
    const from = f.keys[k], to = f.keys[Math.min(k + 1, f.keys.length - 1)];
    const c = n => show.columns[n + f.first];
    const t = to > from ? (c(i) - c(from)) / (c(to) - c(from)) : 0;
    f.solids.forEach((solids, piece) => {
      let d = '';
      for (const s of solids) {
        const a = 2 * s.n * k, b = to > from ? a + 2 * s.n : a;
        for (let j = 0; j < 2 * s.n; j += 2) {
          const x = s.at[a + j] + t * (s.at[b + j] - s.at[a + j]);
          const y = s.at[a + j + 1] + t * (s.at[b + j + 1] - s.at[a + j + 1]);
          d += (j ? 'L' : 'M') + Math.round(x) + ' ' + Math.round(y);
        }
        d += 'z';
      }
      f.edges[piece].setAttribute('d', d);
      if (f.fills[piece]) f.fills[piece].setAttribute('d', d);
    });
    f.group.setAttribute('visibility', f.first <= frame && frame < f.first + f.count ? 'visible' : 'hidden');
  }

  function turn(frame) {
    const v = main.turns, at = 8 * (frame - main.first), rear = +byId('turn').dataset.axle;
    const there = at >= 0 && at < v.length;
    for (const [id, k] of [['axle-left', 0], ['axle-right', 3]]) {
      byId(id).setAttribute('d', there && v[at + k + 2] ? `M${v[at + k]} ${v[at + k + 1]}L${v[at + k + 2]} ${rear}` : '');
    }
    for (const [id, r] of [['circle', there ? v[at + 7] : 0], ['centre', there && v[at + 7] ? whole.viewBox.baseVal.width / 150 : 0]]) {
      const c = byId(id);
      c.setAttribute('visibility', r && v[at + 6] ? 'visible' : 'hidden');
      if (!r) continue;
      c.setAttribute('cx', v[at + 6]);
      c.setAttribute('cy', rear);
      c.setAttribute('r', r);
    }
  }

  // What has been reached: its contact lights, and its parts while the frame stands at it.
  function reached(frame) {
    const hit = new Set();
    let said = '';
    marks.forEach((m, i) => {
      const on = m.left ? frame <= m.frame : frame >= m.frame;
      contacts[i].setAttribute('visibility', on && m.at ? 'visible' : 'hidden');
      if (on) for (const p of m.pieces || []) hit.add(p);
      if (frame === m.frame) said = m.tag + ': ' + m.text;
    });
    main.edges.forEach((e, p) => e.classList.toggle('hit', hit.has(p)));
    main.fills.forEach((e, p) => e.classList.toggle('hit', hit.has(p)));
    const past = frame < main.locks[0] || frame > main.locks[1];
    near.classList.toggle('beyond', past);
    whole.classList.toggle('beyond', past);
    byId('past').hidden = !past;
    byId('at').textContent = said;
  }

  function go(frame) {
    slide.value = frame;
    slide.setAttribute('aria-valuetext', show.said[frame]);
    byId('column').textContent = show.said[frame];
    for (const f of films) draw(f, frame);
    turn(frame);
    reached(frame);
    for (const cell of cells) {
      const f = films[cell.dataset.film], list = f.texts[cell.dataset.key];
      cell.textContent = (list && list[frame - f.first]) || '-';
    }
    for (const c of cursors) c.setAttribute('d', `M${+c.dataset.origin - show.columns[frame] * c.dataset.scale} 10V204`);
  }

  slide.addEventListener('input', () => { stop(); go(+slide.value); });
  for (const b of document.querySelectorAll('button[data-frame]')) {
    b.addEventListener('click', () => { stop(); go(+b.dataset.frame); });
  }

  // The play button swings it within the locks, a quarter of a degree of column or so a picture.
  const play = byId('play');
  let playing = 0, way = 1, last = 0, at = 0;
  const speed = Math.max(12, (show.columns[main.locks[0]] - show.columns[main.locks[1]]) / 5); // degrees a second
  function stop() {
    cancelAnimationFrame(playing);
    playing = 0;
    play.setAttribute('aria-pressed', 'false');
    play.textContent = 'Play';
  }
  function step(now) {
    at -= way * speed * Math.min(0.1, (now - last) / 1000);
    last = now;
    let frame = +slide.value;
    while (way > 0 && frame < main.locks[1] && show.columns[frame] > at) frame++;
    while (way < 0 && frame > main.locks[0] && show.columns[frame] < at) frame--;
    if (frame >= main.locks[1]) way = -1;
    if (frame <= main.locks[0]) way = 1;
    if (frame !== +slide.value) go(frame);
    playing = requestAnimationFrame(step);
  }
  play.addEventListener('click', () => {
    if (playing) return stop();
    at = show.columns[+slide.value];
    last = performance.now();
    play.setAttribute('aria-pressed', 'true');
    play.textContent = 'Stop';
    playing = requestAnimationFrame(step);
  });

  const far = i => Math.abs(show.columns[i] - column);
  go(column === undefined ? show.start : show.columns.reduce((best, _, i) => far(i) < far(best) ? i : best, 0));
  return { go, stop, frames: show.columns.length, column: () => show.columns[+slide.value] };
}

// The tables are printed whether they are unfolded or not, the rest where it is.
window.addEventListener('beforeprint', () => document.querySelectorAll('details.kept').forEach(d => { d.dataset.was = d.open ? '1' : ''; d.open = true; }));
window.addEventListener('afterprint', () => document.querySelectorAll('details.kept').forEach(d => { d.open = !!d.dataset.was; }));
window.locksweep = enliven();
