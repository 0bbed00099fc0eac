// Traces a tree on its photo: taps become lines, with zoom, undo, and a draft that outlives a reload.

/** @typedef {[number, number]} Spot */
/** @typedef {{ number: number, bearer: number | null, name: string, clock: string, tips: string, points: Spot[], thick: string }} Limb */
/** @typedef {{ scale: Spot[], scale_kind: string, long: string, soil: number | null, limbs: Limb[], at: number }} Drawing */
/** @typedef {{ photo: string, wide: number, high: number, next: number, drawing: Drawing }} Known */

const SVG = "http://www.w3.org/2000/svg";

/** A finger that moves further than this has dragged, not tapped (px on the screen). */
const SLIP = 10;

/** Closer than this, every limb shows its number; further away only those the trunk bears, and the chosen one. */
const CLOSE = 2;

const stage = /** @type {SVGSVGElement} */ (/** @type {unknown} */ (document.querySelector("#canvas")));
const lines = /** @type {SVGGElement} */ (stage.querySelector("#lines"));
const say = /** @type {HTMLElement} */ (document.querySelector("#say"));
const list = /** @type {HTMLElement} */ (document.querySelector("#limbs"));
const form = /** @type {HTMLFormElement} */ (document.querySelector("#keep"));
const blank = /** @type {HTMLTemplateElement} */ (document.querySelector("#limb"));
const known = /** @type {Known} */ (JSON.parse(document.querySelector("#known")?.textContent ?? "{}"));

/** @type {Drawing} */
let drawing = known.drawing;
let tool = "limb";
/** What was undone is gone; each step keeps the drawing as it was before. @type {string[]} */
const steps = [];
/** The window on the picture. */
const view = { x: 0, y: 0, wide: known.wide, high: known.high };
const draft = `traced ${known.photo}`;
let changed = false;
/** The limbs whose lines the collection holds already. */
const stood = new Set(known.drawing.limbs.filter((limb) => limb.points.length > 0).map((limb) => limb.number));

/** Keeps the drawing as it is, to come back to. */
function step() {
  steps.push(JSON.stringify(drawing));
  if (steps.length > 200) steps.shift();
}

/** Notes a change, draws it, and keeps it against a reload. */
function touch() {
  changed = true;
  try {
    sessionStorage.setItem(draft, JSON.stringify(drawing));
  } catch {
    // Without a store of its own the page still works; only a reload would lose the draft.
  }
  draw();
}

/** @param {Spot} spot @param {Limb} limb the nearest spot on a limb's line, and how far it is */
function nearest(spot, limb) {
  /** @type {{ spot: Spot, far: number }} */
  let best = { spot: limb.points[0] ?? spot, far: Infinity };
  for (let at = 0; at < limb.points.length; at++) {
    const a = limb.points[at], b = limb.points[at + 1] ?? a;
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const long = dx * dx + dy * dy;
    const t = long === 0 ? 0 : Math.min(1, Math.max(0, ((spot[0] - a[0]) * dx + (spot[1] - a[1]) * dy) / long));
    /** @type {Spot} */
    const on = [a[0] + t * dx, a[1] + t * dy];
    const far = Math.hypot(on[0] - spot[0], on[1] - spot[1]);
    if (far < best.far) best = { spot: on, far };
  }
  return best;
}

/** The limb a tap goes to; none once all are traced. */
function chosen() {
  return drawing.limbs[drawing.at];
}

/** Starts the next limb. */
function next() {
  const open = chosen();
  if (open && open.points.length < 2) return open;
  const number = Math.max(known.next - 1, -1, ...drawing.limbs.map((limb) => limb.number)) + 1;
  /** @type {Limb} */
  const limb = { number, bearer: null, name: number === 0 ? "trunk" : `branch ${number}`, clock: "", tips: "", points: [], thick: "" };
  drawing.limbs.push(limb);
  drawing.at = drawing.limbs.length - 1;
  return limb;
}

/** @param {Spot} spot takes a tap on the picture */
function tap(spot) {
  if (tool === "limb" && !chosen() && drawing.limbs.length > 0) return tell(guide());
  step();
  const at = /** @type {Spot} */ ([Math.round(spot[0] * 10) / 10, Math.round(spot[1] * 10) / 10]);
  if (tool === "scale") {
    const needs = drawing.scale_kind === "line" ? 2 : 4;
    drawing.scale = drawing.scale.length >= needs ? [at] : [...drawing.scale, at];
  } else if (tool === "soil") {
    drawing.soil = at[1];
  } else {
    const limb = chosen() ?? next();
    if (limb.points.length === 0 && limb.number !== 0) join(limb, at);
    else limb.points.push(at);
  }
  touch();
}

/** @param {Limb} limb @param {Spot} at joins a new limb to the one it grows from */
function join(limb, at) {
  const others = drawing.limbs.filter((other) => other !== limb && other.points.length > 1);
  const told = others.find((other) => other.number === limb.bearer);
  const from = (told ? [told] : others).map((other) => ({ other, ...nearest(at, other) }));
  from.sort((a, b) => a.far - b.far);
  if (!from[0]) {
    tell("Trace the trunk first.");
    return;
  }
  limb.bearer = from[0].other.number;
  limb.points.push([Math.round(from[0].spot[0] * 10) / 10, Math.round(from[0].spot[1] * 10) / 10]);
  if (from[0].far > known.wide / 100) limb.points.push(at);
}

/** @param {string} words */
function tell(words) {
  say.textContent = words;
}

/** What to do next, in words. */
function guide() {
  const limb = chosen();
  if (tool === "scale") {
    const left = (drawing.scale_kind === "line" ? 2 : 4) - drawing.scale.length;
    return left > 0 ? `Tap ${left} more ${drawing.scale_kind !== "line" ? "corners of the card, from the top left one round to the right" : "ends of what you know the length of"}.` : "Type how long it is, below the picture.";
  }
  if (tool === "soil") return drawing.soil === null ? "Tap where the trunk meets the soil." : "The soil line is set; tap again to move it.";
  if (!limb && drawing.limbs.length > 0) {
    return "No branch is chosen, so a tap does nothing. Press Next branch for a new one, or choose one of the list below to go on with it.";
  }
  if (!limb || limb.points.length === 0) {
    const old = stood.has(limb?.number ?? -1) ? " Its old line stays kept until the new one is." : "";
    const way = !limb || limb.number === 0 ? "Tap the trunk from the soil up to the tip." : `Tap ${limb.name} from where it leaves the wood that bears it, out to its tip.`;
    return way + old;
  }
  return `${limb.name}: ${limb.points.length} ${limb.points.length === 1 ? "spot" : "spots"}. Go on to its tip, or press Next branch.`;
}

/** @param {string} kind @param {Record<string, string | number>} given */
function shape(kind, given) {
  const it = document.createElementNS(SVG, kind);
  for (const [name, value] of Object.entries(given)) it.setAttribute(name, String(value));
  return it;
}

/** Draws all lines afresh. */
function draw() {
  // The picture fits whole into its stage, so the tighter of both sides says how large a pixel is.
  const pixel = Math.max(view.wide / Math.max(1, stage.clientWidth), view.high / Math.max(1, stage.clientHeight));
  const close = known.wide / view.wide > CLOSE;
  /** @type {SVGElement[]} */
  const shapes = [];
  drawing.limbs.forEach((limb, at) => {
    const points = limb.points.map((spot) => spot.join(",")).join(" ");
    const own = at === drawing.at && tool === "limb";
    shapes.push(shape("polyline", { points, class: "trace-halo", "stroke-width": 7 * pixel }));
    shapes.push(shape("polyline", { points, class: own ? "trace-line own" : "trace-line", "stroke-width": (own ? 4 : 2.5) * pixel }));
    for (const [x, y] of own ? limb.points : limb.points.slice(0, 1)) {
      shapes.push(shape("circle", { cx: x, cy: y, r: (own ? 5 : 3.5) * pixel, class: "trace-spot", "stroke-width": 1.5 * pixel }));
    }
    const tip = limb.points.at(-1);
    if (tip && (close || own || limb.bearer === 0)) {
      const word = shape("text", { x: tip[0] + 8 * pixel, y: tip[1], class: "trace-word", "font-size": 14 * pixel, "stroke-width": 4 * pixel });
      word.textContent = String(limb.number);
      shapes.push(word);
    }
  });
  if (drawing.scale.length > 0) {
    const closed = drawing.scale.length === 4 ? [...drawing.scale, drawing.scale[0]] : drawing.scale;
    shapes.push(shape("polyline", { points: closed.map((spot) => spot.join(",")).join(" "), class: "trace-scale", "stroke-width": 3 * pixel, "stroke-dasharray": `${8 * pixel} ${5 * pixel}` }));
    for (const [x, y] of drawing.scale) shapes.push(shape("circle", { cx: x, cy: y, r: 5 * pixel, class: "trace-spot", "stroke-width": 1.5 * pixel }));
  }
  if (drawing.soil !== null) shapes.push(shape("line", { x1: 0, x2: known.wide, y1: drawing.soil, y2: drawing.soil, class: "trace-soil", "stroke-width": 2 * pixel, "stroke-dasharray": `${3 * pixel} ${5 * pixel}` }));
  lines.replaceChildren(...shapes);
  stage.setAttribute("viewBox", `${view.x} ${view.y} ${view.wide} ${view.high}`);
  rows();
  tell(guide());
}

/** One row for each limb, to name it and say which way it grows. */
function rows() {
  while (list.children.length > drawing.limbs.length) list.lastElementChild?.remove();
  drawing.limbs.forEach((limb, at) => {
    let row = /** @type {HTMLElement | undefined} */ (list.children[at]);
    if (!row) {
      row = /** @type {HTMLElement} */ (blank.content.firstElementChild?.cloneNode(true));
      list.append(row);
      wire(row, at);
    }
    row.classList.toggle("own", at === drawing.at);
    row.querySelector("[data-clear]")?.toggleAttribute("disabled", limb.points.length === 0);
    const legend = row.querySelector("legend");
    if (legend) legend.textContent = `${limb.number}: ${limb.name}${limb.points.length === 0 ? ", still to trace" : ""}`;
    for (const field of /** @type {const} */ (["name", "clock", "tips", "thick"])) {
      const box = /** @type {HTMLInputElement | HTMLSelectElement | null} */ (row.querySelector(`[data-field=${field}]`));
      if (box && document.activeElement !== box) box.value = limb[field];
    }
  });
}

/** @param {HTMLElement} row @param {number} at */
function wire(row, at) {
  for (const box of row.querySelectorAll("[data-field]")) {
    box.addEventListener("change", () => {
      const field = /** @type {"name" | "clock" | "tips" | "thick"} */ (box.getAttribute("data-field"));
      step();
      drawing.limbs[at][field] = /** @type {HTMLInputElement} */ (box).value;
      touch();
    });
  }
  row.querySelector("[data-choose]")?.addEventListener("click", () => {
    drawing.at = at;
    use("limb");
  });
  row.querySelector("[data-clear]")?.addEventListener("click", () => {
    step();
    drawing.limbs[at].points = [];
    drawing.at = at;
    use("limb");
    touch();
  });
}

/** @param {string} wanted */
function use(wanted) {
  tool = wanted;
  for (const button of document.querySelectorAll("[data-tool]")) {
    button.setAttribute("aria-pressed", String(button.getAttribute("data-tool") === tool));
  }
  draw();
}

/** @param {number} by @param {Spot} about zooms by a factor about a spot of the picture */
function zoom(by, about) {
  const wide = Math.min(known.wide, Math.max(known.wide / 16, view.wide / by));
  const factor = wide / view.wide;
  const high = view.high * factor;
  view.x = about[0] - (about[0] - view.x) * factor;
  view.y = about[1] - (about[1] - view.y) * factor;
  Object.assign(view, { wide, high });
  hold();
  draw();
}

/** Keeps the window on the picture. */
function hold() {
  view.x = Math.min(Math.max(0, view.x), known.wide - view.wide);
  view.y = Math.min(Math.max(0, view.y), known.high - view.high);
}

/** @param {{ clientX: number, clientY: number }} event @returns {Spot} */
function spot(event) {
  const box = stage.getBoundingClientRect();
  const scale = Math.max(view.wide / box.width, view.high / box.height);
  const [left, top] = [(box.width * scale - view.wide) / 2, (box.height * scale - view.high) / 2];
  return [view.x - left + (event.clientX - box.left) * scale, view.y - top + (event.clientY - box.top) * scale];
}

/** @type {Map<number, { x: number, y: number, slipped: boolean, two: boolean }>} */
const fingers = new Map();

stage.addEventListener("pointerdown", (event) => {
  stage.setPointerCapture(event.pointerId);
  fingers.set(event.pointerId, { x: event.clientX, y: event.clientY, slipped: false, two: false });
  if (fingers.size > 1) for (const finger of fingers.values()) finger.two = true;
});

stage.addEventListener("pointermove", (event) => {
  const finger = fingers.get(event.pointerId);
  if (!finger) return;
  const other = [...fingers.entries()].find(([id]) => id !== event.pointerId)?.[1];
  if (other) {
    const was = Math.hypot(finger.x - other.x, finger.y - other.y);
    const is = Math.hypot(event.clientX - other.x, event.clientY - other.y);
    if (was > 0 && is > 0) zoom(is / was, spot({ clientX: (event.clientX + other.x) / 2, clientY: (event.clientY + other.y) / 2 }));
    Object.assign(finger, { x: event.clientX, y: event.clientY });
    return;
  }
  if (!finger.slipped && Math.hypot(event.clientX - finger.x, event.clientY - finger.y) < SLIP) return;
  const [from, to] = [spot({ clientX: finger.x, clientY: finger.y }), spot(event)];
  view.x += from[0] - to[0];
  view.y += from[1] - to[1];
  Object.assign(finger, { x: event.clientX, y: event.clientY, slipped: true });
  hold();
  draw();
});

stage.addEventListener("pointerup", (event) => {
  const finger = fingers.get(event.pointerId);
  fingers.delete(event.pointerId);
  if (!finger || finger.slipped || finger.two) return;
  const at = spot(event);
  if (at[0] < 0 || at[1] < 0 || at[0] > known.wide || at[1] > known.high) return;
  tap(at);
});

stage.addEventListener("pointercancel", (event) => fingers.delete(event.pointerId));
stage.addEventListener("wheel", (event) => {
  event.preventDefault();
  zoom(event.deltaY < 0 ? 1.2 : 1 / 1.2, spot(event));
}, { passive: false });

/** @param {string} id @param {() => void} act */
function press(id, act) {
  document.querySelector(id)?.addEventListener("click", act);
}

/** The middle of what is seen. @returns {Spot} */
function middle() {
  return [view.x + view.wide / 2, view.y + view.high / 2];
}

for (const button of document.querySelectorAll("[data-tool]")) {
  button.addEventListener("click", () => use(button.getAttribute("data-tool") ?? "limb"));
}
press("#next", () => {
  step();
  const waiting = drawing.limbs.findIndex((limb, at) => at !== drawing.at && limb.points.length === 0);
  if (waiting >= 0) drawing.at = waiting;
  else next();
  use("limb");
  touch();
});
press("#undo", () => {
  const before = steps.pop();
  if (!before) return tell("Nothing to undo.");
  drawing = JSON.parse(before);
  list.replaceChildren();
  touch();
});
press("#closer", () => zoom(1.5, middle()));
press("#further", () => zoom(1 / 1.5, middle()));

const kind = /** @type {HTMLSelectElement} */ (document.querySelector("#scale-kind"));
const long = /** @type {HTMLInputElement} */ (document.querySelector("#scale-long"));
kind.addEventListener("change", () => {
  step();
  drawing.scale_kind = kind.value;
  drawing.scale = [];
  use("scale");
  touch();
});
long.addEventListener("change", () => {
  step();
  drawing.long = long.value;
  touch();
});

form.addEventListener("submit", () => {
  const box = /** @type {HTMLInputElement} */ (form.querySelector("[name=traced]"));
  box.value = JSON.stringify({ ...drawing, limbs: drawing.limbs.filter((limb) => limb.points.length > 0) });
  // The draft stays until the page that follows says that all is kept (kept.js): without a line to the house nothing is lost.
  changed = false;
});

window.addEventListener("resize", draw);
window.addEventListener("beforeunload", (event) => {
  if (changed) event.preventDefault();
});

const kept = sessionStorage.getItem(draft);
if (kept) {
  drawing = JSON.parse(kept);
  changed = true;
}
kind.value = drawing.scale_kind;
long.value = drawing.long;
use(drawing.scale.length === 0 && drawing.limbs.every((limb) => limb.points.length === 0) ? "scale" : "limb");
stage.dataset.ready = "yes";
