/** Muscle lines as tubes: one geometry for all of them, rewritten for each position. */
import { BufferAttribute, BufferGeometry, DynamicDrawUsage } from "three";

const RINGS = 16;
const SIDES = 8;
const TENDON_M = 0.0022;
const BELLY = 0.6;

/** How one line is drawn at one position. */
export interface Shape {
  points: ArrayLike<number>;
  mirror: boolean;
  radius: number;
  fibreShare: number;
  fibreLength: number;
  colour: readonly number[];
  tendon: readonly number[];
}

/** A geometry with room for some tubes. */
export class Tubes {
  readonly geometry = new BufferGeometry();
  private readonly position: Float32Array;
  private readonly normal: Float32Array;
  private readonly colour: Float32Array;
  private readonly path = new Float32Array(RINGS * 3);

  constructor(count: number) {
    const vertices = count * RINGS * SIDES;
    this.position = new Float32Array(vertices * 3);
    this.normal = new Float32Array(vertices * 3);
    this.colour = new Float32Array(vertices * 3);
    for (const [name, values] of [
      ["position", this.position],
      ["normal", this.normal],
      ["color", this.colour],
    ] as const) {
      this.geometry.setAttribute(name, new BufferAttribute(values, 3).setUsage(DynamicDrawUsage));
    }
    this.geometry.setIndex(indices(count));
  }

  /** Write one tube. */
  write(slot: number, shape: Shape): void {
    along(shape.points, shape.mirror, this.path);
    const belly = Math.max(TENDON_M, (BELLY * shape.radius) / Math.sqrt(Math.max(shape.fibreLength, 0.3)));
    const frame = new Frame();
    for (let i = 0; i < RINGS; i++) {
      frame.turn(this.path, i);
      const u = Math.abs(i / (RINGS - 1) - 0.5) / (0.4 + 0.6 * shape.fibreShare);
      const swell = u < 0.5 ? Math.cos(Math.PI * u) ** 1.3 : 0;
      this.ring((slot * RINGS + i) * SIDES, i, frame, TENDON_M + (belly - TENDON_M) * swell, shape, Math.min(1, swell * 4));
    }
  }

  /** Draw only the first tubes, and take over what was written. */
  finish(used: number): void {
    this.geometry.setDrawRange(0, used * (RINGS - 1) * SIDES * 6);
    for (const name of ["position", "normal", "color"]) (this.geometry.getAttribute(name) as BufferAttribute).needsUpdate = true;
  }

  private ring(first: number, i: number, frame: Frame, radius: number, shape: Shape, flesh: number): void {
    const { a, b } = frame;
    for (let k = 0; k < SIDES; k++) {
      const c = COS[k];
      const s = SIN[k];
      const at = (first + k) * 3;
      for (let d = 0; d < 3; d++) {
        const n = a[d] * c + b[d] * s;
        this.normal[at + d] = n;
        this.position[at + d] = this.path[i * 3 + d] + n * radius;
        this.colour[at + d] = shape.tendon[d] + (shape.colour[d] - shape.tendon[d]) * flesh;
      }
    }
  }
}

const COS = Array.from({ length: SIDES }, (_, k) => Math.cos((2 * Math.PI * k) / SIDES));
const SIN = Array.from({ length: SIDES }, (_, k) => Math.sin((2 * Math.PI * k) / SIDES));

/** A frame carried along a path without twisting. */
class Frame {
  readonly a = [1, 0, 0];
  readonly b = [0, 1, 0];

  turn(path: Float32Array, i: number): void {
    const from = Math.max(i - 1, 0) * 3;
    const to = Math.min(i + 1, RINGS - 1) * 3;
    const t = unit([path[to] - path[from], path[to + 1] - path[from + 1], path[to + 2] - path[from + 2]]);
    if (i === 0) {
      const across = Math.abs(t[1]) < 0.9 ? [0, 1, 0] : [1, 0, 0];
      copy(unit(cross(across, t)), this.a);
    } else {
      const lean = dot(this.a, t);
      copy(unit([this.a[0] - lean * t[0], this.a[1] - lean * t[1], this.a[2] - lean * t[2]]), this.a);
    }
    copy(cross(t, this.a), this.b);
  }
}

/** Points evenly spaced along a smooth curve through millimetre points, in metres. */
function along(points: ArrayLike<number>, mirror: boolean, out: Float32Array): void {
  const n = points.length / 3;
  const sign = mirror ? -1 : 1;
  const at = (i: number, d: number) => (points[Math.min(Math.max(i, 0), n - 1) * 3 + d] * (d === 1 ? sign : 1)) / 1000;
  const reach = [0];
  for (let i = 1; i < n; i++)
    reach.push(reach[i - 1] + Math.hypot(at(i, 0) - at(i - 1, 0), at(i, 1) - at(i - 1, 1), at(i, 2) - at(i - 1, 2)));
  let k = 0;
  for (let r = 0; r < RINGS; r++) {
    const want = (reach[n - 1] * r) / (RINGS - 1);
    while (k < n - 2 && reach[k + 1] < want) k++;
    const span = reach[k + 1] - reach[k];
    const u = span > 1e-6 ? Math.min(Math.max((want - reach[k]) / span, 0), 1) : 0;
    for (let d = 0; d < 3; d++) out[r * 3 + d] = hermite(at(k, d), at(k + 1, d), slope(k, d) * span, slope(k + 1, d) * span, u);
  }

  /** Change per metre at a point; the chord there, so that the curve does not overshoot where points are uneven. */
  function slope(i: number, d: number): number {
    const from = Math.max(i - 1, 0);
    const to = Math.min(i + 1, n - 1);
    return (at(to, d) - at(from, d)) / Math.max(reach[to] - reach[from], 1e-6);
  }
}

function hermite(p: number, q: number, m: number, k: number, u: number): number {
  const u2 = u * u;
  const u3 = u2 * u;
  return (2 * u3 - 3 * u2 + 1) * p + (u3 - 2 * u2 + u) * m + (3 * u2 - 2 * u3) * q + (u3 - u2) * k;
}

function indices(count: number): number[] {
  const out: number[] = [];
  for (let line = 0; line < count; line++) {
    for (let i = 0; i < RINGS - 1; i++) {
      for (let k = 0; k < SIDES; k++) {
        const a = (line * RINGS + i) * SIDES + k;
        const b = (line * RINGS + i) * SIDES + ((k + 1) % SIDES);
        out.push(a, b, a + SIDES, b, b + SIDES, a + SIDES);
      }
    }
  }
  return out;
}

const dot = (a: number[], b: number[]) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: number[], b: number[]) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
function unit(v: number[]): number[] {
  const size = Math.hypot(v[0], v[1], v[2]) || 1;
  return [v[0] / size, v[1] / size, v[2] / size];
}
function copy(from: number[], to: number[]): void {
  for (let d = 0; d < 3; d++) to[d] = from[d];
}
