// Marking a part of a photo with a finger: a tap moves the frame there, a drag
// moves it, a drag at its corner sizes it. The fields hold the numbers; they
// are what is sent.
"use strict";

document.addEventListener("DOMContentLoaded", () => {
  const LEAST = 2;
  const form = document.querySelector("form[data-swatch]");
  const place = form?.querySelector("[data-marking]");
  if (!place) return;
  const field = (name) => form.elements[name];
  const names = ["left", "top", "width", "height"];
  for (const hidden of form.querySelectorAll("[data-with-script]")) hidden.hidden = false;

  const frame = document.createElement("div");
  frame.className = "frame";
  const corner = document.createElement("div");
  corner.className = "corner";
  frame.append(corner);
  place.append(frame);

  const within = (n, least, most) => Math.min(Math.max(n, least), most);
  const number = (name) => Number.parseFloat(field(name).value.replace(",", "."));
  const part = () => names.map(number);

  function draw() {
    const [left, top, width, height] = part();
    if (![left, top, width, height].every(Number.isFinite)) return;
    Object.assign(frame.style, { left: `${left}%`, top: `${top}%`, width: `${width}%`, height: `${height}%` });
    const at = (n) => Math.round(n * 100);
    place.querySelector("path").setAttribute("d",
      `M0 0H10000V10000H0Z M${at(left)} ${at(top)}h${at(width)}v${at(height)}h-${at(width)}Z`);
  }

  function set(left, top, width, height) {
    const wide = within(width, LEAST, 100);
    const high = within(height, LEAST, 100);
    const values = [within(left, 0, 100 - wide), within(top, 0, 100 - high), wide, high];
    names.forEach((name, n) => { field(name).value = String(Math.round(values[n] * 10) / 10); });
    draw();
  }

  /** Where a finger is, in per cent of the photo. */
  function at(event) {
    const box = place.getBoundingClientRect();
    return [(event.clientX - box.left) / box.width * 100, (event.clientY - box.top) / box.height * 100];
  }

  place.addEventListener("click", (event) => {
    if (frame.contains(event.target)) return;
    const [x, y] = at(event);
    const [, , width, height] = part();
    set(x - width / 2, y - height / 2, width, height);
  });

  let grip = null;
  frame.addEventListener("pointerdown", (event) => {
    frame.setPointerCapture(event.pointerId);
    grip = { sizing: event.target === corner, from: at(event), was: part() };
    event.preventDefault();
  });
  frame.addEventListener("pointermove", (event) => {
    if (!grip) return;
    const [x, y] = at(event).map((n, i) => n - grip.from[i]);
    const [left, top, width, height] = grip.was;
    if (grip.sizing) set(left, top, within(width + x, LEAST, 100 - left), within(height + y, LEAST, 100 - top));
    else set(left + x, top + y, width, height);
  });
  for (const end of ["pointerup", "pointercancel"]) frame.addEventListener(end, () => { grip = null; });

  for (const button of form.querySelectorAll("[data-resize]")) {
    button.addEventListener("click", () => {
      const by = Number(button.dataset.resize);
      const [left, top, width, height] = part();
      const [wide, high] = [within(width * by, LEAST, 100), within(height * by, LEAST, 100)];
      set(left + (width - wide) / 2, top + (height - high) / 2, wide, high);
    });
  }
  for (const name of names) field(name).addEventListener("input", draw);
  draw();
});
