// The start page's list of the parts last worked on, which only this device knows: named, pinned on top, removed.
"use strict";
{
  const { parts, keep, say, words } = window.chuckside;
  const box = document.querySelector("#recent");

  const row = (part) => {
    const { address, title, name, when, pinned } = part;
    const item = document.querySelector("#part").content.cloneNode(true);
    const [link, input] = [item.querySelector("a"), item.querySelector("input")];
    link.href = address;
    link.textContent = name || title;
    item.querySelector("small").textContent = [name && title, new Date(when).toLocaleString([], { dateStyle: "medium", timeStyle: "short" })].filter(Boolean).join(", ");
    const acts = {
      pin: () => change(address, { pinned: !pinned }, pinned ? words("Not pinned any more.") : words("Pinned.")),
      name: () => { input.parentElement.hidden = false; input.focus(); },
      remove: () => remove(address),
    };
    for (const button of item.querySelectorAll("button")) {
      const word = button.dataset.part === "pin" && pinned ? words("Unpin") : button.textContent;
      button.textContent = word;
      button.setAttribute("aria-label", `${word} ${name || title}`);
      button.addEventListener("click", acts[button.dataset.part]);
    }
    input.value = name ?? "";
    input.setAttribute("aria-label", words("Name of {title}", { title }));
    input.addEventListener("change", () => change(address, { name: input.value.trim() }, words("Named.")));
    return item;
  };
  const list = () => {
    const all = parts().sort((a, b) => Boolean(b.pinned) - Boolean(a.pinned));
    box.hidden = !all.length;
    box.querySelector("ul").replaceChildren(...all.map(row));
  };
  const change = (address, to, told) => {
    const at = parts().findIndex((part) => part.address === address);
    keep("parts", parts().map((part, index) => (index === at ? { ...part, ...to } : part)));
    list();
    say(told);
    [...document.querySelectorAll("#recent a")].find((link) => link.getAttribute("href") === address)?.focus();
  };
  const remove = (address) => {
    keep("parts", parts().filter((part) => part.address !== address));
    list();
    say(words("Removed."));
    document.querySelector("#recent a, .questions summary").focus();
  };

  list();
}
