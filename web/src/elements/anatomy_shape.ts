/** The body as bones and muscle volumes, and its gear, between the key positions of a lift. */
import {
  Box3,
  BufferAttribute,
  BufferGeometry,
  Color,
  Group,
  Intersection,
  Matrix4,
  Mesh,
  MeshStandardMaterial,
  Object3D,
  Quaternion,
  Raycaster,
  SRGBColorSpace,
  Vector3,
} from "three";
import { around, MovingShape, normalsOf } from "./moving_shape";
import { ThinSkin } from "./thin_skin";
import { flipped, mirrored, Packed, type BonesHead, type MuscleHead, type SceneHead } from "./solids_file";

/** How deep one looks: everything under a thin skin, all muscles, deep ones alone, or bones. */
export type Layers = "skin" | "muscles" | "deep" | "bones";

/** What a muscle is called and how it is coloured; a colour is linear red, green, blue. */
export type ColourOf = (head: string, side: string) => readonly number[];

interface Flesh {
  head: string;
  side: string;
  deep: boolean;
  keys: Float32Array[];
  mesh: Mesh<BufferGeometry, MeshStandardMaterial>;
}
type Carried = { mesh: Mesh; place: Float32Array };

const GEAR = ["steel", "iron", "rubber", "pad", "frame", "rope", "band"];
const GEAR_STEP = 2;
const THIN = 0.12; // how opaque muscles and gear are where a deep muscle was chosen
const AROUND_M = 0.12; // about a muscle that is looked at from near by
const GRAIN =
  "diffuseColor.rgb = mix(diffuseColor.rgb, tendonColour, vTendon); diffuseColor.rgb *= 1.0 + 0.08 * sin(vGrain * 56.5) + 0.04 * sin(vGrain * 144.5 + 1.0);";

/** Bones, muscles and gear of one lift. */
export class AnatomyShape {
  readonly group = new Group();
  readonly skin = new ThinSkin();
  private readonly materials: Record<string, MeshStandardMaterial> = {};
  private flesh: Flesh[] = [];
  private moving: MovingShape[] = [];
  private placedAt = NaN;
  private pieces: Float32Array[][] = [];
  private carried: Carried[] = [];
  private keys = 1;
  private readonly tendon = new Color();
  private readonly pointer = new Raycaster();
  private marked = "";
  private chosen = false;
  private layersNow: Layers = "muscles";
  private alone = false;
  /** Height of the floor [m]. */
  floor = 0;

  constructor() {
    for (const name of ["bone", "skin", "flesh", "fascia"]) this.materials[name] = new MeshStandardMaterial({ roughness: 0.72 });
    for (const name of GEAR) this.materials[name] = new MeshStandardMaterial({ roughness: 0.5 });
    this.materials.clear = new MeshStandardMaterial({ roughness: 0.5, transparent: true, opacity: 0.3, depthWrite: false });
  }

  /** Colours of everything but the muscles, by name. */
  paint(colours: Record<string, string>): void {
    for (const [name, material] of Object.entries(this.materials)) if (colours[name]) material.color.set(colours[name]);
    this.tendon.set(colours.tendon);
    this.skin.paint(colours.skin);
  }

  /** Build a lift's solids anew. */
  build(lift: Packed<SceneHead>, bones: Packed<BonesHead>): void {
    this.clear();
    const { head } = lift;
    this.keys = head.keys;
    this.floor = head.floor;
    for (const muscle of head.muscles) {
      const own = {
        points: lift.places(muscle.points, head.keys),
        faces: lift.faces(muscle.faces),
        tendon: lift.bytes(muscle.tendon),
      };
      const fibre = Float32Array.from(lift.bytes(muscle.fibre), (v) => v / 100);
      const twin = this.addMuscle(muscle, own.points, own.faces, own.tendon, fibre);
      if (head.mirrored)
        this.addMuscle({ ...muscle, side: "left" }, own.points.map(mirrored), flipped(own.faces), own.tendon, fibre, twin);
    }
    const known = new Map(
      bones.head.solids.map((s) => [s.name, { points: bones.places(s.points, 1)[0], faces: bones.faces(s.faces) }]),
    );
    for (const part of head.rigid) {
      const { points, faces } = known.get(part.name)!;
      const mesh = this.solid(part.left ? mirrored(points) : points, part.left ? flipped(faces) : faces, this.materials[part.kind]);
      mesh.matrixAutoUpdate = false;
      this.carried.push({ mesh, place: lift.reals(part.place) });
      this.skin.cover(mesh, part.kind === "skin" ? "as_it_is" : "solid");
    }
    for (const cap of head.kneecaps)
      this.skin.cover(this.addMoving(lift.places(cap.points, head.keys), lift.faces(cap.faces), this.materials.bone), "flesh");
    for (const piece of head.gear) {
      const points = lift.places(piece.points, piece.still ? 1 : head.keys);
      this.pieces.push(points);
      this.addMoving(points, lift.faces(piece.faces), this.materials[piece.clear ? "clear" : piece.material]);
    }
    this.placedAt = NaN;
    this.uncover();
  }

  /** Put everything where it is at a position, 0-1. */
  place(position: number): void {
    if (position === this.placedAt) return;
    this.placedAt = position;
    const t = position * (this.keys - 1);
    const at = Math.min(Math.floor(t), Math.max(this.keys - 2, 0));
    const [between, next] = [t - at, Math.min(at + 1, this.keys - 1)];
    for (const shape of this.moving) shape.place(at, next, between);
    for (const { mesh, place } of this.carried) carry(mesh, place, at, next, between);
  }

  /** Colour every muscle anew; tendons stay pale. */
  colour(of: ColourOf): void {
    for (const { head, side, mesh } of this.flesh) mesh.material.color.fromArray(of(head, side) as number[]);
  }

  /** Some points of the gear in its first and last position [m]. */
  gear(): Vector3[] {
    return this.pieces.flatMap((keys) =>
      [keys[0], keys[keys.length - 1]].flatMap((points) => {
        const out: Vector3[] = [];
        for (let i = 0; i < points.length; i += 3 * GEAR_STEP) out.push(new Vector3().fromArray(points, i));
        return out;
      }),
    );
  }

  /** Corners of the room round some heads in all positions [m]; none where nobody is named. */
  around(heads: string[]): Vector3[] {
    const room = new Box3();
    for (const { head, keys } of this.flesh) {
      if (!heads.includes(head)) continue;
      for (const points of [keys[0], keys[keys.length - 1]]) room.union(new Box3().setFromArray(points));
    }
    if (room.isEmpty()) return [];
    const { min, max } = room.expandByScalar(AROUND_M);
    return [min.x, max.x].flatMap((x) => [min.y, max.y].flatMap((y) => [min.z, max.z].map((z) => new Vector3(x, y, z))));
  }

  /** The muscle that is seen along a ray, if any: nothing where a bone or gear lies before it. */
  seen(cast: (ray: Raycaster) => void): { head: string; side: string } | undefined {
    cast(this.pointer);
    const opaque = this.group.children.filter((m) => m.visible && !((m as Mesh).material as MeshStandardMaterial).transparent);
    const hit: Intersection | undefined = this.pointer.intersectObjects<Object3D>(opaque, false)[0];
    const found = this.flesh.find((f) => f.mesh === hit?.object);
    return found && { head: found.head, side: found.side };
  }

  /** Light up a head, "" for none; says whether that changed anything. */
  mark(head: string, chosen: boolean): boolean {
    if (head === this.marked && (chosen === this.chosen || !chosen)) return false;
    [this.marked, this.chosen] = [head, chosen];
    for (const f of this.flesh) this.light(f);
    this.uncover();
    return true;
  }

  private light({ head, mesh }: Flesh): void {
    mesh.material.emissive.set(head === this.marked ? 0x5a3a10 : 0x000000);
  }

  /** Show some layers only, and of the muscles the marked one alone where that is wanted. */
  peel(layers: Layers, alone: boolean): void {
    [this.layersNow, this.alone] = [layers, alone];
    this.uncover();
  }

  private uncover(): void {
    const alone = this.alone && this.marked !== "";
    for (const f of this.flesh) {
      f.mesh.visible = alone ? f.head === this.marked : this.layersNow !== "bones" && (this.layersNow !== "deep" || f.deep);
    }
    const through =
      this.chosen && !alone && this.layersNow === "muscles" && this.flesh.some((f) => f.head === this.marked && f.deep);
    for (const f of this.flesh) thin(f.mesh.material, through && f.head !== this.marked);
    for (const name of GEAR) thin(this.materials[name], through);
    const bare = alone || through || this.layersNow === "bones" || this.layersNow === "deep";
    for (const { mesh } of this.carried)
      if (mesh.material === this.materials.flesh || mesh.material === this.materials.fascia) mesh.visible = !bare;
    this.skin.group.visible = this.layersNow === "skin" && !alone;
  }

  /** Every head that is drawn, by name. */
  heads(): string[] {
    return [...new Set(this.flesh.map((f) => f.head))].sort();
  }

  private clear(): void {
    for (const child of this.group.children) (child as Mesh).geometry.dispose();
    for (const { mesh } of this.flesh) mesh.material.dispose();
    this.group.clear();
    this.skin.clear();
    [this.flesh, this.moving, this.pieces, this.carried] = [[], [], [], []];
  }

  private addMuscle(
    { head, side, deep, walls }: MuscleHead,
    keys: Float32Array[],
    faces: Uint16Array,
    tendon: Uint8Array,
    fibre: Float32Array,
    twin?: MovingShape,
  ): MovingShape | undefined {
    const mesh = this.addMoving(keys, faces, new MeshStandardMaterial({ roughness: 0.55 }), twin, walls) as Flesh["mesh"];
    mesh.geometry.setAttribute("tendon", new BufferAttribute(tendon, 1, true));
    mesh.geometry.setAttribute("grain", new BufferAttribute(fibre, 1));
    mesh.material.onBeforeCompile = (shader) => withFibres(shader, this.tendon);
    const own = { head, side, deep, keys, mesh };
    this.light(own);
    this.flesh.push(own);
    this.skin.cover(mesh, "flesh");
    return keys.length > 1 ? this.moving.at(-1) : undefined;
  }

  private addMoving(keys: Float32Array[], faces: Uint16Array, material: MeshStandardMaterial, twin?: MovingShape, walls = 0): Mesh {
    if (keys.length === 1) return this.solid(keys[0], faces, material, walls);
    const shape = new MovingShape(keys, faces, twin, walls);
    this.moving.push(shape);
    return this.mesh(shape.geometry, material);
  }

  private solid(points: Float32Array, faces: Uint16Array, material: MeshStandardMaterial, walls = 0): Mesh {
    const geometry = new BufferGeometry();
    geometry.setAttribute("position", new BufferAttribute(points, 3));
    geometry.setAttribute("normal", new BufferAttribute(normalsOf(points, faces.subarray(0, faces.length - 3 * walls)), 3));
    geometry.setIndex(new BufferAttribute(faces, 1));
    geometry.boundingSphere = around(points);
    return this.mesh(geometry, material);
  }

  private mesh(geometry: BufferGeometry, material: MeshStandardMaterial): Mesh {
    const mesh = new Mesh(geometry, material);
    mesh.castShadow = mesh.receiveShadow = material !== this.materials.clear;
    mesh.frustumCulled = false;
    this.group.add(mesh);
    return mesh;
  }
}

/** Nearly clear, or not any more. */
function thin(material: MeshStandardMaterial, clear: boolean): void {
  if (material.transparent === clear) return;
  Object.assign(material, { transparent: clear, opacity: clear ? THIN : 1, depthWrite: !clear, needsUpdate: true });
}

/** Fine stripes along the fibres, and pale tendons. */
function withFibres(
  shader: { vertexShader: string; fragmentShader: string; uniforms: Record<string, unknown> },
  tendonColour: Color,
): void {
  shader.uniforms.tendonColour = { value: tendonColour };
  const varying = "varying float vGrain; varying float vTendon;";
  shader.vertexShader = shader.vertexShader.replace(
    "void main() {",
    `attribute float grain; attribute float tendon; ${varying}\nvoid main() { vGrain = grain; vTendon = tendon;`,
  );
  shader.fragmentShader = shader.fragmentShader
    .replace("void main() {", `uniform vec3 tendonColour; ${varying}\nvoid main() {`)
    .replace("#include <color_fragment>", `#include <color_fragment>\n${GRAIN}`);
}

/** Put a rigid solid between two of its key places (axes row by row with the size, then origin). */
function carry(mesh: Mesh, place: Float32Array, from: number, to: number, between: number): void {
  const [at, turn, size] = taken(place, from);
  const [end, last] = taken(place, to);
  mesh.matrix.compose(at.lerp(end, between), turn.slerp(last, between), size);
  mesh.matrixWorldNeedsUpdate = true;
}

function taken(place: Float32Array, key: number): [Vector3, Quaternion, Vector3] {
  const r = place.subarray(key * 12, key * 12 + 12);
  const matrix = new Matrix4().set(r[0], r[1], r[2], r[9], r[3], r[4], r[5], r[10], r[6], r[7], r[8], r[11], 0, 0, 0, 1);
  const [at, turn, size] = [new Vector3(), new Quaternion(), new Vector3()];
  matrix.decompose(at, turn, size);
  return [at, turn, size];
}

/** The red of a muscle, each a little its own, so that neighbours are told apart. */
export function anatomical(red: readonly number[], head: string): number[] {
  const own = [...head].reduce((sum, c) => (sum * 31 + c.charCodeAt(0)) % 997, 7) / 997;
  return red.map((v, i) => v * (0.78 + 0.44 * (i ? own : 1 - own * 0.4)));
}

/** A colour of the scales (sRGB, 0-1) as the light reckons it. */
export const linear = (rgb: readonly number[]): number[] => new Color().setRGB(rgb[0], rgb[1], rgb[2], SRGBColorSpace).toArray();
