// Turns a tree in the round: its limbs as tapered wood, darker the nearer. The graphics card draws it where there is one.

/** A segment: base x, y, z, radius, tip x, y, z, radius in mm, and its limb. @typedef {[number, number, number, number, number, number, number, number, number]} Wood */
/** @typedef {{ wood: Wood[], marks: { limb: number, word: string, at: [number, number, number] }[], high: number, wide: number }} Shape */

const canvas = /** @type {HTMLCanvasElement} */ (document.querySelector("#round-view"));
const names = /** @type {HTMLCanvasElement} */ (document.querySelector("#round-names"));
const pen = /** @type {CanvasRenderingContext2D} */ (names.getContext("2d"));
const shape = /** @type {Shape} */ (JSON.parse(document.querySelector("#shape")?.textContent ?? "{}"));
const turn = /** @type {HTMLInputElement} */ (document.querySelector("#turn"));
const words = /** @type {HTMLElement} */ (document.querySelector("#turned"));
const sideways = /** @type {HTMLInputElement | null} */ (document.querySelector("#sideways"));
const forward = /** @type {HTMLInputElement | null} */ (document.querySelector("#forward"));

/** The soil lies so far down the picture. */
const FLOOR = 0.94;

/** Shades from far to near where no graphics card draws. */
const SHADES = 4;

let waits = false;
/** While it turns it is drawn coarser; once it stands, sharp again. */
let moves = false;
/** Fires when it has stood for a moment. @type {number | undefined} */
let still;
/** How long the last frames took, ms. @type {number[]} */
const took = [];

/** The page's colours, read again when they change: as they are written, and as three numbers from 0 to 1. */
let ink = paints();
/** The picture's size on the page. */
const size = { wide: 0, high: 0 };
/** The hour it was last said to be seen from. */
let said = 0;

function paints() {
  const style = getComputedStyle(document.documentElement);
  const read = (/** @type {string} */ name) => style.getPropertyValue(name).trim();
  const parts = (/** @type {string} */ name) => [1, 3, 5].map((at) => parseInt(read(name).slice(at, at + 2), 16) / 255);
  return { ink: read("--ink"), soft: read("--soft"), card: read("--card"), dark: parts("--ink"), pale: parts("--far") };
}

/** Where the tree's own axes come to lie: right, away and up, column by column. @returns {number[][]} */
function axes() {
  const radians = (/** @type {string | undefined} */ degrees) => ((Number(degrees) || 0) * Math.PI) / 180;
  const [t, l, f] = [radians(turn.value), radians(sideways?.value), radians(forward?.value)];
  const put = (/** @type {number} */ x, /** @type {number} */ y, /** @type {number} */ z) => {
    const [leanX, leanZ] = [x * Math.cos(l) + z * Math.sin(l), z * Math.cos(l) - x * Math.sin(l)];
    const [leanY, up] = [y * Math.cos(f) - leanZ * Math.sin(f), leanZ * Math.cos(f) + y * Math.sin(f)];
    return [leanX * Math.cos(t) - leanY * Math.sin(t), leanX * Math.sin(t) + leanY * Math.cos(t), up];
  };
  return [put(1, 0, 0), put(0, 1, 0), put(0, 0, 1)];
}

/** @param {number[][]} by @param {number} x @param {number} y @param {number} z */
function turned(by, x, y, z) {
  return [0, 1, 2].map((at) => by[0][at] * x + by[1][at] * y + by[2][at] * z);
}

const VERTEX = `
attribute vec4 base; attribute vec4 tip; attribute vec3 corner;
uniform mat3 by; uniform vec2 scale; uniform float floorAt; uniform float reach; uniform float thin;
varying float near;
void main() {
  vec3 a = by * base.xyz, b = by * tip.xyz;
  vec2 way = b.xz - a.xz;
  way = length(way) > 0.001 ? normalize(way) : vec2(0.0, 1.0);
  // The third tells the end: 0 the base, 1 the tip, 2 the foot of the trunk, which stands flat on the soil.
  float end = corner.z == 1.0 ? 1.0 : 0.0;
  float r = max(mix(base.w, tip.w, end), thin);
  vec3 at = mix(a, b, end);
  vec2 across = corner.z == 2.0 ? vec2(-1.0, 0.0) : vec2(-way.y, way.x);
  vec2 spot = at.xz + (across * corner.x + way * corner.y) * r;
  near = clamp(0.5 - at.y / (2.0 * reach), 0.0, 1.0);
  gl_Position = vec4(spot.x * scale.x, spot.y * scale.y - floorAt, at.y / (4.0 * reach), 1.0);
}`;

const FRAGMENT = `
precision mediump float; varying float near; uniform vec3 dark; uniform vec3 pale;
void main() { gl_FragColor = vec4(mix(pale, dark, smoothstep(0.15, 0.75, near)), 1.0); }`;

/** A drawer on the graphics card; null where there is none. */
function card() {
  const gl = canvas.getContext("webgl", { antialias: false, alpha: true, preserveDrawingBuffer: true });
  if (!gl) return null;
  const program = gl.createProgram();
  for (const [kind, text] of /** @type {const} */ ([[gl.VERTEX_SHADER, VERTEX], [gl.FRAGMENT_SHADER, FRAGMENT]])) {
    const shader = gl.createShader(kind);
    if (!shader || !program) return null;
    gl.shaderSource(shader, text);
    gl.compileShader(shader);
    gl.attachShader(program, shader);
  }
  if (!program) return null;
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS)) return null;
  gl.useProgram(program);
  // Two triangles for each piece of wood, then for each a fan of four that rounds its tip; those are left out while it turns.
  const round = [0, 1, 2, 3, 4].map((step) => [Math.cos((step * Math.PI) / 4), Math.sin((step * Math.PI) / 4), 1]);
  const fan = [0, 1, 2, 3].flatMap((step) => [[0, 0, 1], round[step], round[step + 1]]);
  const corners = (/** @type {number} */ foot) => [[-1, 0, foot], [1, 0, foot], [1, 0, 1], [-1, 0, foot], [1, 0, 1], [-1, 0, 1]];
  const wood = shape.wood.flatMap((it, at) => corners(at === 0 ? 2 : 0).flatMap((corner) => [...it.slice(0, 8), ...corner]));
  const tips = shape.wood.flatMap((it) => fan.flatMap((corner) => [...it.slice(0, 8), ...corner]));
  const rows = new Float32Array([...wood, ...tips]);
  gl.bindBuffer(gl.ARRAY_BUFFER, gl.createBuffer());
  gl.bufferData(gl.ARRAY_BUFFER, rows, gl.STATIC_DRAW);
  for (const [name, size, from] of /** @type {const} */ ([["base", 4, 0], ["tip", 4, 4], ["corner", 3, 8]])) {
    const at = gl.getAttribLocation(program, name);
    gl.enableVertexAttribArray(at);
    gl.vertexAttribPointer(at, size, gl.FLOAT, false, 44, from * 4);
  }
  gl.enable(gl.DEPTH_TEST);
  const at = (/** @type {string} */ name) => gl.getUniformLocation(program, name);
  const places = { by: at("by"), scale: at("scale"), floorAt: at("floorAt"), reach: at("reach"), thin: at("thin"), dark: at("dark"), pale: at("pale") };
  return (/** @type {number[][]} */ by, /** @type {number} */ scale) => {
    const [wide, high] = [canvas.width, canvas.height];
    gl.viewport(0, 0, wide, high);
    gl.clearColor(0, 0, 0, 0);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.uniformMatrix3fv(places.by, false, by.flat());
    gl.uniform2f(places.scale, (2 * scale) / wide, (2 * scale) / high);
    gl.uniform1f(places.floorAt, 2 * FLOOR - 1);
    gl.uniform1f(places.reach, Math.max(1, shape.wide));
    gl.uniform1f(places.thin, 0.45 / scale);
    gl.uniform3fv(places.dark, ink.dark);
    gl.uniform3fv(places.pale, ink.pale);
    gl.drawArrays(gl.TRIANGLES, 0, (moves ? wood.length : rows.length) / 11);
  };
}

/** A drawer without a graphics card. */
function hand() {
  const brush = canvas.getContext("2d");
  return (/** @type {number[][]} */ by, /** @type {number} */ scale) => {
    if (!brush) return;
    const [middle, floor] = [canvas.width / 2, canvas.height * FLOOR];
    brush.clearRect(0, 0, canvas.width, canvas.height);
    const seen = shape.wood.map((it) => [...turned(by, it[0], it[1], it[2]), ...turned(by, it[4], it[5], it[6])]);
    for (let shade = 0; shade < SHADES; shade++) {
      brush.beginPath();
      seen.forEach(([x0, , z0, x1, y1, z1], at) => {
        const near = Math.min(0.999, Math.max(0, 0.5 - y1 / (2 * Math.max(1, shape.wide))));
        if (Math.floor(near * SHADES) !== shade) return;
        limb(brush, at === 0, shape.wood[at][3] * scale, shape.wood[at][7] * scale, middle + x0 * scale, floor - z0 * scale, middle + x1 * scale, floor - z1 * scale);
      });
      const mixed = ink.pale.map((pale, at) => Math.round(255 * (pale + (ink.dark[at] - pale) * ((shade + 1) / SHADES))));
      brush.fillStyle = `rgb(${mixed.join(" ")})`;
      brush.fill();
    }
  };
}

/** Adds one tapered piece of wood to the path; the trunk's foot stands flat. @param {CanvasRenderingContext2D} brush @param {boolean} flat @param {number} r0 @param {number} r1 @param {number} x0 @param {number} y0 @param {number} x1 @param {number} y1 */
function limb(brush, flat, r0, r1, x0, y0, x1, y1) {
  const [dx, dy] = [x1 - x0, y1 - y0];
  const long = Math.hypot(dx, dy) || 1;
  const [nx, ny] = [-dy / long, dx / long];
  const [a, b] = [Math.max(r0, 0.45), Math.max(r1, 0.4)];
  const [fx, fy] = flat ? [dy > 0 ? -1 : 1, 0] : [nx, ny];
  brush.moveTo(x0 + fx * a, y0 + fy * a);
  brush.lineTo(x1 + nx * b, y1 + ny * b);
  brush.lineTo(x1 - nx * b, y1 - ny * b);
  brush.lineTo(x0 - fx * a, y0 - fy * a);
  if (b > 2) {
    brush.moveTo(x1 + b, y1);
    // The same way round as the wood, or the two would cut each other out.
    brush.arc(x1, y1, b, 0, 2 * Math.PI, true);
  }
}

const drawn = card() ?? hand();

/** Draws the tree as it stands now, with the numbers of its main limbs. */
function draw() {
  waits = false;
  const began = performance.now();
  // Standing, it is drawn twice as fine as it is shown, which smooths its edges.
  const density = moves ? 1 : 2;
  const [wide, high] = [Math.round(size.wide * density), Math.round(size.high * density)];
  for (const it of [canvas, names]) if (it.width !== wide || it.height !== high) Object.assign(it, { width: wide, height: high });
  const scale = Math.min(wide / (shape.wide * 1.08), high / (shape.high * 1.12));
  const by = axes();
  drawn(by, scale);
  const [middle, floor] = [wide / 2, high * FLOOR];
  pen.clearRect(0, 0, wide, high);
  pen.strokeStyle = ink.soft;
  pen.lineWidth = density;
  pen.beginPath();
  pen.moveTo(wide * 0.06, floor);
  pen.lineTo(wide * 0.94, floor);
  pen.stroke();
  pen.font = `600 ${13 * density}px system-ui, sans-serif`;
  pen.lineWidth = 4 * density;
  pen.strokeStyle = ink.card;
  pen.fillStyle = ink.ink;
  for (const mark of shape.marks) {
    const [x, , up] = turned(by, ...mark.at);
    const spot = /** @type {const} */ ([middle + x * scale + 4 * density, floor - up * scale]);
    if (!moves) pen.strokeText(mark.word, ...spot);
    pen.fillText(mark.word, ...spot);
  }
  say();
  took.push(performance.now() - began);
  if (took.length > 120) took.shift();
  canvas.dataset.frames = String(Number(canvas.dataset.frames ?? 0) + 1);
  canvas.dataset.took = ([...took].sort((a, b) => a - b)[Math.floor(took.length * 0.95)] ?? 0).toFixed(2);
}

/** Says from which hour the tree is seen. */
function say() {
  const hour = ((((Math.round(Number(turn.value) / 30) + 5) % 12) + 12) % 12) + 1;
  if (hour === said) return;
  said = hour;
  words.textContent = hour === 6 ? "from today's front" : hour === 12 ? "from the back" : `from ${hour} o'clock`;
  const box = /** @type {HTMLInputElement | null} */ (document.querySelector("#seen-from"));
  if (box) box.value = String(hour);
}

/** Draws with the next frame while it turns, and sharp once it stands. */
function move() {
  moves = true;
  clearTimeout(still);
  still = window.setTimeout(() => {
    moves = false;
    ask();
  }, 250);
  ask();
}

/** Draws with the next frame, once however often it is asked. */
function ask() {
  if (waits) return;
  waits = true;
  requestAnimationFrame(draw);
}

/** @type {{ x: number, was: number } | null} */
let drag = null;
names.addEventListener("pointerdown", (event) => {
  names.setPointerCapture(event.pointerId);
  drag = { x: event.clientX, was: Number(turn.value) };
});
names.addEventListener("pointermove", (event) => {
  if (!drag) return;
  const by = ((event.clientX - drag.x) / Math.max(1, canvas.clientWidth)) * 360;
  turn.value = String((((drag.was - by) % 360) + 360) % 360);
  move();
});
for (const end of ["pointerup", "pointercancel"]) names.addEventListener(end, () => (drag = null));
for (const box of [turn, sideways, forward]) box?.addEventListener("input", move);
for (const button of document.querySelectorAll("[data-turn]")) {
  button.addEventListener("click", () => {
    turn.value = button.getAttribute("data-turn") ?? "0";
    ask();
  });
}
new ResizeObserver((seen) => {
  Object.assign(size, { wide: seen[0].contentRect.width, high: seen[0].contentRect.height });
  ask();
}).observe(canvas);
matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => {
  ink = paints();
  ask();
});
Object.assign(size, { wide: canvas.clientWidth, high: canvas.clientHeight });
// A form that comes back names the hour it was sent with; the picture starts there.
const hour = Number(/** @type {HTMLSelectElement | null} */ (document.querySelector("#seen-from"))?.value ?? 6);
turn.value = String((((hour - 6) * 30) % 360 + 360) % 360);
canvas.dataset.ready = "yes";
ask();
