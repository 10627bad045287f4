(() => {
  // News of the setup file: a page with another version is fetched, slider and open details kept; mistakes are shown with
  // the last good drawing left standing in grey.
  const trouble = document.getElementById('trouble'), mistakes = document.getElementById('mistakes');
  const details = () => [...document.querySelectorAll('details')];
  const stale = on => document.documentElement.classList.toggle('stale', on);
  const say = (text, list) => {
    trouble.textContent = text;
    trouble.hidden = !text;
    mistakes.textContent = list;
    mistakes.hidden = !list;
    stale(!!text);
  };
  const news = new EventSource('news');
  news.addEventListener('state', e => {
    const now = JSON.parse(e.data);
    if (now.version !== document.documentElement.dataset.version) {
      window.name = 'locksweep ' + (window.locksweep ? locksweep.column() : 0) + ' ' + details().flatMap((d, i) => d.open ? [i] : []).join(',');
      location.reload();
      return;
    }
    say(now.trouble, now.mistakes);
  });
  news.addEventListener('error', () => {
    if (news.readyState !== EventSource.OPEN) say('Locksweep no longer answers; this is the last drawing.', '');
  });
  const kept = window.name.match(/^locksweep [^ ]+ ([\d,]+)$/);
  if (kept) for (const i of kept[1].split(',')) if (details()[i]) details()[i].open = true;
})();
