/** A lift before an audience: full screen, large type; arrow keys walk from anatomy to the answer, Escape ends it. */
import { inUnits, plain, type Curves } from "./api";
import { placed } from "./elements/head_words";
import type { Colouring, LwFigure, Shown } from "./elements/figure";

interface Step {
  title: string;
  words: string[];
  colouring: Colouring;
  shown: Shown;
  /** Where it stands still, 0-1; undefined where it plays. */
  at?: number;
  /** Muscles that are looked at from near by; none for the whole lift. */
  near?: string[];
}

const percent = (v: number) => `${Math.round(v * 100)}%`;
const called = (head: string) => `the ${plain(head)}`;
const named = (heads: string[]) =>
  heads
    .map(called)
    .join(", ")
    .replace(/, ([^,]*)$/, " and $1");
const opening = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

/** What is told, in order. */
export function argument(curves: Curves, targets: string[], claims: string[]): Step[] {
  const own = targets.filter((t) => t in curves.heads);
  const range = (head: string) => curves.heads[head].fibre_length;
  const longest = own.map(
    (h) =>
      `${opening(plain(h))}: fibres from ${Math.min(...range(h)).toFixed(2)} to ${Math.max(...range(h)).toFixed(2)}\u00a0×\u00a0optimal`,
  );
  const { value, unit } = inUnits(curves.working.load_kg);
  const hardest = curves.demand.indexOf(Math.max(...curves.demand)) / (curves.demand.length - 1);
  const { sticking } = curves;
  const first = sticking.limiting
    .slice(0, 3)
    .map((l) => `${opening(plain(l.head))}: ${percent(l.share)} of what holds the load back`);
  const stretched = own.map(
    (h) => `${opening(plain(h))}: ${percent(curves.heads[h].measures.long_range_load)} of its tension while it is long`,
  );
  return [
    { title: curves.name, words: [`It trains ${named(targets)}.`], colouring: "anatomy", shown: "targets", near: own },
    { title: "How long", words: longest.slice(0, 4), colouring: "length", shown: "targets", near: own },
    {
      title: "How loaded",
      words: [`A set of ${curves.working.repetitions} uses ${value.toFixed(0)} ${unit}.`, `It is hardest ${placed(hardest)}.`],
      colouring: "tension",
      shown: "working",
    },
    {
      title: "What fails first",
      words: [`The body is weakest ${placed(sticking.position)}.`, ...first],
      colouring: "tension",
      shown: "working",
      at: sticking.position,
    },
    { title: "What studies say", words: claims.slice(0, 3), colouring: "length", shown: "targets" },
    {
      title: "The answer",
      words: own.length ? [...ending(sticking.limiting[0]?.head, own), ...stretched.slice(0, 3)] : ["No target muscle works here."],
      colouring: "length",
      shown: "targets",
      near: own,
    },
  ];
}

/** Whether a set ends for the muscle that the lift is for. */
function ending(first: string | undefined, own: string[]): string[] {
  if (!first) return [];
  return own.includes(first) ? [`A target fails first: ${called(first)}.`] : [`No target fails first, but ${called(first)}.`];
}

/** Show the steps around a figure until they are ended. */
export function present(figure: LwFigure, steps: Step[], back: () => void): void {
  const home = document.createComment("");
  figure.replaceWith(home);
  const stage = document.createElement("dialog");
  stage.className = "stage";
  stage.setAttribute("aria-label", "Presentation; arrow keys go forward and back, Escape ends it");
  stage.innerHTML = `<div class="stage-figure"></div><div class="stage-words" aria-live="polite"></div><nav class="stage-steps" aria-label="Steps"><button type="button" data-step="-1">Back</button><output></output><button type="button" data-step="1">Next</button><button type="button" data-end>End</button></nav>`;
  stage.querySelector(".stage-figure")!.append(figure);
  document.body.append(stage);
  let now = 0;
  const go = (to: number) => {
    now = Math.min(Math.max(to, 0), steps.length - 1);
    const step = steps[now];
    const words = stage.querySelector(".stage-words")!;
    const title = Object.assign(document.createElement("h2"), { textContent: step.title });
    words.replaceChildren(title, ...step.words.map((w) => Object.assign(document.createElement("p"), { textContent: w })));
    stage.querySelector(".stage-steps output")!.textContent = `${now + 1} of ${steps.length}`;
    [figure.colouring, figure.shown, figure.near] = [step.colouring, step.shown, step.near ?? []];
    if (step.at === undefined) return figure.begin();
    figure.stop();
    figure.position = step.at;
  };
  stage.addEventListener("click", (event) => {
    const button = (event.target as HTMLElement).closest<HTMLButtonElement>("button");
    if (button && "end" in button.dataset) stage.close();
    else if (button?.dataset.step) go(now + Number(button.dataset.step));
  });
  stage.addEventListener(
    "keydown",
    (event) => {
      const way = { ArrowRight: 1, PageDown: 1, ArrowLeft: -1, PageUp: -1 }[event.key];
      if (!way || (event.target as HTMLElement).closest("input, select")) return;
      event.preventDefault();
      event.stopPropagation();
      go(now + way);
    },
    true,
  );
  stage.addEventListener("close", () => {
    if (document.fullscreenElement) void document.exitFullscreen();
    figure.near = [];
    home.replaceWith(figure);
    stage.remove();
    back();
  });
  stage.showModal();
  stage.requestFullscreen?.().catch(() => undefined);
  stage.querySelector<HTMLButtonElement>("[data-step='1']")!.focus();
  go(0);
}
