// Machine, chuck, work and tool are kept on the device by the machine's name, and one machine is chosen. A page
// without a question begins with it, conventions too; an address that asks something is never changed.
export const from = ({ find, each, on, say, recall, keep, words, askAgain }) => {
  const CONVENTIONS = ["units", "x", "zplus"];
  const machines = () => { const all = recall("machines"); return Array.isArray(all?.list) ? all : { chosen: "", list: [] }; };
  const named = (wanted) => machines().list.find(({ name }) => name === wanted);
  const chosen = () => named(machines().chosen);
  const asked = (name) => find("#ask").elements[name];
  const keepable = () => (find("#keeping")?.dataset.names.split(" ") ?? []).filter(asked);
  const conventions = () => Object.fromEntries(CONVENTIONS.map((name) => [name, asked(name).value]));
  // What was typed is kept with its unit, which is written out only where the field's own is another.
  // On the device numbers have a point, whatever the page's language has.
  const comma = document.documentElement.lang !== "en";
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
  const begin = () => {
    const machine = chosen();
    tell();
    if (!machine) return;
    if ([...new URLSearchParams(location.search).keys()].some((name) => !CONVENTIONS.includes(name))) return;
    const view = { ...conventions(), ...machine.view };
    if (!location.search && CONVENTIONS.some((name) => view[name] !== asked(name).value)) location.replace(`?${new URLSearchParams(view)}`);
    else if (fill(machine)) { tell(); setTimeout(askAgain); }
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
  // The choice stands beside the button that keeps, once there is something to choose from.
  const stands = (place) => {
    if (find("#kept-machine")) return;
    place.insertAdjacentHTML("afterbegin", `<label class="asked"><span>${words("Machine, kept on this device")}</span> <span class="box"><select id="kept-machine"></select></span></label>`);
    place.insertAdjacentHTML("beforeend", `<button type="button" class="act" data-kept="forget">${words("Forget")}<span class="unseen"> ${words("what is kept of this machine")}</span></button>`);
  };
  const tell = () => {
    const { list } = machines(), machine = chosen(), place = find("#keeping");
    if (!place || !(list.length || find("#kept-machine"))) return;
    stands(place);
    const select = find("#kept-machine");
    select.replaceChildren(new Option(words("none chosen"), ""), ...list.map(({ name }) => new Option(name, name)));
    select.value = machine?.name ?? "";
    select.closest("label").hidden = !list.length;
    find("[data-kept=forget]").hidden = !machine;
    markKept(machine);
  };
  const labelOf = (name) => {
    const label = asked(name).labels?.[0].querySelector("span") ?? document.getElementById(`${name}-label`);
    return [...label.childNodes].filter((it) => it.nodeName !== "I").map((it) => it.textContent).join("").trim();
  };
  const wordsOf = (name) => find(`[name="${name}"]:checked`)?.parentElement.textContent ?? asked(name).selectedOptions?.[0].text ?? "";
  const toldOf = (names) => {
    const given = names.filter((name) => asked(name).value.trim());
    return given.map((name) => `${labelOf(name)}: ${wordsOf(name) || Object.values(typed(name)).join(" ").trim()}`).join("; ");
  };
  const all = (selector) => [...document.querySelectorAll(selector)].map((it) => it.textContent);
  const store = (list, name, told) => {
    keep("machines", { chosen: name, list });
    tell();
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

  // Asks for the name under which the device keeps the machine; outside the form, so that typing here asks nothing.
  const dialog = () => {
    if (!find("#keep")) find("main").insertAdjacentHTML("beforeend", `<dialog id="keep" aria-labelledby="keep-head"><h2 id="keep-head">${words("Keep for this device")}</h2><p id="keep-what"></p>
<label class="asked"><span>${words("Name of the machine")}</span> <span class="box"><input id="keep-name" maxlength="30" autocomplete="off" placeholder=" "></span></label>
<p class="acts"><button type="button" class="act" data-kept="close" data-close="keep">${words("Keep")}</button> <button type="button" class="act" data-kept="close" data-close="">${words("Cancel")}</button></p></dialog>`);
    return find("#keep");
  };
  const remember = () => {
    const asks = dialog();
    find("#keep-what").textContent = [toldOf(keepable()), ...all("#switches [aria-current]")].filter(Boolean).join("; ");
    find("#keep-name").value = machines().chosen;
    asks.returnValue = "";
    asks.showModal();
  };
  const close = (it) => find("#keep").close(it.dataset.close);
  const forget = () => store(machines().list.filter(({ name }) => name !== machines().chosen), "", words("Forgotten."));

  on("input", picked, true);
  on("close", closed, true);
  on("keydown", entered);
  return { begin, tell, align, remember, close, forget };
};
