// Pages opened before open without a network, with their time; what is asked goes to the network first, always.
"use strict";
const PAGES = "pages-1", FILES = "files-1", MOST = 60;
const READING = /^\/sheet\/[^/]+$/;  // a sheet is kept though it says no-store: this is the device that opened it

const isPage = (answer, url) => answer.status === 200 && !answer.redirected && /html/.test(answer.headers.get("Content-Type")) &&
  (!/no-store/.test(answer.headers.get("Cache-Control")) || READING.test(url.pathname));

const keepPage = async (url, answer) => {
  const html = await answer.text(), headers = new Headers(answer.headers), cache = await caches.open(PAGES);
  for (const name of ["Content-Encoding", "Content-Length"]) headers.delete(name);
  headers.set("Kept-At", new Date().toISOString());
  headers.set("Kept-Title", encodeURIComponent(html.match(/<title>([^<]*)/)?.[1] ?? url.pathname));
  await cache.delete(url.href);
  await cache.put(url.href, new Response(html, { headers }));
  for (const old of (await cache.keys()).slice(0, -MOST)) await cache.delete(old);
};

// The words of a kept page's language lie before the script that started this; those of an English page are here.
const wordsOf = async (html) => {
  const [address] = html.match(/\/static\/stay-\w+\.js\?v=\w+/) ?? [], script = address && await (await caches.open(FILES)).match(address);
  const told = JSON.parse((await script?.text())?.match(/\.\.\.(\{.*\}) \};\n/)?.[1] ?? "{}");
  return (text, values = {}) => (told[text] ?? text).replace(/\{(\w+)\}/g, (place, name) => values[name] ?? place);
};
const time = (answer) => new Date(answer.headers.get("Kept-At")).toLocaleString([], { dateStyle: "medium", timeStyle: "short" });
const keptPage = async (url) => {
  const answer = await (await caches.open(PAGES)).match(url.href);
  if (!answer) return listed();
  const html = await answer.text(), words = await wordsOf(html);
  const said = `<p class="offers offline">${words("No network. This page is as it was on {time}; new numbers are asked for when the network is back.", { time: time(answer) })}</p>`;
  return new Response(html.replace(/<main[^>]*>/, `$&${said}`), { headers: answer.headers });
};

// A page that was never opened: what can be opened instead.
const listed = async () => {
  const cache = await caches.open(PAGES), files = await (await caches.open(FILES)).keys();
  const sheet = files.find(({ url }) => /\/static\/(page|whole|start|sheet)\.css/.test(url))?.url ?? "";
  const pages = (await cache.keys()).filter(({ url }) => !new URL(url).pathname.endsWith("/shown"));
  const rows = await Promise.all(pages.reverse().map(async (request) => {
    const answer = await cache.match(request), to = new URL(request.url);
    return `<li><a href="${(to.pathname + to.search).replace(/&/g, "&amp;").replace(/"/g, "&quot;")}">${decodeURIComponent(answer.headers.get("Kept-Title"))}</a> <small>${time(answer)}</small></li>`;
  }));
  const last = (await cache.keys()).at(-1), kept = last ? await (await cache.match(last)).text() : "", words = await wordsOf(kept);
  const html = `<!doctype html><html lang="${kept.match(/<html lang="(\w+)/)?.[1] ?? "en"}"><meta charset="utf-8"><title>${words("No network")}</title><meta name="viewport" content="width=device-width,initial-scale=1">
<link rel="stylesheet" href="${sheet}"><main><h1>${words("No network")}</h1><p>${words("This page has not been opened on this device before. These have:")}</p><section id="recent" class="picks"><ul>${rows.join("")}</ul></section></main></html>`;
  return new Response(html, { status: 503, headers: { "Content-Type": "text/html; charset=utf-8" } });
};

const page = async (event, url) => {
  try {
    const answer = await fetch(event.request);
    if (isPage(answer, url)) event.waitUntil(keepPage(url, answer.clone()));
    return answer;
  } catch {
    return keptPage(url);
  }
};
const file = async (request) => {
  const cache = await caches.open(FILES), kept = await cache.match(request);
  if (kept) return kept;
  const answer = await fetch(request);
  if (answer.status === 200 && /immutable/.test(answer.headers.get("Cache-Control"))) await cache.put(request, answer.clone());
  return answer;
};

addEventListener("install", () => skipWaiting());
addEventListener("activate", (event) => event.waitUntil((async () => {
  for (const name of await caches.keys()) if (![PAGES, FILES].includes(name)) await caches.delete(name);
  await clients.claim();
})()));
addEventListener("fetch", (event) => {
  const { request } = event, url = new URL(request.url);
  url.hash = "";
  if (request.method !== "GET" || url.origin !== location.origin || request.headers.has("HX-Request")) return;
  if (url.pathname.startsWith("/static/")) event.respondWith(file(request));
  else if (request.mode === "navigate" || request.headers.has("Keep-Page")) event.respondWith(page(event, url));
});
