// One calm line on every page while something waits for the laptop.

import * as store from "./store.js";
import { news, situation } from "./send.js";
import { openList } from "./list.js";

export function showLine() {
  const main = document.querySelector("main");
  if (!main) return;
  const door = Boolean(document.querySelector(".door"));
  const box = document.createElement("div");
  box.className = "outbox-line";
  box.hidden = true;
  const button = document.createElement("button");
  button.type = "button";
  button.addEventListener("click", openList);
  const count = document.createElement("span");
  count.setAttribute("role", "status");
  button.append(count);
  const more = document.createElement("span");
  more.className = "outbox-more";
  more.textContent = "Show";
  button.append(more);
  box.append(button);
  main.prepend(box);

  let progress = "";
  let before = 0;
  let pause;
  const show = async (now) => {
    let entries = [];
    try { entries = await store.entries(); } catch { /* no database */ }
    if (box.hidden && now !== true) {
      // What is sent at once needs no words; the page leads on by itself.
      clearTimeout(pause);
      if (entries.length) pause = setTimeout(show, 1500, true);
      return;
    }
    const waiting = entries.filter((e) => e.state === "waiting").length;
    const overtaken = entries.filter((e) => e.state === "overtaken").length;
    const refused = entries.length - waiting - overtaken;
    before = Math.max(before, waiting);
    box.hidden = !entries.length && !(before && !door);
    box.classList.toggle("needs", refused + overtaken > 0);
    more.hidden = !entries.length;
    button.disabled = !entries.length;
    count.textContent = door ? atTheDoor(entries.length) : words({ waiting, refused, overtaken }, progress, before);
  };
  news.addEventListener("change", () => { progress = ""; show(); });
  news.addEventListener("situation", () => show());
  news.addEventListener("progress", ({ detail }) => {
    progress = detail.photos > 1 ? `, sending photo ${detail.photo} of ${detail.photos}` : ", sending";
    show();
  });
  show(true);
}

function words({ waiting, refused, overtaken }, progress, before) {
  const said = [];
  if (refused) said.push(`${refused} not taken by the notebook`);
  if (overtaken) said.push(`${overtaken} overtaken by something later`);
  if (waiting) said.push(waitingWords(waiting) + progress);
  if (!said.length) said.push(before === 1 ? "Sent to the laptop" : `All ${before} sent to the laptop`);
  return said.join(" · ");
}

function waitingWords(count) {
  if (situation === "not let in") return `${count} kept here: this device is not let in any more`;
  if (situation === "full") return `${count} waiting: the laptop's disk is full`;
  return `${count} waiting for the laptop`;
}

const atTheDoor = (count) => (count === 1
  ? "1 entry is kept on this device. It goes to the notebook when this device is let in."
  : `${count} entries are kept on this device. They go to the notebook when it is let in.`);
