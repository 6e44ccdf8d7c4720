// One point a screen: what is ticked and which point was open stays on this device, by the address of the question.
"use strict";
{
  const form = document.querySelector("#points-mode");
  const key = "chuckside.points";
  const place = location.pathname + location.search;
  const recall = () => { try { return JSON.parse(localStorage.getItem(key)) ?? {}; } catch { return {}; } };
  const boxes = (name) => [...form.querySelectorAll(`input[name=${name}]`)];
  const MOST = 20;

  const keep = () => {
    const all = recall();
    delete all[place];
    all[place] = { at: boxes("point").findIndex((box) => box.checked), done: boxes("done").map((box) => box.checked) };
    const kept = Object.fromEntries(Object.entries(all).slice(-MOST));
    try { localStorage.setItem(key, JSON.stringify(kept)); } catch { /* refused: nothing is kept */ }
    tell();
  };
  const tell = () => {
    const done = boxes("done").filter((box) => box.checked).length;
    document.querySelector("#status").textContent = window.chuckside.words("{done} of {count} keyed in", { done, count: boxes("done").length });
  };
  const begin = () => {
    const { at, done = [] } = recall()[place] ?? {};
    boxes("done").forEach((box, index) => { box.checked = Boolean(done[index]); });
    if (at >= 0 && boxes("point")[at]) boxes("point")[at].checked = true;
    tell();
  };

  form.addEventListener("change", keep);
  document.addEventListener("keydown", ({ key: pressed, target }) => {
    const step = { ArrowRight: 1, ArrowLeft: -1 }[pressed];
    if (!step || target.name === "point") return;
    const at = boxes("point").findIndex((box) => box.checked) + step;
    if (boxes("point")[at]) { boxes("point")[at].checked = true; keep(); }
  });
  begin();
}
