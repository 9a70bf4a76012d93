/* A model that can be turned: WebGL2, corners as raw float32, flat faces. The page is whole without it. */
const vertexSource = `#version 300 es
in vec3 corner;
uniform mat4 camera;
uniform vec3 aside;
out vec3 place;
void main() { place = corner + aside; gl_Position = camera * vec4(place, 1.0); }`;
const fragmentSource = `#version 300 es
precision highp float;
in vec3 place;
uniform vec3 tint;
uniform vec3 ink;
uniform vec3 light;
out vec4 colour;
void main() {
  vec3 facing = normalize(cross(dFdx(place), dFdy(place)));
  float lit = 0.35 + 0.65 * abs(dot(facing, light));
  colour = vec4(mix(ink, tint, lit), 1.0);
}`;

const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const minus = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const along = (a, t, b) => [a[0] + t * b[0], a[1] + t * b[1], a[2] + t * b[2]];
const unit = (a) => { const length = Math.hypot(...a); return a.map((value) => value / length); };

const colourOf = (name) => {
  const hex = getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  return [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16) / 255);
};

class Turning {
  constructor(sheet, corners, counts) {
    this.sheet = sheet;
    this.canvas = sheet.querySelector("canvas");
    this.corners = corners;
    this.gl = this.canvas.getContext("webgl2", { antialias: true });
    this.azimuth = -0.6;
    this.height = 0.25;
    this.apart = 0;
    this.picking = false;
    this.picked = [];
    this.measure(counts);
    this.distance = 2.6;
    this.prepare();
  }

  measure(counts) {
    const box = (from, to) => {
      const low = [Infinity, Infinity, Infinity];
      const high = [-Infinity, -Infinity, -Infinity];
      for (let i = from; i < to; i += 3) {
        for (let axis = 0; axis < 3; axis += 1) {
          low[axis] = Math.min(low[axis], this.corners[i + axis]);
          high[axis] = Math.max(high[axis], this.corners[i + axis]);
        }
      }
      return { low, high, middle: low.map((value, axis) => (value + high[axis]) / 2) };
    };
    const whole = box(0, this.corners.length);
    this.middle = whole.middle;
    this.size = Math.hypot(...minus(whole.high, whole.low)) || 1;
    let from = 0;
    this.parts = counts.map((count) => {
      const part = { first: from / 3, count: count * 3, away: minus(box(from, from + count * 9).middle, this.middle) };
      from += count * 9;
      return part;
    });
  }

  prepare() {
    const { gl } = this;
    const program = gl.createProgram();
    for (const [kind, source] of [[gl.VERTEX_SHADER, vertexSource], [gl.FRAGMENT_SHADER, fragmentSource]]) {
      const shader = gl.createShader(kind);
      gl.shaderSource(shader, source);
      gl.compileShader(shader);
      gl.attachShader(program, shader);
    }
    gl.linkProgram(program);
    gl.useProgram(program);
    gl.bindBuffer(gl.ARRAY_BUFFER, gl.createBuffer());
    gl.bufferData(gl.ARRAY_BUFFER, this.corners, gl.STATIC_DRAW);
    const corner = gl.getAttribLocation(program, "corner");
    gl.enableVertexAttribArray(corner);
    gl.vertexAttribPointer(corner, 3, gl.FLOAT, false, 0, 0);
    gl.enable(gl.DEPTH_TEST);
    this.at = Object.fromEntries(["camera", "aside", "tint", "ink", "light"].map((name) => [name, gl.getUniformLocation(program, name)]));
    this.paper = colourOf("--card");
    this.tints = [colourOf("--card"), colourOf("--board")];
    this.ink = colourOf("--soft");
  }

  /* Where the eye is, and its own right, up and forward. */
  eye() {
    const level = Math.cos(this.height);
    const back = [Math.sin(this.azimuth) * level, -Math.cos(this.azimuth) * level, Math.sin(this.height)];
    const from = along(this.middle, this.distance * this.size * 0.5, back);
    const forward = back.map((value) => -value);
    const right = unit(cross(forward, [0, 0, 1]));
    return { from, forward, right, up: cross(right, forward) };
  }

  camera({ from, forward, right, up }) {
    const near = this.size * 0.01;
    const far = this.size * 10;
    const lens = 2.2;
    const ratio = this.canvas.width / this.canvas.height;
    const rows = [right.map((v) => (v * lens) / ratio), up.map((v) => v * lens), forward];
    const shifts = [-dot(rows[0], from), -dot(rows[1], from), -dot(forward, from)];
    const depth = (far + near) / (far - near);
    const fall = (-2 * far * near) / (far - near);
    const columns = [];
    for (let axis = 0; axis < 3; axis += 1) {
      columns.push(rows[0][axis], rows[1][axis], depth * forward[axis], forward[axis]);
    }
    columns.push(shifts[0], shifts[1], depth * shifts[2] + fall, shifts[2]);
    return new Float32Array(columns);
  }

  draw() {
    const { gl } = this;
    const eye = this.eye();
    gl.viewport(0, 0, this.canvas.width, this.canvas.height);
    gl.clearColor(...this.paper, 1);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.uniformMatrix4fv(this.at.camera, false, this.camera(eye));
    gl.uniform3fv(this.at.ink, this.ink);
    gl.uniform3fv(this.at.light, unit(along(along(eye.forward, -0.5, eye.right), 0.4, eye.up)));
    this.parts.forEach((part, index) => {
      gl.uniform3fv(this.at.aside, part.away.map((value) => value * this.apart));
      gl.uniform3fv(this.at.tint, this.tints[index % 2]);
      gl.drawArrays(gl.TRIANGLES, part.first, part.count);
    });
  }

  turn(how) {
    const steps = {
      left: () => { this.azimuth -= 0.26; },
      right: () => { this.azimuth += 0.26; },
      up: () => { this.height = Math.min(1.45, this.height + 0.2); },
      down: () => { this.height = Math.max(-1.45, this.height - 0.2); },
      nearer: () => { this.distance = Math.max(0.6, this.distance * 0.8); },
      farther: () => { this.distance = Math.min(8, this.distance * 1.25); },
      apart: () => {
        this.distance *= this.apart ? 1 / 1.4 : 1.4;
        this.apart = this.apart ? 0 : 0.45;
      },
      pick: () => { this.picking = !this.picking; this.picked = []; },
    };
    steps[how]();
    this.draw();
  }

  /* The nearest place on the model under a point of the canvas, or null. */
  under(event) {
    const rect = this.canvas.getBoundingClientRect();
    const eye = this.eye();
    const x = ((event.clientX - rect.left) / rect.width) * 2 - 1;
    const y = 1 - ((event.clientY - rect.top) / rect.height) * 2;
    const ratio = this.canvas.width / this.canvas.height;
    const ray = unit(along(along(eye.forward, (x * ratio) / 2.2, eye.right), y / 2.2, eye.up));
    let nearest = null;
    for (const part of this.parts) {
      const from = along(eye.from, -this.apart, part.away);
      for (let face = part.first / 3; face < (part.first + part.count) / 3; face += 1) {
        const distance = this.meets(from, ray, face * 9);
        if (distance !== null && (nearest === null || distance < nearest.distance)) {
          nearest = { distance, place: along(from, distance, ray) };
        }
      }
    }
    return nearest && nearest.place;
  }

  meets(from, ray, at) {
    const a = Array.from(this.corners.subarray(at, at + 3));
    const ab = minus(Array.from(this.corners.subarray(at + 3, at + 6)), a);
    const ac = minus(Array.from(this.corners.subarray(at + 6, at + 9)), a);
    const p = cross(ray, ac);
    const volume = dot(ab, p);
    if (Math.abs(volume) < 1e-14) return null;
    const t = minus(from, a);
    const u = dot(t, p) / volume;
    if (u < 0 || u > 1) return null;
    const q = cross(t, ab);
    const v = dot(ray, q) / volume;
    if (v < 0 || u + v > 1) return null;
    const distance = dot(ac, q) / volume;
    return distance > 0 ? distance : null;
  }
}

const say = (sheet, sentence) => { sheet.querySelector("[data-said]").textContent = sentence; };

const keepPoint = (turning, place) => {
  const form = document.querySelector("form[data-points]");
  if (!place) { say(turning.sheet, "There is no model at that place; click on the model."); return; }
  turning.picked.push(place);
  const names = ["first", "second", "third"];
  const input = form.elements[`points-${names[turning.picked.length - 1]}`];
  input.value = place.map((value) => value.toFixed(3)).join(" ");
  form.closest("details").open = true;
  if (turning.picked.length < 3) {
    say(turning.sheet, `The ${names[turning.picked.length - 1]} point is ${input.value} m. Click on the next.`);
    return;
  }
  turning.picking = false;
  turning.sheet.querySelector("[data-turn=pick]").setAttribute("aria-pressed", "false");
  say(turning.sheet, "Three points are taken; they stand under “Through three points”. Look at them there and part the model.");
};

const listen = (turning) => {
  const { sheet, canvas } = turning;
  sheet.addEventListener("click", (event) => {
    const button = event.target.closest("[data-turn]");
    if (!button) return;
    turning.turn(button.dataset.turn);
    if (button.hasAttribute("aria-pressed")) {
      const pressed = button.dataset.turn === "apart" ? turning.apart > 0 : turning.picking;
      button.setAttribute("aria-pressed", String(pressed));
    }
    if (button.dataset.turn === "pick") say(sheet, turning.picking ? "Click on the first of three points on the model." : "");
  });
  let held = null;
  canvas.addEventListener("pointerdown", (event) => {
    held = { x: event.clientX, y: event.clientY, moved: false };
    canvas.setPointerCapture(event.pointerId);
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!held) return;
    const [dx, dy] = [event.clientX - held.x, event.clientY - held.y];
    if (!held.moved && Math.hypot(dx, dy) < 4) return;
    turning.azimuth -= dx * 0.008;
    turning.height = Math.max(-1.45, Math.min(1.45, turning.height + dy * 0.006));
    held = { x: event.clientX, y: event.clientY, moved: true };
    requestAnimationFrame(() => turning.draw());
  });
  canvas.addEventListener("pointerup", (event) => {
    if (held && !held.moved && turning.picking) keepPoint(turning, turning.under(event));
    held = null;
  });
  canvas.addEventListener("pointercancel", () => { held = null; });
  canvas.addEventListener("webglcontextlost", () => { sheet.hidden = true; });
};

const show = async (sheet) => {
  if (!document.createElement("canvas").getContext("webgl2")) return;
  const answer = await fetch(sheet.dataset.view, { credentials: "same-origin" });
  if (!answer.ok) return;
  const corners = new Float32Array(await answer.arrayBuffer());
  sheet.hidden = false;
  const turning = new Turning(sheet, corners, sheet.dataset.parts.split(",").map(Number));
  listen(turning);
  turning.draw();
  sheet.dataset.drawn = "yes";
};

const sheet = document.getElementById("turning");
if (sheet) show(sheet);
