/** The first page: one lift in motion, to be touched. */
import { answerOf, type Motion } from "../api";
import type { LwFigure } from "../elements/figure";
import { valuesOf } from "../motion";
import { dress, fetchBones, fetchSolids } from "../solids";

/** Start the page. */
export async function run(): Promise<void> {
  const figure = document.querySelector<LwFigure>("lw-figure")!;
  const query = new URLSearchParams({ positions: "31" });
  const solids = fetchSolids(figure.dataset.lift!, query);
  fetchBones().catch(() => undefined);
  const [motion] = await Promise.all([
    answerOf<Motion>(`/api/lifts/${figure.dataset.lift}/motion`, query),
    import("../elements/figure"),
  ]);
  figure.show(motion.figure, valuesOf(motion, (figure.dataset.targets ?? "").split(" ")));
  await dress(figure, solids);
  figure.begin();
}
