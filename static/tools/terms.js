// A marked word of the glossary is explained below it, with its picture, by a tap; a second tap takes the explanation away.
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
export const explain = async (link) => {
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
