// The running timer counts on, and a tick needs no new page.
"use strict";

/** As the server writes it: begun minutes count. */
function minutesSince(since) {
  const minutes = Math.max(1, Math.ceil((Date.now() - Date.parse(since)) / 60000));
  const [h, m] = [Math.floor(minutes / 60), minutes % 60];
  return [h && `${h} h`, (m || !h) && `${m} min`].filter(Boolean).join(" ");
}

/** Over the page, in the words of one who looks up from sewing; gone at a tap. */
function sayAway(words) {
  let said = document.querySelector(".away-said");
  if (!said) {
    said = document.createElement("p");
    said.className = "away-said";
    said.setAttribute("role", "status");
    said.addEventListener("click", () => said.replaceChildren());
    document.body.append(said);
  }
  said.textContent = words;
}

const AWAY = {
  start: "The laptop does not answer; the timer was not started. Remember the time: under Note there are Minutes too, and they are kept on this device.",
  stop: "The laptop does not answer; the timer goes on there. Stop it when it is back: its minutes can be mended before they go to the log.",
};

/** The timer is kept by the laptop. Where that is out of reach the page stays, and says so. */
function timerForm(form, what) {
  form.addEventListener("submit", async (event) => {
    if (event.defaultPrevented || document.documentElement.dataset.keptAt) return;
    event.preventDefault();
    if (form.dataset.asking) return;
    form.dataset.asking = "yes";
    const patience = new AbortController();
    const timer = setTimeout(() => patience.abort(), 4000);
    try {
      await fetch("/length?text=1&unit=in", { cache: "no-store", signal: patience.signal });
      form.submit();
    } catch { sayAway(AWAY[what]); } finally { clearTimeout(timer); delete form.dataset.asking; }
  });
}

document.addEventListener("DOMContentLoaded", () => {
  for (const what of Object.keys(AWAY)) document.querySelectorAll(`form[action$="/timer/${what}"]`).forEach((form) => timerForm(form, what));
  const places = document.querySelectorAll("[data-since]");
  const count = () => places.forEach((place) => { place.textContent = minutesSince(place.dataset.since); });
  // A phone that slept catches up as soon as it is looked at.
  // In a copy kept on this device it may long be stopped: the copy shows its own moment.
  if (places.length && !document.documentElement.dataset.keptAt) { setInterval(count, 5000); document.addEventListener("visibilitychange", count); }

  document.querySelectorAll(".tick-form").forEach((form) => form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const step = form.closest(".step");
    const [button, wanted] = [form.querySelector("button"), form.elements.done];
    if (button.disabled) return;
    button.disabled = true;
    try {
      const answer = await fetch(form.action, { method: "POST", body: new URLSearchParams(new FormData(form)) }).catch(() => null);
      if (!answer) {
        sayAway("The laptop does not answer; nothing was ticked. Tick it when it is back.");
        return;
      }
      if (!answer.ok) throw new Error(answer.statusText);
      // What follows from it (next step, time left) stands on the page that came back.
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      const fresh = page.getElementById(step.id);
      const done = fresh.hasAttribute("data-done");
      step.toggleAttribute("data-done", done);
      button.setAttribute("aria-pressed", String(done));
      wanted.value = done ? "no" : "yes";
      step.querySelector(".meta").textContent = fresh.querySelector(".meta").textContent;
      const short = document.querySelector(".steps-short");
      short?.replaceWith(page.querySelector(".steps-short"));
      for (const other of document.querySelectorAll(".step")) {
        other.toggleAttribute("data-next", page.getElementById(other.id)?.hasAttribute("data-next") ?? false);
        const start = other.querySelector("form:not(.tick-form), .button.runs");
        const now = page.getElementById(other.id)?.querySelector("form:not(.tick-form), .button.runs");
        if (start && now) start.replaceWith(now); else if (start) start.remove(); else if (now) other.append(now);
      }
    } catch {
      // The browser sends it, and says what is wrong.
      form.submit();
    } finally { button.disabled = false; }
  }));
});
