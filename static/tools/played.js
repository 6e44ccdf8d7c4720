// Play, and keys, for a sequence of pictures; the step shown is kept in the address. Back and Next need no script.
const SECONDS = 1.6;
let timer = 0, tools;
const walk = () => document.querySelector(".walk[data-played]");
const stops = () => [...walk()?.querySelectorAll("input[name=shown]") ?? []];
const now = () => stops().findIndex((stop) => stop.checked);
const button = () => walk()?.querySelector("button[data-tool]");

const keep = () => {
  const address = new URL(location);
  address.searchParams.set("shown_step", now());
  history.replaceState(history.state, "", address);
  const field = document.querySelector("#ask input[name=shown_step]");
  if (field) field.value = now();
};
// The pictures that did not come with the page, once for each answer.
const complete = async () => {
  const { rest, by } = walk()?.dataset ?? {};
  if (!rest) return;
  const whole = await (await import(by)).fetched(rest);
  if (walk()?.dataset.rest !== rest) return;
  whole.querySelectorAll(".stop figure").forEach((from, step) => {
    for (const part of ["svg", "figcaption"]) stops()[step].parentElement.querySelector(part).replaceWith(from.querySelector(part));
  });
  delete walk().dataset.rest;
};
const show = async (step) => {
  const stop = stops()[step];
  if (!stop) return false;
  stop.checked = true;
  keep();
  await complete();
  return true;
};
const stop = () => {
  clearInterval(timer);
  timer = 0;
  if (button()) button().textContent = tools.words("Play");
};
const next = async () => { if (!await show(now() + 1).catch(() => missing())) stop(); };
const play = async () => {
  await show(now() === stops().length - 1 ? 0 : now());
  button().textContent = tools.words("Stop");
  timer = setInterval(next, SECONDS * 1000);
};
const missing = () => {
  const told = tools.words("What is not here yet needs the network.");
  stops()[now()].parentElement.querySelector("figcaption").textContent = told;
  tools.say(told);
  return false;
};

export const use = async (given, it, event) => {
  if (!tools) listen(given.on);
  tools = given;
  if (event?.type === "change") await show(now()).catch(missing);
  else if (timer) stop();
  else await play().catch(missing);
};
const listen = (on) => {
  on("click", ({ target }) => { if (target.closest(".walk[data-played] label")) stop(); });
  on("keydown", ({ key, target }) => {
    if (key === "Escape") stop();
    if (target.matches("input,select,textarea") || !walk()?.contains(target)) return;
    if (key === "ArrowRight") show(now() + 1).catch(missing);
    if (key === "ArrowLeft") show(now() - 1).catch(missing);
  });
};
