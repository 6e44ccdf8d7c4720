// Types each of `texts` into every field that is seen, a number in place of "*", then what stood in it; gives of each what
// the browser says has shifted, as [field, text, amount, sources]. Of what shifts behind the answer's pinned panel too, what
// is seen is counted again by the browser's rule: the share of the window that it takes, times how far it went.
async (texts) => {
  const found = [];
  const drawn = () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => requestAnimationFrame(done))));
  const asked = (name) => document.querySelector(`#ask [name="${CSS.escape(name)}"]`);
  const place = (box) => [box.x, box.y, box.width, box.height].map(Math.round);
  const named = ({ node: it, previousRect, currentRect }) => it ? `${it.nodeName}#${it.id} ${it.textContent.trim().slice(0, 25)} ${place(previousRect)} > ${place(currentRect)}` : "";
  const pinned = () => { const it = document.querySelector("#answer"); return it && getComputedStyle(it).position === "fixed" ? it : null; };
  const behind = (panel) => ({ node, previousRect, currentRect }) => {
    const { top } = panel.getBoundingClientRect();
    return !panel.contains(node) && [previousRect, currentRect].every((box) => !box.height || box.top >= top);
  };
  const share = ({ previousRect: from, currentRect: to }) => {
    const area = (Math.max(from.right, to.right) - Math.min(from.left, to.left)) * (Math.max(from.bottom, to.bottom) - Math.min(from.top, to.top));
    return area / (innerWidth * innerHeight) * Math.max(Math.abs(from.x - to.x), Math.abs(from.y - to.y)) / Math.max(innerWidth, innerHeight);
  };
  const amount = ({ value, sources }) => {
    const panel = pinned(), seen = panel && sources.length < 5 ? sources.filter((each) => !behind(panel)(each)) : sources;
    return seen.length === sources.length ? value : seen.reduce((sum, each) => sum + share(each), 0);
  };
  const type = async (name, text) => {
    const it = asked(name);
    if (!it) return;
    it.focus();
    await drawn();
    window.shifts = [];
    const answered = new Promise((done) => document.addEventListener("htmx:after:swap", done, { once: true }));
    it.value = text;
    it.dispatchEvent(new Event("input", { bubbles: true }));
    await answered;
    while (document.querySelector("#ask.stale")) await drawn();
    await drawn();
    found.push([name, text, window.shifts.reduce((sum, each) => sum + amount(each), 0), window.shifts.flatMap((each) => each.sources.map(named))]);
  };
  const fields = [...document.querySelectorAll("#ask .field input:not([type=hidden], [type=radio], [type=checkbox])")].filter((it) => it.checkVisibility());
  for (const name of fields.map((it) => it.name)) {
    const before = asked(name).value, number = parseFloat(before.replace(",", "."));
    const other = Number.isNaN(number) ? "7" : String(+(number * 1.5).toPrecision(4));
    for (const text of [...texts.map((each) => each === "*" ? other : each), before]) await type(name, text);
  }
  return found;
}
