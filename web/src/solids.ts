/** Fetches what a figure is dressed in. */
import { ask } from "./api";
import type { LwFigure } from "./elements/figure";
import { Packed, type BonesHead, type SceneHead } from "./elements/solids_file";

type Solids = Promise<Packed<SceneHead>>;

/** Solids on their way: the first to come, and the whole lift where that may be its first position alone. */
export interface Coming {
  first: Solids;
  whole?: () => Solids;
}

let bones: Promise<Packed<BonesHead>> | undefined;

/** Ask for the bones at once; they are the same for every lift and body. */
export function fetchBones(): Promise<Packed<BonesHead>> {
  bones ??= ask("/api/bones").then(async (answer) => new Packed<BonesHead>(await answer.arrayBuffer()));
  bones.catch(() => (bones = undefined));
  return bones;
}

/** Ask for the solids of a lift, as soon as may be: a lift that nobody asked for before comes with its first position first. */
export const fetchSolids = (lift: string, query: URLSearchParams): Coming => ({
  first: early(lift, query, "/first"),
  whole: () => early(lift, query),
});

/** Ask for the solids of a lift at all its positions at once. */
export const fetchWhole = (lift: string, query: URLSearchParams): Coming => ({ first: early(lift, query) });

/** Ask for the solids of a posture. */
export const fetchPosture = (angles: string): Coming => ({
  first: solidsAt("/api/posture/solids", new URLSearchParams({ angles })),
});

const early = (lift: string, query: URLSearchParams, part = ""): Solids => solidsAt(`/api/lifts/${lift}/solids${part}`, query);

function solidsAt(address: string, query: URLSearchParams): Solids {
  const found = ask(address, query).then(async (answer) => new Packed<SceneHead>(await answer.arrayBuffer()));
  found.catch(() => undefined);
  return found;
}

/** Dress a figure in bones and muscles once they come, and say when it first is; where they do not come, it stays as it is. */
export async function dress(
  figure: LwFigure,
  { first, whole }: Coming,
  stillAsked = () => true,
  dressed = () => {},
): Promise<void> {
  try {
    const [own, body] = await Promise.all([first, fetchBones()]);
    if (!stillAsked()) return;
    figure.dress(own, body);
    dressed();
    if (own.head.keys > 1 || !whole) return;
    const all = await whole();
    if (stillAsked()) figure.dress(all, body);
  } catch (error) {
    figure.dataset.dressed ??= "no";
    console.info("the figure stays plain:", error);
  }
}
