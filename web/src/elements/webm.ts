/** Encoded pictures as a WebM file (Matroska's element IDs, RFC 9559; SimpleBlocks of VP8). */

/** One encoded picture: when it is shown [ms], and whether it needs none before it. */
export interface Block {
  data: Uint8Array;
  at: number;
  key: boolean;
}

/** A film without sound of pictures of one size. */
export function webmOf(blocks: Block[], [width, height]: [number, number], lasts_ms: number): Blob {
  const head = element(
    [0x1a, 0x45, 0xdf, 0xa3],
    number([0x42, 0x86], 1),
    number([0x42, 0xf7], 1),
    number([0x42, 0xf2], 4),
    number([0x42, 0xf3], 8),
    text([0x42, 0x82], "webm"),
    number([0x42, 0x87], 2),
    number([0x42, 0x85], 2),
  );
  const info = element(
    [0x15, 0x49, 0xa9, 0x66],
    number([0x2a, 0xd7, 0xb1], 1_000_000),
    element([0x44, 0x89], real(lasts_ms)),
    text([0x4d, 0x80], "lengthwise"),
    text([0x57, 0x41], "lengthwise"),
  );
  const video = element([0xe0], number([0xb0], width), number([0xba], height));
  const track = element(
    [0xae],
    number([0xd7], 1),
    number([0x73, 0xc5], 1),
    number([0x9c], 0),
    text([0x86], "V_VP8"),
    number([0x83], 1),
    video,
  );
  const cluster = element([0x1f, 0x43, 0xb6, 0x75], number([0xe7], 0), ...blocks.map(simple));
  return new Blob([head, element([0x18, 0x53, 0x80, 0x67], info, element([0x16, 0x54, 0xae, 0x6b], track), cluster)], {
    type: "video/webm",
  });
}

function simple({ data, at, key }: Block): Uint8Array<ArrayBuffer> {
  const time = Math.round(at);
  return element([0xa3], Uint8Array.of(0x81, time >> 8, time & 0xff, key ? 0x80 : 0), data);
}

/** An element: its ID, its size in eight bytes, and what it holds. */
function element(id: number[], ...parts: Uint8Array[]): Uint8Array<ArrayBuffer> {
  const size = parts.reduce((sum, part) => sum + part.length, 0);
  const out = new Uint8Array(id.length + 8 + size);
  out.set(id);
  new DataView(out.buffer).setBigUint64(id.length, 2n ** 56n + BigInt(size));
  let at = id.length + 8;
  for (const part of parts) {
    out.set(part, at);
    at += part.length;
  }
  return out;
}

const number = (id: number[], value: number): Uint8Array =>
  element(id, Uint8Array.of(value >>> 24, value >>> 16, value >>> 8, value));
const text = (id: number[], value: string): Uint8Array => element(id, new TextEncoder().encode(value));

function real(value: number): Uint8Array {
  const out = new DataView(new ArrayBuffer(8));
  out.setFloat64(0, value);
  return new Uint8Array(out.buffer);
}
