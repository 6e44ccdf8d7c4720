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
    if (link) link.click(); else align();
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
  const copy = async (text, from, what = text) => {
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

  // Machine, chuck, work and tool are kept on the device by the machine's name, and one machine is chosen. A page
  // without a question begins with it, conventions too; an address that asks something is never changed.
  const CONVENTIONS = ["units", "x", "zplus"];
  const machines = () => { const all = recall("machines"); return Array.isArray(all?.list) ? all : { chosen: "", list: [] }; };
  const named = (wanted) => machines().list.find(({ name }) => name === wanted);
  const chosen = () => named(machines().chosen);
  const asked = (name) => find("#ask").elements[name];
  const keepable = () => (find("#keeping")?.dataset.names.split(" ") ?? []).filter(asked);
  const conventions = () => Object.fromEntries(CONVENTIONS.map((name) => [name, asked(name).value]));
  // What was typed is kept with its unit, which is written out only where the field's own is another.
  // On the device numbers have a point, whatever the page's language has.
  const comma = root.lang !== "en";
  const pointed = (text) => comma ? text.replace(/,(?=\d)/g, ".") : text;
  const marked = (text) => comma ? text.replace(/\.(?=\d)/g, ",") : text;
  const unitOf = (name) => asked(name).parentElement?.querySelector("span")?.textContent ?? "";
  const typed = (name) => {
    const text = pointed(asked(name).value.trim());
    return { text, unit: /[a-z"]/i.test(text) ? "" : unitOf(name) };
  };
  const written = (machine, name) => {
    const { text = "", unit = "" } = machine?.values?.[name] ?? {};
    return marked(unit && unit !== unitOf(name) ? `${text} ${unit}` : text);
  };
  const holds = (machine, name) => {
    const { text, unit } = machine?.values?.[name] ?? {}, value = asked(name).value.trim();
    return Boolean(value) && (value === written(machine, name) || (value.endsWith(unit) && pointed(value).slice(0, -unit.length).trim() === text));
  };
  const fill = (machine) => {
    const names = keepable().filter((name) => machine.values?.[name]);
    for (const name of names) asked(name).value = written(machine, name);
    return names.length > 0;
  };
  // A button that was pressed is pressed again: it may add a row.
  const askAgain = () => sender?.isConnected ? find("#ask").requestSubmit(sender) : find("#ask").dispatchEvent(new Event("change", { bubbles: true }));
  const begin = () => {
    const machine = chosen();
    if (!machine || !find("#ask")) return;
    if ([...new URLSearchParams(location.search).keys()].some((name) => !CONVENTIONS.includes(name))) return;
    const view = { ...conventions(), ...machine.view };
    if (!location.search && CONVENTIONS.some((name) => view[name] !== asked(name).value)) location.replace(`?${new URLSearchParams(view)}`);
    else if (fill(machine)) { refresh(); setTimeout(askAgain); }
  };
  const markKept = (machine) => {
    each(".kept", (mark) => mark.remove());
    for (const name of keepable().filter((name) => holds(machine, name))) {
      const note = document.getElementById(`${name}-note`) ?? (asked(name)[0] ?? asked(name)).closest(".field").appendChild(Object.assign(document.createElement("span"), { className: "note", id: `${name}-note` }));
      note.querySelector(".tag:not(.solved)")?.remove();
      note.prepend(Object.assign(document.createElement("span"), { className: "tag kept", textContent: words("kept on this device") }));
      asked(name).setAttribute?.("aria-describedby", note.id);
    }
  };
  const tellKept = () => {
    const { list } = machines(), machine = chosen(), select = find("#kept-machine");
    if (!select) return;
    select.replaceChildren(new Option(words("none chosen"), ""), ...list.map(({ name }) => new Option(name, name)));
    select.value = machine?.name ?? "";
    select.closest("label").hidden = !list.length;
    find("[data-forget]").hidden = !machine;
    markKept(machine);
  };
  const labelOf = (name) => (asked(name).labels?.[0].querySelector("span") ?? document.getElementById(`${name}-label`)).firstChild.textContent.trim();
  const wordsOf = (name) => find(`[name="${name}"]:checked`)?.parentElement.textContent ?? asked(name).selectedOptions?.[0].text ?? "";
  const toldOf = (names) => {
    const given = names.filter((name) => asked(name).value.trim());
    return given.map((name) => `${labelOf(name)}: ${wordsOf(name) || Object.values(typed(name)).join(" ").trim()}`).join("; ");
  };
  const all = (selector) => [...document.querySelectorAll(selector)].map((it) => it.textContent);
  const store = (list, name, told) => {
    keep("machines", { chosen: name, list });
    tellKept();
    say(machines().chosen === name ? told : words("This browser does not allow keeping."));
  };
  const rememberAs = (name) => {
    const others = machines().list.filter((machine) => machine.name !== name);
    const values = { ...named(name)?.values };
    for (const field of keepable()) if (asked(field).value.trim()) values[field] = typed(field); else delete values[field];
    store([...others, { name, view: conventions(), values }].sort((a, b) => a.name.localeCompare(b.name)), name, words("Kept as {name} on this device.", { name }));
  };
  const closed = ({ target }) => {
    if (target.id === "keep" && target.returnValue === "keep") rememberAs(find("#keep-name").value.trim() || words("This machine"));
  };
  const entered = (event) => {
    if (event.target.id !== "keep-name" || event.key !== "Enter") return;
    event.preventDefault();  // the button that gets the focus back would be pressed
    find("#keep").close("keep");
  };
  // Another machine is taken: its values, then its conventions, one after the other.
  let aligning = 0;
  const picked = ({ target }) => {
    if (target.id !== "kept-machine") return;
    const before = chosen(), machine = named(target.value);
    for (const name of keepable()) if (holds(before, name)) asked(name).value = "";
    if (machine) { fill(machine); aligning = CONVENTIONS.length; }
    store(machines().list, target.value, machine ? `${machine.name}.` : words("No machine is chosen."));
  };
  const align = () => {
    const view = aligning > 0 ? chosen()?.view : null;
    const other = view && CONVENTIONS.find((name) => view[name] && view[name] !== asked(name).value);
    if (other) find(`#switches [id^="${other}-"]:not([aria-current])`).click();
    else if (aligning && document.activeElement === document.body) find("#kept-machine").focus({ preventScroll: true });
    aligning = other ? aligning - 1 : 0;
  };

  // A tool comes with its styles, so that nothing moves under a finger on its way.
  const dressed = (href) => new Promise((done) => {
    if (!href || find(`link[href="${href}"]`)?.sheet) { done(); return; }
    document.head.append(Object.assign(document.createElement("link"), { rel: "stylesheet", href, onload: done, onerror: done }));
  });

  const acts = {
    remember: () => {
      find("#keep-what").textContent = [toldOf(keepable()), ...all("#switches [aria-current]")].filter(Boolean).join("; ");
      find("#keep-name").value = machines().chosen;
      find("#keep").returnValue = "";
      find("#keep").showModal();
    },
    close: (it) => find("#keep").close(it.dataset.close),
    forget: () => store(machines().list.filter(({ name }) => name !== machines().chosen), "", words("Forgotten.")),
    copy: (it) => copy(it.dataset.copy, it),
    row: (it) => copy(rowText(it.closest("tr")), it),
    table: copyTable,
    tool: (it, event) => Promise.all([import(it.dataset.tool), dressed(it.dataset.style)]).then(async ([tool]) => { await tool.use({ find, on, say, recall, keep, words }, it, event); return true; }, () => { say(words("No connection to the server.")); return false; }),
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
    const cell = target.closest("td:not(.copies)");
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
  const refresh = () => { each("[data-terms]", (it) => import(it.dataset.terms).then((it) => it.mark())); unfold(); bring(); light(); rememberPart(); tellKept(); undoable(); find(".own-keys")?.setAttribute("aria-pressed", recall("keys") !== "device"); };
  root.classList.add("js");
  const { stay } = document.currentScript.dataset;
  if (location.protocol === "https:") on("DOMContentLoaded", () => import(stay).then((it) => it.use({ on, say, recall, keep, words })));
  wear(recall("theme"));
  // What is otherwise on paper comes when the page stands.
  const onPaper = () => find("[rel=stylesheet]").insertAdjacentHTML("afterend", find("noscript").textContent);
  on("DOMContentLoaded", () => { onPaper(); wear(recall("theme")); refresh(); current = ""; begin(); });
  // Another language is shown of the page as it is now.
  on("submit", ({ target }) => { if (target.matches("[action='/language']")) target.elements.back.value = location.pathname + location.search; });
  on("input", picked, true);
  on("close", closed, true);
  on("keydown", entered);
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
