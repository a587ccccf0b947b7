/** The first page: one lift in motion, to be touched. */
import { answerOf, type Motion } from "../api";
import type { LwFigure } from "../elements/figure";
import { valuesOf } from "../motion";

/** Start the page. */
export async function run(): Promise<void> {
  const figure = document.querySelector<LwFigure>("lw-figure")!;
  const [motion] = await Promise.all([
    answerOf<Motion>(`/api/lifts/${figure.dataset.lift}/motion`, new URLSearchParams({ positions: "31" })),
    import("../elements/figure"),
  ]);
  figure.show(motion.figure, valuesOf(motion, (figure.dataset.targets ?? "").split(" ")));
  figure.begin();
}
