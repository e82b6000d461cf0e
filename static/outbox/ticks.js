// Ticks of steps: shown at once, and as waiting until the laptop has them.

/* global one, all */
import { news } from "./send.js";
import { reachable } from "./forms.js";
import { NO_ROOM, field, pageNow, say, sayAway, waiting } from "./words.js";

/** What is sent at once needs no words. */
const PAUSE = 1200;

export function takeTicks() {
  const forms = all(".tick-form");
  if (!forms.length) return;
  for (const form of forms) {
    step(form).dataset.was = isDone(form) ? "yes" : "no";
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      tap(form);
    });
  }
  news.addEventListener("change", () => paint(forms));
  news.addEventListener("kept", (event) => came(forms, event.detail.word, true));
  news.addEventListener("overtaken", (event) => came(forms, event.detail.word, false));
  paint(forms);
}

const step = (form) => form.closest(".step");
const isDone = (form) => step(form).hasAttribute("data-done");
const address = (form) => new URL(form.action).pathname;
const title = (form) => one(".step-text b", step(form)).textContent.trim();

async function tap(form) {
  const done = isDone(form) ? "no" : "yes";
  show(form, done, true);
  try {
    await say(form, "tick", [["done", done]], [["Step", title(form)], ["Done", done]],
      (other) => other.kind === "tick" && other.address === address(form));
  } catch (error) {
    console.info("ticks:", error);
    if (await reachable()) { form.elements.done.value = done; form.submit(); return; }
    show(form, step(form).dataset.was, false);
    sayAway(NO_ROOM);
  }
}

let painting = 0;

async function paint(forms) {
  const mine = ++painting;
  const words = await waiting("tick");
  if (mine !== painting) return;
  for (const form of forms) {
    const word = words.findLast((w) => w.address === address(form));
    show(form, word ? field(word, "done") : step(form).dataset.was, Boolean(word));
  }
  countDone(forms);
}

/** The notebook has it: where it stands, that is how the step is from now on. */
function came(forms, word, stands) {
  if (!word) return;
  const form = word.kind === "tick" && forms.find((f) => address(f) === word.address);
  if (form && stands) step(form).dataset.was = field(word, "done");
  // The timer's words too: a step says that it runs.
  clearTimeout(looking);
  looking = setTimeout(lookAgain, 100, forms);
}

function show(form, done, waits) {
  const of = step(form);
  of.toggleAttribute("data-done", done === "yes");
  one("button", form).setAttribute("aria-pressed", String(done === "yes"));
  form.elements.done.value = done === "yes" ? "no" : "yes";
  if (waits === of.hasAttribute("data-waits")) return;
  of.toggleAttribute("data-waits", waits);
  one(".step-waits", of)?.remove();
  if (!waits) return;
  setTimeout(() => {
    if (!of.hasAttribute("data-waits") || one(".step-waits", of)) return;
    const words = document.createElement("span");
    words.className = "meta step-waits";
    words.textContent = "waits for the laptop";
    one(".step-text .meta", of).after(words);
  }, PAUSE);
}

/** As far as this device knows: the time that is left the notebook alone can tell. */
function countDone(forms) {
  if (!all(".step[data-waits]").length) return;
  const short = one(".steps-short b");
  if (short) short.textContent = `${forms.filter(isDone).length} of ${forms.length} done`;
  const next = forms.find((form) => !isDone(form));
  for (const form of forms) step(form).toggleAttribute("data-next", form === next);
}

/** What follows from it (next step, time left) stands on the page as it is now. */
let looking;
async function lookAgain(forms) {
  const page = await pageNow();
  if (!page) return;
  for (const form of forms) {
    const of = step(form);
    const now = page.getElementById(of.id);
    if (!now) continue;
    of.dataset.was = now.hasAttribute("data-done") ? "yes" : "no";
    one(".step-text", of).replaceChildren(...one(".step-text", now).childNodes);
    of.removeAttribute("data-waits");
    of.toggleAttribute("data-next", now.hasAttribute("data-next"));
    const [start, there] = [of, now].map((s) => one("form:not(.tick-form), .button.runs", s));
    if (start && there) start.replaceWith(there); else if (start) start.remove(); else if (there) of.append(there);
  }
  const [short, shortNow] = [one(".steps-short"), one(".steps-short", page)];
  if (short && shortNow) short.replaceWith(shortNow);
  paint(forms);
}
