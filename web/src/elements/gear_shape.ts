/** What acts on the body of glass: bars, cables, pads, handles, the floor. */
import {
  BoxGeometry,
  CircleGeometry,
  CylinderGeometry,
  DoubleSide,
  Group,
  Matrix4,
  Mesh,
  MeshBasicMaterial,
  MeshLambertMaterial,
  Object3D,
  Quaternion,
  SphereGeometry,
  TorusGeometry,
  Vector3,
} from "three";
import type { Figure } from "../api";
import { direction, point } from "./between";

const UP = new Vector3(0, 1, 0);
const FLOOR_MM = 45;
const STILL_MM = 80;

/** Something that is put anew at each position. */
type Mover = (at: number, between: number) => void;

/** Everything of a figure that is not the body. */
export class GearShape {
  readonly group = new Group();
  private readonly load = new MeshBasicMaterial();
  private readonly metal = new MeshLambertMaterial();
  private readonly pad = new MeshLambertMaterial({ side: DoubleSide, transparent: true, opacity: 0.62, depthWrite: false });
  private readonly floor = new MeshBasicMaterial({ depthWrite: false });
  private movers: Mover[] = [];

  /** Colours of the load, metal parts, pads and floor. */
  paint(load: string, metal: string, pad: string, floor: string): void {
    this.load.color.set(load);
    this.metal.color.set(metal);
    this.pad.color.set(pad);
    this.floor.color.set(floor);
  }

  /** Build everything for a figure. */
  build(figure: Figure): void {
    this.group.clear();
    this.movers = [];
    this.addFloor(figure);
    for (const mirror of figure.mirrored ? [false, true] : [false]) {
      for (const load of figure.loads) this.addLoad(figure, load, mirror);
      this.addSupports(figure, mirror);
    }
    if (figure.bar || figure.gear.includes("bar")) this.addBar(figure);
  }

  /** Put everything where it is between two neighbouring positions. */
  place(at: number, between: number): void {
    for (const move of this.movers) move(at, between);
  }

  private add(mesh: Object3D, move?: Mover): void {
    this.group.add(mesh);
    if (move) this.movers.push(move);
  }

  private addFloor(figure: Figure): void {
    const feet = figure.ends_mm.flatMap((ends) => ends.filter((_, i) => i % 3 === 2));
    if (Math.min(...feet) > 300) return;
    const disc = new Mesh(new CircleGeometry(1.15, 56), this.floor);
    const middle = figure.ends_mm[0];
    disc.position.set((middle[0] + middle[3]) / 2000, 0, -0.004);
    disc.renderOrder = -1;
    this.add(disc);
  }

  private addLoad(figure: Figure, load: Figure["loads"][number], mirror: boolean): void {
    if (load.from_mm) this.addCable(load, load.from_mm, mirror, figure.resistance === "band");
    else if (/dumbbell|kettlebell/.test(figure.gear)) this.addDumbbell(load, mirror, figure.gear.includes("kettle"));
    else if (figure.resistance === "lever") this.addPad(load, mirror);
  }

  private addCable(load: Figure["loads"][number], from: number[], mirror: boolean, band: boolean): void {
    const start = new Vector3(from[0], from[1] * (mirror ? -1 : 1), from[2]).divideScalar(1000);
    const line = new Mesh(new CylinderGeometry(band ? 0.009 : 0.004, band ? 0.009 : 0.004, 1, 8), band ? this.load : this.metal);
    const pulley = new Mesh(new TorusGeometry(0.045, 0.014, 10, 26), this.metal);
    pulley.position.copy(start);
    pulley.rotation.x = Math.PI / 2;
    this.add(pulley);
    this.add(line, (at, between) => stretch(line, start, point(load.points_mm, at, between, mirror)));
  }

  private addDumbbell(load: Figure["loads"][number], mirror: boolean, kettle: boolean): void {
    const whole = new Group();
    const handle = new Mesh(new CylinderGeometry(0.014, 0.014, 0.16, 12), this.metal);
    whole.add(handle);
    for (const end of kettle ? [] : [-1, 1]) {
      const disc = new Mesh(new CylinderGeometry(0.062, 0.062, 0.07, 24), this.metal);
      disc.position.y = end * 0.1;
      whole.add(disc);
    }
    const ball = new Mesh(new SphereGeometry(0.085, 20, 14), this.metal);
    if (kettle) this.add(ball);
    this.add(whole, (at, between) => {
      const where = point(load.points_mm, at, between, mirror);
      whole.position.copy(where);
      ball.position.copy(where).add(new Vector3(0, 0, -0.12));
      whole.quaternion.setFromUnitVectors(UP, direction(load.handle, at, between, mirror));
    });
  }

  private addPad(load: Figure["loads"][number], mirror: boolean): void {
    const roll = new Mesh(new CylinderGeometry(0.045, 0.045, 0.2, 20), this.pad);
    this.add(roll, (at, between) => {
      const push = direction(load.direction, at, between, mirror);
      roll.position.copy(point(load.points_mm, at, between, mirror)).addScaledVector(push, -0.05);
    });
  }

  private addBar(figure: Figure): void {
    const load = figure.loads[0];
    if (!load || figure.resistance !== "free_weight") return;
    const other = figure.mirrored ? null : figure.loads[1];
    if (!figure.mirrored && !other) return;
    const whole = new Group();
    const long = figure.gear.includes("cambered") ? 0.6 : 1.05;
    const bar = new Mesh(new CylinderGeometry(0.014, 0.014, 2 * long, 14), this.metal);
    whole.add(bar);
    for (const end of [-1, 1]) {
      const disc = new Mesh(new CylinderGeometry(long > 1 ? 0.2 : 0.12, long > 1 ? 0.2 : 0.12, 0.045, 40), this.metal);
      disc.position.y = end * (long - 0.22);
      whole.add(disc);
    }
    this.add(whole, (at, between) => {
      const a = point(load.points_mm, at, between, false);
      const b = other ? point(other.points_mm, at, between, false) : point(load.points_mm, at, between, true);
      whole.position.addVectors(a, b).multiplyScalar(0.5);
      whole.quaternion.setFromUnitVectors(UP, b.sub(a).normalize());
    });
  }

  private addSupports(figure: Figure, mirror: boolean): void {
    const slabs = new Map<string, { push: number[]; points: number[][] }>();
    for (const support of figure.supports) {
      if (support.push === null) this.addHandle(support, mirror);
      else if (support.moves || !isStill(support.points_mm)) this.addPlate(support, support.push, mirror);
      else if (!(support.push[2] > 0.9 && support.points_mm[0][2] < FLOOR_MM) && !mirror) {
        const key = support.push.map((v) => v.toFixed(1)).join();
        const slab = slabs.get(key) ?? { push: support.push, points: [] };
        const p = support.points_mm[0];
        slab.points.push(p, ...(figure.mirrored ? [[p[0], -p[1], p[2]]] : []));
        slabs.set(key, slab);
      }
    }
    for (const slab of slabs.values()) if (Math.abs(slab.push[1]) < 0.3) this.addSlab(slab.push, slab.points);
  }

  private addHandle(support: Figure["supports"][number], mirror: boolean): void {
    const bar = new Mesh(new CylinderGeometry(0.015, 0.015, 0.15, 12), this.metal);
    this.add(bar, (at, between) => bar.position.copy(point(support.points_mm, at, between, mirror)));
  }

  private addPlate(support: Figure["supports"][number], push: number[], mirror: boolean): void {
    const plate = new Mesh(new BoxGeometry(0.13, 0.03, 0.13), this.pad);
    const normal = new Vector3(push[0], push[1] * (mirror ? -1 : 1), push[2]);
    plate.quaternion.setFromUnitVectors(UP, normal);
    this.add(plate, (at, between) =>
      plate.position.copy(point(support.points_mm, at, between, mirror)).addScaledVector(normal, -0.03),
    );
  }

  /** A bench, seat or backrest behind the points that rest on it. */
  private addSlab(push: number[], points: number[][]): void {
    const n = new Vector3(...push).normalize();
    const y = new Vector3(0, 1, 0);
    const t = new Vector3().crossVectors(n, y).normalize();
    const all = points.map((p) => new Vector3(p[0], p[1], p[2]).divideScalar(1000));
    const extent = (axis: Vector3): [number, number] => [
      Math.min(...all.map((p) => p.dot(axis))),
      Math.max(...all.map((p) => p.dot(axis))),
    ];
    const [t0, t1] = extent(t);
    const [y0, y1] = extent(y);
    const depth = extent(n)[0] - 0.03;
    const box = new Mesh(new BoxGeometry(t1 - t0 + 0.2, Math.max(y1 - y0 + 0.08, 0.26), 0.055), this.pad);
    box.matrixAutoUpdate = false;
    const centre = new Vector3()
      .addScaledVector(t, (t0 + t1) / 2)
      .addScaledVector(y, (y0 + y1) / 2)
      .addScaledVector(n, depth);
    box.matrix.copy(new Matrix4().makeBasis(t, y, n).setPosition(centre));
    this.add(box);
  }
}

function isStill(points: number[][]): boolean {
  return points.every((p) => Math.hypot(p[0] - points[0][0], p[1] - points[0][1], p[2] - points[0][2]) < STILL_MM);
}

function stretch(mesh: Mesh, from: Vector3, to: Vector3): void {
  const along = new Vector3().subVectors(to, from);
  mesh.scale.y = along.length();
  mesh.position.addVectors(from, to).multiplyScalar(0.5);
  mesh.quaternion.copy(new Quaternion().setFromUnitVectors(UP, along.normalize()));
}
