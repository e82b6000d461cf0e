// The list of what waits: what was written, its photos, and what is to be done
// about an entry the notebook did not take.

import * as store from "./store.js";
import { news, sendAll, situation, tell } from "./send.js";

const KINDS = {
  note: "Note", decision: "Decision", measure: "Measure", work: "Minutes of work", photo: "Photos",
  tick: "Tick", start: "Timer started", stop: "Timer stopped",
};

let dialog;
let pictures = [];

export async function openList() {
  dialog ??= make();
  await fill();
  if (!dialog.open) dialog.showModal();
}

function element(name, className, text) {
  const made = document.createElement(name);
  if (className) made.className = className;
  if (text !== undefined) made.textContent = text;
  return made;
}

function button(words, act, primary = false) {
  const made = element("button", primary ? "button primary" : "button quiet", words);
  made.type = "button";
  made.addEventListener("click", act);
  return made;
}

function make() {
  const box = element("dialog", "outbox-list");
  box.setAttribute("aria-labelledby", "outbox-list-h");
  const head = element("div", "card-head");
  const heading = element("h2", "", "Not in the notebook yet");
  heading.id = "outbox-list-h";
  head.append(heading, button("Close", () => box.close()));
  box.append(head, element("p", "outbox-why"), element("ul", "rows"));
  document.body.append(box);
  news.addEventListener("change", () => { if (box.open) fill(); });
  box.addEventListener("close", letPicturesGo);
  return box;
}

function letPicturesGo() {
  pictures.forEach((address) => URL.revokeObjectURL(address));
  pictures = [];
}

async function fill() {
  const entries = await store.entries();
  letPicturesGo();
  const list = dialog.querySelector("ul");
  const rows = [];
  for (const entry of entries) rows.push(await row(entry));
  list.replaceChildren(...rows);
  const why = dialog.querySelector(".outbox-why");
  const overtaken = entries.length > 0 && entries.every((entry) => entry.state === "overtaken");
  dialog.querySelector("h2").textContent = overtaken ? "Overtaken by something later" : "Not in the notebook yet";
  const waits = entries.some((entry) => entry.state === "waiting");
  const refused = entries.some((entry) => entry.state === "refused");
  if (!entries.length) why.textContent = "Nothing waits: everything is in the notebook.";
  else if (waits) why.textContent = reason();
  else why.textContent = refused ? "The notebook did not take this. It is kept here until it is mended or thrown away." : "This arrived, but was said before what stands in the notebook.";
  if (waits && situation !== "not let in") why.append(" ", button("Try now", sendAll));
}

const reason = () => ({
  "not let in": "This device is not let in any more. What it wrote is kept here, and goes to the notebook when it is let in again.",
  full: "The laptop's disk is full. What waits is kept here, and goes there when there is room.",
})[situation] ?? "Kept on this device, also when it is switched off. It goes to the laptop by itself when it answers.";

async function row(entry) {
  const item = element("li", "outbox-entry");
  const head = element("p", "outbox-head");
  head.append(element("b", "", KINDS[entry.kind] ?? "Entry"), ` for ${entry.project || "a project"}`);
  const at = new Date(entry.order);
  const time = element("time", "meta", at.toLocaleString("en-GB", { day: "numeric", month: "long", hour: "2-digit", minute: "2-digit" }));
  time.dateTime = at.toISOString();
  head.append(element("br"), time);
  item.append(head);
  if (entry.entryKept) item.append(element("p", "", "The entry is in the log, without:"));
  else {
    for (const [label, value] of entry.shown) {
      const line = element("p", "outbox-words");
      line.append(element("span", "meta", `${label}: `), value.length > 400 ? `${value.slice(0, 400)}…` : value);
      item.append(line);
    }
  }
  if (entry.photos.length) item.append(await thumbnails(entry));
  for (const sentence of entry.said.concat(entry.photos.flatMap((photo) => photo.refused ?? []))) item.append(element("p", "error", sentence));
  item.append(actions(entry));
  return item;
}

async function thumbnails(entry) {
  const strip = element("div", "outbox-photos");
  for (const photo of entry.photos) {
    const blob = await store.photo(entry.id, photo.number);
    if (!blob) continue;
    const address = URL.createObjectURL(blob);
    pictures.push(address);
    const picture = element("img");
    picture.src = address;
    picture.alt = photo.name;
    picture.loading = "lazy";
    strip.append(picture);
  }
  return strip;
}

function actions(entry) {
  const bar = element("div", "actions");
  if (entry.state === "overtaken") {
    const link = element("a", "button", "Show it");
    link.href = entry.shows;
    bar.append(link, button("I have read it", async () => { await store.drop(entry); tell("change"); }, true));
    return bar;
  }
  if (entry.state === "refused" && !entry.entryKept) {
    if (!entry.photos.length && !entry.timed) bar.append(button("Mend it", () => mend(entry), true));
    else if (entry.photos.length && entry.photos.every((p) => p.refused) && wordsOf(entry)) bar.append(button("Keep the words as a note", () => asNote(entry), true));
    bar.append(button("Try again", () => again(entry)));
  }
  const words = entry.photos.length && entry.state === "refused" ? "Leave out" : "Throw away";
  let sure = false;
  const drop = button(words, async () => {
    if (!sure) {
      sure = true;
      drop.textContent = `${words} for good`;
      drop.classList.add("sure");
      return;
    }
    await store.drop(entry);
    tell("change");
  });
  bar.append(drop);
  return bar;
}

/** The notebook shows the form with what was typed and the errors beside its
    fields. The entry stays here until it is taken under the same id. */
function mend(entry) {
  const form = element("form");
  form.method = "post";
  form.action = entry.address;
  form.hidden = true;
  for (const [name, value] of entry.fields) {
    const field = element("input");
    field.type = "hidden";
    field.name = name;
    field.value = value;
    form.append(field);
  }
  document.body.append(form);
  form.submit();
}

async function again(entry) {
  const photos = entry.photos.map(({ number, name, size }) => ({ number, name, size }));
  await store.update(entry, { state: "waiting", said: [], photos });
  tell("change");
  sendAll();
}

const wordsOf = (entry) => entry.fields.find(([name]) => name === "text")?.[1].trim() ?? "";

async function asNote(entry) {
  const address = entry.address.replace(/\/photo$/, "/note");
  await store.update(entry, { state: "waiting", said: [], photos: [], kind: "note", address });
  tell("change");
  sendAll();
}
