// Paints over an outline: strokes that add wood or take some off, kept as lines of spots.

const canvas = /** @type {SVGSVGElement} */ (/** @type {unknown} */ (document.querySelector("#canvas")));
const layer = /** @type {SVGGElement} */ (canvas.querySelector("#strokes"));
const form = /** @type {HTMLFormElement} */ (document.querySelector("#keep"));
const box = /** @type {HTMLInputElement} */ (form.querySelector("[name=strokes]"));
const brush = /** @type {HTMLInputElement} */ (document.querySelector("#brush"));

/** What stood before this visit. */
const before = box.value;
/** @type {{ on: boolean, half: number, path: [number, number][] }[]} */
const strokes = [];
let on = true;
let painting = false;

/** @param {PointerEvent} event @returns {[number, number]} */
function spot(event) {
  const to = canvas.getScreenCTM()?.inverse();
  const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(to);
  return [Math.round(at.x * 10) / 10, Math.round(at.y * 10) / 10];
}

/** Draws the strokes of this visit and writes all into the form. */
function draw() {
  layer.replaceChildren(...strokes.map((stroke) => {
    const line = document.createElementNS("http://www.w3.org/2000/svg", "polyline");
    const path = stroke.path.length > 1 ? stroke.path : [...stroke.path, ...stroke.path];
    line.setAttribute("points", path.map((at) => at.join(",")).join(" "));
    line.setAttribute("class", stroke.on ? "brush-on" : "brush-off");
    line.setAttribute("stroke-width", String(stroke.half * 2));
    return line;
  }));
  const lines = strokes.map((stroke) => `${stroke.on ? "on" : "off"} ${stroke.half} ${stroke.path.map((at) => at.join(",")).join(" ")}`);
  box.value = [before, ...lines].filter((line) => line !== "").join("; ");
}

canvas.addEventListener("pointerdown", (event) => {
  canvas.setPointerCapture(event.pointerId);
  painting = true;
  strokes.push({ on, half: Number(brush.value) / 2, path: [spot(event)] });
  draw();
});
canvas.addEventListener("pointermove", (event) => {
  const stroke = strokes.at(-1);
  if (!painting || !stroke) return;
  const at = spot(event), last = stroke.path.at(-1);
  if (last && Math.hypot(at[0] - last[0], at[1] - last[1]) < stroke.half / 2) return;
  stroke.path.push(at);
  draw();
});
for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, () => (painting = false));
for (const button of document.querySelectorAll("[data-brush]")) {
  button.addEventListener("click", () => {
    on = button.getAttribute("data-brush") === "on";
    for (const it of document.querySelectorAll("[data-brush]")) it.setAttribute("aria-pressed", String(it === button));
  });
}
document.querySelector("#undo")?.addEventListener("click", () => {
  strokes.pop();
  draw();
});
canvas.dataset.ready = "yes";
