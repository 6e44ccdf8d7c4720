// Number keys for a finger in a glove: what a field of numbers takes, in place of the device's own keyboard, which one
// key brings back and which then stays. A mouse never sees them.
const words = (text, values) => window.chuckside.words(text, values);
const UNITS = { mm: ["mm", "in", "Ø"], in: ["mm", "in", "Ø"], deg: ["°", "'", '"'] };
const NAMES = { "-": words("minus"), "+": words("plus"), "±": words("plus or minus"), "/": words("fraction, or the second limit"), "°": words("degrees"), "'": words("minutes"), '"': words("seconds"), "Ø": words("diameter") };
const root = document.documentElement;
let page = null, pad = null, field = null, units = [];

const mark = new Intl.NumberFormat(root.lang).formatToParts(1.5).find(({ type }) => type === "decimal").value;
const button = (told, name, act, kind = "") => {
  const made = Object.assign(document.createElement("button"), { type: "button", className: `act ${kind}`, textContent: told, onclick: act });
  made.setAttribute("aria-label", name);
  return made;
};
// The field keeps its focus, and the edit is one of its own: it can be taken back, and counts as typed.
const edit = (command, text) => {
  field = document.getElementById(field.id) ?? field;
  if (document.activeElement !== field) field.focus({ preventScroll: true });
  document.execCommand(command, false, text);
};
const key = (text) => button(text === "-" ? "−" : text, NAMES[text] ?? text, () => edit("insertText", text));
const unitKey = (at) => {
  const made = button("", "", () => edit("insertText", made.textContent), "unit");
  units[at] = made;
  return made;
};
const build = () => {
  pad = Object.assign(document.createElement("div"), { className: "pad" });
  pad.setAttribute("role", "region");
  pad.append(
    ..."789".split("").map(key), button("⌫", words("delete"), () => edit("delete")), key("-"), unitKey(0),
    ..."456".split("").map(key), key("+"), key("±"), unitKey(1),
    ..."123".split("").map(key), key("/"), button(words("space"), words("space"), () => edit("insertText", " "), "word"), unitKey(2),
    key("0"), button(mark, words("decimal mark"), () => edit("insertText", mark)), button("abc", words("abc: the device's own keyboard"), device), button("▾", words("close the number keys"), leave),
    button(words("Next"), words("Next field"), next, "next"));
  pad.addEventListener("pointerdown", (event) => event.preventDefault());  // the finger must not take the focus away
  pad.addEventListener("mousedown", (event) => event.preventDefault());
  page.on("focusout", () => setTimeout(() => { if (!pad.contains(document.activeElement) && !document.activeElement.matches("[data-keys]")) close(); }));
  page.on("keydown", (event) => { if (event.key === "Escape" && pad.isConnected) leave(); });
};
const open = (wanted) => {
  field = wanted;
  field.inputMode = "none";
  const offered = UNITS[field.dataset.keys] ?? [];
  units.forEach((made, at) => {
    made.textContent = offered[at] ?? "";
    made.setAttribute("aria-label", NAMES[offered[at]] ?? offered[at] ?? "");
    made.hidden = !offered[at];
  });
  pad.classList.toggle("bare", !offered.length);
  pad.setAttribute("aria-label", words("Number keys for {field}", { field: field.labels?.[0]?.querySelector("span")?.textContent.trim() ?? words("the field") }));
  if (!pad.isConnected) document.body.append(pad);
  root.classList.add("keyed");
  root.style.setProperty("--pad", `${pad.offsetHeight}px`);
  setTimeout(() => (field.closest(".field") ?? field).scrollIntoView({ block: "nearest" }));
};
const close = () => { pad?.remove(); root.classList.remove("keyed"); };
const leave = () => { field.blur(); close(); };
const typed = () => [...document.querySelector("#ask").elements].filter((it) => it.matches("input:not([type=hidden], [type=radio], [type=checkbox]), textarea") && it.checkVisibility());
const next = () => {
  const all = typed(), to = all[all.indexOf(document.getElementById(field.id)) + 1];
  if (!to) { leave(); return; }
  if (to.matches("[data-keys]")) open(to); else close();
  to.focus({ preventScroll: true });
  to.select();
};
const device = () => {
  choose("device");
  field.blur();
  field.focus();
};
const choose = (which) => {
  page.keep("keys", which);
  close();
  for (const it of document.querySelectorAll("[data-keys]")) it.inputMode = which === "device" ? "text" : "none";
  page.find(".own-keys")?.setAttribute("aria-pressed", which !== "device");
  page.say(which === "device" ? words("The device's own keyboard, until “Number keys” is pressed.") : words("Number keys when a field is tapped."));
};

export const use = (tools, from, event) => {
  page = tools;
  if (!pad) build();
  if (event) open(event.target); else choose(tools.recall("keys") === "device" ? "own" : "device");
};
