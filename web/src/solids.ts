/** Fetches what a figure is dressed in. */
import { ask } from "./api";
import type { LwFigure } from "./elements/figure";
import { Packed, type BonesHead, type SceneHead } from "./elements/solids_file";

let bones: Promise<Packed<BonesHead>> | undefined;

/** Ask for the bones at once; they are the same for every lift and body. */
export function fetchBones(): Promise<Packed<BonesHead>> {
  bones ??= ask("/api/bones").then(async (answer) => new Packed<BonesHead>(await answer.arrayBuffer()));
  bones.catch(() => (bones = undefined));
  return bones;
}

/** Ask for the solids of a lift; may be asked together with its motion. */
export async function fetchSolids(lift: string, query: URLSearchParams): Promise<Packed<SceneHead>> {
  return new Packed<SceneHead>(await (await ask(`/api/lifts/${lift}/solids`, query)).arrayBuffer());
}

/** Dress a figure in bones and muscles once they come; where they do not, it stays as it is. */
export async function dress(figure: LwFigure, solids: Promise<Packed<SceneHead>>, stillAsked: () => boolean = () => true): Promise<void> {
  try {
    const [own, body] = await Promise.all([solids, fetchBones()]);
    if (stillAsked()) figure.dress(own, body);
  } catch (error) {
    figure.dataset.dressed = "no";
    console.info("the figure stays plain:", error);
  }
}
