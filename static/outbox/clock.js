// The timer without the laptop: started and stopped here at its own moment,
// which the laptop is told when it answers again.

/* global one, all, minutesSince, countOn */
import { freshId, news, situation } from "./send.js";
import { reachable } from "./forms.js";
import { NO_ROOM, field, pageNow, say, sayAway, waiting } from "./words.js";

const START = 'form[action$="/timer/start"]';
const STOP = 'form[action$="/timer/stop"]';
const KINDS = ["start", "stop"];

export function takeTimer() {
  // Its forms come and go with the timer.
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (event.defaultPrevented || !form.matches(`${START}, ${STOP}`)) return;
    event.preventDefault();
    tap(form);
  });
  news.addEventListener("change", paint);
  for (const what of ["kept", "overtaken"]) news.addEventListener(what, (event) => { if (KINDS.includes(event.detail.word?.kind)) came(); });
  paint();
}

async function tap(form) {
  if (form.dataset.asking) return;
  form.dataset.asking = "yes";
  const start = form.matches(START);
  // A copy of a page has the id of a timer that was started long since.
  if (start && document.documentElement.dataset.keptAt) form.elements.timer.value = freshId();
  try {
    // What waits goes first, or the notebook would be told to stop what it does not know.
    const behind = (await waiting(...KINDS)).length > 0;
    if (!behind && await reachable(situation === "away" ? 800 : 2500)) { form.submit(); return; }
    const fields = Array.from(new FormData(form));
    const on = start ? startedOn(form) : one("aside.timer .timer-words b")?.textContent.trim() ?? "Timer";
    await say(form, start ? "start" : "stop", fields, [["Timer", on]]);
    if (start) form.elements.timer.value = freshId();
  } catch (error) {
    console.info("timer:", error);
    sayAway(NO_ROOM);
  } finally { delete form.dataset.asking; }
}

/** What the maker sees it start on: a step, a kind of work, or what is next. */
function startedOn(form) {
  const step = form.closest(".step") ?? form.closest("li.row");
  const work = form.elements.work?.selectedOptions?.[0];
  const next = form.elements.step ? null : one(".step[data-next] .step-text b");
  return (one("b", step ?? form) ?? next)?.textContent.trim() ?? (work?.value ? work.textContent.trim() : "Timer");
}

/** The timer as this device knows it: what it said goes over what the page has. */
async function paint() {
  const words = await waiting(...KINDS);
  const strip = one("aside.timer");
  const start = words.findLast((word) => word.kind === "start");
  const stop = words.findLast((word) => word.kind === "stop");
  if (start && strip?.dataset.timer !== field(start, "timer")) {
    strip?.remove();
    const made = stripOf(start);
    one("main").before(made);
    for (const runs of all(".step > .button.runs")) runs.remove();
  }
  const shown = one("aside.timer");
  // Its start was thrown away, or the notebook did not take it.
  const gone = shown?.hasAttribute("data-waits") && !words.some((word) => word.kind === "start" && field(word, "timer") === shown.dataset.timer);
  if (gone) shown.remove();
  else if (shown && stop && idOf(shown) === field(stop, "timer")) stopped(shown, stop);
  quickBar(gone);
  countOn();
}

const idOf = (strip) => strip.dataset.timer ?? one("input[name=timer]", strip)?.value;

function element(name, className, text) {
  const made = document.createElement(name);
  made.className = className;
  if (text !== undefined) made.textContent = text;
  return made;
}

function stripOf(start) {
  const strip = element("aside", "timer");
  strip.setAttribute("aria-label", "Timer");
  strip.dataset.timer = field(start, "timer");
  strip.toggleAttribute("data-running", true);
  strip.toggleAttribute("data-waits", true);
  const about = element("span", "timer-text");
  const icon = one(`.quick :is(${START}, ${STOP}) svg`)?.cloneNode(true);
  const words = element("span", "timer-words");
  words.append(element("b", "", start.shown[0][1]), " ", element("span", "meta", "waits for the laptop"));
  const minutes = element("span", "timer-minutes num");
  minutes.dataset.since = new Date(start.order).toISOString();
  about.append(...(icon ? [icon] : []), words, minutes);
  strip.append(about, stopForm(start.address.replace(/start$/, "stop"), strip.dataset.timer));
  return strip;
}

function stopForm(action, timer) {
  const form = element("form", "");
  form.method = "post";
  form.action = action;
  const hidden = element("input", "");
  Object.assign(hidden, { type: "hidden", name: "timer", value: timer });
  const button = element("button", "button primary", "Stop");
  button.setAttribute("aria-label", "Stop the timer");
  form.append(hidden, button);
  return form;
}

/** Its minutes stand still; they can be mended when they go to the log. */
function stopped(strip, stop) {
  if (!strip.hasAttribute("data-running")) return;
  strip.dataset.timer = field(stop, "timer");
  strip.removeAttribute("data-running");
  const minutes = one(".timer-minutes", strip);
  if (minutes.dataset.since) minutes.textContent = minutesSince(minutes.dataset.since, stop.order);
  delete minutes.dataset.since;
  one("form", strip)?.remove();
  const meta = one(".timer-words .meta", strip) ?? one(".timer-words", strip).appendChild(element("span", "meta"));
  meta.textContent = "stopped, waits for the laptop";
  meta.before(" ");
}

/** The bar stops what was started here, and starts once that is stopped. */
function quickBar(gone) {
  const strip = one("aside.timer");
  const form = one(`.quick :is(${START}, ${STOP})`);
  if (!form || !(gone || strip?.dataset.timer)) return;
  const runs = Boolean(strip?.hasAttribute("data-running"));
  const button = one("button", form);
  form.action = form.action.replace(/(start|stop)$/, runs ? "stop" : "start");
  if (runs) form.elements.timer.value = strip.dataset.timer;
  else if (button.classList.contains("runs")) form.elements.timer.value = freshId();
  button.classList.toggle("runs", runs);
  button.setAttribute("aria-label", runs ? "Stop the timer" : "Start the timer");
  one("span", button).textContent = runs ? "Stop" : "Timer";
}

/** The notebook has it: the timer is shown as it is there. */
async function came() {
  one("aside.timer[data-waits]")?.removeAttribute("data-waits");
  if ((await waiting(...KINDS)).length) return;
  const page = await pageNow();
  if (!page) return;
  const [strip, there] = [one("aside.timer"), one("aside.timer", page)];
  if (strip && there) strip.replaceWith(there); else if (strip) strip.remove(); else if (there) one("main").before(there);
  const [form, now] = [document, page].map((of) => one(`.quick :is(${START}, ${STOP})`, of));
  if (form && now) form.replaceWith(now);
}
