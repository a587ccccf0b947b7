/** The load: an arrow wherever it acts, the path that it takes, and a dot on that path where the body is weakest. */
import {
  type BufferGeometry,
  CatmullRomCurve3,
  ConeGeometry,
  CylinderGeometry,
  Group,
  Mesh,
  MeshBasicMaterial,
  SphereGeometry,
  TubeGeometry,
  Vector3,
} from "three";
import type { Figure } from "../api";
import { direction, mixed, point } from "./between";

type Arrow = Figure["arrows"][number];

const UP = new Vector3(0, 1, 0);
const [LEAST_M, ARROW_M] = [0.08, 0.22];
const TIP_M = 0.035; // how far the tip goes on from the shaft's end
const LEAST_PATH_M = 0.04;
const SEEN_THROUGH = 0.45; // how much of an arrow is seen through what lies before it
/** How long an arrow is [m], for the share of the largest load. */
const lengthOf = (size: number) => LEAST_M + ARROW_M * size;

export class LoadArrows {
  readonly group = new Group();
  private readonly shown = new Group();
  private readonly path = new Group();
  private readonly load = new MeshBasicMaterial();
  private readonly hidden = new MeshBasicMaterial({
    transparent: true,
    opacity: SEEN_THROUGH,
    depthTest: false,
    depthWrite: false,
  });
  private readonly line = new MeshBasicMaterial({ transparent: true, opacity: 0.5, depthWrite: false });
  private readonly dot = new MeshBasicMaterial();
  private movers: ((at: number, between: number) => void)[] = [];

  constructor() {
    this.group.add(this.shown, this.path);
  }

  /** Colours of the arrows, and of their path. */
  paint(load: string, path: string): void {
    for (const material of [this.load, this.hidden]) material.color.set(load);
    for (const material of [this.line, this.dot]) material.color.set(path);
  }

  /** Build the arrows of a figure. */
  build(figure: Figure): void {
    this.shown.clear();
    this.path.clear();
    this.movers = [];
    for (const [arrow, mirror] of bothSides(figure)) this.add(arrow, mirror);
  }

  /** Put them where they are between two neighbouring positions. */
  place(at: number, between: number): void {
    for (const move of this.movers) move(at, between);
  }

  /** Where the arrows of a figure begin and end [m]: at a position 0-1, at the first and the last where none is named. */
  reach(figure: Figure, position?: number): Vector3[] {
    const last = figure.ends_mm.length - 1;
    return bothSides(figure).flatMap(([load, mirror]) =>
      (position === undefined ? [0, last] : [Math.round(position * last)]).flatMap((at) => {
        const begin = point(load.points_mm, at, 0, mirror);
        const length = (lengthOf(load.size[at]) + TIP_M) * (load.pushes ? -1 : 1);
        return [begin, begin.clone().addScaledVector(direction(load.direction, at, 0, mirror), length)];
      }),
    );
  }

  /** Draw the path of the load with a dot at the weakest position, 0-1. */
  markWeakest(figure: Figure, position: number): void {
    this.path.clear();
    for (const [arrow, mirror] of bothSides(figure)) {
      const way = arrow.points_mm.map((_, i) => point(arrow.points_mm, i, 0, mirror));
      const curve = new CatmullRomCurve3(way);
      if (way.length > 2 && curve.getLength() > LEAST_PATH_M)
        this.path.add(new Mesh(new TubeGeometry(curve, 48, 0.005, 8), this.line));
      const last = way.length - 1;
      const at = Math.min(Math.floor(position * last), Math.max(last - 1, 0));
      const spot = new Mesh(new SphereGeometry(0.019, 20, 14), this.dot);
      spot.position.copy(point(arrow.points_mm, at, position * last - at, mirror));
      this.path.add(spot);
    }
  }

  private add(load: Arrow, mirror: boolean): void {
    const arrow = new Group();
    const both = (shape: BufferGeometry) => [this.load, this.hidden].map((material) => new Mesh(shape, material));
    const [shafts, tips] = [both(new CylinderGeometry(0.008, 0.008, 1, 10)), both(new ConeGeometry(0.026, 2 * TIP_M, 16))];
    arrow.add(...shafts, ...tips);
    this.shown.add(arrow);
    this.movers.push((at, between) => {
      const size = mixed(load.size[at], load.size[at + 1] ?? load.size[at], between);
      const length = lengthOf(size);
      const way = direction(load.direction, at, between, mirror);
      arrow.position.copy(point(load.points_mm, at, between, mirror));
      if (load.pushes) arrow.position.addScaledVector(way, -length - TIP_M);
      arrow.quaternion.setFromUnitVectors(UP, way);
      for (const shaft of shafts) {
        shaft.scale.y = length;
        shaft.position.y = length / 2;
      }
      for (const tip of tips) tip.position.y = length;
      arrow.visible = size > 0.01;
    });
  }
}

function bothSides(figure: Figure): [Arrow, boolean][] {
  return figure.arrows.flatMap((arrow): [Arrow, boolean][] =>
    figure.mirrored
      ? [
          [arrow, false],
          [arrow, true],
        ]
      : [[arrow, false]],
  );
}
