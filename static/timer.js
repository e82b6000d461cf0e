// The running timer counts on, and a tick needs no new page.
"use strict";

/** As the server writes it: begun minutes count. */
function minutesSince(since) {
  const minutes = Math.max(1, Math.ceil((Date.now() - Date.parse(since)) / 60000));
  const [h, m] = [Math.floor(minutes / 60), minutes % 60];
  return [h && `${h} h`, (m || !h) && `${m} min`].filter(Boolean).join(" ");
}

document.addEventListener("DOMContentLoaded", () => {
  const places = document.querySelectorAll("[data-since]");
  const count = () => places.forEach((place) => { place.textContent = minutesSince(place.dataset.since); });
  // A phone that slept catches up as soon as it is looked at.
  if (places.length) { setInterval(count, 5000); document.addEventListener("visibilitychange", count); }

  document.querySelectorAll(".tick-form").forEach((form) => form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const step = form.closest(".step");
    const [button, wanted] = [form.querySelector("button"), form.elements.done];
    if (button.disabled) return;
    button.disabled = true;
    try {
      const answer = await fetch(form.action, { method: "POST", body: new URLSearchParams(new FormData(form)) });
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
      // Without an answer the browser sends it, and says what is wrong.
      form.submit();
    } finally { button.disabled = false; }
  }));
});
