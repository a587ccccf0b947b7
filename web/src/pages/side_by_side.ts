/** Two to four lifts on the same body: figures that move together, curves on one axis. */
import { answerOf, plain, Refusal, type Motion } from "../api";
import type { LwCurves } from "../elements/curves";
import type { Colouring, LwFigure } from "../elements/figure";
import { valuesOf } from "../motion";
import { series } from "../scales";
import { dress, fetchSolids } from "../solids";

const found: { name: string; motion: Motion }[] = [];
const figures = () => [...document.querySelectorAll<LwFigure>("lw-figure")];
const head = () => document.querySelector<HTMLSelectElement>("#side-head")!;

async function load(figure: LwFigure): Promise<void> {
  const id = figure.dataset.lift!;
  try {
    const { repetitions = "10", reserve = "2" } = document.querySelector<HTMLElement>(".side-figures")!.dataset;
    const query = new URLSearchParams({ positions: "31", repetitions, reserve });
    const motion = await answerOf<Motion>(`/api/lifts/${id}/motion`, query);
    figure.show(motion.figure, valuesOf(motion, (figure.dataset.targets ?? "").split(" ")));
    found.push({ name: motion.curves.name, motion });
    void dress(figure, fetchSolids(id, query));
  } catch (error) {
    const box = figure.parentElement!.querySelector<HTMLElement>("[role=alert]")!;
    box.hidden = false;
    box.textContent = error instanceof Refusal ? error.message : "The server is not answering.";
  }
}

function draw(): void {
  const order = figures().map((f) => f.dataset.lift);
  const some = [...found].sort((a, b) => order.indexOf(a.motion.curves.lift) - order.indexOf(b.motion.curves.lift));
  for (const place of document.querySelectorAll<LwCurves>("lw-curves")) {
    const of = ({ curves }: Motion) => (place.dataset.curve === "demand" ? curves : curves.heads[head().value]);
    const lines = some.map(({ name, motion }, n) => ({ name, found: of(motion), look: series(n) }));
    place.show(
      lines.flatMap(({ name, found, look }) =>
        found ? [{ label: name, values: place.valuesOf(found), ...look, width: 2.5 }] : [],
      ),
    );
  }
}

/** The heads of all lifts, the targets of the first one first. */
function fillHeads(): void {
  const targets = (figures()[0].dataset.targets ?? "").split(" ");
  const all = new Set(found.flatMap((f) => Object.keys(f.motion.curves.heads)).filter((h) => !h.endsWith("_left")));
  const names = [...targets.filter((t) => all.has(t)), ...[...all].filter((h) => !targets.includes(h)).sort()];
  head().replaceChildren(...names.map((h) => new Option(plain(h), h)));
}

/** Start the page. */
export async function run(): Promise<void> {
  if (!figures().length) return;
  await Promise.all([import("../elements/figure"), import("../elements/curves")]);
  await Promise.all(figures().map(load));
  if (!found.length) return;
  fillHeads();
  draw();
  head().addEventListener("change", draw);
  document.addEventListener("lw-position", (event) => {
    const at = (event as CustomEvent<number>).detail;
    for (const other of document.querySelectorAll<LwFigure | LwCurves>("lw-figure, lw-curves")) {
      if (other === event.target) continue;
      if (event.target instanceof HTMLElement && event.target.localName !== "lw-figure" && "stop" in other) other.stop();
      other.position = at;
    }
  });
  document.addEventListener("click", (event) => {
    const button = (event.target as HTMLElement).closest<HTMLButtonElement>("[data-colouring]");
    if (!button) return;
    for (const other of button.parentElement!.querySelectorAll("button"))
      other.setAttribute("aria-pressed", String(other === button));
    for (const figure of figures()) figure.colouring = button.dataset.colouring as Colouring;
  });
  figures()[0].begin();
}
