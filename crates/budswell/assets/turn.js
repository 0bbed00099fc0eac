// Turns a tree in the round: its limbs as tapered wood, darker the nearer, with what is meant for each drawn beside it.

/** A segment: base x, y, z, radius, tip x, y, z, radius in mm, and its limb. @typedef {[number, number, number, number, number, number, number, number, number]} Wood */
/** @typedef {{ wood: Wood[], marks: { limb: number, word: string, at: [number, number, number] }[], high: number, wide: number }} Shape */

const canvas = /** @type {HTMLCanvasElement} */ (document.querySelector("#round-view"));
const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
const shape = /** @type {Shape} */ (JSON.parse(document.querySelector("#shape")?.textContent ?? "{}"));
const turn = /** @type {HTMLInputElement} */ (document.querySelector("#turn"));
const words = /** @type {HTMLElement} */ (document.querySelector("#turned"));
const sideways = /** @type {HTMLInputElement | null} */ (document.querySelector("#sideways"));
const forward = /** @type {HTMLInputElement | null} */ (document.querySelector("#forward"));

/** Shades from far to near. */
const SHADES = 4;

/** Base and tip of every segment as seen: across, up, away. */
const seen = new Float64Array(shape.wood.length * 6);
let waits = false;
/** How long the last frames took to draw, ms. @type {number[]} */
const took = [];

/** The colours of the page, light or dark. */
function colours() {
  const style = getComputedStyle(document.documentElement);
  return { near: style.getPropertyValue("--ink"), far: style.getPropertyValue("--far"), soil: style.getPropertyValue("--soft"), word: style.getPropertyValue("--ink"), card: style.getPropertyValue("--card") };
}

/** Where a spot comes to lie when the tree is turned and tilted. @param {number} x @param {number} y @param {number} z @param {Float64Array} cs */
function turned(x, y, z, cs) {
  const [c, s, cl, sl, cf, sf] = cs;
  const [leanX, leanZ] = [x * cl + z * sl, z * cl - x * sl];
  const [leanY, upZ] = [y * cf - leanZ * sf, leanZ * cf + y * sf];
  return [leanX * c - leanY * s, upZ, leanX * s + leanY * c];
}

/** Sines and cosines of what the fields say. */
function angles() {
  const radians = (/** @type {string | undefined} */ degrees) => ((Number(degrees) || 0) * Math.PI) / 180;
  const [t, l, f] = [radians(turn.value), radians(sideways?.value), radians(forward?.value)];
  return new Float64Array([Math.cos(t), Math.sin(t), Math.cos(l), Math.sin(l), Math.cos(f), Math.sin(f)]);
}

/** Draws the tree as it stands now. */
function draw() {
  waits = false;
  const began = performance.now();
  const density = window.devicePixelRatio || 1;
  const [wide, high] = [canvas.clientWidth * density, canvas.clientHeight * density];
  if (canvas.width !== wide || canvas.height !== high) Object.assign(canvas, { width: wide, height: high });
  const scale = Math.min(wide / (shape.wide * 1.08), high / (shape.high * 1.12));
  const cs = angles();
  let [nearest, furthest] = [Infinity, -Infinity];
  shape.wood.forEach((it, at) => {
    const base = turned(it[0], it[1], it[2], cs), tip = turned(it[4], it[5], it[6], cs);
    seen.set([base[0], base[1], base[2], tip[0], tip[1], tip[2]], at * 6);
    nearest = Math.min(nearest, tip[2]);
    furthest = Math.max(furthest, tip[2]);
  });
  const [middle, floor] = [wide / 2, high * 0.94];
  const { near, far, soil, word, card } = colours();
  pen.clearRect(0, 0, wide, high);
  pen.strokeStyle = soil;
  pen.lineWidth = density;
  pen.beginPath();
  pen.moveTo(wide * 0.06, floor);
  pen.lineTo(wide * 0.94, floor);
  pen.stroke();
  for (let shade = 0; shade < SHADES; shade++) {
    pen.beginPath();
    shape.wood.forEach((it, at) => {
      const away = (furthest - seen[at * 6 + 5]) / Math.max(1, furthest - nearest);
      if (Math.min(SHADES - 1, Math.floor(away * SHADES)) !== shade) return;
      limb(at === 0, it[3] * scale, it[7] * scale, middle + seen[at * 6] * scale, floor - seen[at * 6 + 1] * scale, middle + seen[at * 6 + 3] * scale, floor - seen[at * 6 + 4] * scale);
    });
    pen.fillStyle = `color-mix(in srgb, ${near} ${(100 * (shade + 1)) / SHADES}%, ${far})`;
    pen.fill();
  }
  pen.font = `600 ${13 * density}px system-ui, sans-serif`;
  pen.lineWidth = 4 * density;
  pen.strokeStyle = card;
  pen.fillStyle = word;
  for (const mark of shape.marks) {
    const [x, up] = turned(...mark.at, cs);
    pen.strokeText(mark.word, middle + x * scale + 4 * density, floor - up * scale);
    pen.fillText(mark.word, middle + x * scale + 4 * density, floor - up * scale);
  }
  say();
  took.push(performance.now() - began);
  if (took.length > 120) took.shift();
  canvas.dataset.frames = String(Number(canvas.dataset.frames ?? 0) + 1);
  canvas.dataset.took = ([...took].sort((a, b) => a - b)[Math.floor(took.length * 0.95)] ?? 0).toFixed(2);
}

/** Adds one tapered piece of wood to the path; the trunk's foot stands flat. @param {boolean} flat @param {number} r0 @param {number} r1 @param {number} x0 @param {number} y0 @param {number} x1 @param {number} y1 */
function limb(flat, r0, r1, x0, y0, x1, y1) {
  const [dx, dy] = [x1 - x0, y1 - y0];
  const long = Math.hypot(dx, dy) || 1;
  const [nx, ny] = [-dy / long, dx / long];
  const [a, b] = [Math.max(r0, 0.45), Math.max(r1, 0.4)];
  const [fx, fy] = flat ? [dy > 0 ? -1 : 1, 0] : [nx, ny];
  pen.moveTo(x0 + fx * a, y0 + fy * a);
  pen.lineTo(x1 + nx * b, y1 + ny * b);
  pen.lineTo(x1 - nx * b, y1 - ny * b);
  pen.lineTo(x0 - fx * a, y0 - fy * a);
  pen.closePath();
  if (b > 1.2) {
    pen.moveTo(x1 + b, y1);
    // The same way round as the wood, or the two would cut each other out.
    pen.arc(x1, y1, b, 0, 2 * Math.PI, true);
  }
}

/** Says from which hour the tree is seen. */
function say() {
  const hour = ((((Math.round(Number(turn.value) / 30) + 5) % 12) + 12) % 12) + 1;
  words.textContent = hour === 6 ? "from today's front" : hour === 12 ? "from the back" : `from ${hour} o'clock`;
  const box = /** @type {HTMLInputElement | null} */ (document.querySelector("#seen-from"));
  if (box) box.value = String(hour);
}

/** Draws with the next frame, once however often it is asked. */
function ask() {
  if (waits) return;
  waits = true;
  requestAnimationFrame(draw);
}

/** @type {{ x: number, was: number } | null} */
let drag = null;
canvas.addEventListener("pointerdown", (event) => {
  canvas.setPointerCapture(event.pointerId);
  drag = { x: event.clientX, was: Number(turn.value) };
});
canvas.addEventListener("pointermove", (event) => {
  if (!drag) return;
  const by = ((event.clientX - drag.x) / Math.max(1, canvas.clientWidth)) * 360;
  turn.value = String((((drag.was - by) % 360) + 360) % 360);
  ask();
});
for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, () => (drag = null));
for (const box of [turn, sideways, forward]) box?.addEventListener("input", ask);
for (const button of document.querySelectorAll("[data-turn]")) {
  button.addEventListener("click", () => {
    turn.value = button.getAttribute("data-turn") ?? "0";
    ask();
  });
}
new ResizeObserver(ask).observe(canvas);
matchMedia("(prefers-color-scheme: dark)").addEventListener("change", ask);
canvas.dataset.ready = "yes";
ask();
