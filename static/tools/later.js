// What is long is fetched when it is opened, all of it at once: the page of the same answer's long parts has it in folds of
// the same names. A link that is not there any more belonged to an older question.
const coming = new Map();
// What was fetched is kept with the page, for when there is no network.
export const fetched = async (address) => {
  const answer = await fetch(address, { headers: { "Keep-Page": "1" } });
  if (!answer.ok) throw new Error(`answered ${answer.status}`);
  return new DOMParser().parseFromString(await answer.text(), "text/html");
};
const fill = (link, whole) => {
  const fold = link.closest("details"), from = whole.getElementById(fold.id);
  const here = [...fold.children].map((it) => it.nodeName);
  if (from) link.parentElement.replaceWith(...[...from.children].filter((it) => !["SUMMARY", "DL"].includes(it.nodeName) || !here.includes(it.nodeName)));
};

// Said where it was asked for, once.
const tell = (link, told) => {
  const note = link.parentElement.querySelector(".note") ?? link.parentElement.appendChild(document.createElement("span"));
  note.className = "note";
  note.textContent = ` ${told}`;
};

export const use = async ({ say, words }, link) => {
  const { href, dataset: { tool } } = link;
  const address = href.split("#")[0];
  if (!coming.has(address)) coming.set(address, fetched(address));
  try {
    const whole = await coming.get(address);
    for (const each of document.querySelectorAll(`a[data-tool="${tool}"]`)) if (each.href.split("#")[0] === address) fill(each, whole);
  } catch {
    const told = words("What is not here yet needs the network.");
    tell(link, told);
    say(told);
  } finally {
    coming.delete(address);
  }
};
