// What scripting adds beside htmx. Everything works without it.
"use strict";
{
  const root = document.documentElement;
  const find = (selector) => document.querySelector(selector);
  const each = (selector, act) => document.querySelectorAll(selector).forEach(act);
  const on = (name, act, capture) => document.addEventListener(name, act, capture);
  const say = (words) => { find("#status").textContent = words; };

  // Words of the page's language, where that is not English; a place such as {name} takes its value.
  const words = (text, values = {}) => (window.said?.[text] ?? text).replace(/\{(\w+)\}/g, (place, name) => values[name] ?? place);

  // The device's memory; a browser may refuse it.
  const recall = (key) => { try { return JSON.parse(localStorage.getItem("chuckside." + key)); } catch { return null; } };
  const keep = (key, value) => { try { localStorage.setItem("chuckside." + key, JSON.stringify(value)); } catch { /* refused */ } };

  // Colours: the device's, unless a person chose.
  const wear = (theme) => {
    if (theme) root.dataset.theme = theme; else delete root.dataset.theme;
    each("[data-theme-to]", (button) => button.setAttribute("aria-pressed", button.dataset.themeTo === (theme || "")));
  };

  // An edit makes the answer old at once; one that arrives for an older question is dropped.
  let edits = 0, retrying = 0, repeated = -1;
  const markOld = (reason) => {
    find("#ask").classList.add("stale");
    find("#answer").setAttribute("aria-busy", "true");
    find(".old").textContent = words("Not current: {reason}", { reason });
  };
  const edited = ({ target }) => {
    if (target.form?.id !== "ask") return;
    edits += 1;
    clearTimeout(retrying);
    target.form.dispatchEvent(new Event("htmx:abort"));
    markOld(words("the fields have changed."));
  };
  const failed = (reason, seconds, then = words("Try again.")) => {
    waiting = "";
    markOld(`${reason} ${then}`);
    find("#answer").removeAttribute("aria-busy");
    say(find(".old").textContent);
    if (seconds) retrying = setTimeout(askAgain, seconds * 1000);
  };
  // What was refused with a time to wait, or came to no end, is asked again once without a hand.
  const failedFor = (reason, wait) => {
    const seconds = repeated === edits ? 0 : wait;
    repeated = edits;
    failed(reason, seconds, seconds ? words("It is asked again in {seconds} s.", { seconds }) : undefined);
  };
  const refused = ({ detail: { ctx: { response: { status, headers } } } }) => {
    const reason = status === 503 ? words("the question takes too long, or the server is busy.") : words("the server could not answer.");
    if (status !== 422) failedFor(reason, Number(headers.get("Retry-After")));
  };
  const unanswered = ({ detail: { error } }) => error === "timeout" ? failedFor(words("no answer in time."), 5) : failed(words("no connection to the server."), 5);
  const asking = ({ detail: { ctx } }) => {
    clearTimeout(retrying);
    ctx.edits = edits;
    source = ctx.sourceEvent?.target?.name ?? "";
    sender = ctx.sourceEvent?.type === "submit" ? ctx.sourceEvent.submitter : null;
    if (ctx.sourceEvent?.type === "input") ctx.request.headers["Typed-Field"] = ctx.sourceEvent.target.name;
  };

  // Each change of the question is a step of the history; going on typing in one field belongs to the same step.
  let source = "", step = "", steps = 0, sender = null;
  const stepping = ({ detail: { history: { type, path } } }) => {
    if (type === "replace" && (path === location.pathname + location.search || (source && source === step))) return;
    if (type === "replace") history.pushState({ htmx: true }, "", location.href);
    step = source;
    steps += 1;
  };
  const undoable = () => { const button = find("[data-undo]"); if (button) button.disabled = steps === 0; };
  // What is still under way when a question is left is of that question: it must not come back over the other one.
  const leaving = () => { edits += 1; find("#ask")?.dispatchEvent(new Event("htmx:abort")); };
  const restoring = () => {
    steps = Math.max(steps - 1, 0);
    step = "";
    markOld(words("the question before comes back."));
  };

  // What is typed in keeps its place on the screen, whatever the answer does above it.
  let held = null;
  const hold = () => { const it = document.activeElement; held = it?.form?.id === "ask" ? { id: it.id, top: it.getBoundingClientRect().top } : null; };
  const settle = () => { const it = held && document.getElementById(held.id); if (it) scrollBy(0, it.getBoundingClientRect().top - held.top); };
  const arriving = (event) => { if (event.detail.ctx.edits !== edits) event.preventDefault(); else hold(); };

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
    find(".offline")?.remove();
    find("#answer").removeAttribute("aria-busy");
    refresh();
    settle();
    if (ctx.sourceEvent?.type === "submit" && !ctx.sourceEvent.submitter?.name) find("#errors")?.focus();
    const link = waiting && document.getElementById(waiting);
    waiting = "";
    if (link) link.click(); else kept?.align();
  };

  // Folds that a person opened stay open; one with a wrong field opens when somebody goes to that.
  const opened = new Set();
  const narrow = !window.CSS?.supports("selector(::details-content)");
  const folded = ({ target }) => { opened[target.open ? "add" : "delete"](target.id); bring(); };
  const bring = () => each("[open] > p > a[data-tool]", (link) => acts.tool(link));
  const unfold = () => {
    each("details[id]", (fold) => { if (opened.has(fold.id)) fold.open = true; });
    if (narrow && matchMedia("(min-width:37.5em)").matches) each(".wide", (fold) => { fold.open = true; });
  };
  // A term stands for itself wherever it stands in a label or a result's head, inflected too; of one that names several ("Pitch
  // and lead", "Efficiency, motor to cut") each stands for it where it begins a word. A tap explains it.
  const formsOf = (link) => {
    const whole = link.text.toLowerCase();
    const parts = whole.split(/, | (?:and|und|y) /).filter((part) => part !== whole && part.length > 3);
    const exact = (words) => words.replace(/[.*+?^${}()|[\]\\/]/g, "\\$&").replaceAll(" ", "\\p{L}{0,2} ");
    return [whole, ...parts].map((words, number) => ({ link, words, at: new RegExp(`${number ? "(?<!\\p{L})" : ""}${exact(words)}${number ? "(?:\\p{L}{0,2})(?!\\p{L})" : ""}`, "u") }));
  };
  const mark = () => {
    const forms = [...document.querySelectorAll("#section-terms a")].flatMap(formsOf).sort((a, b) => b.words.length - a.words.length);
    each(".asked > span:not(.box), dt", (label) => {
      const text = label.firstChild, lower = text?.data?.toLowerCase();
      const form = lower && forms.find((it) => it.at.test(lower));
      if (!form) return;
      const { index, 0: shown } = form.at.exec(lower), word = text.splitText(index);
      word.splitText(shown.length);
      const made = Object.assign(document.createElement("a"), { href: form.link.href, className: "term", tabIndex: -1 });
      made.style.cssText = "color:inherit;text-decoration:underline dotted;text-underline-offset:.2em;padding-block:.95rem";
      word.replaceWith(made);
      made.append(word);
    });
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
  const copy = async (shown, from, what = shown) => {
    const text = shown.replace(/\u00ad/g, "");  // where a word may break is no part of it
    let done = true;
    try { await navigator.clipboard.writeText(text); } catch { done = copySelected(text); from.focus({ preventScroll: true }); }
    say(done ? words("Copied {what}", { what }) : words("This browser does not allow copying."));
    from.toggleAttribute("data-copied", done);
    setTimeout(() => from.removeAttribute("data-copied"), 2000);
  };
  const rowText = (row) => [...row.cells].slice(0, -1).map((cell) => cell.textContent).join("\t");
  const copyTable = (from) => {
    let place = from.parentElement;
    while (!place.matches(".scroll")) place = place.previousElementSibling;
    const rows = [...place.querySelector("table").rows];
    copy(rows.map(rowText).join("\n"), from, words("the table (rows: {count})", { count: rows.length - 1 }));
  };

  // Parts last worked on: one entry an address, and one a visit however often its part changes; never an example.
  const parts = () => [recall("parts")].flat().filter((part) => /^\/(?!\/)/.test(part?.address));
  let current = "";
  const rememberPart = () => {
    const title = find("#answer")?.dataset.part;
    if (!title) return;
    const address = location.pathname + location.search;
    const before = parts().find((part) => part.address === address);
    const others = parts().filter((part) => part.address !== address && (part.address !== current || part.pinned));
    const [pinned, passing] = [true, false].map((wanted) => others.filter((part) => Boolean(part.pinned) === wanted));
    current = address;
    keep("parts", [{ ...before, address, title, when: Date.now() }, ...passing.slice(0, 11), ...pinned]);
  };

  // A button that was pressed is pressed again: it may add a row.
  const askAgain = () => sender?.isConnected ? find("#ask").requestSubmit(sender) : find("#ask").dispatchEvent(new Event("change", { bubbles: true }));
  // A tool comes with its styles, so that nothing moves under a finger on its way.
  const dressed = (href) => new Promise((done) => {
    if (!href || find(`link[href="${href}"]`)?.sheet) { done(); return; }
    document.head.append(Object.assign(document.createElement("link"), { rel: "stylesheet", href, onload: done, onerror: done }));
  });

  const tools = { find, each, on, say, recall, keep, words, askAgain };
  // What comes when it is used, and does not for want of a network, is said where it was asked for.
  const missing = Object.assign(document.createElement("strong"), { className: "note" });
  const fetched = async (coming, at, use) => {
    let it;
    try { it = await coming; missing.remove(); } catch {
      say(missing.textContent = words("No connection to the server."));
      (at.closest(".field, dl > div") ?? at.parentElement).append(missing);
      return false;
    }
    await use(it);
    return true;
  };

  // What a device keeps of machines comes where something is kept, or is to be.
  let kept = null, keptComing = null;
  const { stay, keeping } = document.currentScript.dataset;
  const machines = () => keptComing ??= import(keeping).then((it) => { kept = it.from(tools); return kept; }, (error) => { keptComing = null; throw error; });
  const begin = () => {
    if (find("#ask") && recall("machines")?.list?.length) fetched(machines(), find("#ask"), (it) => { if (edits) it.tell(); else it.begin(); });
  };

  const acts = {
    kept: (it) => fetched(machines(), it, (of) => of[it.dataset.kept](it)),
    copy: (it) => copy(it.dataset.copy, it),
    row: (it) => copy(rowText(it.closest("tr")), it),
    table: copyTable,
    tool: (it, event) => fetched(Promise.all([import(it.dataset.tool), dressed(it.dataset.style)]), it, ([tool]) => tool.use(tools, it, event)),
    undo: () => { leaving(); history.back(); },
    print: async () => {
      await Promise.all([...document.querySelectorAll("a[data-tool], [data-rest] button[data-tool]")].map((it) => acts.tool(it, { type: "change" })));
      window.print();
    },
    themeTo: (it) => { keep("theme", it.dataset.themeTo); wear(it.dataset.themeTo); },
  };
  const pressed = (event) => {
    const { target } = event;
    const button = target.closest("button[type=button]");
    for (const name in button?.dataset) acts[name]?.(button);
    if (target.closest(".sketches svg[role=img]") && find(".grow")) acts.tool(find(".grow"), event);
    document.getElementById(target.closest("a")?.hash.slice(1))?.closest("details")?.setAttribute("open", "");
    const term = target.closest(".term"), cell = target.closest("td:not(.copies)");
    if (term) { event.preventDefault(); fetched(import(find("[data-terms]").dataset.terms).then((it) => it.meaning(term.href)), term, (meaning) => meaning(term)); }
    if (cell) copy(cell.textContent, cell);
  };

  // A finger on a field of numbers gets keys of our own, unless the device's own keyboard was chosen.
  const touched = async (event) => {
    const { target, pointerType } = event, tool = find(".own-keys");
    if (pointerType === "mouse" || !tool || !target.matches?.("input[data-keys]") || recall("keys") === "device") return;
    target.inputMode = "none";
    if (!await acts.tool(tool, event)) target.inputMode = "text";
  };

  window.chuckside = { parts, keep, say, words };
  const refresh = () => { mark(); unfold(); bring(); light(); rememberPart(); kept?.tell(); undoable(); find(".own-keys")?.setAttribute("aria-pressed", recall("keys") !== "device"); };
  root.classList.add("js");
  // Answers 4xx and 5xx other than 422 are not swapped in; folds that a person opened stay as they are.
  const set = { includeIndicatorCSS: false, defaultTimeout: 10000, noSwap: [204, 304, "40x", "41x", "5xx"], morphIgnore: ["data-htmx-powered", "open", "inputmode"] };
  document.head.append(Object.assign(document.createElement("meta"), { name: "htmx-config", content: JSON.stringify(set) }));
  if (location.protocol === "https:") on("DOMContentLoaded", () => import(stay).then((it) => it.use(tools)));
  wear(recall("theme"));
  // What is otherwise on paper comes when the page stands; a page that is made for paper has it.
  const onPaper = () => find("[rel=stylesheet]").insertAdjacentHTML("afterend", find("head noscript")?.textContent ?? "");
  on("DOMContentLoaded", () => { onPaper(); wear(recall("theme")); refresh(); current = ""; begin(); });
  // Another language is shown of the page as it is now.
  on("submit", ({ target }) => { if (target.matches("[action='/language']")) target.elements.back.value = location.pathname + location.search; });
  on("input", edited);
  on("click", switched, true);
  on("click", pressed);
  on("change", (event) => { if (event.target.name === "shown") acts.tool(find(".walk button[data-tool]"), event); });
  on("pointerdown", touched);
  on("toggle", folded, true);
  on("focusin", light);
  on("focusin", () => { step = ""; });
  on("focusout", light);
  on("htmx:config:request", asking);
  on("htmx:before:swap", arriving);
  on("htmx:before:history:update", stepping);
  on("htmx:before:history:restore", restoring);
  on("htmx:after:swap", arrived);
  on("htmx:response:error", refused);
  on("htmx:error", unanswered);
  addEventListener("online", () => { if (find("#ask.stale")) askAgain(); });
  addEventListener("popstate", leaving);
  addEventListener("beforeprint", () => { if (narrow) each("details", (fold) => { fold.open = true; }); });
}
