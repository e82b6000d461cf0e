// Keeps the pages seen last, for when the notebook does not answer. Served at
// /worker.js with EDITION and FILES before it, so that an update is noticed.
// Nothing but GET passes through here, and of pages only those of the maker.
"use strict";

const STATIC = `notchbook-static-${EDITION}`;
const PAGES = "notchbook-pages";
const PHOTOS = "notchbook-photos";
const MOST_PAGES = 150;
const MOST_PHOTOS = 300;
/** Longer without an answer, and the notebook is asked whether it is there. */
const PATIENCE = 4000;

const ID = "[0-9a-f-]{36}";
const PROJECT = `/projects/${ID}`;
const KEPT = new RegExp(`^(/|/cloth|/cloth/${ID}|/wearers(/${ID})?|/shop(/.*)?|${PROJECT}(/(figures|cuts?|sheets?|steps|materials|photos|cloths|pieces|revisions)(/.*)?|/log|/log/add|/before-after|/leftovers|/unit-sizes)?)$`);
const PHOTO = /^(\/photos\/[0-9a-f]{64}\/(small|page)|\/swatches\/[0-9a-f]{64}\/[0-9-]+)$/;
/** Pages for others, the door, and what is carried away: never touched. */
const NEVER = /^\/(s|pair|backup|api|worker\.js)(\/|$)/;

self.addEventListener("install", (event) => {
  event.waitUntil((async () => {
    const cache = await caches.open(STATIC);
    await cache.addAll(FILES.map((name) => `/static/${EDITION}/${name}`));
    await self.skipWaiting();
  })());
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    const names = await caches.keys();
    await Promise.all(names.filter((n) => n.startsWith("notchbook-static-") && n !== STATIC).map((n) => caches.delete(n)));
    await self.clients.claim();
  })());
});

self.addEventListener("message", (event) => {
  // The page that was open before there was a worker.
  const url = new URL(event.data?.keep ?? "", location.origin);
  if (url.origin !== location.origin || !keepable(url)) return;
  event.waitUntil(fetch(url).then((answer) => seen(url, answer)).catch(() => {}));
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== location.origin || NEVER.test(url.pathname)) return;
  if (url.pathname.startsWith("/static/")) event.respondWith(fixed(request, url));
  else if (PHOTO.test(url.pathname)) event.respondWith(photo(event));
  else if (request.mode === "navigate") event.respondWith(page(event, url));
});

const keepable = (url) => KEPT.test(url.pathname) && !url.pathname.endsWith(".pdf") && (!url.search || url.pathname.endsWith("/log/add"));
const place = (url) => `${url.origin}${url.pathname}`;

/** A file of this edition, else the network, else the like-named file of this
    edition: a page kept by an earlier one has its looks still. */
async function fixed(request, url) {
  const here = await caches.match(request);
  if (here) return here;
  try { return await fetch(request); } catch (error) {
    const name = url.pathname.split("/").slice(3).join("/");
    const like = await caches.match(`/static/${EDITION}/${name}`);
    if (like) return like;
    throw error;
  }
}

async function photo(event) {
  const cache = await caches.open(PHOTOS);
  const here = await cache.match(event.request);
  if (here) return here;
  const answer = await fetch(event.request);
  if (answer.status === 200) {
    const copy = answer.clone();
    event.waitUntil(cache.put(event.request, copy).then(() => prune(cache, MOST_PHOTOS)).catch(() => {}));
  }
  return answer;
}

async function page(event, url) {
  const asked = fetch(event.request);
  try {
    const answer = await patiently(asked);
    event.waitUntil(seen(url, answer.clone()).catch(() => {}));
    return answer;
  } catch {
    asked.catch(() => {});
    const cache = await caches.open(PAGES);
    const kept = await cache.match(place(url));
    return kept ? asKept(kept, url) : notKept(cache);
  }
}

/** A notebook that works on something long is waited for; one that is gone is not. */
async function patiently(asked) {
  const late = {};
  for (;;) {
    const first = await Promise.race([asked, new Promise((r) => setTimeout(r, PATIENCE, late))]);
    if (first !== late) return first;
    await fetch("/length?text=1&unit=in", { cache: "no-store", signal: AbortSignal.timeout(3000) });
  }
}

async function seen(url, answer) {
  if (answer.headers.get("x-notchbook-door")) {
    // Shut out: nothing of the notebook stays on this device.
    await Promise.all([caches.delete(PAGES), caches.delete(PHOTOS)]);
    return;
  }
  if (!keepable(url)) return;
  const cache = await caches.open(PAGES);
  if (answer.status === 404) await cache.delete(place(url));
  if (answer.status !== 200 || !answer.headers.get("content-type")?.startsWith("text/html")) return;
  const headers = new Headers({ "x-kept-at": new Date().toISOString() });
  for (const name of ["content-type", "content-security-policy", "x-content-type-options", "referrer-policy"]) {
    if (answer.headers.has(name)) headers.set(name, answer.headers.get(name));
  }
  // Taken out first: the oldest stand at the front.
  await cache.delete(place(url));
  await cache.put(place(url), new Response(await answer.text(), { headers }));
  await prune(cache, MOST_PAGES);
}

async function prune(cache, most) {
  const keys = await cache.keys();
  await Promise.all(keys.slice(0, Math.max(0, keys.length - most)).map((key) => cache.delete(key)));
}

const moment = (text) => new Date(text).toLocaleString("en-GB", { weekday: "long", day: "numeric", month: "long", hour: "2-digit", minute: "2-digit" });

async function asKept(kept, url) {
  const at = kept.headers.get("x-kept-at");
  const line = `<div class="kept-copy" role="status"><p>The notebook does not answer. This is how the page was on <b>${moment(at)}</b>; it may be old.</p><a class="button quiet" href="${url.pathname}">Try again</a></div>`;
  const text = (await kept.text())
    .replace("<html ", `<html data-kept-at="${at}" `)
    .replace(/<main[^>]*>/, (main) => main + line);
  return new Response(text, { headers: kept.headers });
}

async function notKept(cache) {
  const rows = [];
  for (const key of (await cache.keys()).reverse()) {
    const kept = await cache.match(key);
    const title = (await kept.text()).match(/<title>(.*?) · Notchbook<\/title>/)?.[1] ?? "A page";
    rows.push(`<li><a class="row" href="${new URL(key.url).pathname}"><div class="row-text"><b>${title}</b><div class="meta">as it was on ${moment(kept.headers.get("x-kept-at"))}</div></div></a></li>`);
  }
  const list = rows.length
    ? `<section class="card"><div class="card-head"><h2>Kept here</h2></div><ul class="rows">${rows.join("")}</ul></section>`
    : "";
  const at = `/static/${EDITION}`;
  const text = `<!DOCTYPE html><html lang="en" data-kept-at="now"><head><meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1"><meta name="color-scheme" content="light dark">
<title>Not kept on this device · Notchbook</title><link rel="icon" type="image/svg+xml" href="${at}/icon.svg">
<link rel="stylesheet" href="${at}/style.css"><link rel="stylesheet" href="${at}/pages.css">
<script src="${at}/notebook.js" defer></script><script src="${at}/timer.js" defer></script><script src="${at}/outbox.js" type="module"></script></head>
<body class="at-plain not-kept"><main id="main"><h1>This page is not kept on this device</h1>
<p>The notebook does not answer, and this page was not among those seen last.</p>
<p class="actions"><a class="button primary" href="">Try again</a></p>${list}</main></body></html>`;
  return new Response(text, {
    status: 503,
    headers: {
      "content-type": "text/html; charset=utf-8",
      "content-security-policy": "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; font-src 'self'; connect-src 'self'; base-uri 'none'",
    },
  });
}
