/** The page that orders the lifts for a muscle: weights and filters act here at once, the server says how sure the order is. */
import type { LiftInOrder as Ranked, OrderOfLifts as Ranking } from "../api.gen";
import { ask, inUnits, plain, Refusal } from "../api";
import { pickOnBody } from "../on_body";
import { inOrder, refusal, type Rankable, type Wishes } from "../score";

const FIRST = 12;
const SIDE_BY_SIDE = 4;
const DIVIDED = 8;
const ASK_AGAIN_MS = 350;
const SETTLE_MS = 300;
const state: {
  all?: Ranking;
  sure?: Ranking;
  more: boolean;
  picked: Set<string>;
  running?: AbortController;
  timer?: number;
  stamping?: boolean;
} = {
  more: false,
  picked: new Set(),
};

const form = () => document.querySelector<HTMLFormElement>("#choose-form")!;
const part = (id: string) => document.querySelector<HTMLElement>(`#${id}`)!;
const keyOf = (r: Rankable) => (r.range === "full" ? r.lift : `${r.lift} (${r.range})`);
const fields = <T extends HTMLInputElement>(name: string) => [...form().querySelectorAll<T>(`input[name="${name}"]`)];
const sliders = () => [...form().querySelectorAll<HTMLInputElement>("input[data-criterion]")];
const weights = () => Object.fromEntries(sliders().map((s) => [s.dataset.criterion!, Number(s.value)]));
const chosenSet = () => form().querySelector<HTMLSelectElement>("#weights")!.value;
const changed = () =>
  sliders()
    .filter((s) => s.value !== s.dataset.usual)
    .map((s) => `${s.dataset.criterion}=${s.value}`);
const muscle = () => form().querySelector<HTMLSelectElement>("#muscle")!.value;

function wishes(): Wishes {
  const minutes = form().querySelector<HTMLSelectElement>("#minutes")!.value;
  const gear = fields("gear");
  const chosen = gear.filter((g) => g.checked);
  return {
    gear: new Set(chosen.length === gear.length ? [] : chosen.map((g) => g.value)),
    spare: new Map(
      fields("spare")
        .filter((j) => j.checked)
        .map((j) => [j.value, Number(j.dataset.most)]),
    ),
    minutes: minutes ? Number(minutes) : null,
    steady: fields("steady")[0].checked,
    absent: fields("owned").some((o) => o.checked) ? JSON.parse(fields("owned")[0].dataset.absent!) : {},
  };
}

function question(filtered: boolean): URLSearchParams {
  const out = new URLSearchParams();
  for (const r of fields("range")) if (r.checked) out.append("range", r.value);
  if (!filtered) return out;
  const asked = wishes();
  for (const kind of asked.gear) out.append("gear", kind);
  for (const joint of asked.spare.keys()) out.append("spare", joint);
  if (asked.minutes !== null) out.set("minutes", String(asked.minutes));
  if (asked.steady) out.set("steady", "true");
  if (chosenSet() !== "default") out.set("weights", chosenSet());
  for (const word of changed()) out.append("weight", word);
  return out;
}

/** Ask until the answer is there, telling how far it is. */
async function rank(query: URLSearchParams, signal: AbortSignal, tell: (done: number, total: number) => void): Promise<Ranking> {
  for (;;) {
    const answer = await ask(`/api/rank/${muscle()}`, query, signal);
    if (answer.status === 200) return (await answer.json()) as Ranking;
    const { done, total } = (await answer.json()) as { done: number; total: number };
    tell(done, total);
    await new Promise((resolve) => setTimeout(resolve, ASK_AGAIN_MS));
    signal.throwIfAborted();
  }
}

/** A new muscle or range: everything anew. */
async function begin(): Promise<void> {
  state.running?.abort();
  const { signal } = (state.running = new AbortController());
  state.all = state.sure = undefined;
  part("choose-trouble").hidden = true;
  showProgress(0, 0);
  try {
    state.all = await rank(question(false), signal, showProgress);
    part("choose-progress").hidden = true;
    part("choose-result").hidden = false;
    draw();
    await makeSure(signal);
  } catch (error) {
    fail(error);
  }
}

/** The server's word on how sure this order is, with these weights and wishes. */
async function makeSure(signal: AbortSignal): Promise<void> {
  part("choose-list").toggleAttribute("aria-busy", false);
  if (state.all && left().length === 0) return;
  part("choose-list").setAttribute("aria-busy", "true");
  try {
    state.sure = await rank(question(true), signal, () => undefined);
    part("choose-trouble").hidden = true;
    draw();
  } catch (error) {
    fail(error);
  } finally {
    if (!signal.aborted) part("choose-list").removeAttribute("aria-busy");
  }
}

function fail(error: unknown): void {
  if ((error as Error).name === "AbortError") return;
  part("choose-progress").hidden = true;
  const trouble = part("choose-trouble");
  trouble.hidden = false;
  trouble.textContent = error instanceof Refusal ? error.message : "The server is not answering. Is it still running?";
}

function showProgress(done: number, total: number): void {
  const box = part("choose-progress");
  box.hidden = false;
  part("choose-result").hidden = true;
  const bar = box.querySelector("progress")!;
  if (total) {
    bar.max = total;
    bar.value = done;
  } else bar.removeAttribute("value");
  box.querySelector("p")!.textContent = total
    ? `${done} of ${total} lifts computed for this body. This happens once.`
    : "Setting up the lifts for this body…";
}

const gearName = (kind: string) => fields("gear").find((g) => g.value === kind)?.dataset.name ?? kind;
const left = () => (state.all?.ranking ?? []).filter((r) => !refusal(r, wishes(), gearName));

/** Put every lift in its place, now. */
function draw(): void {
  if (!state.all) return;
  const begun = performance.now();
  const order = inOrder(
    left().map((row) => ({ ...row, tier: sureOf(row)?.tier ?? row.tier })),
    weights(),
  );
  const list = part("choose-list");
  const before = places(list);
  const shown = order.slice(0, state.more ? undefined : FIRST);
  list.replaceChildren(...shown.map(({ row }, i) => item(row, i + 1, order.length)));
  glide(list, before);
  const count = `${order.length} lifts for ${plain(state.all.muscle)}`;
  part("choose-count").textContent = state.all.taken ? `${count}. ${state.all.taken}` : count;
  part("choose-none").hidden = order.length > 0;
  const more = part("choose-more");
  more.hidden = order.length <= FIRST;
  more.textContent = state.more ? `Only the first ${FIRST}` : `All ${order.length} lifts`;
  drawTurn(order.map((o) => o.row));
  drawLongHalves();
  drawLeftOut();
  document.body.dataset.drawnMs = (performance.now() - begun).toFixed(1);
  stamp();
}

function drawTurn(order: Ranked[]): void {
  const sure = state.sure;
  const fits = sure && sure.ranking.length === order.length && sure.ranking.every((r, i) => i > 1 || keyOf(r) === keyOf(order[i]));
  part("choose-turn").textContent = fits ? [sure.would_change.sentence, ...sure.in_adults, ...sure.seen_by_trials].join(" ") : "";
}

/** Long halves that the estimate favours: where they end and what makes them safe. */
function drawLongHalves(): void {
  const found = state.sure?.long_halves ?? state.all!.long_halves;
  part("choose-halves").hidden = found.length === 0;
  part("choose-halves-list").replaceChildren(
    ...found.map((half) => Object.assign(document.createElement("li"), { textContent: half.sentence })),
  );
}

function drawLeftOut(): void {
  const rows = state.all!.ranking.map((r) => ({ name: r.name, reason: refusal(r, wishes(), gearName) })).filter((r) => r.reason);
  const all = [...rows, ...state.all!.excluded];
  part("choose-out-count").textContent = `Left out: ${all.length}`;
  part("choose-out").replaceChildren(
    ...all.map((r) => {
      const line = document.createElement("li");
      const name = document.createElement("strong");
      name.textContent = r.name;
      line.append(name, `: ${r.reason}`);
      return line;
    }),
  );
  part("choose-others").textContent =
    `${state.all!.not_meant_for_it} other lifts in the library are not meant for ${plain(state.all!.muscle)}.`;
}

/** What the server said of this lift with these wishes: leaving lifts out may change which cannot be told apart. */
const sureOf = (row: Ranked) => state.sure?.ranking.find((r) => keyOf(r) === keyOf(row));

const stamped = new Set<string>();
const stampOf = (lift: string) => `/api/lifts/${lift}/thumbnail.webp`;

/** Stamps of lifts come one after another, and not while an order is asked for, which they would keep waiting. */
function stamp(): void {
  const next = document.querySelector<HTMLImageElement>("#choose-list img[data-lift]");
  if (!next || state.stamping) return;
  state.stamping = true;
  if (part("choose-list").hasAttribute("aria-busy")) return void setTimeout(on, SETTLE_MS);
  const lift = next.dataset.lift!;
  next.addEventListener("load", () => void (stamped.add(lift), on()), { once: true });
  next.addEventListener("error", () => void (next.removeAttribute("src"), on()), { once: true });
  next.src = stampOf(lift);
  delete next.dataset.lift;
}

function on(): void {
  state.stamping = false;
  stamp();
}

function item(row: Ranked, place: number, count: number): HTMLLIElement {
  const template = document.querySelector<HTMLTemplateElement>("#choose-item")!;
  const li = (template.content.cloneNode(true) as DocumentFragment).firstElementChild as HTMLLIElement;
  const of = <T extends Element>(name: string) => li.querySelector<T>(`[data-part="${name}"]`)!;
  const sure = sureOf(row);
  li.dataset.key = keyOf(row);
  of("place").textContent = String(place);
  const link = of<HTMLAnchorElement>("name");
  link.textContent = row.range === "full" ? row.name : `${row.name}, ${row.range} half`;
  link.href = `/lift/${row.lift}${row.range === "full" ? "" : `?range=${row.range}`}`;
  const image = of<HTMLImageElement>("stamp");
  if (stamped.has(row.lift)) image.src = stampOf(row.lift);
  else image.dataset.lift = row.lift;
  const add = of<HTMLAnchorElement>("add");
  add.href = `/week?add=${row.lift}`;
  add.hidden = row.range !== "full";
  add.setAttribute("aria-label", `Add to week: ${row.name}`);
  of("facts").textContent = [gearName(row.gear), ...loaded(row), `${Math.round(row.seconds_per_set)} s a hard set`].join(" · ");
  of("why").textContent = (sure ?? row).why;
  of("value").textContent = `${row.growth.mean.toFixed(1)} ×`;
  of("growth").textContent = (sure ?? row).says || "The lift that the others are compared with.";
  drawParts(of("parts"), row);
  drawRanks(li, sure, place, count);
  const tick = of<HTMLInputElement>("pick");
  tick.value = row.lift;
  tick.checked = state.picked.has(row.lift);
  tick.setAttribute("aria-label", `Put ${row.name} side by side`);
  return li;
}

/** The load of a set: what hangs on the body, or is taken off it, in the words of paper; nothing where the body is all. */
function loaded(row: Ranked): string[] {
  const { value, unit } = inUnits(row.load_kg);
  const amount = `${Math.abs(Math.round(value))} ${unit}`;
  if (Math.round(value) < 0) return [`with ${amount} of assistance for the set`];
  if (row.gear !== "body") return [`${amount} for the set`];
  return Math.round(value) ? [`+ ${amount} for the set`] : [];
}

/** The preferences: each as wide as its weight, filled as far as its value. */
function drawParts(svg: Element, row: Ranked): void {
  const own = weights();
  const total = Object.values(own).reduce((a, b) => a + b, 0) || 1;
  let x = 0;
  const shown = Object.keys(own).map((name) => [name, row.fit[name] ?? 0] as const);
  const shapes = shown.map(([name, value]) => {
    const wide = (own[name] / total) * 300;
    const inner = Math.max(wide - 2, 0);
    const title = `${titleOf(name)}: ${value.toFixed(2)} of 1, weight ${own[name]}`;
    const shape = `<g><title>${title}</title><rect class="ground" x="${x}" width="${inner}" height="14" rx="2"/><rect class="part" x="${x}" width="${inner}" height="${14 * value}" y="${14 - 14 * value}" rx="1"/></g>`;
    x += wide;
    return shape;
  });
  svg.innerHTML = shapes.join("");
  svg.setAttribute("aria-label", `Preferences: ${shown.map(([n, v]) => `${titleOf(n)} ${v.toFixed(2)}`).join(", ")}`);
}

const titleOf = (name: string) => sliders().find((s) => s.dataset.criterion === name)?.dataset.title ?? plain(name);

/** Between which ranks nine tenths of the draws put it. */
function drawRanks(li: HTMLElement, sure: Ranked | undefined, place: number, count: number): void {
  const svg = li.querySelector('[data-part="ranks"]')!;
  const words = li.querySelector('[data-part="rank-words"]')!;
  if (!sure) {
    words.textContent = "…";
    return;
  }
  const [low, high] = sure.rank_interval;
  const x = (rank: number) => ((rank - 0.5) / Math.max(count, 1)) * 100;
  svg.innerHTML = `<rect class="ground" y="4" width="100" height="4" rx="2"/><rect class="span" x="${x(low) - 1}" y="2" width="${x(high) - x(low) + 2}" height="8" rx="3"/><rect class="dot" x="${x(place) - 0.9}" width="1.8" height="12" rx="0.9"/>`;
  const range = low === high ? `rank ${low}` : `ranks ${low} to ${high}`;
  words.textContent = `${range}; first in ${Math.round(sure.first_share * 100)}%`;
}

/** Where each lift stands, so that it can glide to its new place. */
function places(list: HTMLElement): Map<string, number> {
  return new Map([...list.children].map((li) => [(li as HTMLElement).dataset.key!, li.getBoundingClientRect().top]));
}

function glide(list: HTMLElement, before: Map<string, number>): void {
  if (matchMedia("(prefers-reduced-motion: reduce)").matches) return;
  for (const li of list.children as HTMLCollectionOf<HTMLElement>) {
    const old = before.get(li.dataset.key!);
    const gap = old === undefined ? 0 : old - li.getBoundingClientRect().top;
    if (gap) li.animate([{ transform: `translateY(${gap}px)` }, { transform: "none" }], { duration: 220, easing: "ease-out" });
  }
}

function later(): void {
  clearTimeout(state.timer);
  state.running?.abort();
  const { signal } = (state.running = new AbortController());
  state.timer = window.setTimeout(() => void makeSure(signal), SETTLE_MS);
}

function sayWeight(slider: HTMLInputElement): void {
  slider.closest(".slider")!.querySelector("output")!.textContent = String(Number(slider.value));
}

function keepAddress(): void {
  const query = new URLSearchParams([["muscle", muscle()], ...question(true)]);
  history.replaceState(null, "", `?${query}`);
  linkExplainer();
}

/** The explainer orders the lifts as they stand here. */
function linkExplainer(): void {
  const query = question(true);
  document.querySelector<HTMLAnchorElement>("#choose-explain")!.href = `/explain/${muscle()}${query.size ? `?${query}` : ""}`;
}

/** Another set of weights: the page begins anew with it. */
function changeSet(): void {
  const query = question(true);
  query.delete("weight");
  location.assign(`/choose?${new URLSearchParams([["muscle", muscle()], ...query])}`);
}

/** What the form that keeps the weights sends besides their name. */
function fillSave(): void {
  const save = document.querySelector<HTMLFormElement>("#weights-save");
  save?.addEventListener("htmx:configRequest", (event) => {
    const { parameters } = (event as CustomEvent<{ parameters: FormData }>).detail;
    parameters.set("changed", changed().join(" "));
    parameters.set("muscle", muscle());
    parameters.set("rest", String(question(true)));
  });
}

function listen(): void {
  form().addEventListener("submit", (event) => event.preventDefault());
  form().addEventListener("input", (event) => {
    const field = event.target as HTMLInputElement;
    if (!field.dataset.criterion || !state.all) return;
    sayWeight(field);
    draw();
    later();
  });
  form().addEventListener("change", (event) => {
    const field = event.target as HTMLInputElement;
    if (field.id === "weights-name") return;
    if (field.id === "weights") return changeSet();
    keepAddress();
    if (field.id === "muscle" || field.name === "range") void begin();
    else if (state.all) {
      draw();
      later();
    }
  });
  pickOnBody(part("on-body") as HTMLDetailsElement, (head) => {
    const list = form().querySelector<HTMLSelectElement>("#muscle")!;
    if (![...list.options].some((o) => o.value === head)) return;
    list.value = head;
    list.dispatchEvent(new Event("change", { bubbles: true }));
  });
  part("weights-usual").addEventListener("click", () => {
    for (const s of sliders()) {
      s.value = s.dataset.usual!;
      sayWeight(s);
    }
    keepAddress();
    draw();
    later();
  });
  part("choose-more").addEventListener("click", () => {
    state.more = !state.more;
    draw();
  });
  part("choose-list").addEventListener("change", (event) => pick(event.target as HTMLInputElement));
}

/** Two to four lifts can be put side by side; the weekly sets can be divided among more. */
function pick(tick: HTMLInputElement): void {
  if (tick.checked) state.picked.add(tick.value);
  else state.picked.delete(tick.value);
  const bar = part("choose-picked");
  bar.hidden = state.picked.size === 0;
  const side = part("choose-side") as HTMLAnchorElement;
  const split = part("choose-split") as HTMLAnchorElement;
  const lifts = (most: number) => [...state.picked].slice(0, most).map((l) => ["lift", l]);
  side.href = `/side-by-side?${new URLSearchParams(lifts(SIDE_BY_SIDE))}`;
  split.href = `/split?${new URLSearchParams([["muscle", muscle()], ...lifts(DIVIDED)])}`;
  for (const link of [side, split]) link.toggleAttribute("hidden", state.picked.size < 2);
  part("choose-picked-count").textContent = pickedWords(state.picked.size);
}

function pickedWords(n: number): string {
  if (n < 2) return "One picked; pick another.";
  if (n > DIVIDED) return `${n} picked: the first ${SIDE_BY_SIDE} go side by side, the first ${DIVIDED} share the sets.`;
  return n > SIDE_BY_SIDE ? `${n} picked: the first ${SIDE_BY_SIDE} go side by side.` : `${n} picked.`;
}

/** Start the page. */
export async function run(): Promise<void> {
  sliders().forEach(sayWeight);
  if (matchMedia("(max-width: 62rem)").matches)
    for (const open of form().querySelectorAll<HTMLDetailsElement>("details[open]")) open.open = false;
  listen();
  fillSave();
  linkExplainer();
  await begin();
}
