/** A surface that moves between the key positions of a lift. */
import { BufferAttribute, BufferGeometry, DynamicDrawUsage, Sphere, Vector3 } from "three";
import { mirrored } from "./solids_file";

/** Its points are known at each key position; normals are worked out once, when a position is first come to, or taken from the other side's. Its last triangles, the `walls`, do not turn them. */
export class MovingShape {
  readonly geometry = new BufferGeometry();
  private readonly normals: (Float32Array | undefined)[] = [];

  constructor(
    private readonly keys: Float32Array[],
    private readonly faces: Uint16Array,
    private readonly twin?: MovingShape,
    private readonly walls = 0,
  ) {
    this.geometry.setAttribute("position", new BufferAttribute(new Float32Array(keys[0].length), 3).setUsage(DynamicDrawUsage));
    this.geometry.setAttribute("normal", new BufferAttribute(new Float32Array(keys[0].length), 3).setUsage(DynamicDrawUsage));
    this.geometry.setIndex(new BufferAttribute(faces, 1));
  }

  /** Put it between two key positions, by how much of the way. */
  place(from: number, to: number, between: number): void {
    this.mix("position", this.keys[from], this.keys[to], between);
    const own = this.normal(from);
    this.mix("normal", own, between ? this.normal(to) : own, between);
    this.geometry.boundingSphere = around(this.geometry.attributes.position.array as Float32Array);
  }

  private mix(name: string, a: Float32Array, b: Float32Array, share: number): void {
    const attribute = this.geometry.attributes[name];
    const out = attribute.array;
    if (share) for (let i = 0; i < out.length; i++) out[i] = a[i] + (b[i] - a[i]) * share;
    else out.set(a);
    attribute.needsUpdate = true;
  }

  private normal(key: number): Float32Array {
    return (this.normals[key] ??= this.twin
      ? mirrored(this.twin.normal(key))
      : normalsOf(this.keys[key], this.faces.subarray(0, this.faces.length - 3 * this.walls)));
  }
}

/** Unit normals at the points of a surface, by area. Written without small arrays and calls: it is most of what a figure costs at first. */
export function normalsOf(points: Float32Array, faces: Uint16Array): Float32Array {
  const out = new Float32Array(points.length);
  for (let f = 0; f < faces.length; f += 3) {
    const a = 3 * faces[f];
    const b = 3 * faces[f + 1];
    const c = 3 * faces[f + 2];
    const ux = points[b] - points[a];
    const uy = points[b + 1] - points[a + 1];
    const uz = points[b + 2] - points[a + 2];
    const vx = points[c] - points[a];
    const vy = points[c + 1] - points[a + 1];
    const vz = points[c + 2] - points[a + 2];
    const x = uy * vz - uz * vy;
    const y = uz * vx - ux * vz;
    const z = ux * vy - uy * vx;
    out[a] += x;
    out[a + 1] += y;
    out[a + 2] += z;
    out[b] += x;
    out[b + 1] += y;
    out[b + 2] += z;
    out[c] += x;
    out[c + 1] += y;
    out[c + 2] += z;
  }
  for (let i = 0; i < out.length; i += 3) {
    const size = Math.sqrt(out[i] * out[i] + out[i + 1] * out[i + 1] + out[i + 2] * out[i + 2]) || 1;
    out[i] /= size;
    out[i + 1] /= size;
    out[i + 2] /= size;
  }
  return out;
}

/** A ball that holds all points, wanted for every surface and frame: its middle is that of the box around them. */
export function around(points: Float32Array): Sphere {
  const [low, high] = [
    [0, 0, 0],
    [0, 0, 0],
  ];
  for (let d = 0; d < 3; d++) {
    let [least, most] = [Infinity, -Infinity];
    for (let i = d; i < points.length; i += 3) {
      const v = points[i];
      if (v < least) least = v;
      if (v > most) most = v;
    }
    [low[d], high[d]] = [least, most];
  }
  const [a, b] = [new Vector3().fromArray(low), new Vector3().fromArray(high)];
  return new Sphere(a.clone().add(b).multiplyScalar(0.5), a.distanceTo(b) / 2);
}
