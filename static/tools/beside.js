// Two answers side by side: the one kept, and whatever the page says now. Kept as long as the page is open.
const BOX = "#beside", words = (text, values) => window.chuckside.words(text, values);
let kept = null, page = null;

const text = (it) => it?.textContent.trim().replace(/\s+/g, " ") ?? "";
const labelled = (field) => text(field.labels?.[0]?.querySelector("span") ?? document.getElementById(`${field.name}-label`));
const typed = (field) => field.selectedOptions?.[0].text ?? (field.type === "radio" ? text(field.parentElement) : field.value.trim());
const counts = (field) => field.name && field.type !== "hidden" && (!/radio|checkbox/.test(field.type) || field.checked);

const fields = () => new Map([...page.find("#ask").elements].filter(counts).map((field) => [labelled(field) || field.name, typed(field)]));
const values = () => new Map([...document.querySelectorAll("#answer .headline, #answer dl > div")].map((it) => {
  const button = it.querySelector(".value"), shown = text(button).replace(`${words("Copy")} `, "");
  return [text(it.querySelector("p, dt")), { shown, number: Number(button.dataset.copy.replace(",", ".")) }];
}));

// Numbers of two units, as after a switch from mm to inch, have no difference that could be shown.
const unit = ({ shown }) => shown.replace(/[-−.,\d]/g, "");
const difference = (before, now) => {
  if (!before || !now || !Number.isFinite(before.number) || !Number.isFinite(now.number) || unit(before) !== unit(now)) return "";
  const places = Math.max(...[before, now].map(({ shown }) => (shown.match(/[.,](\d+)/)?.[1] ?? "").length));
  const by = now.number - before.number;
  return by ? `${by > 0 ? "+" : "−"}${Math.abs(by).toFixed(places).replace(".", document.documentElement.lang === "en" ? "." : ",")}` : words("the same");
};
const rows = () => {
  const now = { fields: fields(), values: values() };
  const names = new Set([...kept.fields.keys(), ...now.fields.keys()]);
  const asked = [...names].map((name) => [name, kept.fields.get(name) ?? "", now.fields.get(name) ?? "", ""]);
  const given = [...new Set([...kept.values.keys(), ...now.values.keys()])].map((name) => {
    const [before, after] = [kept.values.get(name), now.values.get(name)];
    return [name, before?.shown ?? "", after?.shown ?? "", difference(before, after)];
  });
  return [...given, ...asked.filter(([, before, after]) => before !== after)];
};
const HEADS = [words("Value"), words("Kept beside"), words("Now"), words("Difference")];
const cell = (tag, told, scope) => Object.assign(document.createElement(tag), { textContent: told, ...(scope && { scope }) });
const line = (cells, tag, scope) => {
  const row = document.createElement("tr");
  row.append(cell("th", cells[0], scope), ...cells.slice(1).map((word) => cell(tag, word, tag === "th" ? "col" : "")));
  [...row.querySelectorAll("td")].forEach((it, at) => { it.dataset.head = HEADS[at + 1]; });
  return row;
};
// The outlines of both, without their words and numbers, as large as their bars say: px of the sketch for each mm.
const INCH = 25.4, WORDS = "text, .dim, .pn, .pt, .dt, .ax, title, desc";
const sketched = async () => {
  const svg = page.find(".sketches .main svg"), mark = svg?.querySelector(".sb");
  if (!mark) return null;
  const [, left, right] = mark.getAttribute("d").match(/^M([\d.]+) [\d.]+H([\d.]+)/);
  const length = mark.nextElementSibling.textContent, mm = Number.parseFloat(length.replace(",", ".")) * (length.endsWith("in") ? INCH : 1);
  const { copied } = await import(page.find(".grow").dataset.tool), key = kept.sketch ? "now" : "kept", copy = copied(svg, key);
  for (const it of copy.querySelectorAll(WORDS)) it.remove();
  for (const name of ["aria-labelledby", "aria-describedby", "role"]) copy.removeAttribute(name);
  copy.setAttribute("aria-hidden", "true");
  return { copy, wide: svg.viewBox.baseVal.width * mm / (right - left) };
};
const HALF = 49;
const pictured = async (acts) => {
  const now = await sketched();
  if (!now || !kept?.sketch || !acts.isConnected) return;
  const most = Math.max(kept.sketch.wide, now.wide), row = document.createElement("p");
  for (const { copy, wide } of [kept.sketch, now]) {
    copy.style.width = `${HALF * wide / most}%`;
    copy.style.display = "inline-block";
  }
  row.append(kept.sketch.copy, " ", now.copy);
  const caption = cell("p", `${words("Kept beside")}, ${words("Now")}: ${words("at one scale")}`);
  caption.className = "note";
  acts.before(row, caption);
};
const show = () => {
  const box = page.find(BOX);
  if (!box || !kept) return;
  const [table, heads, body] = ["table", "thead", "tbody"].map((tag) => document.createElement(tag));
  table.className = "cards";
  heads.append(line(HEADS, "th", "col"));
  body.append(...rows().map((row) => line(row, "td", "row")));
  table.append(cell("caption", words("Two answers side by side")), heads, body);
  const link = Object.assign(cell("a", words("Open the one kept")), { href: kept.address, className: "act" });
  const close = Object.assign(cell("button", words("Put it away")), { type: "button", className: "act" });
  close.addEventListener("click", putAway);
  const acts = Object.assign(document.createElement("p"), { className: "acts" });
  acts.append(link, close);
  box.replaceChildren(table, acts);
  const [first] = kept.values.values(), note = page.find(".headline .note");
  if (note && first) note.textContent = words("Kept beside: {what}", { what: first.shown });
  return pictured(acts);
};
const putAway = () => {
  kept = null;
  page.find(BOX).replaceChildren();
  page.say(words("Put away."));
  page.find("[data-tool]").focus();
};

export const use = async (tools) => {
  if (!page) { page = tools; page.on("htmx:after:swap", show); }
  if (!page.find(".headline") || page.find("#ask.stale")) { page.say(words("There is no answer to keep yet.")); return; }
  kept = { address: location.pathname + location.search, fields: fields(), values: values() };
  kept.sketch = await sketched();
  await show();
  page.say(words("Kept beside. Change the question to compare."));
};
