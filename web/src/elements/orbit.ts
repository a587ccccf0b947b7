/** Looking at the figure from all sides: pointer, touch, wheel with Ctrl, arrow keys. */
import { Box3, PerspectiveCamera, Vector2, Vector3 } from "three";

const STEP = Math.PI / 24;
const MARGIN = 1.05;
/** How much of a picture's height or width the body fills at least: columns far away are cut rather than the body made small (own choice). */
const LEAST_SHARE = 0.75;
/** So often a picture is moved to where the same room is left on both sides, which perspective shifts. */
const MOVES = 4;

/** Views by name: heading from straight ahead towards the left, and height of the eye, both in degrees. */
export const VIEWS: Record<string, [number, number]> = { best: [-52, 12], side: [-90, 3], front: [0, 3], back: [180, 3] };

/** A camera that turns around a point. */
export class Orbit {
  readonly camera = new PerspectiveCamera(30, 1, 0.05, 30);
  private heading = 0;
  private height = 0;
  private distance = 4;
  private readonly centre = new Vector3(0, 0, 0.9);
  /** From where this lift is best seen. */
  best = VIEWS.best;
  private named = "best";
  private framed?: { points: Vector3[]; beside: Vector3[]; aspect: number };
  private readonly touches = new Map<number, [number, number]>();

  constructor(
    private readonly target: HTMLElement,
    private readonly changed: () => void,
  ) {
    this.camera.up.set(0, 0, 1);
    this.view("best");
    target.addEventListener("pointerdown", (e) => this.down(e));
    target.addEventListener("pointermove", (e) => this.move(e));
    for (const name of ["pointerup", "pointercancel", "lostpointercapture"] as const) {
      target.addEventListener(name, (e) => this.touches.delete(e.pointerId));
    }
    target.addEventListener("wheel", (e) => this.wheel(e), { passive: false });
    target.addEventListener("keydown", (e) => this.key(e));
  }

  /** One of the named views, or a heading and a height in degrees. */
  view(name: string, [heading, height]: [number, number] = name === "best" ? this.best : VIEWS[name]): void {
    this.named = name;
    this.heading = (heading * Math.PI) / 180;
    this.height = (height * Math.PI) / 180;
    if (this.framed) this.frame(this.framed.points, this.framed.beside, this.framed.aspect);
    else this.update();
  }

  /** Which view it is: its name, or its heading and height in whole degrees. */
  get turned(): string {
    return this.named || [this.heading, this.height].map((v) => Math.round((v * 180) / Math.PI)).join(",");
  }

  /** Look as `turned` says. */
  set turned(asked: string) {
    const numbers = asked.split(",").map(Number);
    if (asked in VIEWS) this.view(asked);
    else if (numbers.length === 2 && numbers.every(Number.isFinite))
      this.view("", [numbers[0], Math.min(Math.max(numbers[1], -20), 80)]);
  }

  /** Look so that all these points are seen, with as much of what is beside them as leaves them large; again when a named view is taken. */
  frame(points: Vector3[], beside: Vector3[], aspect: number): void {
    this.framed = { points, beside, aspect };
    new Box3().setFromPoints(points).getCenter(this.centre);
    this.update();
    const axes = [0, 1, 2].map((k) => new Vector3().setFromMatrixColumn(this.camera.matrix, k));
    const [own, other] = [points, beside].map((some) => some.map((p) => axes.map((axis) => p.clone().sub(this.centre).dot(axis))));
    const [wide, tall] = [0, 1].map((k) => size(ends(own, k)));
    const room = Math.max(wide / aspect, tall) / LEAST_SHARE;
    const x = widened(ends(own, 0), ends([...own, ...other], 0), room * aspect - wide);
    const y = lowered(ends(own, 1), ends([...own, ...other], 1), room - tall);
    const half = Math.tan((this.camera.fov * Math.PI) / 360);
    const shown = [...own, ...other].map(([px, py, d]) => {
      const [sx, sy] = [within(px, x), within(py, y)];
      return [sx, sy, sx === px && sy === py ? d : Math.min(d, 0)];
    });
    const middle = [(x[0] + x[1]) / 2, (y[0] + y[1]) / 2];
    for (let move = 0; move < MOVES; move++) {
      const needed = shown.map(([sx, sy, d]) => Math.max(Math.abs(sx - middle[0]) / aspect, Math.abs(sy - middle[1])) / half + d);
      this.distance = Math.max(0.8, ...needed) * MARGIN;
      for (const k of [0, 1]) {
        const [low, high] = ends(
          shown.map((s) => [(s[k] - middle[k]) / (this.distance - s[2])]),
          0,
        );
        middle[k] += ((low + high) / 2) * this.distance;
      }
    }
    this.centre.addScaledVector(axes[0], middle[0]).addScaledVector(axes[1], middle[1]);
    this.update();
  }

  /** A place of the window, from -1 to 1 across and up the view. */
  at(x: number, y: number): Vector2 {
    const box = this.target.getBoundingClientRect();
    return new Vector2(((x - box.left) / box.width) * 2 - 1, 1 - ((y - box.top) / box.height) * 2);
  }

  private update(): void {
    const flat = Math.cos(this.height) * this.distance;
    this.camera.position.set(
      this.centre.x + flat * Math.cos(this.heading),
      this.centre.y + flat * Math.sin(this.heading),
      Math.max(this.centre.z + Math.sin(this.height) * this.distance, 0.02),
    );
    this.camera.lookAt(this.centre);
    this.camera.updateMatrix();
    this.changed();
  }

  private turn(across: number, up: number): void {
    this.named = "";
    this.heading -= across;
    this.height = Math.min(Math.max(this.height + up, -0.4), 1.45);
    this.update();
  }

  private zoom(factor: number): void {
    this.distance = Math.min(Math.max(this.distance * factor, 0.8), 9);
    this.update();
  }

  private down(event: PointerEvent): void {
    this.touches.set(event.pointerId, [event.clientX, event.clientY]);
    this.target.setPointerCapture(event.pointerId);
  }

  private move(event: PointerEvent): void {
    const last = this.touches.get(event.pointerId);
    if (!last) return;
    const other = [...this.touches].find(([id]) => id !== event.pointerId)?.[1];
    const gap = (p: [number, number]) => (other ? Math.hypot(p[0] - other[0], p[1] - other[1]) : 1);
    const now: [number, number] = [event.clientX, event.clientY];
    if (other) this.zoom(gap(last) / Math.max(gap(now), 1));
    else this.turn((now[0] - last[0]) * 0.008, (now[1] - last[1]) * 0.006);
    this.touches.set(event.pointerId, now);
  }

  private wheel(event: WheelEvent): void {
    if (!event.ctrlKey && !event.metaKey) return;
    event.preventDefault();
    this.zoom(Math.exp(event.deltaY * 0.002));
  }

  private key(event: KeyboardEvent): void {
    const turns: Record<string, [number, number]> = {
      ArrowLeft: [STEP, 0],
      ArrowRight: [-STEP, 0],
      ArrowUp: [0, STEP],
      ArrowDown: [0, -STEP],
    };
    if (event.key in turns) this.turn(...turns[event.key]);
    else if (event.key === "+" || event.key === "=") this.zoom(0.9);
    else if (event.key === "-") this.zoom(1.1);
    else return;
    event.preventDefault();
  }
}

type Ends = [number, number];

const ends = (seen: number[][], k: number): Ends =>
  seen.reduce<Ends>(([low, high], s) => [Math.min(low, s[k]), Math.max(high, s[k])], [Infinity, -Infinity]);
const size = ([low, high]: Ends): number => high - low;
const within = (v: number, [low, high]: Ends): number => Math.min(Math.max(v, low), high);

/** Ends moved out towards others as far as there is room: first down to what carries the body, then up. */
function lowered(own: Ends, all: Ends, room: number): Ends {
  const down = Math.min(own[0] - all[0], room);
  return [own[0] - down, own[1] + Math.min(all[1] - own[1], room - down)];
}

/** Ends moved out towards others as far as there is room, by the same share on both sides. */
function widened(own: Ends, all: Ends, room: number): Ends {
  const [low, high] = [own[0] - all[0], all[1] - own[1]];
  const share = Math.min(1, room / Math.max(low + high, 1e-9));
  return [own[0] - low * share, own[1] + high * share];
}
