/** Between two neighbouring positions of a lift. */
import { Vector3 } from "three";

/** A number. */
export const mixed = (a: number, b: number, part: number) => a + (b - a) * part;

/** A place in millimetres, mirrored or not [m]. */
export function point(points: number[][], at: number, between: number, mirror: boolean): Vector3 {
  const [a, b] = [points[at], points[at + 1] ?? points[at]];
  const [x, y, z] = a.map((v, i) => mixed(v, b[i], between) / 1000);
  return new Vector3(x, mirror ? -y : y, z);
}

/** A direction. */
export function direction(vectors: number[][], at: number, between: number, mirror: boolean): Vector3 {
  const [a, b] = [vectors[at], vectors[at + 1] ?? vectors[at]];
  const [x, y, z] = a.map((v, i) => mixed(v, b[i], between));
  return new Vector3(x, mirror ? -y : y, z).normalize();
}
