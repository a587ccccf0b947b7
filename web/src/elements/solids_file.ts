/** Reads the files of a lift's solids and of the bones; laid out as src/lengthwise/figure/packing.py says. */

/** Where an array begins behind the header, and how many numbers it has. */
export type Where = [number, number];

export interface MuscleHead {
  head: string;
  side: string;
  deep: boolean;
  points: Where;
  faces: Where;
  walls: number;
  tendon: Where;
  fibre: Where;
}
export interface SceneHead {
  step: number;
  keys: number;
  mirrored: boolean;
  floor: number;
  view: [number, number];
  muscles: MuscleHead[];
  rigid: { name: string; kind: "bone" | "skin" | "flesh" | "fascia"; left: boolean; place: Where }[];
  kneecaps: { points: Where; faces: Where }[];
  gear: { material: string; clear: boolean; still: boolean; points: Where; faces: Where }[];
}
export interface BonesHead {
  step: number;
  solids: { name: string; points: Where; faces: Where }[];
}

/** A file that has come: its header, and its arrays by name. */
export class Packed<Head extends { step: number }> {
  readonly head: Head;
  private readonly begin: number;

  constructor(private readonly raw: ArrayBuffer) {
    const size = new DataView(raw).getUint32(0, true);
    this.begin = 4 + size;
    this.head = JSON.parse(new TextDecoder().decode(new Uint8Array(raw, 4, size)));
  }

  bytes([at, count]: Where): Uint8Array {
    return new Uint8Array(this.raw, this.begin + at, count);
  }

  reals([at, count]: Where): Float32Array {
    return new Float32Array(this.raw, this.begin + at, count);
  }

  /** Triangles, their differences undone. */
  faces([at, count]: Where): Uint16Array {
    const out = new Uint16Array(this.raw, this.begin + at, count).slice();
    for (let i = 1; i < count; i++) out[i] += out[i - 1];
    return out;
  }

  /** x, y, z of every point in each key position, differences undone. */
  places([at, count]: Where, keys: number): Float32Array[] {
    const grid = new Int16Array(this.raw, this.begin + at, count).slice();
    const n = count / keys / 3;
    const { step } = this.head;
    return Array.from({ length: keys }, (_, k) => {
      const out = new Float32Array(n * 3);
      for (let c = 0; c < 3; c++) {
        const row = (k * 3 + c) * n;
        let sum = 0;
        for (let i = row, at = c; i < row + n; i++, at += 3) {
          if (k) grid[i] += grid[i - 3 * n];
          sum = ((sum + grid[i]) << 16) >> 16;
          out[at] = sum * step;
        }
      }
      return out;
    });
  }
}

/** The same triangles seen from the other side. */
export function flipped(faces: Uint16Array): Uint16Array {
  const out = faces.slice();
  for (let i = 0; i < out.length; i += 3) {
    out[i] = faces[i + 2];
    out[i + 2] = faces[i];
  }
  return out;
}

/** The same points on the other side of the body. */
export function mirrored(points: Float32Array): Float32Array {
  const out = points.slice();
  for (let i = 1; i < out.length; i += 3) out[i] = -out[i];
  return out;
}
