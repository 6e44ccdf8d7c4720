// A marked word of the glossary is explained below it, with its picture, by a tap; a second tap takes the explanation away.
let glossary;
const fetched = async (address) => {
  const answer = await fetch(address);
  return new DOMParser().parseFromString(answer.ok ? await answer.text() : "", "text/html");
};
const explain = (link, meaning) => {
  const place = link.closest(".field, dl > div") ?? link.parentElement;
  const shown = place.querySelector(".explained");
  shown?.remove();
  if (shown?.dataset.term === link.href) return;
  meaning.className = "explained";
  meaning.dataset.term = link.href;
  meaning.style.cssText = "max-width:44rem;padding:1.5rem 0 .5rem;font-weight:400";
  place.append(meaning);
  document.querySelector("#status").textContent = meaning.textContent;
};
// What a word means, to be shown below it; without a network nothing, and the page is not left.
export const meaning = async (href) => {
  const [address, key] = href.split("#");
  glossary ??= fetched(address);
  let page;
  try { page = await glossary; } catch (error) { glossary = undefined; throw error; }
  const found = page.getElementById(key)?.querySelector("dd");
  if (!found) { glossary = undefined; return () => location.assign(href); }
  const meant = document.createElement("div");
  meant.append(...found.cloneNode(true).childNodes);
  return (link) => explain(link, meant);
};
