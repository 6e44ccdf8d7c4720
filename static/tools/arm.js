// The numbers to set, alone and as large as the screen allows, for reading from a step back. The screen stays on; Back,
// Escape or a button leaves. The worst caution comes along: a number is never shown without it.
const words = (text, values) => window.chuckside.words(text, values);
const LEAST = 26, MOST = 400, LIGHTS = [[words("Day"), "day"], [words("Night"), "night"], [words("Sunlight"), "sun"]];
let page = null, box = null, values = null, lock = null;

const element = (tag, more, ...inner) => {
  const made = Object.assign(document.createElement(tag), more);
  made.append(...inner);
  return made;
};
const shown = (it) => {
  const copy = it.cloneNode(true);
  for (const unseen of copy.querySelectorAll(".unseen")) unseen.remove();
  return [...copy.childNodes];
};
const named = (it) => shown(it).filter((part) => part.nodeName !== "SMALL");
const value = (label, button, limits, kind) => element("div", { className: kind }, element("p", {}, ...named(label)),
  element("p", { className: "number" }, ...shown(button)), ...(limits ? [element("p", { className: "ends", textContent: limits.textContent })] : []));
// A value of words, such as a designation, has a row of its own.
const long = (it) => (shown(it).map((part) => part.textContent).join("").trim().length > 14 ? "long" : "");
const gathered = () => {
  const head = page.find("#answer .headline"), rest = [...document.querySelectorAll("#answer dl > div")].filter((it) => /\d/.test(it.querySelector(".value").textContent));
  return [value(head.querySelector("p"), head.querySelector(".value"), head.querySelector(".limits"), "main"),
    ...rest.map((it) => value(it.querySelector("dt"), it.querySelector(".value"), it.querySelector(".limits"), long(it.querySelector(".value"))))];
};

// The largest size at which all of it fits; what would be too small to read from there is left to the page itself.
// Where the longest number is what stops the first size, the others grow on alone.
const fits = (size, ...names) => {
  for (const name of names) box.style.setProperty(name, `${size}px`);
  return [values, ...values.children].every((it) => it.scrollWidth <= it.clientWidth) && values.scrollHeight <= values.clientHeight;
};
const largest = (low, high, ...names) => {
  while (high - low > 1) { const size = (low + high) / 2; if (fits(size, ...names)) low = size; else high = size; }
  fits(low, ...names);
  return low;
};
const fit = () => {
  const all = [...values.children];
  for (const it of all) it.hidden = false;
  let size = largest(8, MOST, "--arm", "--rest");
  while (size < LEAST && all.length > 1) { all.pop().hidden = true; size = largest(8, MOST, "--arm", "--rest"); }
  largest(size, 1.8 * size, "--rest");
};

const wear = (light) => {
  box.dataset.light = light;
  for (const it of box.querySelectorAll("[data-light]")) it.setAttribute("aria-pressed", it.dataset.light === light);
  fit();
};
const lights = () => LIGHTS.map(([told, light]) => {
  const made = element("button", { type: "button", className: "act", textContent: told, onclick: () => { page.keep("light", light); wear(light); } });
  made.dataset.light = light;
  return made;
});
const stayOn = async () => { try { lock = await navigator.wakeLock.request("screen"); } catch { lock = null; } };
const seenAgain = () => { if (document.visibilityState === "visible") stayOn(); };

// Its own step of the history: Back closes it, and the page's question stays as it is.
const back = (event) => {
  event.stopImmediatePropagation();
  removeEventListener("popstate", back, true);
  box?.close();
};
const closed = () => {
  const { arm } = history.state ?? {};
  if (arm) history.back(); else removeEventListener("popstate", back, true);
  removeEventListener("resize", fit);
  document.removeEventListener("visibilitychange", seenAgain);
  lock?.release();
  lock = null;
  box.remove();
  box = null;
};
const open = () => {
  const caution = page.find("#answer .caution"), worst = caution && element("p", { className: "caution" }, ...caution.cloneNode(true).childNodes);
  values = element("div", { className: "arm-values" }, ...gathered());
  box = element("dialog", { className: "arm", onclose: closed }, ...(worst ? [worst] : []), values,
    element("div", { className: "arm-acts" }, ...lights(), element("button", { type: "button", className: "act", textContent: words("Close"), onclick: () => box.close() })));
  box.setAttribute("aria-label", words("The numbers to set, at arm's length"));
  document.body.append(box);
  box.showModal();
  history.pushState({ htmx: true, arm: true }, "", location.href);
  addEventListener("popstate", back, true);
  addEventListener("resize", fit);
  document.addEventListener("visibilitychange", seenAgain);
  stayOn();
  wear(page.recall("light") ?? "day");
};

export const use = (tools) => {
  page = tools;
  if (!page.find(".headline") || page.find("#ask.stale")) { page.say(words("There is no answer to show yet.")); return; }
  if (!box) open();
};
