// What is long is fetched when it is opened, all of it at once: the page of the same answer's long parts has it in folds of
// the same names. A link that is not there any more belonged to an older question.
const coming = new Map();
const fetched = async (address) => {
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(`answered ${answer.status}`);
  return new DOMParser().parseFromString(await answer.text(), "text/html");
};
const fill = (link, whole) => {
  const fold = link.closest("details"), from = whole.getElementById(fold.id);
  if (from) link.parentElement.replaceWith(...[...from.children].filter((it) => it.nodeName !== "SUMMARY"));
};

export const use = async ({ say }, { href, dataset: { tool } }) => {
  const address = href.split("#")[0];
  if (!coming.has(address)) coming.set(address, fetched(address));
  try {
    const whole = await coming.get(address);
    for (const link of document.querySelectorAll(`a[data-tool="${tool}"]`)) if (link.href.split("#")[0] === address) fill(link, whole);
  } catch {
    say("No connection to the server.");
  } finally {
    coming.delete(address);
  }
};
