// The forms of the log, taken over from the browser: what they hold is kept on
// this device first and then sent, so that nothing hangs on the connection.

/* global one, all, kept */
import * as store from "./store.js";
import { freshId, news, sendAll, situation, tell } from "./send.js";

/** So long the page waits for the notebook before it calls an entry waiting. */
const PATIENCE = 4000;
const MB = 1024 * 1024;
const megabytes = (bytes) => (bytes / MB).toFixed(1);

export function takeForms() {
  const copy = Boolean(document.documentElement.dataset.keptAt);
  // A copy of a page has the id of an entry that may be written long since.
  if (copy) all("form[data-outbox]").forEach(newId);
  // On the window: whoever wants a form for himself comes before.
  window.addEventListener("submit", (event) => {
    const form = event.target;
    if (event.defaultPrevented) return;
    if (form.matches("form[data-outbox]")) {
      event.preventDefault();
      take(form);
    } else if (copy && form.method === "post") {
      // Its ids and versions are old; the page as it is now is asked for first.
      event.preventDefault();
      one(".kept-copy")?.scrollIntoView({ block: "nearest" });
      one(".kept-copy a")?.focus();
    }
  });
}

export function newId(form) { form.elements.id.value = freshId(); }

async function take(form) {
  const place = saidIn(form);
  const input = one("input[type=file]", form);
  place.said();
  const { good, bad } = await readable(input);
  place.fieldErrors(input && !good.length && !bad.length ? ["Choose a photo first."] : bad);
  if (input && !good.length) { ready(form, false); return; }
  const entry = entryOf(form, good);
  const outcome = outcomeOf(entry.id, place, Boolean(good.length));
  try {
    const blobs = [];
    // Read now: a camera's file may be gone later.
    for (const file of good) blobs.push(new Blob([await file.arrayBuffer()], { type: file.type }));
    await store.keep(entry, blobs);
  } catch (error) {
    console.info("outbox:", error);
    outcome.give({ now: "no room" });
  }
  tell("change");
  sendAll();
  await settle(form, entry, place, await outcome.told, bad);
}

async function settle(form, entry, place, outcome, bad) {
  if (outcome.now === "no room") {
    // As a form without script would go, if there is somebody to take it.
    if (await reachable()) { form.submit(); return; }
    place.said("This device has no room to keep this, and the laptop does not answer. Leave the page open and try again.", true);
    release(form);
    return;
  }
  if (outcome.now === "refused" && !entry.photos.length) {
    // The notebook shows its own page: the errors beside the fields, what was typed in them.
    await store.drop(entry);
    tell("change");
    form.submit();
    return;
  }
  forget(form);
  if (outcome.now === "kept" && !bad.length) {
    // Come back to by the browser's back button, the next photo is the next entry.
    if (entry.kind === "photo") ready(form, true);
    go(outcome.address);
    return;
  }
  ready(form, true);
  if (outcome.now === "kept") place.said("The others are in the log.", false, outcome.address);
  else if (outcome.now === "refused") {
    place.fieldErrors(bad.concat(outcome.said));
    place.said(outcome.entryKept ? "The others are in the log." : "", false, outcome.address);
  } else place.said(words(outcome.now));
  place.show();
}

const words = (now) => ({
  "not let in": "Kept on this device. It is not let in any more; when it is, this goes to the notebook by itself.",
  full: "Kept on this device. The laptop's disk is full; when there is room, this goes there by itself.",
})[now] ?? "Kept on this device. It goes to the laptop by itself when it answers.";

function entryOf(form, files) {
  const fields = Array.from(new FormData(form)).filter(([, value]) => typeof value === "string");
  const shown = Array.from(form.elements)
    .filter((e) => e.name && e.labels?.length && !["file", "hidden", "checkbox", "radio"].includes(e.type) && e.value.trim())
    .map((e) => [e.labels[0].textContent.trim(), e.selectedOptions?.[0]?.textContent.trim() ?? e.value.trim()]);
  const address = new URL(form.action);
  return {
    id: form.elements.id.value,
    // Told apart from what waited under the same id before.
    turn: freshId(),
    order: Date.now(),
    kind: address.pathname.split("/").pop(),
    project: one(".project-title")?.textContent.trim() ?? "",
    address: address.pathname,
    fields,
    shown,
    photos: files.map((file, number) => ({ number, name: file.name, size: file.size })),
    state: "waiting",
    said: [],
  };
}

/** Photos browsers cannot show are told at once, before they are sent. */
async function readable(input) {
  const good = [], bad = [];
  for (const file of input?.files ?? []) {
    let head = "";
    try { head = String.fromCharCode(...new Uint8Array(await file.slice(0, 12).arrayBuffer())); } catch { /* the notebook says it */ }
    const brand = head.slice(4, 8) === "ftyp" ? head.slice(8, 12) : "";
    const said = /^(hei|hev|mif1|msf1)/.test(brand) ? input.dataset.heic : "";
    if (said) bad.push(`“${file.name}”: ${said}`); else good.push(file);
  }
  return { good, bad };
}

/** What becomes of an entry just kept: "kept", "refused", or why it waits. */
function outcomeOf(id, place, photos) {
  let give;
  const told = new Promise((resolve) => { give = resolve; });
  let timer;
  const waiting = (ms) => { clearTimeout(timer); timer = setTimeout(() => give({ now: situation || "away" }), ms); };
  const mine = (event) => { if (event.detail.id === id) give({ ...event.detail, now: event.type }); };
  const stopped = (event) => { if (event.detail.now) give({ now: event.detail.now }); };
  const moved = (event) => {
    if (event.detail.id !== id) return;
    // As long as bytes move, the page says how far.
    waiting(15 * PATIENCE);
    place.progress(event.detail);
  };
  news.addEventListener("kept", mine);
  news.addEventListener("refused", mine);
  news.addEventListener("situation", stopped);
  news.addEventListener("progress", moved);
  waiting(photos ? 2 * PATIENCE : PATIENCE);
  told.then(() => {
    clearTimeout(timer);
    for (const [name, heard] of [["kept", mine], ["refused", mine], ["situation", stopped], ["progress", moved]]) news.removeEventListener(name, heard);
  });
  return { told, give };
}

/** Where a form says what becomes of what it sent. */
function saidIn(form) {
  const input = one("input[type=file]", form);
  // Where the finger is: photos chosen from the device have a form of their own further down.
  const below = input && !input.matches(".unseen");
  const bar = form.matches(".quick-camera");
  const around = bar ? overBar(form) : below ? one(".card", form) ?? form : form.closest(".add-log") ?? form.parentElement;
  let box = one(":scope > .outbox-said", around);
  if (!box) {
    box = document.createElement("div");
    box.className = "outbox-said";
    box.setAttribute("role", "status");
    box.tabIndex = -1;
    if (below && !bar) around.append(box); else around.prepend(box);
  }
  return {
    said(text = "", bad = false, address = "") {
      box.replaceChildren();
      box.classList.toggle("bad", bad);
      if (!text) return;
      const line = document.createElement("p");
      line.textContent = text;
      box.append(line);
      if (address) {
        const link = document.createElement("a");
        link.className = "button quiet";
        link.href = address;
        link.textContent = "Show the log";
        box.append(link);
      }
    },
    progress({ photo, photos, sent, total }) {
      let bar = one("progress", box);
      if (!bar) {
        box.replaceChildren();
        const line = document.createElement("p");
        bar = document.createElement("progress");
        bar.setAttribute("aria-label", "Photos sent");
        box.append(line, bar);
        box.scrollIntoView({ block: "nearest" });
      }
      bar.max = total;
      bar.value = sent;
      box.firstChild.textContent = photos === 1
        ? `Sending the photo: ${megabytes(sent)} of ${megabytes(total)} MB`
        : `Sending photo ${photo} of ${photos}: ${megabytes(sent)} of ${megabytes(total)} MB`;
    },
    /** Beside the field, or on top where the field itself is out of sight. */
    fieldErrors(sentences) {
      if (!input) return;
      const after = bar ? box : input.matches(".unseen") ? form : input;
      if (after.nextElementSibling?.matches(".outbox-error")) after.nextElementSibling.remove();
      if (!sentences.length) return;
      const errors = document.createElement("div");
      errors.className = "error outbox-error";
      errors.setAttribute("role", "alert");
      for (const sentence of sentences) {
        const line = document.createElement("p");
        line.textContent = sentence;
        errors.append(line);
      }
      after.after(errors);
    },
    show() { box.scrollIntoView({ block: "nearest" }); box.focus({ preventScroll: true }); },
  };
}

/** Above the bar at the foot of the page, and gone at a tap. */
function overBar(form) {
  let place = one(":scope > .quick-said", form);
  if (!place) {
    place = document.createElement("div");
    place.className = "quick-said";
    place.addEventListener("click", (event) => {
      if (event.target.closest("a")) return;
      one(".outbox-said", place).replaceChildren();
      one(".outbox-error", place)?.remove();
    });
    form.append(place);
  }
  return place;
}

/** The form as it was before it was sent. */
function release(form) {
  delete form.dataset.sent;
  form.dispatchEvent(new Event("notchbook:released"));
}

/** The form for the next entry, or the same one again. */
function ready(form, next) {
  if (next) {
    for (const field of all("input:not([type=hidden]):not([type=checkbox]), textarea", form)) field.value = "";
    for (const field of all("select", form)) field.selectedIndex = 0;
    // What the plan had seen goes with one decision, not with two.
    one(".carry", form)?.remove();
    newId(form);
    form.dispatchEvent(new Event("notchbook:fresh"));
  } else {
    for (const field of all("input[type=file]", form)) field.value = "";
  }
  release(form);
}

/** It is in the outbox or the notebook: the browser's other copy may go. */
function forget(form) {
  if (form.dataset.keep) kept.drop(`typed:${form.dataset.keep}`);
  try { sessionStorage.removeItem("sent"); } catch { /* refused */ }
}

function go(address) {
  const to = new URL(address, location.href);
  const same = to.pathname === location.pathname && to.search === location.search;
  location.assign(to);
  if (same) location.reload();
}

/** Whether the notebook answers within so many milliseconds. */
export async function reachable(within = 2500) {
  const patience = new AbortController();
  const timer = setTimeout(() => patience.abort(), within);
  try {
    await fetch("/length?text=1&unit=in", { cache: "no-store", signal: patience.signal });
    return true;
  } catch { return false; } finally { clearTimeout(timer); }
}
