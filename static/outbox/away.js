// "Add to the log" with the laptop out of reach: the form of the open project
// is kept on this device, and stands over the page that is open.

/* global one, all, kept, lengthField, keepTyped, sending, submitOnChoose */
import * as store from "./store.js";
import { situation } from "./send.js";
import { newId, reachable } from "./forms.js";

/** A kept form younger than this is not asked for anew. */
const FRESH = 10 * 60 * 1000;

export function openWhileAway() {
  const add = one(".quick a");
  if (!add) return;
  const address = new URL(add.href).pathname;
  if (!document.documentElement.dataset.keptAt) setTimeout(() => keepForm(address), 800);
  // A copy has the form open that was open when it was kept, not the one asked for.
  else if (location.pathname === address && location.search) openHere(location);
  document.addEventListener("click", async (event) => {
    const link = event.target.closest("a[href]");
    if (!link || event.defaultPrevented || event.button || event.ctrlKey || event.metaKey || event.shiftKey) return;
    if (new URL(link.href).pathname !== address) return;
    event.preventDefault();
    // On the page of the form itself nothing is asked for: what is typed there stays.
    if (location.pathname === address && openHere(link)) return;
    const answers = await reachable(situation === "away" ? 800 : 2500);
    const form = answers ? null : await store.form(address).catch(() => null);
    if (form) openSheet(form.html, new URL(link.href).searchParams.get("kind"));
    else location.assign(link.href);
  });
}

/** Opens the form a link means where it stands already. */
function openHere(link) {
  const pick = one(`input[name=add][value="${CSS.escape(new URL(link.href).searchParams.get("kind") ?? "note")}"]`);
  if (!pick) return false;
  pick.checked = true;
  // Loaded again, or come back to, the same form is open.
  history.replaceState(null, "", link.href);
  const panel = one(`.panel-${CSS.escape(pick.value)}`);
  one("input:not([type=hidden]), textarea", panel)?.focus({ preventScroll: true });
  panel?.scrollIntoView({ block: "nearest" });
  return true;
}

async function keepForm(address) {
  try {
    const before = await store.form(address);
    if (before && Date.now() - before.at < FRESH) return;
    const answer = await fetch(address);
    if (!answer.ok) return;
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (page.documentElement.dataset.keptAt || !one(".add-log", page)) return;
    await store.keepForm(address, one("main", page).innerHTML);
  } catch { /* out of reach, or no room: the form kept before will do */ }
}

function openSheet(html, kind) {
  one(".outbox-sheet")?.remove();
  const sheet = document.createElement("dialog");
  sheet.className = "outbox-sheet";
  sheet.innerHTML = html;
  namesApart(sheet);
  const heading = one("h1", sheet);
  heading.id = "outbox-sheet-h";
  sheet.setAttribute("aria-labelledby", heading.id);
  const head = document.createElement("div");
  head.className = "card-head";
  const close = document.createElement("button");
  close.type = "button";
  close.className = "button quiet";
  close.textContent = "Close";
  close.addEventListener("click", () => sheet.close());
  heading.replaceWith(head);
  head.append(heading, close);
  const why = document.createElement("p");
  why.className = "hint";
  why.textContent = "The laptop does not answer. What you add is kept on this device and goes there by itself.";
  head.after(why);
  document.body.append(sheet);
  const pick = kind && one(`input[name=add][value="${CSS.escape(kind)}"]`, sheet);
  if (pick) pick.checked = true;
  all("form[data-outbox]", sheet).forEach(newId);
  all("[data-length]", sheet).forEach(lengthField);
  all("form[data-keep]", sheet).forEach(keepTyped);
  all("form[data-submit-on-choose]", sheet).forEach(submitOnChoose);
  all("form[enctype='multipart/form-data']", sheet).forEach(sending);
  all(".save-bar a", sheet).forEach((cancel) => cancel.addEventListener("click", (event) => { event.preventDefault(); sheet.close(); }));
  sheet.showModal();
}

/** Ids the page below has already get another name here. */
function namesApart(sheet) {
  for (const named of all("[id]", sheet)) {
    if (!document.getElementById(named.id)) continue;
    const name = `away-${named.id}`;
    for (const attribute of ["for", "aria-describedby", "aria-labelledby"]) {
      for (const user of all(`[${attribute}~="${CSS.escape(named.id)}"]`, sheet)) {
        user.setAttribute(attribute, user.getAttribute(attribute).split(" ").map((id) => (id === named.id ? name : id)).join(" "));
      }
    }
    named.id = name;
  }
}
