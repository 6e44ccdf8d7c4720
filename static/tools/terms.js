// A word of the glossary in a label or a result's head is explained below it, with its picture, by a tap; a second tap takes the
// explanation away. The glossary's links at the foot of the page say the same.
let glossary;
const fetched = async (address) => {
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(`answered ${answer.status}`);
  return new DOMParser().parseFromString(await answer.text(), "text/html");
};
const explained = async (href) => {
  const [address, key] = href.split("#");
  glossary ??= fetched(address);
  try {
    return (await glossary).getElementById(key).querySelector("dd").cloneNode(true);
  } catch (error) { glossary = undefined; throw error; }
};
const tapped = async (event, link) => {
  event.preventDefault();
  const place = link.closest(".field, dl > div") ?? link.parentElement;
  const shown = place.querySelector(".explained");
  shown?.remove();
  if (shown?.dataset.term === link.href) return;
  try {
    const meaning = Object.assign(document.createElement("div"), { className: "explained" });
    meaning.append(...(await explained(link.href)).childNodes);
    meaning.dataset.term = link.href;
    meaning.style.cssText = "max-width:44rem;padding:1.5rem 0 .5rem;font-weight:400";
    place.append(meaning);
    document.querySelector("#status").textContent = meaning.textContent;
  } catch { location.assign(link.href); }
};

// A term stands for itself wherever it stands, inflected too; of one that names several ("Pitch and lead", "Efficiency, motor to
// cut") each stands for it where it begins a word.
const formsOf = (link) => {
  const whole = link.text.toLowerCase();
  const parts = whole.split(/, | (?:and|und|y) /).filter((part) => part !== whole && part.length > 3);
  const exact = (words) => words.replace(/[.*+?^${}()|[\]\\/]/g, "\\$&").replaceAll(" ", "\\p{L}{0,2} ");
  return [whole, ...parts].map((words, number) => ({ link, words, at: new RegExp(`${number ? "(?<!\\p{L})" : ""}${exact(words)}${number ? "(?:\\p{L}{0,2})(?!\\p{L})" : ""}`, "u") }));
};
export const mark = () => {
  const forms = [...document.querySelectorAll("#section-terms a")].flatMap(formsOf).sort((a, b) => b.words.length - a.words.length);
  for (const label of document.querySelectorAll(".asked > span:not(.box), dt")) {
    const text = label.firstChild, lower = text?.data?.toLowerCase();
    const form = lower && forms.find((it) => it.at.test(lower));
    if (!form) continue;
    const { index, 0: shown } = form.at.exec(lower), found = form.link;
    const word = text.splitText(index);
    word.splitText(shown.length);
    const made = Object.assign(document.createElement("a"), { href: found.href, className: "term", tabIndex: -1 });
    made.style.cssText = "color:inherit;text-decoration:underline dotted;text-underline-offset:.2em;padding-block:.95rem";
    word.replaceWith(made);
    made.append(word);
    made.addEventListener("click", (event) => tapped(event, made));
  }
};
