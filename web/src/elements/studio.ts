/** Light for the figure: even for glass, a sun with soft shadows on a floor for bones and muscles. */
import { CircleGeometry, DirectionalLight, Group, HemisphereLight, Mesh, ShadowMaterial } from "three";

const SHADOW_PIXELS = 1024;

export class Studio {
  readonly group = new Group();
  private readonly sun = new DirectionalLight(0xfff6ea, 1.7);
  private readonly fill = new DirectionalLight(0xdfe8ff, 0.9);
  private readonly sky = new HemisphereLight(0xffffff, 0x998877, 1.7);
  private readonly floor = new Mesh(new CircleGeometry(3, 48), new ShadowMaterial({ opacity: 0.16 }));
  private dark = false;
  private worn = false;

  constructor() {
    this.sun.position.set(2, -3, 4.2);
    this.fill.position.set(-3, 3, 2);
    this.sky.position.set(0, 0, 1);
    this.sun.shadow.mapSize.set(SHADOW_PIXELS, SHADOW_PIXELS);
    Object.assign(this.sun.shadow.camera, { left: -1.7, right: 1.7, top: 1.9, bottom: -1.7, near: 1, far: 12 });
    Object.assign(this.sun.shadow, { radius: 4, bias: -0.0006, normalBias: 0.006 });
    this.floor.receiveShadow = true;
    this.group.add(this.sun, this.sun.target, this.fill, this.sky, this.floor);
  }

  /** Lights for bones and muscles, or for glass. */
  wear(anatomy: boolean): void {
    this.worn = anatomy;
    this.sun.castShadow = this.fill.visible = this.floor.visible = anatomy;
    this.relight();
  }

  /** Lights of a dark or a light page. */
  paint(dark: boolean): void {
    this.dark = dark;
    this.relight();
  }

  /** Put the floor at a height [m]. */
  ground(height: number): void {
    this.floor.position.z = height - 0.001;
  }

  private relight(): void {
    this.sun.intensity = this.worn ? 2.4 : 1.7;
    this.sky.intensity = this.worn ? (this.dark ? 1.1 : 1.4) : 1.7;
    this.floor.material.opacity = this.dark ? 0.55 : 0.16;
  }
}
