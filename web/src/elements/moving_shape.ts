/** A surface that moves between the key positions of a lift. */
import { BufferAttribute, BufferGeometry, DynamicDrawUsage } from "three";

/** Its points are known at each key position; normals are worked out once, when a position is first come to. */
export class MovingShape {
  readonly geometry = new BufferGeometry();
  private readonly normals: (Float32Array | undefined)[] = [];

  constructor(
    private readonly keys: Float32Array[],
    private readonly faces: Uint16Array,
  ) {
    this.geometry.setAttribute("position", new BufferAttribute(new Float32Array(keys[0].length), 3).setUsage(DynamicDrawUsage));
    this.geometry.setAttribute("normal", new BufferAttribute(new Float32Array(keys[0].length), 3).setUsage(DynamicDrawUsage));
    this.geometry.setIndex(new BufferAttribute(faces, 1));
  }

  /** Put it between two key positions, by how much of the way. */
  place(from: number, to: number, between: number): void {
    this.mix("position", this.keys[from], this.keys[to], between);
    this.mix("normal", this.normal(from), this.normal(to), between);
    this.geometry.boundingSphere = null;
  }

  private mix(name: string, a: Float32Array, b: Float32Array, share: number): void {
    const attribute = this.geometry.attributes[name];
    const out = attribute.array;
    for (let i = 0; i < out.length; i++) out[i] = a[i] + (b[i] - a[i]) * share;
    attribute.needsUpdate = true;
  }

  private normal(key: number): Float32Array {
    return (this.normals[key] ??= normalsOf(this.keys[key], this.faces));
  }
}

/** Unit normals at the points of a surface, by area. Written without small arrays: it is most of what a figure costs at first. */
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
    add(out, a, x, y, z);
    add(out, b, x, y, z);
    add(out, c, x, y, z);
  }
  for (let i = 0; i < out.length; i += 3) {
    const size = Math.sqrt(out[i] * out[i] + out[i + 1] * out[i + 1] + out[i + 2] * out[i + 2]) || 1;
    out[i] /= size;
    out[i + 1] /= size;
    out[i + 2] /= size;
  }
  return out;
}

function add(out: Float32Array, at: number, x: number, y: number, z: number): void {
  out[at] += x;
  out[at + 1] += y;
  out[at + 2] += z;
}
