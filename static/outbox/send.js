// Sends what waits, in order, one tab at a time. Every entry carries an id made
// on this device and every photo is known by its content: sent again after a
// lost answer, they are there once.

import * as store from "./store.js";

/** Without a byte moving for so long, a connection is taken as dead. */
const SILENCE = 45000;
/** While something waits, the notebook is asked again. */
const AGAIN = 15000;

/** "change", "progress", "kept", "overtaken", "refused" and "situation", of this tab and the others. */
export const news = new EventTarget();
const channel = "BroadcastChannel" in window ? new BroadcastChannel("notchbook-outbox") : null;
const hear = (detail) => news.dispatchEvent(new CustomEvent(detail.what, { detail }));
if (channel) channel.onmessage = (event) => hear(event.data);

export function tell(what, detail = {}) {
  const said = { what, ...detail };
  hear(said);
  channel?.postMessage(said);
}

/** Why nothing is sent now: "", "away", "not let in", "full", "trouble". */
export let situation = "";
news.addEventListener("situation", (event) => { situation = event.detail.now; });

function post(address, body, moved) {
  return new Promise((resolve) => {
    const request = new XMLHttpRequest();
    let silence;
    const alive = () => { clearTimeout(silence); silence = setTimeout(() => request.abort(), SILENCE); };
    request.open("POST", address);
    request.setRequestHeader("x-notchbook-outbox", "1");
    request.upload.onprogress = (event) => { alive(); moved?.(event.loaded); };
    request.onprogress = alive;
    request.onloadend = () => {
      clearTimeout(silence);
      let said;
      try { said = JSON.parse(request.responseText); } catch { said = null; }
      resolve({ status: request.status, said, text: request.responseText });
    };
    alive();
    request.send(body);
  });
}

/** The sentences of a page that refused a form. */
function sentences(text) {
  const page = new DOMParser().parseFromString(text, "text/html");
  const found = (css) => Array.from(page.querySelectorAll(css), (e) => e.textContent.trim()).filter(Boolean);
  for (const css of [".errors li", ".error p", "main p"]) {
    const said = found(css);
    if (said.length) return css === "main p" ? said.slice(0, 1) : said;
  }
  return [text.trim().slice(0, 300) || "The notebook did not take it."];
}

const REFUSED = [400, 404, 405, 413, 422];
const TROUBLE = { 0: "away", 403: "not let in", 507: "full", 503: "away", 429: "away" };

/** When the notebook last took a word at an address: one said before that
    answer came is told as said after it, or the earlier one would seem the later. */
const taken = new Map();
const age = (entry) => Math.max(0, Date.now() - Math.max(entry.order, taken.get(entry.address) ?? 0));

/** "kept", "refused", "later" (the next may go) or "stop". */
async function send(entry) {
  for (const photo of entry.photos) {
    if (photo.hash || photo.refused) continue;
    const outcome = await sendPhoto(entry, photo);
    if (outcome !== "kept") return outcome;
  }
  const good = entry.photos.filter((photo) => photo.hash);
  if (entry.entryKept || (entry.photos.length && !good.length)) return refuse(entry, []);
  const body = entry.kind === "photo" ? new FormData() : new URLSearchParams();
  for (const [name, value] of entry.fields) body.append(name, value);
  for (const photo of good) body.append("photo", photo.hash);
  if (entry.timed) {
    body.append("id", entry.id);
    body.append("age", age(entry));
  }
  const answer = await post(entry.address, body);
  if (answer.status === 200 && answer.said?.kept === true) {
    taken.set(entry.address, Date.now());
    return keptNow(entry, answer.said);
  }
  if (answer.status === 422 && good.length && !entry.again) {
    // Its photos may be gone from a notebook that was set back: once more from the start.
    for (const photo of good) delete photo.hash;
    await store.update(entry, { photos: entry.photos, again: true });
    return "later";
  }
  return REFUSED.includes(answer.status) ? refuse(entry, sentences(answer.text)) : trouble(answer);
}

async function sendPhoto(entry, photo) {
  const blob = await store.photo(entry.id, photo.number);
  const total = entry.photos.reduce((sum, p) => sum + p.size, 0);
  const before = entry.photos.filter((p) => p.hash || p.refused);
  const sent = before.reduce((sum, p) => sum + p.size, 0);
  const moved = (bytes) => tell("progress", {
    id: entry.id, photo: before.length + 1, photos: entry.photos.length, sent: sent + Math.min(bytes, photo.size), total,
  });
  moved(0);
  if (!blob) photo.refused = [`“${photo.name}” is gone from this device. Choose it again.`];
  else {
    const body = new FormData();
    body.append("photos", blob, photo.name);
    const answer = await post("/photos", body, moved);
    if (answer.said?.kept === true && answer.said.photos?.length) photo.hash = answer.said.photos[0];
    else if (REFUSED.includes(answer.status)) photo.refused = answer.said?.refused ?? sentences(answer.text);
    else return trouble(answer);
  }
  await store.update(entry, { photos: entry.photos });
  return "kept";
}

async function keptNow(entry, { address, overtaken }) {
  const refused = entry.photos.filter((photo) => photo.refused);
  tell("situation", { now: "" });
  if (overtaken) {
    // It stays to be read.
    await store.update(entry, { state: "overtaken", said: [overtaken], shows: address });
    tell("overtaken", { id: entry.id, address, word: wordOf(entry) });
    return "kept";
  }
  if (refused.length) {
    const kept = entry.photos.length - refused.length;
    await store.update(entry, { photos: refused, state: "refused", entryKept: true, said: [] });
    tell("refused", { id: entry.id, entryKept: true, kept, address, said: refused.flatMap((photo) => photo.refused) });
    return "refused";
  }
  await store.drop(entry);
  tell("kept", { id: entry.id, address, word: wordOf(entry) });
  return "kept";
}

/** What pages are told of a tick, a start or a stop that came there. */
const wordOf = (entry) => (entry.timed ? { kind: entry.kind, address: entry.address, fields: entry.fields } : null);

async function refuse(entry, said) {
  await store.update(entry, { state: "refused", said, photos: entry.photos });
  tell("situation", { now: "" });
  tell("refused", { id: entry.id, said: said.concat(entry.photos.flatMap((photo) => photo.refused ?? [])) });
  return "refused";
}

function trouble(answer) {
  const now = TROUBLE[answer.status] ?? "trouble";
  tell("situation", { now });
  return now === "trouble" ? "later" : "stop";
}

async function round() {
  const tried = new Set();
  for (;;) {
    const next = (await store.entries()).find((e) => e.state === "waiting" && !tried.has(`${e.id} ${e.turn} ${e.again ?? ""}`));
    if (!next) return;
    tried.add(`${next.id} ${next.turn} ${next.again ?? ""}`);
    const outcome = await send(next);
    tell("change");
    if (outcome === "stop") return;
  }
}

function tabName() {
  try {
    const name = sessionStorage.getItem("outbox-tab") ?? freshId();
    sessionStorage.setItem("outbox-tab", name);
    return name;
  } catch { return freshId(); }
}

/** Runs `act` in one tab at a time; says whether it was this one's turn. */
async function alone(act) {
  // Locks are kept from pages of plain http.
  if (navigator.locks) {
    return navigator.locks.request("notchbook-outbox", { ifAvailable: true }, async (lock) => {
      if (lock) await act();
      return Boolean(lock);
    });
  }
  const tab = tabName();
  if (!(await store.lease(tab))) return false;
  const renew = setInterval(() => store.lease(tab).catch(() => {}), 3000);
  try { await act(); } finally {
    clearInterval(renew);
    await store.lease(tab, 0);
  }
  return true;
}

let running = false;
let wanted = false;

export async function sendAll() {
  wanted = true;
  if (running) return;
  running = true;
  try {
    while (wanted) {
      wanted = false;
      if (!(await alone(round))) setTimeout(sendIfAny, 1000);
    }
  } catch (error) { console.info("outbox:", error); } finally { running = false; }
}

async function sendIfAny() {
  try {
    if ((await store.entries()).some((entry) => entry.state === "waiting")) await sendAll();
  } catch { /* no database: nothing waits */ }
}

/** From now on what waits is sent whenever it may go. */
export function keepSending() {
  sendIfAny();
  setInterval(sendIfAny, AGAIN);
  window.addEventListener("online", sendIfAny);
  window.addEventListener("pageshow", sendIfAny);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) sendIfAny(); });
}

/** A UUID whose order is that of time, as the notebook makes them. Pages of
    plain http have no randomUUID. */
export function freshId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  let time = Date.now();
  for (let i = 5; i >= 0; i--) { bytes[i] = time % 256; time = Math.floor(time / 256); }
  bytes[6] = (bytes[6] & 0x0f) | 0x70;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
  return hex.replace(/(.{8})(.{4})(.{4})(.{4})(.{12})/, "$1-$2-$3-$4-$5");
}
