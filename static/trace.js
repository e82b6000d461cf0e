// Tracing a piece on a photo: marks, outline and check length by tap, moved by
// dragging with what lies under the finger shown large beside it. The points
// go into the form's text fields, which work without this.
"use strict";

function tracePhoto(form) {
  const part = (name) => form.querySelector(`[data-trace-${name}]`);
  const place = part("place");
  const photo = place?.querySelector("img");
  if (!photo) return;
  const lists = ["marks", "outline", "check"];
  const most = { marks: 4, outline: 200, check: 2 };
  const field = (name) => form.elements.namedItem(name);
  const hint = part("hint");
  const curve = part("curve");
  let active = "marks";

  part("bar").hidden = false;
  part("tools").hidden = false;
  part("typed").open = false;

  const read = (name) => field(name).value.split("\n").map((line) => line.trim()).filter(Boolean).map((line) => {
    const [x, y, word] = line.replace(/,/g, ".").split(/\s+/);
    return { x: Number(x.replace("%", "")), y: Number((y || "").replace("%", "")), curve: word === "curve" };
  });
  const sound = (points) => points.every((p) => p.x >= 0 && p.x <= 100 && p.y >= 0 && p.y <= 100);
  const write = (name, points) => {
    field(name).value = points.map((p) => `${p.x.toFixed(3)} ${p.y.toFixed(3)}${p.curve ? " curve" : ""}`).join("\n");
    field(name).dispatchEvent(new Event("input", { bubbles: true }));
  };

  const svg = (tag, more) => {
    const node = document.createElementNS("http://www.w3.org/2000/svg", tag);
    Object.entries(more || {}).forEach(([name, value]) => node.setAttribute(name, value));
    return node;
  };
  const drawing = svg("svg", { "aria-hidden": "true", class: "trace-sketch" });
  photo.parentElement.append(drawing);
  const lens = document.createElement("canvas");
  lens.className = "trace-lens";
  lens.width = lens.height = 300;
  lens.hidden = true;
  place.append(lens);
  // The large picture, for the lens: fetched once something is touched.
  const large = new Image();

  const says = () => {
    const n = Object.fromEntries(lists.map((name) => [name, read(name).length]));
    lists.forEach((name) => {
      form.querySelector(`[data-trace-count="${name}"]`).textContent = name === "outline" ? n[name] : `${n[name]} of ${most[name]}`;
    });
    curve.hidden = active !== "outline";
    if (active === "marks") {
      hint.textContent = n.marks < 4
        ? `Tap mark ${n.marks + 1}, in order round from the upper left. Hold and move to be exact.`
        : "All four are there. Drag one to move it, or go on with the outline.";
    } else if (active === "outline") {
      hint.textContent = n.outline < 3
        ? "Tap each corner of the piece in order round. Before a point on a curve, press the button below the photo."
        : "Go on round the piece; the last point joins the first. Drag a point to move it.";
    } else {
      hint.textContent = n.check < 2
        ? "Tap both ends of something long you have measured by hand."
        : "Type its length below. Drag an end to move it.";
    }
  };

  const draw = () => {
    const box = photo.getBoundingClientRect();
    drawing.setAttribute("viewBox", `0 0 ${Math.max(1, box.width)} ${Math.max(1, box.height)}`);
    drawing.replaceChildren();
    const at = (p) => [p.x / 100 * box.width, p.y / 100 * box.height];
    lists.forEach((name) => {
      const points = read(name);
      if (!sound(points)) return;
      if (points.length > 1) {
        const d = "M" + points.map((p) => at(p).join(" ")).join("L") + (name === "check" || points.length < 3 ? "" : "Z");
        drawing.append(svg("path", { d, class: `trace-ground` }), svg("path", { d, class: `trace-line ${name}` }));
      }
      points.forEach((p, i) => {
        const [x, y] = at(p);
        const shape = p.curve
          ? svg("circle", { cx: x, cy: y, r: 6 })
          : svg("rect", { x: x - 6, y: y - 6, width: 12, height: 12 });
        shape.setAttribute("class", `trace-point ${name}${name === active ? " active" : ""}`);
        drawing.append(shape);
        if (name === "marks") {
          const number = svg("text", { x: x + 10, y: y - 8, class: "trace-number" });
          number.textContent = i + 1;
          drawing.append(number);
        }
      });
    });
    says();
  };

  const LENS = 6;
  const magnify = (p) => {
    if (!large.src) large.src = photo.dataset.large;
    const source = large.complete && large.naturalWidth ? large : photo;
    const box = photo.getBoundingClientRect();
    const pen = lens.getContext("2d");
    const scale = source.naturalWidth / box.width;
    const wide = lens.width / 2 / LENS * scale; // shown at half its pixels
    pen.fillStyle = "#888";
    pen.fillRect(0, 0, lens.width, lens.height);
    pen.drawImage(source, p.x / 100 * source.naturalWidth - wide / 2, p.y / 100 * source.naturalHeight - wide / 2,
      wide, wide, 0, 0, lens.width, lens.height);
    const middle = lens.width / 2;
    for (const [colour, width] of [["#fbfcfb", 5], ["#a63a12", 2]]) {
      pen.strokeStyle = colour;
      pen.lineWidth = width;
      pen.beginPath();
      pen.moveTo(middle - 40, middle); pen.lineTo(middle - 8, middle);
      pen.moveTo(middle + 8, middle); pen.lineTo(middle + 40, middle);
      pen.moveTo(middle, middle - 40); pen.lineTo(middle, middle - 8);
      pen.moveTo(middle, middle + 8); pen.lineTo(middle, middle + 40);
      pen.stroke();
    }
    // In the corner away from the finger.
    lens.classList.toggle("right", p.x < 50);
    lens.hidden = false;
  };

  const at = (event, off) => {
    const box = photo.getBoundingClientRect();
    const clip = (n) => Math.min(100, Math.max(0, n));
    return {
      x: clip((event.clientX + off.x - box.left) / box.width * 100),
      y: clip((event.clientY + off.y - box.top) / box.height * 100),
    };
  };
  const NEAR = 22;
  let held = null;
  place.addEventListener("pointerdown", (event) => {
    if (!event.isPrimary || event.button !== 0 || event.target === lens) return;
    const box = photo.getBoundingClientRect();
    const points = read(active);
    if (!sound(points)) return;
    const apart = points.map((p) => Math.hypot(
      p.x / 100 * box.width + box.left - event.clientX, p.y / 100 * box.height + box.top - event.clientY));
    const nearest = apart.indexOf(Math.min(...apart));
    let off = { x: 0, y: 0 };
    if (points.length && apart[nearest] < NEAR) {
      const p = points[nearest];
      off = { x: p.x / 100 * box.width + box.left - event.clientX, y: p.y / 100 * box.height + box.top - event.clientY };
      held = { at: nearest, off };
    } else if (points.length < most[active]) {
      points.push({ ...at(event, off), curve: active === "outline" && curve.getAttribute("aria-pressed") === "true" });
      write(active, points);
      held = { at: points.length - 1, off };
    } else return;
    place.setPointerCapture(event.pointerId);
    magnify(read(active)[held.at]);
    draw();
  });
  place.addEventListener("pointermove", (event) => {
    if (!held || !event.isPrimary) return;
    const points = read(active);
    points[held.at] = { ...at(event, held.off), curve: points[held.at].curve };
    write(active, points);
    magnify(points[held.at]);
    draw();
  });
  const let_go = (event) => {
    if (!held || !event.isPrimary) return;
    held = null;
    lens.hidden = true;
    // The four marks are done: the outline is next.
    if (active === "marks" && read("marks").length === 4 && read("outline").length === 0) choose("outline");
    draw();
  };
  place.addEventListener("pointerup", let_go);
  place.addEventListener("pointercancel", let_go);
  place.addEventListener("dragstart", (event) => event.preventDefault());
  place.classList.add("tapped");

  const choose = (name) => {
    active = name;
    form.querySelector(`input[name="tap"][value="${name}"]`).checked = true;
    draw();
  };
  form.querySelectorAll("input[name=tap]").forEach((radio) => {
    radio.addEventListener("change", () => choose(radio.value));
  });
  curve.addEventListener("click", () => {
    curve.setAttribute("aria-pressed", curve.getAttribute("aria-pressed") === "true" ? "false" : "true");
  });
  part("back").addEventListener("click", () => {
    write(active, read(active).slice(0, -1));
    draw();
  });

  const kind = field("kind");
  const kinds = () => form.querySelectorAll("[data-trace-kind]").forEach((group) => {
    group.hidden = group.dataset.traceKind !== kind.value;
  });
  kind.addEventListener("change", kinds);
  kinds();
  form.addEventListener("input", (event) => { if (event.target.matches("[data-trace-points]")) draw(); });
  form.addEventListener("notchbook:restored", () => { kinds(); draw(); });
  new ResizeObserver(draw).observe(photo);
  const first = lists.find((name) => read(name).length < (name === "marks" ? 4 : name === "outline" ? 3 : 2));
  choose(first || "outline");
}

document.addEventListener("DOMContentLoaded", () => {
  document.querySelectorAll("[data-trace]").forEach(tracePhoto);
});
