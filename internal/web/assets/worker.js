// The worker that stands between this site and the network. It keeps what the pages
// beside the mill are drawn with, and the first page and the runs as they last came,
// so that they can be loaded again without a network. The network is always asked
// first; what is kept says since when it stands. Nothing is kept past a log-out.
// The server puts two lines before this file: version, which changes with the program
// and its shop, and shell, what is kept from the start.
"use strict";
const files = `hopperful-files-${version}`, pages = `hopperful-pages-${version}`;
const slow = 6000, mostPages = 12, stands = 'id="offline"';

const keeps = (url) => url.pathname === "/" || /^\/run\/\d+$/.test(url.pathname);

self.addEventListener("install", (e) => e.waitUntil((async () => {
  await (await caches.open(files)).addAll(shell);
  await self.skipWaiting();
})()));

self.addEventListener("activate", (e) => e.waitUntil((async () => {
  for (const name of await caches.keys()) if (name.startsWith("hopperful-") && name !== files && name !== pages) await caches.delete(name);
  await self.clients.claim();
})()));

self.addEventListener("fetch", (e) => {
  const r = e.request, url = new URL(r.url);
  if (r.method !== "GET" || url.origin !== location.origin) return;
  if (url.pathname.startsWith("/assets/")) e.respondWith(file(r));
  else if (r.mode === "navigate") e.respondWith(page(r, url));
  else if (keeps(url) && (r.headers.get("Accept") ?? "").includes("text/html")) e.respondWith(asked(r));
});

// file is a part of the pages: its address changes with it, so that one kept is right.
async function file(request) {
  return await (await caches.open(files)).match(request) ?? fetch(request);
}

// asked is what a page asks for in its own name: never from what is kept.
async function asked(request) {
  const answer = await fetch(request);
  if (answer.status === 401 || new URL(answer.url).pathname === "/login") await forget();
  else await remember(answer);
  return answer;
}

// page is what a person opens: from the network, or else as it last came.
async function page(request, url) {
  if (url.pathname === "/login") await forget();
  const network = fetch(request).then(async (answer) => { await remember(answer); return answer; });
  const old = keeps(url) ? await (await caches.open(pages)).match(url.pathname) : undefined;
  if (!old) return network.catch(() => elsewhere(url));
  network.catch(() => {}); // told below, or later than anybody waits
  const late = new Promise((done) => setTimeout(done, slow));
  return Promise.race([network.catch(() => stale(old)), late.then(() => stale(old))]);
}

async function remember(answer) {
  const url = new URL(answer.url || location.href);
  if (answer.type !== "basic" || answer.status !== 200 || !keeps(url)) return;
  const copy = answer.clone(), cache = await caches.open(pages);
  await cache.put(url.pathname, copy);
  const all = await cache.keys();
  for (const old of all.slice(0, Math.max(0, all.length - mostPages))) await cache.delete(old);
}

const forget = () => caches.delete(pages);

// stale is a kept page, with the line on it that says so.
async function stale(old) {
  const head = new Headers(old.headers), text = await old.clone().text();
  head.delete("Content-Length");
  head.delete("Content-Encoding");
  return new Response(text.replace(`hidden ${stands}`, `${stands} data-stale`), { status: 200, headers: head });
}

// elsewhere is shown where nothing is kept; /run leads to the run kept last.
async function elsewhere(url) {
  if (url.pathname === "/run") {
    const runs = (await (await caches.open(pages)).keys()).filter((r) => new URL(r.url).pathname !== "/");
    if (runs.length > 0) return Response.redirect(runs.at(-1).url);
  }
  return await (await caches.open(files)).match("/offline") ?? Response.error();
}
