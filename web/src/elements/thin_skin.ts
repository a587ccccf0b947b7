/** A thin skin over everything that is drawn of the body: the same surfaces a few millimetres further out, seen as one, that can be faded. */
import { Group, LessEqualDepth, Mesh, MeshStandardMaterial, type ColorRepresentation } from "three";

const OVER_FLESH_M = "0.007";
/** Surfaces are told apart by their scale: rigid ones are in millimetres of the base body. */
const OVER_SOLID_MM = "5.0";

/** One skin over many surfaces, whose shapes and places it shares. */
export class ThinSkin {
  readonly group = new Group();
  private readonly depth = { flesh: within(OVER_FLESH_M), solid: within(OVER_SOLID_MM), as_it_is: within("0.0") };
  private readonly seen = { flesh: within(OVER_FLESH_M), solid: within(OVER_SOLID_MM), as_it_is: within("0.0") };

  constructor() {
    this.group.visible = false;
    for (const material of Object.values(this.depth)) Object.assign(material, { colorWrite: false, depthWrite: true });
    for (const material of Object.values(this.seen)) material.depthFunc = LessEqualDepth;
    this.opacity = 0.75;
  }

  /** Lay it over a surface, on top of flesh, over a rigid solid, or where the surface is skin already. */
  cover(mesh: Mesh, kind: "flesh" | "solid" | "as_it_is"): void {
    for (const [order, material] of [
      [1, this.depth[kind]],
      [2, this.seen[kind]],
    ] as const) {
      const over = new Mesh(mesh.geometry, material);
      over.renderOrder = order;
      over.frustumCulled = over.matrixAutoUpdate = over.matrixWorldAutoUpdate = false;
      over.matrixWorld = mesh.matrixWorld;
      this.group.add(over);
    }
  }

  clear(): void {
    this.group.clear();
  }

  paint(colour: ColorRepresentation): void {
    for (const material of Object.values(this.seen)) material.color.set(colour);
  }

  /** From 0, not there, to 1, nothing seen through it. */
  set opacity(value: number) {
    for (const material of Object.values(this.seen)) material.opacity = value;
  }
}

/** A material whose surface lies further out along its normals. */
function within(out: string): MeshStandardMaterial {
  const material = new MeshStandardMaterial({ roughness: 0.75, transparent: true, depthWrite: false });
  material.onBeforeCompile = (shader) => {
    shader.vertexShader = shader.vertexShader.replace("#include <begin_vertex>", `vec3 transformed = position + ${out} * normal;`);
  };
  material.customProgramCacheKey = () => out;
  return material;
}
