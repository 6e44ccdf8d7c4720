// What scripting adds beside htmx. Everything works without this file, only less handily.
"use strict";
{
  const root = document.documentElement;
  const find = (selector) => document.querySelector(selector);
  const each = (selector, act) => document.querySelectorAll(selector).forEach(act);
  const on = (name, act, capture) => document.addEventListener(name, act, capture);
  const say = (words) => { find("#status").textContent = words; };

  // The device's memory; a browser may refuse it, then nothing is kept.
  const recall = (key) => { try { return JSON.parse(localStorage.getItem("chuckside." + key)); } catch { return null; } };
  const keep = (key, value) => { try { localStorage.setItem("chuckside." + key, JSON.stringify(value)); } catch { /* refused */ } };

  // Colours: the device's, unless a person chose.
  const wear = (theme) => {
    if (theme) root.dataset.theme = theme; else delete root.dataset.theme;
    each("[data-theme-to]", (button) => button.setAttribute("aria-pressed", button.dataset.themeTo === (theme || "")));
  };

  // An edit makes the answer old at once and drops the answer that is under way for the older question.
  const markOld = (reason) => {
    find("#ask").classList.add("stale");
    find("#answer").setAttribute("aria-busy", "true");
    find(".old").textContent = "Not current: " + reason;
  };
  const edited = ({ target }) => {
    if (target.form?.id !== "ask") return;
    target.form.dispatchEvent(new Event("htmx:abort"));
    markOld("the fields have changed.");
  };
  const failed = (reason) => { waiting = ""; markOld(reason); say("Not current: " + reason); };
  const typing = ({ detail: { ctx } }) => {
    if (ctx.sourceEvent?.type === "input") ctx.request.headers["Typed-Field"] = ctx.sourceEvent.target.name;
  };

  // A convention switched while an answer is under way waits for it, so that no edit is lost.
  let waiting = "";
  const switched = (event) => {
    const link = event.target.closest("[data-switch]");
    if (!link || !window.htmx || !find("#ask.stale")) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    waiting = link.id;
  };
  const arrived = ({ detail: { ctx } }) => {
    if (ctx.response.status >= 400 && ctx.response.status !== 422) return;
    find("#ask").classList.remove("stale");
    find("#answer").removeAttribute("aria-busy");
    refresh();
    if (ctx.sourceEvent?.type === "submit") find("#errors")?.focus();
    const link = waiting && document.getElementById(waiting);
    waiting = "";
    if (link) link.click();
  };

  // Folds that a person opened stay open; one with a wrong field opens by itself.
  const opened = new Set();
  const narrow = !window.CSS?.supports("selector(::details-content)");
  const folded = ({ target }) => opened[target.open ? "add" : "delete"](target.id);
  const unfold = () => {
    each("details[id]", (fold) => { if (opened.has(fold.id) || "wrong" in fold.dataset) fold.open = true; });
    if (narrow && matchMedia("(min-width:37.5em)").matches) each(".wide", (fold) => { fold.open = true; });
  };
  const light = () => each("svg [data-field]", (mark) => mark.classList.toggle("lit", mark.dataset.field === document.activeElement.name));

  // On plain HTTP there is no clipboard, only the copying of a selection.
  const copySelected = (text) => {
    const field = document.body.appendChild(document.createElement("textarea"));
    field.value = text;
    field.select();
    const done = document.execCommand("copy");
    field.remove();
    return done;
  };
  const copy = async (text, from) => {
    let done = true;
    try { await navigator.clipboard.writeText(text); } catch { done = copySelected(text); from.focus({ preventScroll: true }); }
    say(done ? "Copied " + text : "This browser does not allow copying.");
    from.toggleAttribute("data-copied", done);
    setTimeout(() => from.removeAttribute("data-copied"), 2000);
  };
  const rowText = (row) => [...row.cells].slice(0, -1).map((cell) => cell.textContent).join("\t");

  // Parts last worked on: one entry an address, and one a visit however often its part changes; never an example.
  const parts = () => [recall("parts")].flat().filter((part) => /^\/(?!\/)/.test(part?.address));
  let current = "";
  const rememberPart = () => {
    const title = find("#answer")?.dataset.part;
    if (!title) return;
    const address = location.pathname + location.search;
    const others = parts().filter((part) => part.address !== address && part.address !== current);
    current = address;
    keep("parts", [{ address, title, when: Date.now() }, ...others].slice(0, 12));
  };
  const make = (tag, settings, ...children) => {
    const element = Object.assign(document.createElement(tag), settings);
    element.append(...children);
    return element;
  };
  const partRow = ({ address, title, when }) => {
    const remove = make("button", { type: "button", className: "act", textContent: "Remove", ariaLabel: "Remove " + title });
    remove.dataset.remove = address;
    return make("li", {}, make("a", { href: address }, title, make("small", {}, new Date(when).toLocaleString())), remove);
  };
  const listParts = () => {
    const box = find("#recent");
    if (!box) return;
    box.hidden = !parts().length;
    box.lastElementChild.replaceChildren(...parts().map(partRow));
  };

  const pressed = ({ target }) => {
    const it = target.closest("[data-copy],[data-row],[data-print],[data-remove],[data-theme-to],.scroll td");
    if (!it) return;
    const { copy: text, row, print, remove, themeTo } = it.dataset;
    if (text !== undefined) copy(text, it);
    else if (row !== undefined) copy(rowText(it.closest("tr")), it);
    else if (print !== undefined) window.print();
    else if (themeTo !== undefined) { keep("theme", themeTo); wear(themeTo); }
    else if (remove !== undefined) { keep("parts", parts().filter((part) => part.address !== remove)); listParts(); say("Removed."); }
    else copy(it.textContent, it);
  };

  const refresh = () => { unfold(); light(); rememberPart(); };
  root.classList.add("js");
  wear(recall("theme"));
  on("DOMContentLoaded", () => { wear(recall("theme")); listParts(); refresh(); current = ""; });
  on("input", edited);
  on("click", switched, true);
  on("click", pressed);
  on("toggle", folded, true);
  on("focusin", light);
  on("focusout", light);
  on("htmx:config:request", typing);
  on("htmx:after:swap", arrived);
  on("htmx:response:error", ({ detail: { ctx } }) => { if (ctx.response.status !== 422) failed("the shop's computer could not answer. Try again."); });
  on("htmx:error", ({ detail: { ctx } }) => failed((ctx?.request.signal.reason === "timeout" ? "the answer takes too long." : "no connection to the shop's computer.") + " Try again."));
  addEventListener("beforeprint", () => { if (narrow) each("details", (fold) => { fold.open = true; }); });
}
