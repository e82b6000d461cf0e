// Drawing a measured line on a photo: two taps, or one stroke from end to end.
// The ends go into the form's number fields, which work without this.
"use strict";

function markPhoto(form) {
  const place = document.querySelector("[data-mark-photo]");
  const photo = place?.querySelector("img");
  if (!photo) return;
  const names = ["from_x", "from_y", "to_x", "to_y"];
  const fields = names.map((name) => form.elements.namedItem(name));
  const hint = form.querySelector("[data-mark-hint]");
  const ends = form.querySelector("[data-mark-ends]");
  hint.hidden = false;
  // Typing numbers is the way round the drawing; with an error it stays open.
  if (!ends.querySelector(".error")) ends.open = false;

  const drawing = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  drawing.setAttribute("viewBox", "0 0 100 100");
  drawing.setAttribute("preserveAspectRatio", "none");
  drawing.setAttribute("aria-hidden", "true");
  drawing.classList.add("mark-sketch");
  const line = document.createElementNS("http://www.w3.org/2000/svg", "path");
  drawing.append(line);
  place.firstElementChild.append(drawing);

  const typed = () => fields.map((f) => Number(f.value.replace("%", "").replace(",", ".")));
  const full = () => fields.every((f) => f.value.trim() !== "") && typed().every((n) => n >= 0 && n <= 100);
  const half = () => fields[0].value.trim() !== "" && fields[2].value.trim() === "";
  const put = (n, [x, y]) => {
    fields[n].value = x.toFixed(2);
    fields[n + 1].value = y.toFixed(2);
  };
  const show = () => {
    const [x1, y1, x2, y2] = typed();
    if (full()) line.setAttribute("d", `M${x1} ${y1}L${x2} ${y2}`);
    else if (half()) line.setAttribute("d", `M${x1} ${y1}h0`);
    else line.removeAttribute("d");
    hint.textContent = full()
      ? "Tap near an end to move it there. Now type the length."
      : half() ? "Now tap where it ends." : "Tap the photo where the measure begins, then where it ends.";
  };
  const at = (event) => {
    const box = photo.getBoundingClientRect();
    const part = (n, from, size) => Math.min(100, Math.max(0, ((n - from) / size) * 100));
    return [part(event.clientX, box.left, box.width), part(event.clientY, box.top, box.height)];
  };
  const apart = ([x1, y1], [x2, y2]) => {
    const box = photo.getBoundingClientRect();
    return Math.hypot(((x1 - x2) * box.width) / 100, ((y1 - y2) * box.height) / 100);
  };

  // A tap is not a stroke: a finger trembles by a few pixels.
  const STROKE = 24;
  let begun = null;
  place.addEventListener("pointerdown", (event) => {
    if (event.isPrimary && event.button === 0) begun = at(event);
  });
  place.addEventListener("pointercancel", () => { begun = null; });
  place.addEventListener("pointerup", (event) => {
    if (!begun || !event.isPrimary) return;
    const [from, to] = [begun, at(event)];
    begun = null;
    if (apart(from, to) > STROKE) { put(0, from); put(2, to); }
    else if (full()) {
      const [x1, y1, x2, y2] = typed();
      put(apart(to, [x1, y1]) < apart(to, [x2, y2]) ? 0 : 2, to);
    } else if (half()) put(2, to);
    else put(0, to);
    fields[0].dispatchEvent(new Event("input", { bubbles: true }));
    show();
  });
  place.addEventListener("dragstart", (event) => event.preventDefault());
  form.addEventListener("input", show);
  form.addEventListener("notchbook:restored", show);
  show();
}

document.addEventListener("DOMContentLoaded", () => {
  document.querySelectorAll("[data-mark-form]").forEach(markPhoto);
});
