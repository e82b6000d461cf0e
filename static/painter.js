// Painting which unit stands where in a panel, or which part in a composed
// unit. The rows of letters in the text field are what is saved; the grid only
// writes them.
"use strict";

const SVG = "http://www.w3.org/2000/svg";
const SIDE = 240;
// How many cloths a kind has, and whether turning it changes anything.
const KINDS = {
  "square": [1, false], "half-square-triangle": [2, true], "quarter-square-triangle": [4, true], "rail": [8, true],
  "flying-geese": [2, true], "square-in-a-square": [2, false], "four-patch": [2, true], "nine-patch": [2, false], "pinwheel": [2, false],
};
const TURNED = ["", ", turned once", ", turned twice", ", turned three times"];
const letterOf = (n) => String.fromCharCode(97 + n);

function svg(name, attributes = {}, ...children) {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  element.append(...children);
  return element;
}

function html(name, attributes = {}, ...children) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  element.append(...children);
  return element;
}

/* Units as they are chosen in the form. */
function madeOf(kind, select, colours) {
  const [most, turns] = KINDS[kind] ?? [0, true];
  const cloths = [];
  for (let p = 0; p < most; p++) {
    const cloth = select(p);
    if (cloth || kind !== "rail") cloths.push(cloth);
  }
  return { kind, turns, cloths: cloths.map((id) => colours[id]), shape: `kind-${kind}-${Math.max(cloths.length, kind === "rail" ? 2 : 1)}` };
}

function partsOf(form, n, colours) {
  return all(`[data-parts-of="${n}"] [data-part]`, form).map((part, k) => {
    const kind = one(".part-kind", part).value;
    return kind ? madeOf(kind, (p) => one(`[name="part${k}cloth${p}_${n}"]`, part)?.value, colours) : null;
  });
}

function unitsOf(form, colours) {
  return all("[data-slot]", form).map((slot, n) => {
    const kind = n === 0 ? one('[name="face"]:checked', form)?.value : one(".unit-kind", slot).value;
    if (!kind || kind === "none" || kind === "plain") return null;
    if (kind !== "composed") return madeOf(kind, (p) => one(`[name="cloth${p}_${n}"]`, slot)?.value, colours);
    const across = Number(one(`[name="across_${n}"]`, slot)?.value) || 2;
    return { kind, turns: true, across, parts: partsOf(form, n, colours), rows: marks(one(`[name="parts_${n}"]`, slot)?.value ?? "") };
  });
}

function drawn(unit) {
  if (unit.kind === "composed") {
    const group = svg("g", { transform: `scale(${1 / unit.across})` });
    for (let r = 0; r < unit.across; r++) for (let c = 0; c < unit.across; c++) {
      const [k, turn] = unit.rows[r]?.[c] ?? [0, 0];
      if (unit.parts[k]) group.append(svg("g", { transform: `translate(${c * SIDE} ${r * SIDE}) rotate(${turn * 90} ${SIDE / 2} ${SIDE / 2})` }, drawn(unit.parts[k])));
    }
    return svg("g", {}, svg("rect", { width: SIDE, height: SIDE, class: "patch c7" }), group);
  }
  const use = svg("use", { href: `#${unit.shape}` });
  unit.cloths.forEach((colour, p) => { if (colour) use.style.setProperty(`--c${p}`, colour); });
  return use;
}

/** Rows of [unit, turn] from rows of letters; what cannot be read is the first unit. */
function marks(text) {
  return text.split("\n").map((line) => line.trim().split(/\s+/).filter(Boolean).map((mark) => {
    const found = mark.toLowerCase().match(/^([a-z])([0-3]?)$/);
    return found ? [found[1].charCodeAt(0) - 97, Number(found[2] || 0)] : [0, 0];
  }));
}

/** Back to letters, without what is the first unit anyway at the ends. */
function letters(rows) {
  const lines = rows.map((row) => {
    let end = row.length;
    while (end > 0 && !row[end - 1][0] && !row[end - 1][1]) end--;
    return row.slice(0, end).map(([unit, turn]) => letterOf(unit) + (turn || "")).join(" ");
  });
  while (lines.length && !lines.at(-1)) lines.pop();
  return lines.join("\n");
}

/* A grid to paint on, in step with a text field. */
function painter(text) {
  if (text.dataset.painted) return;
  text.dataset.painted = "yes";
  const form = text.form;
  const [what, slot] = text.dataset.paint.split(" ");
  const whole = what === "panel";
  const colours = JSON.parse(one("[data-cloth-colours]", form)?.dataset.clothColours ?? "{}");
  const field = text.closest(".field");
  const name = one("label", field).textContent;
  const asText = html("details", { class: "as-text" }, html("summary", {}, "As rows of letters"));
  const label = html("p", { class: "painter-label" }, name);
  const palette = html("div", { class: "paint-palette", role: "group", "aria-label": whole ? "Unit to paint" : "Part to place" });
  const tools = html("div", { class: "paint-tools" });
  const grid = html("div", { class: "paint-grid", "data-mode": "paint" });
  const said = html("p", { class: "unseen", role: "status" });
  const missing = html("p", { class: "hint" }, "The grid appears here as soon as the piece has a size and every unit its cloths.");
  const how = html("p", { class: "hint" }, "A tap paints, a tap on the same unit turns it; two fingers move the grid. Keys: arrows to go, a letter paints, T turns, Ctrl Z takes back.");
  const box = html("div", { class: "painter" }, label, palette, tools, missing, grid, how, said);
  field.before(box);
  field.after(asText);
  asText.append(field);
  if (one(".error", field)) asText.open = true;

  const key = text.id;
  let units = [], size = null, cells = [], rows = marks(text.value), brush = [0, 0], reach = "one", zoom = null, undo = [], at = [0, 0];
  let board, defs, lettering, cursor, shown = "", built = "";

  const tool = (words, act, attributes = {}) => {
    const button = html("button", { type: "button", class: "paint-tool", ...attributes }, words);
    button.addEventListener("click", act);
    return button;
  };
  const turn = tool("Turn", () => { brush = [brush[0], (brush[1] + 1) % 4]; fillPalette(); say(`Unit ${letterOf(brush[0])}${TURNED[brush[1]]}.`); });
  const back = tool("Undo", () => {
    if (!undo.length) return;
    rows = marks(undo.pop());
    write(); every(); say("Undone.");
  });
  const reaches = html("div", { class: "paint-group", role: "group", "aria-label": "What a tap paints" });
  for (const [value, words] of [["one", "One"], ["row", "Row"], ["column", "Column"], ["all", "All"]]) {
    reaches.append(tool(words, () => { reach = value; press(); }, { "data-reach": value }));
  }
  const smaller = tool("−", () => scale(zoom / 1.4), { "aria-label": "Smaller" });
  const larger = tool("+", () => scale(zoom * 1.4), { "aria-label": "Larger" });
  const move = tool("Move", () => { grid.dataset.mode = grid.dataset.mode === "move" ? "paint" : "move"; press(); });
  tools.append(turn, back, smaller, larger, move, reaches);
  const say = (words) => { said.textContent = words; };
  const press = () => {
    all("[data-reach]", reaches).forEach((b) => b.setAttribute("aria-pressed", String(b.dataset.reach === reach)));
    move.setAttribute("aria-pressed", String(grid.dataset.mode === "move"));
    back.disabled = !undo.length;
  };

  function measure() {
    if (!whole) {
      const across = Number(one(`[name="across_${slot}"]`, form)?.value) || 2;
      return { columns: across, rows: across, high: SIDE, point: false };
    }
    const data = one("[data-live] [data-panel]")?.dataset;
    if (!data) return size;
    const [columns, down, high, point] = data.panel.split(" ").map(Number);
    return { columns, rows: point ? 2 * down - 1 : down, high, point: Boolean(point) };
  }

  const inRow = (r) => size.columns - (size.point ? r % 2 : 0);
  const mark = (r, c) => rows[r]?.[c] ?? [0, 0];
  const step = () => Math.round(SIDE * Math.SQRT2 / 2);
  function where(r, c) {
    if (!size.point) return `translate(${c * SIDE} ${r * size.high})`;
    return `translate(${(2 * c + 1 + (r % 2)) * step()} ${(r + 1) * step()}) rotate(45) translate(${-SIDE / 2} ${-SIDE / 2})`;
  }
  const middle = (r, c) => size.point ? [(2 * c + 1 + (r % 2)) * step(), (r + 1) * step()] : [(c + .5) * SIDE, (r + .5) * size.high];

  /** The palette, the shapes and the grid anew, where something they show changed. */
  function refresh() {
    units = whole ? unitsOf(form, colours) : partsOf(form, slot, colours);
    size = measure();
    const none = !size || !units[0];
    missing.hidden = !none;
    grid.hidden = tools.hidden = palette.hidden = how.hidden = none;
    if (whole && none) asText.open = true;
    if (none) return;
    if (!units[brush[0]]) brush = [0, 0];
    const sign = JSON.stringify(units);
    const extent = JSON.stringify(size);
    if (sign === shown && extent === built) return;
    if (sign !== shown) {
      const old = defs;
      fillDefs();
      fillPalette();
      // Cells refer to the shapes: those of a large grid need not be made anew.
      if (board && extent === built) { old.replaceWith(defs); every(); }
    }
    shown = sign;
    if (extent !== built) { built = extent; build(); }
  }

  function fillDefs() {
    defs = svg("defs", {}, ...units.map((unit, n) => unit && svg("g", { id: `${key}-u${n}` }, drawn(unit))).filter(Boolean));
  }

  function fillPalette() {
    const held = palette.contains(document.activeElement) ? all("button", palette).indexOf(document.activeElement) : -1;
    palette.replaceChildren(...units.map((unit, n) => {
      if (!unit) return "";
      const turns = n === brush[0] ? brush[1] : 0;
      const view = svg("svg", { viewBox: `-4 -4 ${SIDE + 8} ${SIDE + 8}`, "aria-hidden": "true" }, svg("g", { transform: `rotate(${turns * 90} ${SIDE / 2} ${SIDE / 2})` }, drawn(unit)));
      const words = `${letterOf(n)}, ${unit.kind.replaceAll("-", " ")}${TURNED[turns]}`;
      const button = html("button", { type: "button", class: "paint-unit", "aria-pressed": String(n === brush[0]), "aria-label": words }, view, letterOf(n));
      button.addEventListener("click", () => {
        if (brush[0] === n) brush = [n, unit.turns ? (brush[1] + 1) % 4 : 0]; else brush = [n, 0];
        fillPalette();
        say(`${words}.`);
      });
      return button;
    }));
    if (held >= 0) all("button", palette)[held]?.focus();
    turn.disabled = !units[brush[0]]?.turns;
  }

  function build() {
    const focused = grid.contains(document.activeElement);
    const [wide, tall] = size.point ? [size.columns * 2 * step(), (size.rows + 1) * step()] : [size.columns * SIDE, size.rows * size.high];
    lettering = svg("g", { "aria-hidden": "true" });
    cursor = svg("rect", { class: "paint-cursor", width: SIDE, height: size.point ? SIDE : size.high });
    board = svg("svg", { viewBox: `-6 -6 ${wide + 12} ${tall + 12}`, role: "grid", "aria-label": `${name}: ${size.columns} across, ${size.rows} down` }, defs);
    cells = [];
    for (let r = 0; r < size.rows; r++) {
      const row = svg("g", { role: "row" });
      cells.push(Array.from({ length: inRow(r) }, (_, c) => {
        const cell = svg("use", { class: "paint-cell", role: "gridcell", tabindex: "-1", "data-at": `${r} ${c}` });
        row.append(cell);
        return cell;
      }));
      board.append(row);
    }
    board.append(lettering, cursor);
    listen(board);
    grid.replaceChildren(board);
    every();
    at = [Math.min(at[0], size.rows - 1), Math.min(at[1], inRow(Math.min(at[0], size.rows - 1)) - 1)];
    go(at, focused);
    scale(zoom ?? fit());
    press();
  }

  const fit = () => Math.max(28, Math.min(64, ((grid.clientWidth || 300) - 4) / (size.point ? size.columns * Math.SQRT2 : size.columns)));
  function scale(to) {
    zoom = Math.max(8, Math.min(96, to));
    const box = board.viewBox.baseVal;
    board.setAttribute("width", Math.round(box.width * zoom / SIDE));
    board.setAttribute("height", Math.round(box.height * zoom / SIDE));
    // Letters are for units too alike to tell apart; in a large grid they would only be in the way.
    lettering.style.display = zoom >= 22 && cells.length * size.columns <= 1500 ? "" : "none";
    const over = grid.scrollWidth > grid.clientWidth + 1 || grid.scrollHeight > grid.clientHeight + 1;
    move.hidden = !over && grid.dataset.mode === "paint";
  }

  function show(r, c) {
    const cell = cells[r]?.[c];
    if (!cell) return;
    let [unit, turns] = mark(r, c);
    const known = units[unit];
    cell.setAttribute("href", `#${key}-u${known ? unit : 0}`);
    const squeeze = size.high === SIDE ? "" : ` scale(1 ${size.high / SIDE})`;
    cell.setAttribute("transform", `${where(r, c)}${squeeze} rotate(${turns * 90} ${SIDE / 2} ${SIDE / 2})`);
    const words = known ? letterOf(unit) : `${letterOf(unit)}, which is none of the units`;
    cell.setAttribute("aria-label", `Row ${r + 1}, column ${c + 1}: ${words}${TURNED[turns]}`);
    if (cells.length * size.columns <= 1500) {
      let text = cell.letter;
      if (!text) { text = cell.letter = svg("text", { class: "paint-letter" }); lettering.append(text); }
      const [x, y] = middle(r, c);
      text.setAttribute("x", x); text.setAttribute("y", y);
      text.textContent = letterOf(unit);
    }
  }
  const every = () => { cells.forEach((row, r) => row.forEach((_, c) => show(r, c))); back.disabled = !undo.length; };

  function go([r, c], focus) {
    cells[at[0]]?.[at[1]]?.setAttribute("tabindex", "-1");
    at = [r, c];
    const cell = cells[r]?.[c];
    if (!cell) return;
    cell.setAttribute("tabindex", "0");
    cursor.setAttribute("transform", where(r, c));
    if (focus) cell.focus({ preventScroll: false });
  }

  /* A position of its own in the rows, filled up with the first unit. */
  function put(r, c, to) {
    while (rows.length <= r) rows.push([]);
    while (rows[r].length <= c) rows[r].push([0, 0]);
    rows[r][c] = to;
  }
  function spread(r, c) {
    const list = [];
    cells.forEach((row, y) => row.forEach((_, x) => {
      if ((reach === "row" && y !== r) || (reach === "column" && x !== c) || (reach === "one" && (y !== r || x !== c))) return;
      list.push([y, x]);
    }));
    return list;
  }
  const remember = () => { undo.push(letters(rows)); if (undo.length > 200) undo.shift(); };
  function write() {
    text.value = letters(rows);
    text.dispatchEvent(new Event("input", { bubbles: true }));
    back.disabled = !undo.length;
  }
  const paint = (r, c, to) => { for (const [y, x] of reach === "one" ? [[r, c]] : spread(r, c)) { put(y, x, to); show(y, x); } };
  /** The unit of the brush; the same unit again is turned on. */
  function next(r, c) {
    const [unit, turns] = mark(r, c);
    if (unit !== brush[0]) return [...brush];
    return [unit, units[unit]?.turns ? (turns + 1) % 4 : 0];
  }

  let stroke = null;
  function listen(board) {
    const cellAt = (event) => {
      const found = document.elementFromPoint(event.clientX, event.clientY)?.closest?.("[data-at]");
      return found && board.contains(found) ? found.dataset.at.split(" ").map(Number) : null;
    };
    // One finger paints; two move the grid, and the page where the grid ends.
    const fingers = new Map();
    const drag = (event) => {
      const [x, y] = fingers.get(event.pointerId);
      const [dx, dy] = [(event.clientX - x) / fingers.size, (event.clientY - y) / fingers.size];
      fingers.set(event.pointerId, [event.clientX, event.clientY]);
      const top = grid.scrollTop;
      grid.scrollLeft -= dx;
      grid.scrollTop -= dy;
      const rest = dy - (top - grid.scrollTop);
      if (Math.abs(rest) >= 1) window.scrollBy(0, -rest);
    };
    board.addEventListener("pointerdown", (event) => {
      if (grid.dataset.mode === "move" || event.button > 0) return;
      if (event.pointerType === "touch") fingers.set(event.pointerId, [event.clientX, event.clientY]);
      if (fingers.size > 1) {
        // The first finger was not meant to paint.
        if (stroke) { stroke = null; rows = marks(undo.pop()); every(); }
        return;
      }
      if (stroke) return;
      const place = cellAt(event);
      if (!place) return;
      event.preventDefault();
      try { board.setPointerCapture(event.pointerId); } catch { /* gone already */ }
      remember();
      stroke = { id: event.pointerId, last: place.join(), to: next(...place) };
      paint(...place, stroke.to);
      go(place, true);
    });
    board.addEventListener("pointermove", (event) => {
      if (fingers.size > 1 && fingers.has(event.pointerId)) { drag(event); return; }
      if (stroke?.id !== event.pointerId) return;
      const place = cellAt(event);
      if (!place || place.join() === stroke.last) return;
      stroke.last = place.join();
      paint(...place, stroke.to);
    });
    const end = (event) => { fingers.delete(event.pointerId); if (stroke?.id === event.pointerId) { stroke = null; write(); } };
    board.addEventListener("pointerup", end);
    board.addEventListener("pointercancel", end);
    board.addEventListener("focusin", (event) => {
      const place = event.target.dataset?.at?.split(" ").map(Number);
      if (place && place.join() !== at.join()) go(place, false);
    });
    board.addEventListener("keydown", (event) => {
      const [r, c] = at;
      const { key: pressed } = event;
      const last = size.rows - 1;
      const moves = {
        ArrowLeft: [r, c - 1], ArrowRight: [r, c + 1], ArrowUp: [r - 1, c], ArrowDown: [r + 1, c], Home: [r, 0], End: [r, inRow(r) - 1],
        PageUp: [Math.max(0, r - 5), c], PageDown: [Math.min(last, r + 5), c],
      };
      if ((event.ctrlKey || event.metaKey) && pressed.toLowerCase() === "z") { event.preventDefault(); back.click(); return; }
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      if (moves[pressed]) {
        event.preventDefault();
        const [y, x] = moves[pressed];
        if (y >= 0 && y <= last && x >= 0) go([y, Math.min(x, inRow(y) - 1)], true);
        return;
      }
      const chosen = pressed.length === 1 ? pressed.toLowerCase().charCodeAt(0) - 97 : -1;
      let to = null;
      if (pressed === " " || pressed === "Enter") to = next(r, c);
      else if (units[chosen]) { brush = [chosen, 0]; fillPalette(); to = [chosen, 0]; }
      else if (pressed === "t" || pressed === "r") { const [unit, turns] = mark(r, c); to = [unit, units[unit]?.turns ? (turns + 1) % 4 : 0]; }
      else if (/^[0-3]$/.test(pressed)) to = [mark(r, c)[0], Number(pressed)];
      if (!to) return;
      event.preventDefault();
      remember(); paint(r, c, to); write();
      say(cells[r][c].getAttribute("aria-label"));
    });
  }

  text.addEventListener("input", (event) => {
    if (stroke || letters(rows) === text.value) return;
    rows = marks(text.value);
    if (size && board) every();
  });
  form.addEventListener("change", refresh);
  form.addEventListener("notchbook:restored", () => { rows = marks(text.value); shown = built = ""; refresh(); });
  const live = one("[data-live]");
  if (whole && live) new MutationObserver(refresh).observe(live, { childList: true });
  window.addEventListener("resize", quiet(200, () => { if (board && !grid.hidden) scale(zoom); }));
  // Shown by a choice in the form: only then does the grid have a width to fit into.
  new ResizeObserver(() => { if (board && grid.clientWidth && box.dataset.seen !== "yes") { box.dataset.seen = "yes"; zoom = null; scale(fit()); } }).observe(grid);
  press();
  refresh();
}
