// Marks the grey card and the pot on a photo: two boxes that are drawn with a finger, or typed.

const canvas = /** @type {SVGSVGElement} */ (/** @type {unknown} */ (document.querySelector("#canvas")));
const form = /** @type {HTMLFormElement} */ (document.querySelector("#boxes"));

/** @param {string} name @returns {HTMLInputElement} */
const field = (name) => /** @type {HTMLInputElement} */ (form.elements.namedItem(name));
const edges = ["left", "top", "wide", "high"];
let which = "card";

/** Draws both boxes as their fields say. */
function draw() {
  for (const name of ["card", "pot"]) {
    const box = /** @type {SVGRectElement} */ (canvas.querySelector(`#${name}-box`));
    const [left, top, wide, high] = edges.map((edge) => Number(field(`${name}_${edge}`).value) || 0);
    for (const [key, value] of Object.entries({ x: left, y: top, width: wide, height: high })) {
      box.setAttribute(key, String(value));
    }
  }
}

/** @param {PointerEvent} event @returns {[number, number]} */
function spot(event) {
  const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(canvas.getScreenCTM()?.inverse());
  const inside = (/** @type {number} */ it, /** @type {number} */ most) => Math.round(Math.min(Math.max(it, 0), most));
  return [inside(at.x, canvas.viewBox.baseVal.width), inside(at.y, canvas.viewBox.baseVal.height)];
}

/** @type {[number, number] | null} */
let from = null;
canvas.addEventListener("pointerdown", (event) => {
  canvas.setPointerCapture(event.pointerId);
  from = spot(event);
});
canvas.addEventListener("pointermove", (event) => {
  if (!from) return;
  const to = spot(event);
  const told = [Math.min(from[0], to[0]), Math.min(from[1], to[1]), Math.abs(to[0] - from[0]), Math.abs(to[1] - from[1])];
  edges.forEach((edge, at) => (field(`${which}_${edge}`).value = String(told[at])));
  draw();
});
for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, () => {
  if (from && which === "card" && Number(field("card_wide").value) > 0) choose("pot");
  from = null;
});

/** @param {string} name */
function choose(name) {
  which = name;
  for (const it of document.querySelectorAll("[data-box]")) {
    it.setAttribute("aria-pressed", String(it.getAttribute("data-box") === name));
  }
}
for (const button of document.querySelectorAll("[data-box]")) {
  button.addEventListener("click", () => choose(button.getAttribute("data-box") ?? "card"));
}
form.addEventListener("input", draw);
draw();
canvas.dataset.ready = "yes";
