// What the pages do beyond plain forms. Every page works without it.
"use strict";

const one = (selector, from = document) => from.querySelector(selector);
const all = (selector, from = document) => Array.from(from.querySelectorAll(selector));

/** Calls `act` once things have been quiet for `ms`. */
function quiet(ms, act) {
  let timer;
  return (...args) => { clearTimeout(timer); timer = setTimeout(() => act(...args), ms); };
}

/* Memory of the browser; a private window may refuse it. */
const kept = {
  get(key) { try { return JSON.parse(localStorage.getItem(key)); } catch { return null; } },
  set(key, value) { try { localStorage.setItem(key, JSON.stringify(value)); } catch { /* full or refused */ } },
  drop(key) { try { localStorage.removeItem(key); } catch { /* refused */ } },
};

/* Keys for what a phone's number pad lacks, under the length field that has
   the cursor, and what its text means in both units. */
const FRACTIONS = ["1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"];
const SIGN = "\u00b1";

function lengthKeys(input) {
  const keys = document.createElement("div");
  keys.className = "keys";
  const own = "signed" in input.dataset ? SIGN : "yd";
  for (const text of [...FRACTIONS, "in", "cm", own]) {
    const key = document.createElement("button");
    key.type = "button";
    key.tabIndex = -1;
    key.textContent = text;
    key.setAttribute("aria-label", text === SIGN ? "Change the sign" : `Insert ${text}`);
    // The field keeps the cursor, so the phone's keyboard stays open.
    key.addEventListener("pointerdown", (event) => event.preventDefault());
    key.addEventListener("click", () => {
      const change = FRACTIONS.includes(text) ? withFraction : text === SIGN ? withSign : withUnit;
      input.value = change(input.value, text);
      input.dispatchEvent(new Event("input", { bubbles: true }));
      input.focus();
    });
    keys.append(key);
  }
  return keys;
}

function withFraction(value, fraction) {
  const [, before, unit] = value.match(/^(.*?)\s*(in|cm|yd|m|")?\s*$/) || [null, value, ""];
  const whole = before.replace(/(^|[\s+-])\d+\/\d+$/, "$1").trim();
  const joined = /[+-]$/.test(whole) ? whole + fraction : [whole, fraction].filter(Boolean).join(" ");
  return [joined, unit].filter(Boolean).join(" ");
}

function withUnit(value, unit) {
  return `${value.replace(/\s*(in|cm|mm|m|yd|")\s*$/, "").trim()} ${unit}`.trim();
}

function withSign(value) {
  const text = value.trim();
  if (text.startsWith("-")) return `+${text.slice(1)}`;
  return `-${text.replace(/^\+/, "")}`;
}

/* The keys stay until another length field has the cursor: taken away at once,
   what is being tapped below them would slip from under the finger. */
let closeKeys;

function lengthField(input) {
  const reads = document.createElement("p");
  reads.className = "reads";
  reads.setAttribute("aria-live", "polite");
  input.after(reads);
  const unit = input.form?.dataset.unit || "in";
  const read = quiet(180, async () => {
    const text = input.value.trim();
    clearTimeout(complaint);
    if (!text) { say("", false); return; }
    try {
      const answer = await fetch(`/length?${new URLSearchParams({ text, unit })}`);
      const said = await answer.json();
      if (input.value.trim() !== text) return;
      if (said.ok) say(`= ${said.text}`, false);
      // Half a length is no mistake yet: "3 y" may become "3 yd".
      else { say("", false); complaint = setTimeout(say, 1200, said.text, true); }
    } catch { say("", false); }
  });
  let complaint;
  const say = (text, bad) => { clearTimeout(complaint); reads.textContent = text; reads.classList.toggle("bad", bad); };
  // Fields in a row share the width of the row for their keys.
  const row = input.closest(".pair, .trio, .wide-narrow, .two, .measure-fields, .size-fields") ?? input.closest(".alteration-row > .field");
  let keys;
  const close = () => { keys.remove(); reads.classList.remove("open"); };
  input.addEventListener("focus", () => {
    if (closeKeys !== close) closeKeys?.();
    closeKeys = close;
    keys ??= lengthKeys(input);
    (row ?? reads).after(keys);
    // Room for a line before the first digit, so that nothing jumps while typing.
    reads.classList.add("open");
    read();
  });
  input.addEventListener("input", () => { clearTimeout(complaint); read(); });
}

/* Live figures: the form as it stands is worked out, nothing is saved. */
function liveFigures(form) {
  const place = one("[data-live]");
  if (!place) return;
  let turn = 0;
  const ask = quiet(250, async () => {
    const mine = ++turn;
    try {
      const answer = await fetch(form.dataset.try, { method: "POST", body: new URLSearchParams(new FormData(form)) });
      const html = await answer.text();
      if (mine !== turn || !answer.ok) return;
      place.innerHTML = html;
      const line = one("[data-live-line]", form);
      if (line) line.replaceChildren(one("template[data-line]", place)?.content.cloneNode(true) ?? "");
      shapeBeside(form, place);
    } catch { /* the laptop is out of reach; the form stays as it is */ }
  });
  form.addEventListener("input", ask);
  form.addEventListener("change", ask);
  form.addEventListener("notchbook:restored", ask);
  form.addEventListener("focusin", () => shapeBeside(form, place));
}

/* Lengths of edges as they are now, and the edge whose row is open, in the drawing. */
function shapeBeside(form, place) {
  for (const length of all("[data-edge-length]", place)) {
    const shown = one(`[data-edge-length-of="${length.dataset.edgeLength}"]`, form);
    if (shown) shown.textContent = length.textContent;
  }
  const row = document.activeElement?.closest?.(".edge-row");
  for (const path of all("path[data-edge]", place)) path.classList.toggle("at", path.dataset.edge === row?.dataset.edge);
}

/* A form keeps what is typed in it until it is saved. */
function keepTyped(form) {
  const key = `typed:${form.dataset.keep}`;
  // Hidden ids are kept too: sent again after a lost answer, they make the same thing, not a second one.
  const fields = () => all("input, select, textarea", form).filter((f) => f.name && f.type !== "file" && !("now" in f.dataset));
  const values = () => fields().map((f) => [f.name, f.value, f.type === "checkbox" || f.type === "radio" ? f.checked : null]);
  let begun = JSON.stringify(values());
  // Emptied for the next entry by the outbox.
  form.addEventListener("notchbook:fresh", () => { begun = JSON.stringify(values()); });
  const before = kept.get(key);
  // A form that was looked at on its way carries what was sent.
  if (before && !one(".errors") && !("carries" in form.dataset) && JSON.stringify(before) !== begun) restore(before);

  function restore(saved) {
    // Rows that were added by hand come back first, and what other scripts add.
    form.dispatchEvent(new CustomEvent("notchbook:restoring", { detail: new Set(saved.map(([name]) => name)) }));
    for (const add of all("[data-add-row]", form)) {
      const wanted = () => all("[name]", all(":scope > [data-row]", add.parentElement).at(-1))
        .some((field) => field.name && saved.some(([name]) => name === nextNumber(field.name)));
      for (let i = 0; i < 60 && !add.disabled && wanted(); i++) add.click();
    }
    for (const [name, value, checked] of saved) {
      for (const field of fields().filter((f) => f.name === name)) {
        if (checked === null) field.value = value;
        else if (field.value === value) field.checked = checked;
      }
    }
    const note = document.createElement("div");
    note.className = "kept";
    note.innerHTML = "<p>What you typed here earlier is back. It is not saved yet.</p>";
    const forget = document.createElement("button");
    forget.type = "button";
    forget.className = "button quiet";
    forget.textContent = "Forget it";
    forget.addEventListener("click", () => { kept.drop(key); location.reload(); });
    note.append(forget);
    form.before(note);
    form.dispatchEvent(new Event("notchbook:restored"));
  }

  form.addEventListener("input", quiet(150, () => {
    if (form.dataset.sent) return;
    if (JSON.stringify(values()) === begun) kept.drop(key); else kept.set(key, values());
  }));
  form.addEventListener("submit", () => {
    kept.set(key, values());
    form.dataset.sent = "yes";
    try { sessionStorage.setItem("sent", key); } catch { /* refused */ }
  });
}

/** The notebook says with a cookie that a save is on disk; only then is the
    copy of what was typed let go. */
function forgetSent() {
  const saved = /(?:^|; )notchbook-saved=1/.test(document.cookie);
  if (saved) document.cookie = "notchbook-saved=; path=/; max-age=0; samesite=strict";
  try {
    const key = sessionStorage.getItem("sent");
    sessionStorage.removeItem("sent");
    if (key && saved) kept.drop(key);
  } catch { /* refused */ }
}

/* Another row of fields, as a copy of the last one with the next number. */
const nextNumber = (text) => text?.replace(/(\d+)$/, (n) => String(Number(n) + 1));

function addRow(button) {
  button.hidden = false;
  const rows = () => all(":scope > [data-row]", button.parentElement);
  const full = () => { button.disabled = button.hidden = rows().length >= Number(button.dataset.most || 200); };
  button.addEventListener("click", () => {
    const last = rows().at(-1);
    const row = last.cloneNode(true);
    // What a script put there belongs to the row it was made for.
    all("[data-parts-of]", row).forEach((place) => { place.dataset.partsOf = nextNumber(place.dataset.partsOf); place.replaceChildren(); });
    for (const element of all("[id], [name], [for]", row)) {
      for (const attribute of ["id", "name", "for"]) {
        const value = element.getAttribute(attribute);
        if (value) element.setAttribute(attribute, nextNumber(value));
      }
    }
    const legend = one("legend > :last-child", row) ?? one("legend", row);
    if (legend) legend.textContent = "letter" in legend.dataset ? String.fromCharCode(legend.textContent.trim().charCodeAt(0) + 1) : nextNumber(legend.textContent.trim());
    all(".reads, .keys, .error", row).forEach((e) => e.remove());
    all(".has-error", row).forEach((e) => e.classList.remove("has-error"));
    all("input, select", row).forEach((i) => { i.removeAttribute("aria-invalid"); i.removeAttribute("aria-describedby"); });
    all("input", row).forEach((i) => { i.value = ""; });
    all("select", row).forEach((s) => { s.selectedIndex = 0; });
    row.classList.replace("slot-second", "slot-more");
    last.after(row);
    all("[data-length]", row).forEach(lengthField);
    if (document.activeElement === button) one("input, select", row)?.focus();
    full();
  });
  full();
}

/* Ticked steps stay ticked on this device. */
function ticks(box) {
  const key = `tick:${location.pathname}:${box.parentElement.textContent.trim()}`;
  box.checked = kept.get(key) === true;
  box.addEventListener("change", () => { if (box.checked) kept.set(key, true); else kept.drop(key); });
}

/* Photos take a while on a slow line: the page says so, and a second tap while
   they are under way sends nothing twice. */
function sending(form) {
  const files = () => all("input[type=file]", form).reduce((sum, input) => sum + input.files.length, 0);
  const button = one("button[type=submit]", form);
  const sign = one("[data-sending-sign]", form) ?? button;
  const words = sign.textContent;
  const noun = one("input[type=file]", form)?.accept.includes(".svg") ? "file" : "photo";
  const said = document.createElement("p");
  said.className = "quiet-heading";
  said.setAttribute("role", "status");
  form.append(said);
  form.addEventListener("submit", (event) => {
    if (!files()) return;
    if (form.dataset.sending) { event.preventDefault(); return; }
    form.dataset.sending = "yes";
    sign.textContent = files() === 1 ? "Sending…" : `Sending ${files()}…`;
    said.textContent = files() === 1 ? `Sending the ${noun}.` : `Sending ${files()} ${noun}s.`;
  });
  // Back on the page by the browser's back button, or kept by the outbox: it is ready again.
  const again = () => { delete form.dataset.sending; sign.textContent = words; said.textContent = ""; };
  window.addEventListener("pageshow", again);
  form.addEventListener("notchbook:released", again);
}

function submitOnChoose(form) {
  form.addEventListener("change", (event) => { if (event.target.type === "file" && event.target.files.length) form.requestSubmit(); });
}

function copyButton(button) {
  button.hidden = false;
  button.addEventListener("click", async () => {
    const source = one(button.dataset.copy);
    const text = source.value ?? source.textContent;
    let done = false;
    try { await navigator.clipboard.writeText(text); done = true; } catch {
      // Over plain http there is no clipboard for pages; selecting and copying still works.
      source.focus?.();
      if (source.select) source.select(); else getSelection().selectAllChildren(source);
      try { done = document.execCommand("copy"); } catch { done = false; }
    }
    const said = one("[data-copied]", button.parentElement);
    if (said) said.textContent = done ? "Copied." : "Select the text and copy it by hand.";
  });
}

/* Sections that fold: as they were left in this tab; at first all where the
   screen has room for them. An address leads into one and opens it, and what
   it is part of; on paper all of them are open. */
function folds(list) {
  const key = `folds:${location.pathname}`;
  const name = (fold) => fold.parentElement.id;
  const wide = matchMedia("(min-width: 60rem)").matches;
  let left = null;
  try { left = JSON.parse(sessionStorage.getItem(key)); } catch { /* refused */ }
  for (const fold of list) fold.open = left ? left.includes(name(fold)) : wide || fold.open;
  const keep = () => {
    try { sessionStorage.setItem(key, JSON.stringify(list.filter((f) => f.open).map(name))); } catch { /* refused */ }
  };
  const lead = () => {
    const place = location.hash.length > 1 && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (!place) return;
    const within = one(":scope > details.fold", place);
    if (within) within.open = true;
    for (let up = place.closest("details"); up; up = up.parentElement.closest("details")) up.open = true;
    place.scrollIntoView();
  };
  lead();
  addEventListener("hashchange", lead);
  // The same address again is no change, and leads there all the same.
  document.addEventListener("click", (event) => {
    const link = event.target.closest?.("a[href^='#']");
    if (link && link.hash === location.hash) setTimeout(lead);
  });
  for (const fold of list) one("summary", fold).addEventListener("click", () => setTimeout(keep));
  addEventListener("hashchange", () => setTimeout(keep));
  let closed = [];
  addEventListener("beforeprint", () => { closed = list.filter((f) => !f.open); for (const f of closed) f.open = true; });
  addEventListener("afterprint", () => { for (const f of closed) f.open = false; });
}

/* "Type a length" twice says not of which field: the fields' names go before. */
function nameErrors() {
  for (const link of all(".errors a[href^='#']")) {
    const name = one(`label[for="${CSS.escape(link.hash.slice(1))}"]`)?.textContent.trim();
    if (name && link.textContent.startsWith("Type ")) link.prepend(`${name}: `);
  }
}

document.addEventListener("DOMContentLoaded", () => {
  nameErrors();
  forgetSent();
  all("[data-length]").forEach(lengthField);
  all("[data-add-row]").forEach(addRow);
  all("form[data-try]").forEach(liveFigures);
  all("form[data-keep]").forEach(keepTyped);
  all(".ticks input").forEach(ticks);
  all("[data-copy]").forEach(copyButton);
  if (one("details.fold")) folds(all("details.fold"));
  // The list of a page's parts is done once one of them is chosen.
  all(".jump[popover]").forEach((list) => list.addEventListener("click", (event) => {
    if (event.target.closest("a")) list.hidePopover?.();
  }));
  // An entry carries the moment it was sent from the device.
  document.addEventListener("submit", (event) => {
    all("[data-now]", event.target).forEach((field) => { field.value = new Date().toISOString(); });
  }, true);
  all("form[data-submit-on-choose]").forEach(submitOnChoose);
  all("form[enctype='multipart/form-data']").forEach(sending);
  one(".errors")?.focus();
});
