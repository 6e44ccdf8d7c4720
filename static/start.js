// The start page's list of the parts last worked on, which only this device knows.
"use strict";
{
  const { parts, keep, say } = window.chuckside;
  const box = document.querySelector("#recent");

  const row = ({ address, title, when }) => {
    const item = document.querySelector("#part").content.cloneNode(true);
    const [link, button] = item.querySelectorAll("a,button");
    link.href = address;
    link.textContent = title;
    item.querySelector("small").textContent = new Date(when).toLocaleString([], { dateStyle: "medium", timeStyle: "short" });
    button.setAttribute("aria-label", `Remove ${title}`);
    button.addEventListener("click", () => remove(address));
    return item;
  };
  const list = () => {
    box.hidden = !parts().length;
    box.querySelector("ul").replaceChildren(...parts().map(row));
  };
  const remove = (address) => {
    keep("parts", parts().filter((part) => part.address !== address));
    list();
    say("Removed.");
    document.querySelector("#recent a, .tiles a").focus();
  };

  list();
}
