(() => {
  // News of the setup file: of another version what the page holds is fetched and put in its place, the slider, what is unfolded and
  // the place on the page kept; mistakes are shown with the last good drawing left standing in grey.
  const byId = id => document.getElementById(id);
  const say = (text, list) => {
    for (const [id, said] of [['trouble', text], ['mistakes', list]]) {
      byId(id).textContent = said;
      byId(id).hidden = !said;
    }
    document.documentElement.classList.toggle('stale', !!text);
  };

  // Details go by their heading, and by which it is of those that read alike.
  function details() {
    const all = [...document.querySelectorAll('details')], heads = all.map(d => d.firstElementChild.textContent);
    return new Map(all.map((d, i) => [heads[i] + ' ' + heads.slice(0, i).filter(h => h === heads[i]).length, d]));
  }

  // The same program's page, as its style and script tell, takes the place of this one without loading it anew.
  const same = (a, b) => ['style', 'script:last-of-type'].every(s => a.querySelector(s).textContent === b.querySelector(s).textContent);
  function renew(next) {
    if (!window.locksweep || !next.getElementById('show') || !same(document, next)) return location.reload();
    const column = locksweep.column(), unfolded = [...details()].map(([head, d]) => [head, d.open]);
    const { id, dataset } = document.activeElement, focused = id ? '#' + id : dataset.tag ? `button[data-tag="${dataset.tag}"]` : null;
    locksweep.stop();
    document.querySelector('main').replaceWith(next.querySelector('main'));
    byId('show').replaceWith(next.getElementById('show'));
    document.title = next.title;
    document.documentElement.dataset.version = next.documentElement.dataset.version;
    const now = details();
    for (const [head, open] of unfolded) if (now.has(head)) now.get(head).open = open;
    window.locksweep = enliven(column);
    if (focused) document.querySelector(focused)?.focus({ preventScroll: true });
  }

  const lost = () => say('Locksweep no longer answers; this is the last drawing.', '');
  let told, following = false;
  async function follow() {
    if (following) return;
    following = true;
    for (let now; now !== told;) {
      now = told;
      if (now.version !== document.documentElement.dataset.version) {
        const page = await fetch('./').then(answer => answer.text()).catch(lost);
        if (page) renew(new DOMParser().parseFromString(page, 'text/html'));
      }
      say(told.trouble, told.mistakes);
    }
    following = false;
  }
  const news = new EventSource('news');
  news.addEventListener('state', e => {
    told = JSON.parse(e.data);
    follow();
  });
  news.addEventListener('error', () => {
    if (news.readyState !== EventSource.OPEN) lost();
  });
})();
