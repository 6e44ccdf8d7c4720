// Play, and keys, for a sequence of pictures; the step shown is kept in the address. Back and Next need no script.
"use strict";
{
  const SECONDS = 1.6, words = (text) => window.chuckside.words(text);
  let timer = 0;
  const walk = () => document.querySelector(".walk[data-played]");
  const stops = () => [...walk()?.querySelectorAll("input[name=shown]") ?? []];
  const now = () => stops().findIndex((stop) => stop.checked);

  const keep = () => {
    const address = new URL(location);
    address.searchParams.set("shown_step", now());
    history.replaceState(history.state, "", address);
    const field = document.querySelector("#ask input[name=shown_step]");
    if (field) field.value = now();
  };
  const show = (step) => {
    const stop = stops()[step];
    if (!stop) return false;
    stop.checked = true;
    keep();
    return true;
  };
  const button = () => walk()?.querySelector("[data-play]");
  const stop = () => {
    clearInterval(timer);
    timer = 0;
    if (button()) button().textContent = words("Play");
  };
  const play = () => {
    if (timer) return stop();
    if (now() === stops().length - 1) show(0);
    button().textContent = words("Stop");
    timer = setInterval(() => { if (!show(now() + 1)) stop(); }, SECONDS * 1000);
  };

  document.addEventListener("change", ({ target }) => { if (target.name === "shown") keep(); });
  document.addEventListener("click", ({ target }) => {
    if (target.closest("[data-play]")) play();
    else if (target.closest(".walk[data-played] label")) stop();
  });
  document.addEventListener("keydown", ({ key, target }) => {
    if (key === "Escape") stop();
    if (target.matches("input,select,textarea") || !walk()?.contains(target)) return;
    if (key === "ArrowRight") show(now() + 1);
    if (key === "ArrowLeft") show(now() - 1);
  });
}
