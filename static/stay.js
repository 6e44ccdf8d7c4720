// By HTTPS alone: pages opened before stay at hand without a network, and a switch keeps the screen on.
export const use = async ({ on, say, recall, keep, words }) => {
  if ("wakeLock" in navigator) awake(say, recall, keep, words);
  if (!("serviceWorker" in navigator)) return;
  await navigator.serviceWorker.register("/worker.js");
  await navigator.serviceWorker.ready;
  if (!navigator.serviceWorker.controller) await new Promise((done) => navigator.serviceWorker.addEventListener("controllerchange", done, { once: true }));
  const kept = document.querySelector(".offline");
  if (!kept) keepNow();
  let soon = 0;
  on("htmx:after:swap", () => { clearTimeout(soon); soon = setTimeout(keepNow, 2000); });
};

// The page as a whole, under the address that it has now, and the files it needs; each is read to its end, since an
// answer that nobody reads keeps its connection.
const take = (address, more) => fetch(address, more).then((answer) => answer.arrayBuffer()).catch(() => {});
const keepNow = () => {
  take(location.href, { headers: { "Keep-Page": "1" } });
  const files = [...document.querySelectorAll("link[rel=stylesheet], link[rel=icon], script[src]")].map((it) => it.href || it.src);
  const tools = [...document.querySelectorAll("[data-tool], [data-by], [data-terms], [data-stay]")].flatMap(({ dataset: { tool, style, by, terms, stay, keeping } }) => [tool, style, by, terms, stay, keeping]);
  new Set([...files, ...tools]).forEach((address) => { if (address) take(address); });
};

const awake = (say, recall, keep, words) => {
  let lock = null;
  const button = Object.assign(document.createElement("button"), { type: "button", className: "act", textContent: words("Keep the screen on") });
  const tell = () => button.setAttribute("aria-pressed", Boolean(recall("awake")));
  const hold = async () => {
    try { lock = await navigator.wakeLock.request("screen"); } catch { lock = null; }
  };
  button.addEventListener("click", async () => {
    keep("awake", !recall("awake"));
    if (recall("awake")) await hold(); else { lock?.release(); lock = null; }
    tell();
    say(recall("awake") ? (lock ? words("The screen stays on.") : words("This device does not keep its screen on now.")) : words("The screen may go off."));
  });
  document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible" && recall("awake")) hold(); });
  const row = Object.assign(document.createElement("p"), { className: "theme" });
  row.append(button);
  document.querySelector("footer").append(row);
  tell();
  if (recall("awake")) hold();
};
