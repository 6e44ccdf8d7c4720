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

  // An edit makes the answer old at once; one that arrives for an older question is dropped.
  let edits = 0;
  const markOld = (reason) => {
    find("#ask").classList.add("stale");
    find("#answer").setAttribute("aria-busy", "true");
    find(".old").textContent = "Not current: " + reason;
  };
  const edited = ({ target }) => {
    if (target.form?.id !== "ask") return;
    edits += 1;
    target.form.dispatchEvent(new Event("htmx:abort"));
    markOld("the fields have changed.");
  };
  const failed = (reason) => {
    waiting = "";
    markOld(reason + " Try again.");
    find("#answer").removeAttribute("aria-busy");
    say(find(".old").textContent);
  };
  const asking = ({ detail: { ctx } }) => {
    ctx.edits = edits;
    if (ctx.sourceEvent?.type === "input") ctx.request.headers["Typed-Field"] = ctx.sourceEvent.target.name;
  };

  const arriving = (event) => { if (event.detail.ctx.edits !== edits) event.preventDefault(); };

  // A convention switched while an answer is under way waits for it, so that no edit is lost.
  let waiting = "";
  const switched = (event) => {
    const link = event.target.closest("[data-switch]");
    if (!link || !window.htmx) return;
    if (document.activeElement.form) document.activeElement.blur();
    if (!find("#ask.stale")) return;
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

  const acts = {
    copy: (it) => copy(it.dataset.copy, it),
    row: (it) => copy(rowText(it.closest("tr")), it),
    print: () => window.print(),
    themeTo: (it) => { keep("theme", it.dataset.themeTo); wear(it.dataset.themeTo); },
  };
  const pressed = ({ target }) => {
    const button = target.closest("button[type=button]");
    for (const name in button?.dataset) acts[name]?.(button);
    const cell = target.closest("td:not(.copies)");
    if (cell) copy(cell.textContent, cell);
  };

  window.chuckside = { parts, keep, say };
  const refresh = () => { unfold(); light(); rememberPart(); };
  root.classList.add("js");
  wear(recall("theme"));
  on("DOMContentLoaded", () => { wear(recall("theme")); refresh(); current = ""; });
  on("input", edited);
  on("click", switched, true);
  on("click", pressed);
  on("toggle", folded, true);
  on("focusin", light);
  on("focusout", light);
  on("htmx:config:request", asking);
  on("htmx:before:swap", arriving);
  on("htmx:after:swap", arrived);
  on("htmx:response:error", ({ detail: { ctx } }) => { if (ctx.response.status !== 422) failed("the server could not answer."); });
  on("htmx:error", ({ detail: { error } }) => failed(error === "timeout" ? "no answer in time." : "no connection to the server."));
  addEventListener("beforeprint", () => { if (narrow) each("details", (fold) => { fold.open = true; }); });
}
