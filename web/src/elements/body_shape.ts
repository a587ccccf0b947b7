/** The body as capsules of glass: clear in the middle, denser at the rim, so that the muscles inside are seen. */
import { Color, Group, LatheGeometry, Matrix4, Mesh, ShaderMaterial, Vector2, Vector3 } from "three";
import type { Figure } from "../api";

const VERTEX = `
  varying vec3 vNormal; varying vec3 vView;
  void main() {
    vec4 place = modelViewMatrix * vec4(position, 1.0);
    vNormal = normalize(normalMatrix * normal); vView = normalize(-place.xyz);
    gl_Position = projectionMatrix * place;
  }`;
const FRAGMENT = `
  uniform vec3 rim; uniform vec3 skin; uniform float density;
  varying vec3 vNormal; varying vec3 vView;
  void main() {
    float facing = abs(dot(normalize(vNormal), normalize(vView)));
    float edge = pow(1.0 - facing, 2.2);
    gl_FragColor = vec4(mix(skin, rim, edge), density + (0.75 - density) * edge);
    #include <colorspace_fragment>
  }`;

/** The capsules of a figure, moved from position to position. */
export class BodyShape {
  readonly group = new Group();
  private readonly glass: ShaderMaterial;
  private readonly depth: ShaderMaterial;
  private parts: { shell: Mesh; solid: Mesh }[] = [];

  constructor() {
    this.glass = new ShaderMaterial({
      vertexShader: VERTEX,
      fragmentShader: FRAGMENT,
      uniforms: { rim: { value: new Color() }, skin: { value: new Color() }, density: { value: 0.2 } },
      transparent: true,
      depthWrite: false,
    });
    this.depth = new ShaderMaterial({
      vertexShader: VERTEX,
      fragmentShader: "void main() { gl_FragColor = vec4(0.0); }",
      colorWrite: false,
    });
  }

  /** Colours of the skin and of its rim. */
  paint(skin: string, rim: string): void {
    this.glass.uniforms.skin.value.set(skin);
    this.glass.uniforms.rim.value.set(rim);
  }

  /** Build the capsules of a figure. */
  build(figure: Figure): void {
    for (const part of this.parts) part.shell.geometry.dispose();
    this.group.clear();
    this.parts = figure.capsules.map((capsule, i) => {
      const ends = figure.ends_mm[0].slice(i * 6, i * 6 + 6).map((v) => v / 1000);
      const length = Math.hypot(ends[3] - ends[0], ends[4] - ends[1], ends[5] - ends[2]);
      const geometry = new LatheGeometry(outline(capsule.radii_mm[0] / 1000, capsule.radii_mm[1] / 1000, length), 22);
      const [shell, solid] = [new Mesh(geometry, this.glass), new Mesh(geometry, this.depth)];
      solid.renderOrder = 1;
      shell.renderOrder = 2;
      for (const mesh of [shell, solid]) {
        mesh.matrixAutoUpdate = false;
        mesh.frustumCulled = false;
        this.group.add(mesh);
      }
      return { shell, solid };
    });
  }

  /** Put every capsule between its ends [m], six numbers each. */
  place(ends: Float32Array): void {
    const [from, to, up, side, across] = [new Vector3(), new Vector3(), new Vector3(), new Vector3(), new Vector3()];
    const matrix = new Matrix4();
    this.parts.forEach((part, i) => {
      from.fromArray(ends, i * 6);
      to.fromArray(ends, i * 6 + 3);
      up.subVectors(to, from);
      if (up.lengthSq() < 1e-10) up.set(0, 0, 1);
      up.normalize();
      side
        .set(Math.abs(up.y) < 0.9 ? 0 : 1, Math.abs(up.y) < 0.9 ? 1 : 0, 0)
        .cross(up)
        .normalize();
      across.crossVectors(side, up);
      matrix.makeBasis(side, up, across).setPosition(from);
      part.shell.matrix.copy(matrix);
      part.solid.matrix.copy(matrix);
    });
  }
}

/** Half the outline of a capsule with ends of two sizes, from its lower to its upper pole along y. */
function outline(r0: number, r1: number, length: number): Vector2[] {
  const lean = length > Math.abs(r0 - r1) ? Math.asin((r0 - r1) / length) : 0;
  const out: Vector2[] = [];
  const steps = 9;
  for (let i = 0; i <= steps; i++) {
    const angle = -Math.PI / 2 + ((lean + Math.PI / 2) * i) / steps;
    out.push(new Vector2(Math.max(r0 * Math.cos(angle), 1e-5), r0 * Math.sin(angle)));
  }
  for (let i = 0; i <= steps; i++) {
    const angle = lean + ((Math.PI / 2 - lean) * i) / steps;
    out.push(new Vector2(Math.max(r1 * Math.cos(angle), 1e-5), length + r1 * Math.sin(angle)));
  }
  return out;
}
