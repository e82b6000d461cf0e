// The face of a piece: fields of composed units come and go, the choice of a
// kind folds away, and text fields of rows get a grid to paint on (painter.js).
"use strict";

/* A unit that becomes a composed one gets the fields of its parts. */
function compose(form) {
  for (const place of all("[data-parts-of]", form)) {
    const n = place.dataset.partsOf;
    const kind = n === "0" ? one('[name="face"]:checked', form)?.value : one(`[name="kind_${n}"]`, form)?.value;
    if (kind === "composed") fillParts(form, place, n);
  }
}

function fillParts(form, place, n) {
  const template = one("[data-parts-template]", form);
  if (!template || place.childElementCount) return;
  const made = template.content.cloneNode(true);
  for (const element of all("[id], [name], [for], [aria-describedby]", made)) {
    for (const attribute of ["id", "name", "for", "aria-describedby"]) {
      const value = element.getAttribute(attribute);
      if (value) element.setAttribute(attribute, value.replace(/_0(?=$|-)/, `_${n}`));
    }
  }
  all("[data-paint]", made).forEach((text) => { text.dataset.paint = `parts ${n}`; });
  place.append(made);
  all("[data-add-part]", place).forEach(addPart);
  all("[data-paint]", place).forEach(painter);
}

function addPart(button) {
  const MOST = 16;
  if (!button.hidden) return;
  button.hidden = false;
  button.addEventListener("click", () => {
    const last = all("[data-part]", button.parentElement).at(-1);
    const row = last.cloneNode(true);
    const next = (text) => text.replace(/^part(\d+)/, (_, n) => `part${Number(n) + 1}`);
    for (const element of all("[id], [name], [for]", row)) {
      for (const attribute of ["id", "name", "for"]) {
        const value = element.getAttribute(attribute);
        if (value) element.setAttribute(attribute, next(value));
      }
    }
    const letter = one("[data-letter]", row);
    letter.textContent = String.fromCharCode(letter.textContent.trim().charCodeAt(0) + 1);
    all(".error", row).forEach((e) => e.remove());
    all("select", row).forEach((s) => { s.selectedIndex = 0; s.removeAttribute("aria-invalid"); });
    last.after(row);
    if (document.activeElement === button) one("select", row).focus();
    if (all("[data-part]", button.parentElement).length >= MOST) button.hidden = true;
  });
}

document.addEventListener("DOMContentLoaded", () => {
  for (const form of all("form[data-keep]")) {
    if (!one("[data-slot]", form)) continue;
    compose(form);
    all("[data-add-part]", form).forEach(addPart);
    form.addEventListener("change", () => compose(form));
    all("[data-paint]", form).forEach(painter);
    // Chosen with a finger or a mouse, the choice is folded away; the keyboard goes on choosing.
    const choice = one(".face-choice", form);
    choice?.addEventListener("click", (event) => {
      if (event.target.name !== "face" || !event.detail || event.target.value === "none") return;
      choice.open = false;
      choice.scrollIntoView({ block: "nearest" });
    });
  }
});

/* What was typed and not saved comes back into fields that must be there first. */
document.addEventListener("notchbook:restoring", (event) => {
  const form = event.target;
  const names = event.detail;
  for (const name of names) {
    const found = name.match(/^part(\d+)kind_(\d+)$/);
    if (!found) continue;
    const slots = one(".unit-slots", form);
    const add = slots && one(":scope > [data-add-row]", slots);
    while (add && !add.disabled && !one(`[data-parts-of="${found[2]}"]`, slots)) add.click();
    const place = one(`[data-parts-of="${found[2]}"]`, form);
    if (!place) continue;
    fillParts(form, place, found[2]);
    const more = one("[data-add-part]", place);
    while (more && !more.hidden && all("[data-part]", place).length <= Number(found[1])) more.click();
  }
}, true);
