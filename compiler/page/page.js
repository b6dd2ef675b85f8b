"use strict";
// The page of a pattern. It runs nothing and shows nothing but what its document or its server says:
// names and words become text, never markup. Lengths are mm of paper, y down.
(() => {
const $ = (id) => document.getElementById(id);
const desk = $("desk"), sheet = $("sheet"), paper = $("paper"), over = $("over");
const SVG = "http://www.w3.org/2000/svg";
const MM = { mm: 1, cm: 10, m: 1000, in: 25.4, ft: 304.8, yd: 914.4 };
const PLACES = { mm: 1, cm: 2, m: 3, in: 2, ft: 3, yd: 3 };
const READABLE = 15, LEAST = 7, SMALLEST = 5; // px: of names if there is room, or at least; of other words
const CLEAR = 10; // px: a name that could only be smaller beside all lines may lie over some of its piece
const LINE = 1.1; // from line to line, of the size
const SNAP = { mouse: 12, touch: 26, pen: 16 }; // px: so near to a corner, it is the corner

const baked = $("baked") && JSON.parse($("baked").textContent);
let pattern = null;          // the last that could be drawn
const drawn = new Map();     // name of a piece: its group on the paper, and what it was drawn from
const view = { x: 0, y: 0, k: 1, held: true }; // held: all of what is chosen is in view
let chosen = "";             // the piece that is looked at
let steps = null;            // its steps, once asked for
let step = 0;                // the one shown, from 1; 0: the finished piece
let points = [];             // to measure between
let seen = null;             // the edge shown

// ---- small things

function element(tag, attributes = {}, ...children) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  made.append(...children);
  return made;
}

function ink(tag, attributes = {}, words) {
  const made = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  if (words !== undefined) made.textContent = words;
  return made;
}

function figure(amount, unit) {
  if (unit === "in") {
    const sixteenths = Math.round(Math.abs(amount) * 16);
    if (Math.abs(Math.abs(amount) * 16 - sixteenths) < 0.02) {
      const sign = amount < 0 && sixteenths ? "-" : "";
      let whole = Math.floor(sixteenths / 16), over = sixteenths % 16, under = 16;
      while (over && over % 2 === 0) { over /= 2; under /= 2; }
      if (!over) return sign + whole;
      return sign + (whole ? `${whole} ` : "") + `${over}/${under}`;
    }
  }
  return String(+amount.toFixed(unit in PLACES ? PLACES[unit] : 4));
}

const length = (mm) => `${figure(mm / MM[pattern.unit], pattern.unit)} ${pattern.unit}`;
const plural = (count, word) => `${count} ${word}${count === 1 ? "" : "s"}`;
const lined = (edge) => edge.line ? `, line ${edge.line} of ${edge.file || pattern.file}` : "";
const told = (edge) => `${edge.name}: ${edge.length}, sewn ${edge.sewn}${lined(edge)}`;

// ---- the paper

function draw() {
  const wanted = new Set(pattern.pieces.map((piece) => piece.name));
  for (const [name, had] of drawn) {
    if (!wanted.has(name)) { had.group.remove(); drawn.delete(name); }
  }
  for (const piece of pattern.pieces) {
    const { x, y, ...own } = piece;
    const text = JSON.stringify(own);
    let had = drawn.get(piece.name);
    if (!had || had.text !== text) {
      const group = pieceGroup(piece);
      if (had) { group.classList.add("changed"); had.group.replaceWith(group); } else paper.append(group);
      drawn.set(piece.name, had = { group, text });
    }
    had.group.setAttribute("transform", `translate(${x} ${y})`);
    paper.append(had.group); // in the order of the file
  }
}

function pieceGroup(piece) {
  const group = ink("g");
  const whole = ink("g", { class: "whole" });
  for (const [layer, kind, d] of piece.strokes) whole.append(ink("path", { class: `${layer} ${kind}`, d }));
  for (const [words, x, y, size, angle, kind] of piece.words) {
    const text = ink("text", { class: kind, x, y, transform: `rotate(${angle} ${x} ${y})` }, words);
    text.mm = size;
    whole.append(text);
  }
  whole.querySelectorAll("text.name").forEach((text, i) => {
    text.middle = piece.names[i].middle;
    text.ways = piece.names[i].ways.map(wayToWrite);
    text.label = Math.max(0, ...piece.words.filter((one) => one[5] === "label").map((one) => one[3]));
  });
  whole.append(...piece.edges.map(edgeStroke));
  group.append(whole);
  return group;
}

function edgeStroke(edge) {
  const stroke = ink("path", { class: "hit", d: edge.d });
  stroke.edge = edge;
  return stroke;
}

// Only the chosen piece while its steps are shown; of a step, the story's drawing of it.
function showStep() {
  const one = step && steps ? steps.steps[step - 1] : null;
  for (const [name, { group }] of drawn) {
    group.classList.toggle("away", Boolean(one) && name !== chosen);
    group.classList.toggle("stepped", Boolean(one) && name === chosen);
    for (const old of group.querySelectorAll(":scope > .step")) old.remove();
  }
  if (!one) return;
  const group = ink("g", { class: "step" });
  const outline = one.edges.map((edge) => edge.d).join("").replace(/(?<=.)M[^A-Z]*/g, "");
  group.append(ink("path", { class: "sheet-of", d: outline }));
  const story = ink("g", {
    class: "story", transform: `translate(${steps.at.join(" ")}) scale(${steps.scale})`,
  });
  story.innerHTML = one.svg; // drawn and escaped by the story
  group.append(story, ...one.edges.map(edgeStroke));
  drawn.get(chosen).group.append(group);
}

function show(edge, stroke) {
  for (const old of paper.querySelectorAll(".seen")) old.classList.remove("seen");
  seen = edge;
  if (!edge) { $("told").textContent = ""; return; }
  const found = stroke || [...paper.querySelectorAll(".hit")].find((one) => one.edge === edge);
  if (found) found.classList.add("seen");
  $("told").textContent = told(edge);
}

// ---- nearer, farther, across

const size = () => ({ wide: desk.clientWidth || 1, high: desk.clientHeight || 1 });
const onScreen = (point) => [point[0] * view.k + view.x, point[1] * view.k + view.y];
const onPaper = (x, y) => [(x - view.x) / view.k, (y - view.y) / view.k];
const pieceOf = (name) => pattern && pattern.pieces.find((piece) => piece.name === name);

function apply() {
  paper.setAttribute("transform", `translate(${view.x} ${view.y}) scale(${view.k})`);
  if (view.lettered !== view.k) letter();
  drawPoints();
}

// Words too small to be read are left out. Names of pieces are written larger, as far as their piece
// has room; those that still cannot be read stand in the list of pieces alone.
function letter() {
  view.lettered = view.k;
  for (const text of paper.querySelectorAll(".whole > text")) {
    const named = Boolean(text.ways);
    const { lines, size, middle } = named ? written(text) : { size: text.mm };
    text.classList.toggle("small", size * view.k < (named ? LEAST : SMALLEST));
    text.setAttribute("font-size", size);
    // A larger one grows upward: below it stands the label; if that is left out, both ways.
    const more = named ? (lines.length - 1) * LINE : 0;
    const foot = middle ? text.middle + (0.35 + more / 2) * size : 0.35 * text.mm;
    text.setAttribute("dy", foot);
    if (!named) continue;
    text.replaceChildren(...lines.map((words, i) =>
      ink("tspan", { x: text.getAttribute("x"), dy: i ? LINE * size : foot - more * size }, words)));
  }
}

// As large as can be read, beside all lines; else over lines within the piece, but not over its edge.
function written(text) {
  const wanted = READABLE / view.k, clear = CLEAR / view.k;
  const rooms = text.label * view.k < SMALLEST ? ["free", "middle", "within"] : ["free", "within"];
  const tried = rooms.map((room) => {
    const way = text.ways.reduce((a, b) => (Math.min(b[room], wanted) > a[room] ? b : a));
    return { lines: way.lines, size: Math.min(way[room], wanted), middle: room === "middle" };
  });
  const best = tried.find((one) => one.size >= clear) || tried.reduce((a, b) => (b.size > a.size ? b : a));
  return best.size > text.mm ? best : { lines: text.ways[0].lines, size: text.mm };
}

// Where the typeface of this screen is wider than was thought, there is room for less.
const pen = document.createElement("canvas").getContext("2d");
function wayToWrite([lines, wide, ...rooms]) {
  pen.font = "bold 100px sans-serif";
  const share = Math.min(1, 100 * wide / Math.max(...lines.map((words) => pen.measureText(words).width)));
  const [free, middle, within] = rooms.map((room) => room * share);
  return { lines, free, middle, within };
}

function fit(box) {
  const { wide, high } = size(), air = Math.min(40, wide / 12);
  const across = Math.max(box[2] - box[0], 1), down = Math.max(box[3] - box[1], 1);
  view.k = Math.min((wide - 2 * air) / across, (high - 2 * air) / down);
  view.x = wide / 2 - view.k * (box[0] + box[2]) / 2;
  view.y = high / 2 - view.k * (box[1] + box[3]) / 2;
  apply();
}

// All pieces, or all of the one that is chosen; it stays in view until the paper is moved.
function fitAll() {
  view.held = true;
  if (!pattern) return;
  const piece = pieceOf(chosen);
  fit(piece ? boxOf(piece) : [0, 0, pattern.width, pattern.height]);
}

function boxOf(piece) {
  const box = step && steps ? steps.box : piece.box;
  return [box[0] + piece.x, box[1] + piece.y, box[2] + piece.x, box[3] + piece.y];
}

function zoom(by, x = size().wide / 2, y = size().high / 2) {
  const k = Math.min(Math.max(view.k * by, 0.005), 200);
  view.x = x - (x - view.x) * k / view.k;
  view.y = y - (y - view.y) * k / view.k;
  view.k = k;
  view.held = false;
  apply();
}

function move(x, y) {
  view.x += x; view.y += y; view.held = false;
  apply();
}

// ---- measuring

function corners() {
  const found = [];
  for (const piece of pattern ? pattern.pieces : []) {
    if (step && piece.name !== chosen) continue;
    const edges = step && steps ? steps.steps[step - 1].edges : piece.edges;
    for (const edge of edges) {
      for (const [x, y] of edge.ends) {
        const at = [x + piece.x, y + piece.y];
        const same = found.find((one) => one.piece === piece.name && Math.hypot(one.at[0] - at[0], one.at[1] - at[1]) < 0.01);
        if (same) { if (!same.names.includes(edge.name)) same.names.push(edge.name); }
        else found.push({ at, piece: piece.name, names: [edge.name] });
      }
    }
  }
  return found;
}

const called = (corner) => `the corner of ${corner.names.join(" and ")}`;

function snapped(x, y, reach) {
  let best = null, nearest = reach;
  for (const corner of corners()) {
    const [px, py] = onScreen(corner.at), away = Math.hypot(px - x, py - y);
    if (away <= nearest) { nearest = away; best = corner; }
  }
  return best ? { at: best.at, name: called(best), piece: best.piece } : { at: onPaper(x, y), name: "a point on the paper" };
}

function point(x, y, reach) {
  if (!pattern) return;
  if (points.length === 2) points = [];
  points.push(snapped(x, y, reach));
  sayMeasure();
}

function sayMeasure() {
  $("clear").hidden = !points.length;
  if (!points.length) $("measured").textContent = "Choose two points on the paper.";
  else if (points.length === 1) $("measured").textContent = `From ${points[0].name}; now the second point.`;
  else {
    const [a, b] = points, across = Math.abs(b.at[0] - a.at[0]), up = Math.abs(b.at[1] - a.at[1]);
    $("measured").textContent = `${length(Math.hypot(across, up))} (${length(across)} across, ${length(up)} up)\n` +
      `from ${a.name}\nto ${b.name}`;
  }
  drawPoints();
}

// After a change, from the same corners; a point that was no corner is nowhere in particular now.
function remeasure() {
  const all = points.length ? corners() : [];
  points = points.map((was) => {
    const now = all.find((one) => one.piece === was.piece && called(one) === was.name);
    return now && { ...was, at: now.at };
  });
  if (points.includes(undefined)) points = [];
  sayMeasure();
}

function clearPoints() { points = []; sayMeasure(); }

function drawPoints() {
  over.replaceChildren();
  const places = points.map((one) => onScreen(one.at));
  if (places.length === 2) {
    const [[ax, ay], [bx, by]] = places, [a, b] = points;
    over.append(ink("line", { x1: ax, y1: ay, x2: bx, y2: by }));
    over.append(ink("text", { x: (ax + bx) / 2, y: (ay + by) / 2 - 8 },
      length(Math.hypot(b.at[0] - a.at[0], b.at[1] - a.at[1]))));
  }
  for (const [x, y] of places) over.append(ink("circle", { cx: x, cy: y, r: 6 }));
  const { wide, high } = size(), x = wide / 2, y = high / 2;
  over.append(ink("path", { class: "cross", d: `M${x - 14} ${y}h28M${x} ${y - 14}v28` }));
}

// ---- mouse, fingers, keys

const fingers = new Map();
let travelled = 0, apart = 0;

const offset = (event) => {
  const box = desk.getBoundingClientRect();
  return [event.clientX - box.left, event.clientY - box.top];
};

desk.addEventListener("pointerdown", (event) => {
  if (event.button > 0) return;
  fingers.set(event.pointerId, offset(event));
  if (fingers.size === 1) travelled = 0; else travelled = Infinity;
  apart = spread();
  desk.setPointerCapture(event.pointerId);
});

desk.addEventListener("pointermove", (event) => {
  const now = offset(event), was = fingers.get(event.pointerId);
  if (!was) { hover(event); return; }
  const middle = centre();
  fingers.set(event.pointerId, now);
  travelled += Math.hypot(now[0] - was[0], now[1] - was[1]);
  if (travelled < 5) return;
  desk.classList.add("dragged");
  const after = centre();
  move(after[0] - middle[0], after[1] - middle[1]);
  if (fingers.size === 2) {
    const wider = spread();
    if (apart > 0 && wider > 0) zoom(wider / apart, ...after);
    apart = wider;
  }
});

for (const kind of ["pointerup", "pointercancel"]) {
  desk.addEventListener(kind, (event) => {
    if (!fingers.delete(event.pointerId)) return;
    desk.classList.remove("dragged");
    apart = spread();
    if (kind === "pointerup" && travelled < 5) {
      point(...offset(event), SNAP[event.pointerType] || SNAP.mouse);
      hover(event);
    }
  });
}

desk.addEventListener("pointerleave", () => { if (!fingers.size) show(null); });

desk.addEventListener("wheel", (event) => {
  event.preventDefault();
  const lines = event.deltaMode === 1 ? 24 : event.deltaMode === 2 ? 300 : 1;
  zoom(Math.exp(-event.deltaY * lines * (event.ctrlKey ? 0.01 : 0.0015)), ...offset(event));
}, { passive: false });

function centre() {
  const all = [...fingers.values()];
  return [0, 1].map((i) => all.reduce((sum, one) => sum + one[i], 0) / all.length);
}

function spread() {
  const [a, b] = [...fingers.values()];
  return a && b ? Math.hypot(a[0] - b[0], a[1] - b[1]) : 0;
}

function hover(event) {
  const stroke = document.elementFromPoint(event.clientX, event.clientY);
  const edge = stroke && stroke.edge;
  if (edge !== seen) show(edge || null, stroke);
}

const PACE = 60; // px
const KEYS = {
  ArrowLeft: () => move(PACE, 0), ArrowRight: () => move(-PACE, 0),
  ArrowUp: () => move(0, PACE), ArrowDown: () => move(0, -PACE),
  "+": () => zoom(1.25), "=": () => zoom(1.25), "-": () => zoom(0.8), "0": fitAll,
  n: () => corner(1), p: () => corner(-1),
  m: () => point(size().wide / 2, size().high / 2, SNAP.touch),
  Escape: clearPoints,
};
let at = -1; // the corner in the middle

desk.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || !(event.key in KEYS)) return;
  event.preventDefault();
  KEYS[event.key]();
  if (event.key.startsWith("Arrow")) crossOver();
});

function corner(way) {
  const all = corners().filter((one) => !chosen || one.piece === chosen);
  if (!all.length) return;
  at = ((at < 0 && way < 0 ? 0 : at) + way + all.length) % all.length;
  const [x, y] = onScreen(all[at].at), { wide, high } = size();
  move(wide / 2 - x, high / 2 - y);
  show(null);
  $("told").textContent = called(all[at]);
}

function crossOver() {
  const box = desk.getBoundingClientRect();
  hover({ clientX: box.left + box.width / 2, clientY: box.top + box.height / 2 });
}

$("nearer").addEventListener("click", () => zoom(1.25));
$("farther").addEventListener("click", () => zoom(0.8));
$("all").addEventListener("click", () => choose(""));
$("clear").addEventListener("click", clearPoints);
new ResizeObserver(() => { if (view.held) fitAll(); else apply(); }).observe(desk);

// ---- the slip: pieces, edges, steps

function choose(name) {
  const other = name !== chosen;
  chosen = name; at = -1;
  if (other) { steps = null; step = 0; }
  showStep();
  slip();
  const piece = pieceOf(name);
  fitAll();
  if (piece) wantSteps();
}

// A list is one stop for the Tab key; inside it the arrow keys go from one to the next.
for (const list of [$("pieces"), $("edges")]) {
  list.addEventListener("keydown", (event) => {
    const all = [...list.querySelectorAll("button")], i = all.indexOf(document.activeElement);
    const next = all[{
      ArrowRight: i + 1, ArrowDown: i + 1, ArrowLeft: i - 1, ArrowUp: i - 1, Home: 0, End: all.length - 1,
    }[event.key]];
    if (i < 0 || !next) return;
    event.preventDefault();
    rest(all, next);
    next.focus();
  });
}

function rest(all, on) { for (const one of all) one.tabIndex = one === on ? 0 : -1; }

function slip() {
  const pieces = $("pieces");
  const names = pattern.pieces.map((piece) => piece.name);
  const had = [...pieces.querySelectorAll("button")];
  if (had.map((one) => one.textContent).join("\n") !== names.join("\n")) {
    pieces.replaceChildren(...names.map((name) => {
      const button = element("button", { type: "button" }, name);
      button.addEventListener("click", () => choose(name));
      return element("li", {}, button);
    }));
  }
  const buttons = [...pieces.querySelectorAll("button")];
  for (const button of buttons) button.setAttribute("aria-pressed", String(button.textContent === chosen));
  if (!buttons.includes(document.activeElement)) {
    rest(buttons, buttons.find((one) => one.textContent === chosen) || buttons[0]);
  }
  const piece = pieceOf(chosen);
  $("piece").hidden = $("edging").hidden = !piece;
  if (!piece) return;
  $("piece-head").textContent = piece.name;
  $("edges-head").textContent = `Edges of ${piece.name}`;
  $("piece-size").textContent = [piece.size, piece.area, ...piece.cut].join("; ");
  $("stepping").hidden = !piece.steps;
  edgeList(step && steps ? steps.steps[step - 1].edges : piece.edges);
  stepSlider();
}

function edgeList(edges) {
  const list = $("edges");
  const had = [...list.querySelectorAll("button")];
  if (had.length !== edges.length) {
    list.replaceChildren(...edges.map(() => {
      const button = element("button", { type: "button" }, element("span"), element("small"));
      for (const kind of ["focus", "mouseenter", "click"]) button.addEventListener(kind, () => show(button.edge));
      return element("li", {}, button);
    }));
    rest([...list.querySelectorAll("button")], list.querySelector("button"));
  }
  [...list.querySelectorAll("button")].forEach((button, i) => {
    const edge = edges[i], own = edge.name.slice(chosen.length + 1);
    button.edge = edge;
    button.firstChild.textContent = own;
    button.lastChild.textContent = edge.sewn === edge.length ? edge.length : `${edge.length}, sewn ${edge.sewn}`;
  });
}

function stepSlider() {
  const slider = $("step"), count = steps ? steps.steps.length : 0;
  slider.max = String(count + 1);
  slider.disabled = $("back").disabled = $("on").disabled = !steps;
  slider.value = String(step || count + 1);
  const one = step && steps ? steps.steps[step - 1] : null;
  slider.setAttribute("aria-valuetext", one ? `${one.number}: ${one.heading}` : "finished");
  const caption = $("caption");
  if (!one) {
    caption.replaceChildren(element("p", { class: "about" },
      steps ? `The finished piece, after ${plural(count, "step")}.` : "…"));
    return;
  }
  const lines = [element("h4", {}, `${one.number}. ${one.heading}`)];
  const marks = one.kinds.map(keyTo);
  if (marks.length) lines.push(element("p", { class: "key" }, ...marks));
  if (one.areas.length) lines.push(element("p", {}, one.areas.join(", ")));
  if (one.names) lines.push(element("p", {}, one.names));
  for (const quote of one.quotes) {
    lines.push(element("p", { class: "place" }, `${quote.file}, line ${quote.line}`));
    lines.push(element("pre", { tabindex: "0", "aria-label": "as written" }, quote.text.join("\n")));
  }
  if (one.lengths.length) {
    const sewn = one.lengths.some((row) => row[2]), head = ["edge", "as cut", ...(sewn ? ["as sewn"] : [])];
    const row = (tag, cells) => element("tr", {}, ...cells.map((cell) => element(tag, {}, cell)));
    lines.push(element("table", {}, row("th", head),
      ...one.lengths.map((cells) => row("td", sewn ? cells : cells.slice(0, 2)))));
  }
  caption.replaceChildren(...lines);
}

function keyTo(kind) {
  const picture = ink("svg", { viewBox: "0 0 8 5", "aria-hidden": "true" });
  if (kind === "let in" || kind === "cut away") {
    picture.append(ink("rect", { width: 8, height: 5, fill: `url(#${kind.replace(" ", "-")})` }));
  } else {
    picture.append(ink("path", {
      d: "M0 2.5h8", stroke: "currentColor", "stroke-width": kind === "new" ? 1 : 0.3,
    }));
  }
  return element("span", {}, picture, kind);
}

function goTo(number) {
  if (!steps) return;
  const finished = steps.steps.length + 1;
  const next = Math.min(Math.max(number, 1), finished);
  const was = step;
  step = next === finished ? 0 : next;
  points = []; at = -1;
  show(null);
  showStep();
  slip();
  sayMeasure();
  const piece = pieceOf(chosen);
  if (piece && Boolean(was) !== Boolean(step)) fitAll();
}

const position = () => step || (steps ? steps.steps.length + 1 : 1);
$("step").addEventListener("input", () => goTo(Number($("step").value)));
$("back").addEventListener("click", () => goTo(position() - 1));
$("on").addEventListener("click", () => goTo(position() + 1));

async function wantSteps() {
  const name = chosen, piece = pieceOf(name);
  if (!piece || !piece.steps) return;
  const found = baked ? baked.steps[name] : await live.steps(name);
  if (chosen !== name) return;
  if (!found) { if (!steps) $("caption").textContent = "The steps are shown once the file can be drawn."; return; }
  steps = found;
  if (step > steps.steps.length) step = 0;
  showStep();
  slip();
}

// ---- a pattern, and what there is to say of it

function take(next) {
  const first = !pattern;
  pattern = next;
  document.title = pattern.title || pattern.file;
  $("title").textContent = pattern.title || pattern.file;
  $("revision").textContent = pattern.state;
  if (chosen && !pieceOf(chosen)) { chosen = ""; steps = null; step = 0; }
  const anchor = !first && (chosen || !view.held);
  const was = chosen && drawn.get(chosen) && drawn.get(chosen).group.getAttribute("transform");
  draw();
  // A piece that is looked at stays where it is, wherever the others have gone.
  view.lettered = 0;
  const now = was && drawn.get(chosen).group.getAttribute("transform");
  if (anchor && was !== now) {
    const [a, b] = [was, now].map((text) => text.match(/-?[\d.]+/g).map(Number));
    view.x -= (b[0] - a[0]) * view.k; view.y -= (b[1] - a[1]) * view.k;
  }
  show(null);
  showStep();
  slip();
  remeasure();
  if (chosen) wantSteps();
  $("none").hidden = pattern.pieces.length > 0;
  $("seams").hidden = !pattern.seams.length;
  $("seam-list").replaceChildren(...pattern.seams.map(seamItem));
  $("body").hidden = !pattern.measures.length;
  $("measures").replaceChildren(...pattern.measures.map(([name, amount]) =>
    element("li", {}, element("span", {}, name), element("span", {}, amount))));
  if (first || (view.held && !chosen)) fitAll(); else apply();
}

function seamItem([first, firstSewn, second, secondSewn, difference, ease, notches]) {
  const more = `difference ${difference}, ease ${ease}, notches ${notches}`;
  return element("li", {}, element("p", {}, `${first}, ${firstSewn}`),
    element("p", {}, `to ${second}, ${secondSewn}`), element("p", { class: "about" }, more));
}

function say(problems, current) {
  const errors = problems.filter((one) => one.severity === "error");
  const others = problems.filter((one) => one.severity !== "error");
  $("wrong").hidden = !errors.length;
  $("wrong-head").textContent = plural(errors.length, "error");
  $("last").hidden = current || !pattern;
  $("problems").replaceChildren(...errors.map(problem));
  const warnings = others.filter((one) => one.severity === "warning").length;
  const counts = [[warnings, "warning"], [others.length - warnings, "note"]];
  $("remarks").hidden = !others.length;
  $("remarks-head").textContent = counts.filter(([count]) => count).map(([count, word]) => plural(count, word)).join(", ");
  $("remarked").replaceChildren(...others.map(problem));
}

function problem(one) {
  const place = one.line ? `${one.file}, line ${one.line}` : one.file;
  const parts = [element("p", {}, element("b", {}, `${one.severity}: `), one.message)];
  if (place) parts.push(element("p", { class: "place" }, place));
  if (one.lines.length) {
    parts.push(element("pre", { tabindex: "0", "aria-label": "the lines it is about" }, one.lines.join("\n")));
  }
  if (one.help) parts.push(element("p", { class: "way-out" }, one.help));
  return element("div", { class: `problem ${one.severity}` }, ...parts);
}

// ---- a copy: what was chosen can be read

function copy() {
  take(baked.pattern);
  say(baked.problems, true);
  const made = pattern.for ? `, for ${pattern.for}` : "";
  const set = pattern.set.length ? `, with ${pattern.set.join(", ")}` : "";
  $("from").textContent = `A copy of the pattern in ${pattern.file}${made}${set}. It does not follow the file.`;
  $("choosing").hidden = !pattern.choices.length;
  $("choices").append(...pattern.choices.map((one) => {
    const lines = [element("p", {}, element("span", { class: "name" }, one.name), ` = ${one.text}`)];
    if (one.about) lines.push(element("p", { class: "about" }, one.about));
    if (one.default && one.default !== one.text) lines.push(element("p", { class: "stands" }, `in the file: ${one.default}`));
    return element("div", { class: "choice" }, ...lines);
  }));
}

// ---- the server's page: it follows the file

const live = {
  id: Math.random().toString(36).slice(2), // tells the server's pages apart
  tried: new Map(),  // choices tried, as written
  of: null,          // body or size; none: the one the command was given
  number: 0, busy: false, again: false, stamp: "",

  start() {
    const kept = new URLSearchParams(location.hash.slice(1));
    live.of = kept.get("for");
    for (const [name, value] of kept) if (name.startsWith("set ")) live.tried.set(name.slice(4), value);
    $("made-for").addEventListener("change", () => { live.of = $("made-for").value; live.want(); });
    live.listen();
  },

  listen() {
    const events = new EventSource("events");
    events.onmessage = (event) => { live.state(""); live.want(JSON.parse(event.data)); };
    events.onerror = () => {
      live.state("lost", "The server has stopped; the page waits for it to be started again.");
      if (events.readyState === EventSource.CLOSED) setTimeout(live.listen, 700);
    };
  },

  state(kind, words = "") { $("state").className = kind; $("state").textContent = words; },

  asked() {
    const asked = new URLSearchParams({ page: live.id });
    if (live.of !== null) asked.set("for", live.of);
    for (const [name, value] of live.tried) asked.append(`set ${name}`, value);
    return asked;
  },

  // One question at a time; of those that come meanwhile, the last is asked.
  async want() {
    if (live.busy) { live.again = true; return; }
    live.busy = true;
    try {
      do {
        live.again = false;
        await live.ask();
      } while (live.again);
    } catch {
      live.state("lost", "The server does not answer; the page waits for it.");
    } finally { live.busy = false; }
  },

  async ask() {
    const asked = live.asked();
    const kept = new URLSearchParams([...asked].filter(([name]) => name !== "page")).toString();
    history.replaceState(null, "", kept ? `#${kept}` : location.pathname);
    if (!pattern) asked.set("last", "yes");
    const slow = setTimeout(() => live.state("", "The paper is being worked out …"), 800);
    const reply = await fetch(`pattern?${asked}`).finally(() => clearTimeout(slow));
    if (reply.status === 409) { live.again = true; return; } // another question took its place
    const answer = await reply.json();
    live.stamp = answer.stamp || "";
    if (answer.pattern) take(answer.pattern);
    say(answer.problems, answer.current);
    if (!pattern) $("title").textContent = answer.file;
    $("from").textContent = answer.gone ? `the last paper of ${answer.file}` : `${answer.file}, as it is now`;
    $("none").hidden = Boolean(pattern && pattern.pieces.length);
    live.state(answer.gone ? "gone" : "", answer.gone ? `${answer.file} is no longer there; the page waits for it to come back.` : "");
    for (const name of answer.unknown || []) live.tried.delete(name);
    live.people(answer.made, answer.for);
    if (answer.pattern) live.choices(answer.pattern.choices, answer.refused);
  },

  async steps(name) {
    const asked = live.asked();
    asked.set("piece", name);
    try {
      const reply = await fetch(`steps?${asked}`);
      return reply.ok ? await reply.json() : null;
    } catch { return null; } // the server has stopped: the page says so already
  },

  people(made, current) {
    const select = $("made-for"), text = JSON.stringify(made);
    $("made").hidden = !made.length;
    if (select.text !== text) {
      select.text = text;
      const groups = new Map();
      for (const one of made) groups.set(one.group, [...(groups.get(one.group) || []), one]);
      select.replaceChildren(...[...groups].flatMap(([group, those]) => {
        const options = those.map((one) => element("option", { value: one.id }, one.label));
        return group ? [element("optgroup", { label: group }, ...options)] : options;
      }));
    }
    select.value = current;
  },

  choices(choices, refused) {
    const box = $("choices");
    const text = JSON.stringify(choices.map(({ value, text, default: was, ...rest }) => rest));
    $("choosing").hidden = !choices.length;
    if (box.text !== text) { box.text = text; box.replaceChildren(...choices.map(choiceRow)); }
    choices.forEach((choice, i) => {
      box.children[i].update(choice, Object.hasOwn(refused, choice.name) ? refused[choice.name] : "");
    });
  },

  attempt(name, value) { live.tried.set(name, value); $("said").textContent = ""; live.want(); },

  async write(name, value) {
    let words;
    try {
      const reply = await fetch("choose", {
        method: "POST", headers: { "Content-Type": "application/json" },
        body: JSON.stringify({ page: live.id, for: live.of, name, value, stamp: live.stamp }),
      });
      words = (await reply.json()).said;
      if (reply.ok) live.tried.delete(name);
    } catch { words = "The server does not answer; nothing was written."; }
    $("said").textContent = words;
    live.want();
  },
};

function choiceRow(choice) {
  const name = choice.name, id = `choice-${name}`;
  const row = element("div", { class: "choice", role: "group", "aria-label": `the choice ${name}` });
  const controls = element("p", { class: "row" });
  const label = element("label", { for: id, class: "name" }, name);
  const inputs = [];
  if (choice.kind === "yes or no") {
    const box = element("input", { type: "checkbox", id });
    box.addEventListener("change", () => live.attempt(name, box.checked ? "yes" : "no"));
    controls.append(box);
    inputs.push((now) => { box.checked = now.value; });
  } else {
    const box = element("input", {
      type: "text", id, autocomplete: "off", spellcheck: "false", "aria-describedby": `${id}-no`,
    });
    const written = (amount) => `${choice.unit === "in" ? figure(amount, "in") : +amount.toFixed(6)} ${choice.unit}`.trim();
    if (choice.step !== null) {
      const slider = element("input", {
        type: "range", min: choice.low, max: choice.high, step: choice.step, "aria-label": `${name}, as a slider`,
      });
      slider.addEventListener("input", () => {
        box.value = written(Number(slider.value));
        slider.setAttribute("aria-valuetext", box.value);
        live.attempt(name, box.value);
      });
      controls.append(slider);
      inputs.push((now) => {
        if (document.activeElement !== slider || !live.again) slider.value = String(now.value);
        slider.setAttribute("aria-valuetext", now.text);
      });
    }
    box.addEventListener("change", () => live.attempt(name, box.value));
    controls.append(box);
    inputs.push((now, no) => {
      box.setAttribute("aria-invalid", String(Boolean(no)));
      if (document.activeElement !== box) box.value = (no && live.tried.get(name)) || now.text;
    });
  }
  const about = [choice.about, choice.step === null ? "" : `from ${choice.low} to ${choice.high} ${choice.unit}`.trim()];
  const tried = element("div", { class: "tried" });
  const stands = element("span", { class: "stands" });
  const wrong = element("p", { class: "no", id: `${id}-no`, role: "status" });
  const back = element("button", { type: "button", "aria-label": `put ${name} back` }, "put back");
  const write = element("button", { type: "button", "aria-label": `write ${name} into the file` }, "write into the file");
  back.addEventListener("click", () => { live.tried.delete(name); $("said").textContent = ""; live.want(); label.control.focus(); });
  write.addEventListener("click", () => { live.write(name, live.tried.get(name)); label.control.focus(); });
  tried.append(stands, back, write);
  row.append(label, element("p", { class: "about" }, about.filter(Boolean).join("; ")), controls, wrong, tried);
  row.update = (now, no) => {
    for (const update of inputs) update(now, no);
    wrong.textContent = no;
    wrong.hidden = !no;
    tried.hidden = !live.tried.has(name);
    stands.textContent = now.plain ? `in the file: ${now.default}` : `worked out in the file: ${now.default}`;
    write.hidden = Boolean(no) || !now.plain;
  };
  return row;
}

if (baked) copy(); else live.start();
})();
