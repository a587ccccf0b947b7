/** Muscle lines as spindles: what a figure shows until its bones and muscle volumes have come. */
import { Mesh, MeshLambertMaterial } from "three";
import type { Figure } from "../api";
import { Tubes } from "./tube";

/** How a head is drawn here and now; undefined where it is not wanted. */
export type LookOf = (head: string, side: string) => { length: number; colour: readonly number[] } | undefined;

export class LineShape {
  readonly mesh = new Mesh(undefined, new MeshLambertMaterial({ vertexColors: true }));
  private tubes = new Tubes(0);
  private figure?: Figure;

  constructor() {
    this.mesh.frustumCulled = false;
  }

  /** Make room for the lines of a figure. */
  build(figure: Figure): void {
    this.figure = figure;
    this.tubes = new Tubes(figure.lines.length * (figure.mirrored ? 2 : 1));
    this.mesh.geometry.dispose();
    this.mesh.geometry = this.tubes.geometry;
  }

  /** Put the wanted lines between two neighbouring positions. */
  place(at: number, between: number, lookOf: LookOf, tendon: number[]): void {
    const figure = this.figure!;
    let slot = 0;
    figure.lines.forEach((line, i) => {
      const look = lookOf(line.head, line.side);
      if (!look) return;
      const points =
        between > 0 ? blended(figure.points_mm[at][i], figure.points_mm[at + 1]?.[i], between) : figure.points_mm[at][i];
      for (const mirror of figure.mirrored ? [false, true] : [false]) {
        this.tubes.write(slot++, {
          points,
          mirror,
          radius: line.radius_mm / 1000,
          fibreShare: line.fibre_share,
          fibreLength: look.length,
          colour: [...look.colour],
          tendon,
        });
      }
    });
    this.tubes.finish(slot);
  }
}

/** A line's points between two positions; a line that wraps otherwise there jumps at the middle. */
function blended(a: number[], b: number[] | undefined, part: number): number[] {
  if (!b || a.length !== b.length) return b && part > 0.5 ? b : a;
  return a.map((v, i) => v + (b[i] - v) * part);
}
