// A tick, a start or a stop of the timer: one word and the moment it was said.
// It waits here like an entry of the log, and tells the notebook how long ago
// it was said, so that the one said last stands, whichever arrives last.

/* global one */
import * as store from "./store.js";
import { freshId, sendAll, tell } from "./send.js";

/** Keeps a word and sends what waits. Of those that mean the same thing, told
    by `instead`, only the last one goes. */
export async function say(form, kind, fields, shown, instead) {
  const word = {
    id: freshId(),
    turn: freshId(),
    order: Date.now(),
    timed: true,
    kind,
    project: one(".project-title")?.textContent.trim() ?? "",
    address: new URL(form.action).pathname,
    fields,
    shown,
    photos: [],
    state: "waiting",
    said: [],
  };
  await store.keep(word, [], instead);
  tell("change");
  sendAll();
  return word;
}

export const field = (word, name) => word.fields.find(([known]) => known === name)?.[1];

/** What of these kinds waits, the oldest first. */
export async function waiting(...kinds) {
  try {
    return (await store.entries()).filter((word) => word.state === "waiting" && kinds.includes(word.kind));
  } catch { return []; }
}

/** This page as the notebook has it now, or nothing. */
export async function pageNow() {
  try {
    const answer = await fetch(location.pathname + location.search, { cache: "no-store" });
    if (!answer.ok) return null;
    // The copy kept on this device is to know it too.
    navigator.serviceWorker?.controller?.postMessage({ keep: location.pathname + location.search });
    return new DOMParser().parseFromString(await answer.text(), "text/html");
  } catch { return null; }
}

/** Over the page, in the words of one who looks up from sewing; gone at a tap. */
export function sayAway(words) {
  let said = one(".away-said");
  if (!said) {
    said = document.createElement("p");
    said.className = "away-said";
    said.setAttribute("role", "status");
    said.addEventListener("click", () => said.replaceChildren());
    document.body.append(said);
  }
  said.textContent = words;
}

export const NO_ROOM = "This device has no room to keep this, and the laptop does not answer. Do it again when it is back.";
