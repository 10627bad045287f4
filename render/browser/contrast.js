// What is hard to see on the page that is open: texts with less than the contrast of WCAG 2.2 level AA (1.4.3: 4.5, large
// 3) and lines of drawings with less than 3 (1.4.11) against what they stand on. Formulas after the standard, memory.
(() => {
  const parse = c => (c.match(/[\d.]+/g) || [0, 0, 0, 0]).map(Number);
  const light = c => {
    const [r, g, b] = c.map(v => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const ratio = (a, b) => (Math.max(light(a), light(b)) + 0.05) / (Math.min(light(a), light(b)) + 0.05);
  const under = e => {
    for (; e; e = e.parentElement) {
      const c = parse(getComputedStyle(e).backgroundColor);
      if (c.length === 3 || c[3] === 1) return c.slice(0, 3);
    }
    return [255, 255, 255];
  };
  const weak = [];
  let found = 0;
  for (const e of document.querySelectorAll('body *')) {
    const own = [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim());
    if (!e.checkVisibility() || !own || e.closest('script,style,title')) continue;
    const s = getComputedStyle(e), size = parseFloat(s.fontSize), bold = +s.fontWeight >= 700;
    const least = size >= 24 || bold && size >= 18.66 ? 3 : 4.5;
    const ink = parse(e.ownerSVGElement ? s.fill : s.color).slice(0, 3), r = ratio(ink, under(e.ownerSVGElement || e));
    found++;
    if (r < least) weak.push(`${e.textContent.trim().slice(0, 40)}: ${r.toFixed(2)}, at least ${least}`);
  }
  for (const e of document.querySelectorAll('.car .edge, .car .axis, .ghost path, .bar line, .bar .usable, .curve, .cursor, .over path, .axle, .circle, input[type=range]')) {
    const s = getComputedStyle(e);
    const ink = e.matches('.usable') ? s.fill : s.stroke;
    if (!e.checkVisibility() || ink === 'none') continue;
    found++;
    const r = ratio(parse(ink).slice(0, 3), under(e));
    if (r < 3) weak.push(`line ${e.getAttribute('class')}: ${r.toFixed(2)}, at least 3`);
  }
  return { found, weak };
})()
