// Ticks of the shop list: kept on this device at once, sent when the laptop
// answers. A tick says how long ago it was made; sent twice it is one.
"use strict";

(() => {
  const KEY = "shop:waiting";
  const forms = Array.from(document.querySelectorAll("form[data-tick]"));
  const place = document.querySelector("[data-shop-waiting]");
  const home = document.querySelector("[data-shop-home]");

  // A private window may refuse its memory: then ticks wait as long as the page.
  let memory = [];
  const waiting = () => { try { return JSON.parse(localStorage.getItem(KEY)) ?? []; } catch { return memory; } };
  const keep = (list) => {
    memory = list;
    try { if (list.length) localStorage.setItem(KEY, JSON.stringify(list)); else localStorage.removeItem(KEY); } catch { /* refused */ }
  };

  const button = (form) => form.querySelector("button");
  const ticked = (form) => button(form).getAttribute("aria-checked") === "true";
  const field = (form, name) => form.elements.namedItem(name);

  function paint(form, on) {
    button(form).setAttribute("aria-checked", String(on));
    field(form, "ticked").value = on ? "" : "yes";
  }

  function say(words) {
    const count = waiting().length;
    place.textContent = words ?? (count ? `${count} ${count === 1 ? "tick waits" : "ticks wait"} for the laptop.` : "");
    const on = forms.filter(ticked).length;
    if (home) home.textContent = on ? `Bring home what is ticked (${on})` : "Bring home what is ticked";
  }

  // When the laptop last answered for a line: a tick made before that answer
  // came is told as made after it, or the earlier one would seem the later.
  const answered = new Map();
  const age = (one) => Math.max(0, Date.now() - Math.max(one.at, answered.get(one.key) ?? 0));

  let sending;
  /** Sends what waits, the oldest first; true once nothing does. */
  function send() {
    sending ??= (async () => {
      try {
        for (let list = waiting(); list.length; list = waiting()) {
          const first = list[0];
          const answer = await fetch("/shop/tick", {
            method: "POST",
            headers: { accept: "application/json" },
            body: new URLSearchParams({ key: first.key, wanted: first.wanted, ticked: first.ticked ? "yes" : "", age: age(first) }),
          });
          // 422: a line that is no line. Anything else may pass.
          if (!answer.ok && answer.status !== 422) return false;
          answered.set(first.key, Date.now());
          keep(waiting().filter((one) => one.key !== first.key || one.at !== first.at));
        }
        return true;
      } catch {
        return false;
      } finally {
        sending = undefined;
        say();
      }
    })();
    return sending;
  }

  /** What was ticked on another device meanwhile. */
  async function look() {
    if (!await send()) return;
    try {
      const answer = await fetch("/shop/ticks", { headers: { accept: "application/json" } });
      if (!answer.ok) return;
      const all = await answer.json();
      const held = waiting();
      for (const form of forms) {
        const [key, wanted] = [field(form, "key").value, field(form, "wanted").value];
        if (held.some((one) => one.key === key)) continue;
        paint(form, all.some((one) => one.key === key && one.wanted === wanted));
      }
      say();
    } catch { /* out of reach */ }
  }

  for (const form of forms) {
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      const one = { key: field(form, "key").value, wanted: field(form, "wanted").value, ticked: !ticked(form), at: Date.now() };
      keep([...waiting().filter((old) => old.key !== one.key), one]);
      paint(form, one.ticked);
      say();
      send();
    });
  }

  home?.addEventListener("click", async (event) => {
    if (!waiting().length) return;
    event.preventDefault();
    if (await send()) location.href = home.href;
    else say("The laptop cannot be reached. Your ticks are kept here; bring them home when it answers.");
  });

  // A page that was kept does not know what was ticked on it since.
  for (const one of waiting()) {
    const form = forms.find((f) => field(f, "key").value === one.key && field(f, "wanted").value === one.wanted);
    if (form) paint(form, one.ticked);
  }
  say();
  if (waiting().length) send();
  window.addEventListener("online", look);
  window.addEventListener("pageshow", (event) => { if (event.persisted) look(); });
  document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") look(); });
  setInterval(() => { if (waiting().length && document.visibilityState === "visible") send(); }, 5000);
})();
