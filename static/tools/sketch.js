// A sketch over the whole screen: larger and smaller, moved by buttons, keys, one finger or two, its layers switched;
// a tapped dimension leads to its field.
const NEAR = 28, STEP = 0.2, FACTOR = 1.4, MOST = 12;
const words = (text, values) => window.chuckside.words(text, values);
const LAYERS = [[words("On the print"), ".dim, .h, .f, .rim"], [words("Passes"), ".p1, .p2, .lf"], [words("Nose path"), ".nc, .tp, .n, .m"], [words("Tool"), ".in, .hd"], [words("Raw bar"), ".s"], [words("Points"), ".pt, .pn"]];
let page = null, box = null, drawing = null, whole = null, view = null;
const fingers = new Map();

const element = (tag, more, ...inner) => {
  const made = Object.assign(document.createElement(tag), more);
  made.append(...inner);
  return made;
};
const show = () => drawing.setAttribute("viewBox", [view.x, view.y, view.w, view.h].join(" "));
const zoom = (factor, at = { x: view.x + view.w / 2, y: view.y + view.h / 2 }) => {
  const by = Math.min(Math.max(whole.w / view.w * factor, 1), MOST) / (whole.w / view.w);
  view = { x: at.x - (at.x - view.x) / by, y: at.y - (at.y - view.y) / by, w: view.w / by, h: view.h / by };
  settle();
};
const settle = () => {
  for (const [at, size] of [["x", "w"], ["y", "h"]]) view[at] = Math.min(Math.max(view[at], whole[at]), whole[at] + whole[size] - view[size]);
  show();
};
const move = (right, down) => { view.x += right * view.w; view.y += down * view.h; settle(); };
const again = () => { view = { ...whole }; show(); };

const at = ({ clientX, clientY }) => new DOMPoint(clientX, clientY).matrixTransform(drawing.getScreenCTM().inverse());
const gap = () => { const [a, b] = [...fingers.values()]; return Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY); };
const middle = () => { const [a, b] = [...fingers.values()]; return { clientX: (a.clientX + b.clientX) / 2, clientY: (a.clientY + b.clientY) / 2 }; };
let travelled = 0;
const down = (event) => { fingers.set(event.pointerId, event); if (fingers.size === 1) travelled = 0; };
const drag = (event) => {
  const before = fingers.get(event.pointerId);
  if (!before) return;
  if (fingers.size === 2) {
    const wide = gap();
    fingers.set(event.pointerId, event);
    zoom(gap() / wide, at(middle()));
  } else {
    const [from, to] = [at(before), at(event)];
    fingers.set(event.pointerId, event);
    view.x += from.x - to.x;
    view.y += from.y - to.y;
    settle();
  }
  travelled += Math.hypot(event.clientX - before.clientX, event.clientY - before.clientY);
};
const up = (event) => { fingers.delete(event.pointerId); };

// The field of the dimension whose text is nearest to a tap, where one is near.
const fieldNear = (svg, { clientX, clientY }) => {
  const found = [...svg.querySelectorAll("[data-field]")].map((group) => {
    const around = (group.querySelector("text") ?? group).getBoundingClientRect();
    const away = Math.hypot(Math.max(around.left - clientX, 0, clientX - around.right), Math.max(around.top - clientY, 0, clientY - around.bottom));
    return { away, field: document.querySelector(`#ask [name="${CSS.escape(group.dataset.field)}"]`) };
  }).filter(({ away, field }) => field && away <= NEAR).sort((a, b) => a.away - b.away);
  return found[0]?.field;
};
const lead = (field) => {
  box?.close();
  for (let fold = field.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
  field.focus();
  field.scrollIntoView({ block: "center" });
};
const tapped = (event) => {
  const field = travelled < 10 && fieldNear(drawing, event);
  if (field) lead(field);
};

const KEYS = { "+": () => zoom(FACTOR), "=": () => zoom(FACTOR), "-": () => zoom(1 / FACTOR), 0: again, ArrowLeft: () => move(-STEP, 0), ArrowRight: () => move(STEP, 0), ArrowUp: () => move(0, -STEP), ArrowDown: () => move(0, STEP) };
const pressed = (event) => { if (KEYS[event.key]) { event.preventDefault(); KEYS[event.key](); } };
const button = (words, act, name = words) => {
  const made = element("button", { type: "button", className: "act", textContent: words, onclick: act });
  made.setAttribute("aria-label", name);
  return made;
};
const layer = ([words, those]) => {
  const marks = [...drawing.querySelectorAll(those)];
  if (!marks.length) return "";
  const made = button(words, () => {
    const shown = made.getAttribute("aria-pressed") === "true";
    made.setAttribute("aria-pressed", !shown);
    for (const mark of marks) mark.setAttribute("visibility", shown ? "hidden" : "visible");
  });
  made.setAttribute("aria-pressed", "true");
  return made;
};

// A copy whose ids are its own.
export const copied = (svg, key = "large") => {
  const text = new XMLSerializer().serializeToString(svg).replace(/(\bid="|#|aria-labelledby="|aria-describedby=")([\w-]+)/g, `$1${key}-$2`);
  const copy = document.importNode(new DOMParser().parseFromString(text, "image/svg+xml").documentElement, true);
  for (const name of ["width", "height"]) copy.removeAttribute(name);
  return copy;
};
const open = (svg) => {
  drawing = copied(svg);
  const { x, y, width, height } = svg.viewBox.baseVal;
  whole = { x, y, w: width, h: height };
  view = { ...whole };
  const acts = element("div", { className: "large-acts" },
    button(words("Larger"), () => zoom(FACTOR)), button(words("Smaller"), () => zoom(1 / FACTOR)), button(words("Whole"), again),
    button("←", () => move(-STEP, 0), words("Move left")), button("→", () => move(STEP, 0), words("Move right")),
    button("↑", () => move(0, -STEP), words("Move up")), button("↓", () => move(0, STEP), words("Move down")),
    ...LAYERS.map(layer), button(words("Close"), () => box.close()));
  box = element("dialog", { className: "large", onkeydown: pressed, onclose: () => { box.remove(); fingers.clear(); } }, drawing, acts);
  box.setAttribute("aria-label", words("The sketch over the whole screen"));
  for (const [name, act] of [["pointerdown", down], ["pointermove", drag], ["pointerup", up], ["pointercancel", up], ["click", tapped]]) drawing.addEventListener(name, act);
  document.body.append(box);
  box.showModal();
};

export const use = (tools, from, event) => {
  page = tools;
  const svg = event?.target.closest("svg") ?? page.find(".sketches svg[role=img]");
  const field = event && svg && fieldNear(svg, event);
  if (field) lead(field); else if (svg && !box?.open) open(svg);
};
