/** A body to pick a muscle from: made when it is opened, since it is large. */
import { answerOf, type Motion } from "./api";
import type { LwFigure } from "./elements/figure";
import { valuesOf } from "./motion";
import { dress, fetchWhole } from "./solids";

/** A lift that ends in standing. */
const STANDS = "bodyweight_squat";

/** Let a muscle be picked on the figure within a part that opens. */
export function pickOnBody(place: HTMLDetailsElement, picked: (head: string) => void): void {
  place.addEventListener("lw-chosen", (event) => picked((event as CustomEvent<string>).detail));
  place.addEventListener(
    "toggle",
    () =>
      void stand(place).catch((error) =>
        place.append(`The body could not be loaded: ${error instanceof Error ? error.message : error}`),
      ),
    { once: true },
  );
}

async function stand(place: HTMLDetailsElement): Promise<void> {
  const figure = document.createElement("lw-figure") as LwFigure;
  figure.setAttribute("still", "");
  figure.setAttribute("label", "A standing body");
  const query = new URLSearchParams({ positions: "9" });
  const solids = fetchWhole(STANDS, query);
  const [motion] = await Promise.all([answerOf<Motion>(`/api/lifts/${STANDS}/motion`, query), import("./elements/figure")]);
  place.append(figure);
  figure.show(motion.figure, valuesOf(motion, []));
  figure.colouring = "anatomy";
  figure.shown = "all";
  figure.position = 1;
  await dress(figure, solids);
}
