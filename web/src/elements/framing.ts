/** What a figure's view has to show. */
import { Box3, Vector3 } from "three";
import type { Figure } from "../api";

const GEAR_BEYOND_M = 1.35; // to the pulleys of cables
/** About so many positions decide what is looked at. */
const POSITIONS = 9;
const AROUND = [
  new Vector3(0.06, 0, 0),
  new Vector3(-0.06, 0, 0),
  new Vector3(0, 0.06, 0),
  new Vector3(0, -0.06, 0),
  new Vector3(0, 0, 0.1),
  new Vector3(0, 0, -0.03),
];

/** Points [m] round the body: at a position 0-1, all through the lift where none is named. */
export function bodyPoints(figure: Figure, position?: number): Vector3[] {
  const all = figure.ends_mm;
  const now = position === undefined ? -1 : Math.round(position * (all.length - 1));
  const some = now < 0 ? all.filter((_, k) => k % Math.ceil(all.length / POSITIONS) === 0 || k === all.length - 1) : [all[now]];
  return some.flatMap((ends) => {
    const out: Vector3[] = [];
    for (let i = 0; i < ends.length; i += 3) {
      const p = new Vector3(ends[i], ends[i + 1], ends[i + 2]).divideScalar(1000);
      for (const way of AROUND) out.push(p.clone().add(way));
    }
    return out;
  });
}

/** Those of the gear's points that are near the body's. */
export function nearBody(body: Vector3[], gear: Vector3[]): Vector3[] {
  const near = new Box3().setFromPoints(body).expandByScalar(GEAR_BEYOND_M);
  return gear.filter((p) => near.containsPoint(p));
}
