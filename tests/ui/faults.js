// Controls are 56 px high on a phone and 64 on a tablet, any target is 48 square, any text 12 px; what is clipped, is
// larger than its field, lies over another, or a number that wraps is named. A link within a sentence is as high as its line.
() => {
  const found = new Set(), least = innerWidth < 600 ? 56 : 64, box = it => it.getBoundingClientRect();
  const seen = it => it.checkVisibility({visibilityProperty: true, contentVisibilityAuto: true}) && !it.closest('.unseen');
  const add = (what, it) => found.add(`${what}: ${it.tagName}.${it.className} ${it.textContent.trim().slice(0, 40)}`);
  const all = those => [...document.querySelectorAll(those)].filter(seen);
  const round = '[type=radio], [type=checkbox]';
  for (const it of all('a, button, input, select, textarea, summary')) {
    if (it.matches('.skip') || getComputedStyle(it).display === 'inline' || +getComputedStyle(it).opacity === 0) continue;
    const { width, height } = box((it.matches(round) ? it.closest('label') : it.closest('.box')) ?? it);
    if (height < 47.5 || width < 47.5) add('target', it);
    else if (it.matches(':not(.value, #errors a, .offers a, .note a)') && height < least - 2.5) add('control', it);
  }
  for (const it of all('main *, header *')) {
    const owned = [...it.childNodes].some(node => node.nodeType === 3 && node.data.trim());
    if (!owned) continue;
    const scale = it.ownerSVGElement ? Math.hypot(it.getScreenCTM().a, it.getScreenCTM().b) : 1;
    if (parseFloat(getComputedStyle(it).fontSize) * scale < 11.95) add('text', it);
  }
  for (const it of all('input:not([type=hidden]), output')) if (it.scrollWidth > it.clientWidth + 1) found.add(`cut: ${it.id} ${it.value}`);
  const value = document.querySelector('.headline .value'), panel = document.querySelector('#answer');
  if (value && panel) {
    const [said, around, label] = [value, panel, document.querySelector('.headline p')].map(box);
    const first = document.querySelector('#answer > .first'), more = document.querySelector('#more .scrolls');
    if (said.right > around.right + 1 || label.top < around.top - 1 || said.bottom > around.bottom + 1) add('out', value);
    if (!value.matches('.words') && said.height > 1.5 * parseFloat(getComputedStyle(value).fontSize)) add('wraps', value);
    if (said.top < 0 || said.bottom > innerHeight) add('away', value);
    for (const it of [first, more]) {
      const at = it && seen(it) && box(it);
      if (at && at.right > said.left + 1 && at.left < said.right - 1 && at.bottom > label.top + 1 && at.top < said.bottom - 1) add('over', it);
    }
  }
  if (document.documentElement.scrollWidth > innerWidth) found.add('sideways');
  return [...found];
}
