/** The page of one lift: figure, curves and set-up move together. */
import { answerOf, inUnits, Latest, plain, Refusal, type Curves, type Motion } from "../api";
import type { LwCurves } from "../elements/curves";
import type { Colouring, LwFigure, Shown } from "../elements/figure";
import { placed } from "../elements/head_words";
import { valuesOf } from "../motion";
import { series } from "../scales";
import type { Told } from "../elements/taking";
import { tabs } from "../tabs";
import { dress, fetchBones, fetchSolids } from "../solids";
import htmx from "htmx.org";

const MOST_HEADS = 6;
const WHILE_SLIDING = "21";
const A_MOMENT_MS = 200;

/** Everything that the page shows of one answer. */
interface State {
  motion?: Motion;
  ghost?: Curves;
  chosen: string[];
}

const state: State = { chosen: [] };
const form = () => document.querySelector<HTMLFormElement>("#lift-settings")!;
const figure = () => document.querySelector<LwFigure>("lw-figure")!;
const panel = (name: string) => document.querySelector<LwCurves>(`lw-curves[data-curve=${name}]`)!;
const liftId = () => form().dataset.lift!;
const targets = () => (form().dataset.targets ?? "").split(" ");

/** The form as a question. */
function question(): URLSearchParams {
  const out = new URLSearchParams();
  const fields = new FormData(form());
  for (const name of ["range", "repetitions", "reserve"]) out.set(name, String(fields.get(name)));
  for (const slider of sliders()) if (slider.value !== slider.dataset.usual) out.append("setup", `${slider.name}=${slider.value}`);
  return out;
}

const sliders = () => [...form().querySelectorAll<HTMLInputElement>("input[type=range]")];

const latest = new Latest();
let asked = 0;
/** Whether the address says how the lift is looked at. */
const looked = location.hash.length > 1;

/** What draws, fetched while the first answer is computed. */
const elements = (): Promise<unknown> => Promise.all([import("../elements/figure"), import("../elements/curves")]);

/** Ask again and show, one question at a time. */
const update = (sliding: boolean): Promise<void> => latest.run(() => answer(sliding));

async function answer(sliding: boolean): Promise<void> {
  const query = question();
  if (sliding) query.set("positions", WHILE_SLIDING);
  const trouble = document.querySelector<HTMLElement>("#lift-trouble")!;
  const now = ++asked;
  const first = now === 1;
  try {
    const begun = performance.now();
    const coming = answerOf<Motion>(`/api/lifts/${liftId()}/motion`, query);
    const solids = sliding ? undefined : fetchSolids(liftId(), query);
    const [motion] = await Promise.all([coming, elements()]);
    document.body.dataset.answeredMs = String(Math.round(performance.now() - begun));
    trouble.hidden = true;
    if (first && solids) await soon(solids.first);
    show(motion);
    if (!sliding) settle(query);
    if (!solids) return;
    const dressed = dress(
      figure(),
      solids,
      () => now === asked,
      () => first && takeLook(),
    );
    if (first && !looked) void dressed.then(() => figure().begin());
  } catch (error) {
    trouble.hidden = false;
    trouble.textContent = error instanceof Refusal ? error.message : "The server is not answering. Is it still running?";
  }
}

/** Until bones and muscles have come, or for a moment: a plain figure that is covered at once is not worth drawing. */
const soon = (solids: Promise<unknown>): Promise<unknown> =>
  Promise.race([Promise.allSettled([solids, fetchBones()]), new Promise((done) => setTimeout(done, A_MOMENT_MS))]);

/** Once nothing moves any more: tables by the server, and an address that can be kept. */
function settle(query: URLSearchParams): void {
  const own = new URLSearchParams([...query].filter(([name]) => name !== "positions"));
  history.replaceState(null, "", `${location.pathname}${own.size ? `?${own}` : ""}${location.hash}`);
  void htmx.ajax("get", `/lift/${liftId()}/answer?${own}`, { target: "#lift-answer", swap: "innerHTML" });
}

function show(motion: Motion): void {
  state.motion = motion;
  if (!state.chosen.length) state.chosen = leading(motion.curves);
  figure().show(motion.figure, valuesOf(motion, targets()), true);
  drawCurves();
  drawHeads();
  const weakest = document.querySelector<HTMLButtonElement>("#lift-weakest")!;
  weakest.hidden = false;
  figure().weakest = motion.curves.sticking.position;
  weakest.textContent = `Weakest ${placed(motion.curves.sticking.position)}`;
}

/** The targets, then the heads that spend most effort. */
function leading(curves: Curves): string[] {
  const order = Object.entries(curves.heads).sort(([, a], [, b]) => b.measures.effort_share - a.measures.effort_share);
  const own = targets().filter((t) => t in curves.heads);
  return [...new Set([...own, ...order.map(([h]) => h)])].slice(0, Math.max(MOST_HEADS - 2, own.length)).slice(0, MOST_HEADS);
}

function drawCurves(): void {
  const { curves } = state.motion!;
  const load = (kg: number[]) => kg.map((v) => inUnits(v).value);
  const colour = (name: string) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  const before = (place: LwCurves, inKind: (v: number[]) => number[] = (v) => v) =>
    state.ghost ? [{ label: "before", values: inKind(place.valuesOf(state.ghost)), colour: "", ghost: true }] : [];
  const mark = curves.sticking.position;
  const capacity = panel("capacity");
  const [most, ofSet] = capacity.described.labels;
  const held = load(capacity.valuesOf(curves));
  capacity.show(
    [
      ...before(capacity, load),
      { label: most, values: held, colour: colour("--c7"), width: 2.5 },
      { label: ofSet, values: load(held.map(() => curves.working.load_kg)), colour: colour("--c2"), dash: [6, 4] },
    ],
    mark,
    Math.min(0, ...held),
    ceiling(held),
  );
  const demand = panel("demand");
  demand.show([...before(demand), { label: "demand", values: demand.valuesOf(curves), colour: colour("--c2"), width: 2.5 }], mark);
  for (const place of [panel("length"), panel("tension")]) place.show(byHead(place));
}

/** The top of the capacity's axis: near a straight joint a body can hold many times what it can lift, which would hide the rest. */
function ceiling(load: number[]): number {
  const [low, high] = [Math.min(...load), Math.max(...load)];
  return low > 0 && high > 4 * low ? 4 * low : high * 1.08;
}

function byHead(place: LwCurves): import("../elements/curves").Line[] {
  return state.chosen.flatMap((head, n) => {
    const own = state.motion!.curves.heads[head];
    const old = state.ghost?.heads[head];
    const look = series(n);
    return [
      ...(old ? [{ label: "before", values: place.valuesOf(old), colour: look.colour, ghost: true }] : []),
      ...(own ? [{ label: plain(head), values: place.valuesOf(own), ...look }] : []),
    ];
  });
}

/** The key of the heads, each of which can be taken out, and a list to add others from. */
function drawHeads(): void {
  const place = document.querySelector("#lift-heads")!;
  const chip = (head: string, n: number) => {
    const look = series(n);
    const dash = look.dash.length ? ` stroke-dasharray="${look.dash.join(" ")}"` : "";
    return `<button type="button" class="chip" data-out="${head}" aria-label="Remove ${plain(head)}"><svg width="26" height="8" aria-hidden="true"><line x1="1" y1="4" x2="25" y2="4" stroke="${look.colour}" stroke-width="3"${dash}/></svg>${plain(head)}<span aria-hidden="true">×</span></button>`;
  };
  const rest = Object.keys(state.motion!.curves.heads)
    .filter((h) => !state.chosen.includes(h))
    .sort();
  const more = `<label class="unseen" for="add-head">Add a head</label><select id="add-head"><option value="">Add a head…</option>${rest.map((h) => `<option value="${h}">${plain(h)}</option>`).join("")}</select>`;
  place.innerHTML = state.chosen.map(chip).join("") + (state.chosen.length < 8 ? more : "");
}

function listenToHeads(): void {
  const place = document.querySelector("#lift-heads")!;
  place.addEventListener("click", (event) => {
    const out = (event.target as HTMLElement).closest<HTMLElement>("[data-out]")?.dataset.out;
    if (!out || state.chosen.length < 2) return;
    state.chosen = state.chosen.filter((h) => h !== out);
    drawCurves();
    drawHeads();
  });
  place.addEventListener("change", (event) => {
    const added = (event.target as HTMLSelectElement).value;
    if (!added) return;
    state.chosen = [...state.chosen, added];
    drawCurves();
    drawHeads();
  });
}

function listenToForm(): void {
  form().addEventListener("submit", (event) => event.preventDefault());
  form().addEventListener("pointerdown", keepGhost);
  form().addEventListener("keydown", keepGhost);
  form().addEventListener("input", (event) => {
    const field = event.target as HTMLInputElement;
    if (field.type !== "range") return;
    say(field);
    void update(true);
  });
  form().addEventListener("change", (event) => {
    if ((event.target as HTMLInputElement).type !== "range") state.ghost = state.motion?.curves;
    void update(false);
  });
  document.querySelector("#setup-usual")?.addEventListener("click", () => {
    state.ghost = state.motion?.curves;
    for (const slider of sliders()) {
      slider.value = slider.dataset.usual!;
      say(slider);
    }
    void update(false);
  });
}

/** What the curves were before a slider is moved stays as a ghost. */
function keepGhost(event: Event): void {
  if ((event.target as HTMLInputElement).type === "range") state.ghost = state.motion?.curves;
}

function say(slider: HTMLInputElement): void {
  const value = said(Number(slider.value), slider.dataset.unit ?? "", Number(slider.dataset.lever));
  slider.closest(".slider")!.querySelector("output")!.textContent = value;
  slider.setAttribute("aria-valuetext", value);
}

/** A set-up in the reader's units; a distance aside over a lever is an angle to a coach. */
function said(value: number, unit: string, lever: number): string {
  if (lever) return `${Math.round((Math.asin(Math.min(value / lever, 1)) * 180) / Math.PI)}°`;
  if (unit === "cm" && document.documentElement.dataset.units === "imperial") return `${(value / 2.54).toFixed(1)} in`;
  if (unit === "kg") return `${inUnits(value).value.toFixed(1)} ${inUnits(value).unit}`;
  if (unit === "%") return `${Math.round(100 * value)}%`;
  return unit === "°" ? `${value}°` : `${value} ${unit}`.trim();
}

/** One position for the figure and all curves. */
function link(): void {
  document.addEventListener("lw-position", (event) => {
    const at = (event as CustomEvent<number>).detail;
    if (event.target !== figure()) {
      figure().stop();
      figure().position = at;
    }
    for (const curves of document.querySelectorAll<LwCurves>("lw-curves")) if (curves !== event.target) curves.position = at;
  });
}

function listenToChoices(): void {
  document.addEventListener("click", (event) => {
    const button = (event.target as HTMLElement).closest<HTMLButtonElement>("[data-colouring], [data-shown]");
    if (!button) return;
    for (const other of button.parentElement!.querySelectorAll("button"))
      other.setAttribute("aria-pressed", String(other === button));
    if (button.dataset.colouring) figure().colouring = button.dataset.colouring as Colouring;
    if (button.dataset.shown) figure().shown = button.dataset.shown as Shown;
  });
}

/** What is looked at stands behind the # of the address, and is taken from there. */
function keepLook(): void {
  const chosen = (kind: string) => document.querySelector<HTMLElement>(`[data-${kind}][aria-pressed=true]`)?.dataset[kind] ?? "";
  const look = new URLSearchParams({ ...figure().look, colour: chosen("colouring"), muscles: chosen("shown") });
  history.replaceState(history.state, "", `${location.pathname}${location.search}#${look}`);
}

function takeLook(): void {
  const look = Object.fromEntries(new URLSearchParams(location.hash.slice(1)));
  for (const [kind, value] of [
    ["colouring", look.colour],
    ["shown", look.muscles],
  ])
    document.querySelector<HTMLButtonElement>(`[data-${kind}="${value}"]`)?.click();
  if (look.at) figure().stop();
  if (location.hash) figure().look = look;
}

function listenToLook(): void {
  let waits = 0;
  const soon = () => {
    clearTimeout(waits);
    waits = window.setTimeout(keepLook, 400);
  };
  document.addEventListener("lw-looked", soon);
  document.querySelector(".figure-choices")!.addEventListener("click", soon);
  figure().querySelector(".figure-transport input")?.addEventListener("change", soon);
  document.querySelector("#lift-weakest")!.addEventListener("click", () => {
    figure().stop();
    figure().look = { at: String(state.motion!.curves.sticking.position * 100) };
    soon();
  });
}

/** What stands around a picture or a clip. */
function told(): Told {
  const { curves } = state.motion!;
  const { value, unit } = inUnits(curves.working.load_kg);
  return {
    title: curves.name,
    words: `${curves.working.repetitions} repetitions with ${value.toFixed(0)} ${unit}. The body is weakest ${placed(curves.sticking.position)}.${figure().colourWords} Computed from a model of the body; not a diagnosis.`,
    curve: curves.demand,
    curveName: "How hard it is, load ÷ capacity",
  };
}

function listenToTaking(): void {
  const said = document.querySelector<HTMLOutputElement>("#take-told")!;
  document.querySelector(".take-along")!.addEventListener("click", async (event) => {
    const kind = (event.target as HTMLElement).closest<HTMLElement>("[data-take]")?.dataset.take;
    if (!kind || !state.motion) return;
    const taking = await import("../elements/taking");
    const shape = document.querySelector<HTMLSelectElement>("#take-shape")!.value;
    figure().stop();
    try {
      said.textContent = await taken(
        kind,
        taking.SHAPES[shape],
        taking,
        (share) => (said.textContent = `${Math.round(share * 100)}% recorded`),
      );
    } catch (error) {
      said.textContent = `Saving failed: ${error instanceof Error ? error.message : error}`;
    }
  });
}

async function taken(
  kind: string,
  size: [number, number],
  taking: typeof import("../elements/taking"),
  tell: (share: number) => void,
): Promise<string> {
  const name = `${liftId()}.${kind}`;
  if (kind === "svg") taking.handOver(new Blob([taking.drawingOf(figure(), size, told())], { type: "image/svg+xml" }), name);
  else if (kind === "webm" && !taking.canRecord()) return "This browser cannot record clips. Use the command `lengthwise film`.";
  else if (kind === "webm") taking.handOver(await taking.clipOf(figure(), told(), tell), name);
  else {
    const canvas = taking.pictureOf(figure(), size, told());
    taking.handOver(await new Promise<Blob>((resolve) => canvas.toBlob((b) => resolve(b!), "image/png")), name);
  }
  return `${name} is saved.`;
}

function listenToPresenting(): void {
  document.querySelector("#lift-present")!.addEventListener("click", async () => {
    if (!state.motion) return;
    const claims = [...document.querySelectorAll(".behind li")].map((li) =>
      [...li.children].map((part) => part.textContent!.trim()).join(": "),
    );
    const { argument, present } = await import("../presenting");
    present(figure(), argument(state.motion.curves, targets(), claims), () => {
      for (const kind of ["colouring", "shown"])
        document.querySelector<HTMLButtonElement>(`[data-${kind}][aria-pressed=true]`)?.click();
      document.querySelector<HTMLButtonElement>("#lift-present")!.focus();
    });
  });
}

/** Start the page. */
export async function run(): Promise<void> {
  tabs(document.querySelector<HTMLElement>(".lift-tabs")!);
  listenToForm();
  listenToHeads();
  listenToChoices();
  listenToTaking();
  listenToPresenting();
  link();
  sliders().forEach(say);
  void fetchBones().catch(() => undefined);
  const shown = update(false);
  await elements();
  listenToLook();
  await shown;
}
