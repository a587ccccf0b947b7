/** The page where joints are moved and every head's length is watched. */
import { answerOf, Latest, plain, Refusal, type PostureAnswer, type JointMoment } from "../api";
import type { LwFigure } from "../elements/figure";
import { dress, fetchPosture, type Coming } from "../solids";

const sliders = () => [...document.querySelectorAll<HTMLInputElement>("#posture-form input[type=range]")];
const figure = () => document.querySelector<LwFigure>("lw-figure")!;
let latest: PostureAnswer | undefined;
/** Bones and muscles of the posture that is shown, on their way or there; none while a slider is dragged. */
let worn: { angles: string; coming: Coming } | undefined;

function angles(): string {
  return sliders()
    .filter((s) => Number(s.value) !== 0)
    .map((s) => `${s.name}=${s.value}`)
    .join(" ");
}

const queue = new Latest();
const update = (sliding = false): Promise<void> => queue.run(() => answer(sliding));

async function answer(sliding: boolean): Promise<void> {
  const trouble = document.querySelector<HTMLElement>("#posture-trouble")!;
  const text = angles();
  keepAddress(text);
  try {
    latest = await answerOf<PostureAnswer>("/api/posture", new URLSearchParams({ angles: text }));
    trouble.hidden = true;
    if (sliding) worn = undefined;
    else if (worn?.angles !== text) worn = { angles: text, coming: fetchPosture(text) };
    show();
    if (strengthShown()) await showStrength(text);
  } catch (error) {
    trouble.hidden = false;
    trouble.textContent = error instanceof Refusal ? error.message : "The server is not answering. Is it still running?";
  }
}

/** The address says what is shown, so that it can be kept and sent. */
function keepAddress(text: string): void {
  const query = new URLSearchParams(text ? { angles: text } : {});
  if (strengthShown()) query.set("strength", angle().value);
  history.replaceState(null, "", query.size ? `?${query}` : location.pathname);
}

const angle = () => document.querySelector<HTMLSelectElement>("#strength-angle")!;
const strengthShown = () => !document.querySelector<HTMLElement>("#view-strength")!.hidden;

/** The largest moment each way, and the heads that make it. */
async function showStrength(at: string): Promise<void> {
  const trouble = document.querySelector<HTMLElement>("#strength-trouble")!;
  const asked = angle().value;
  try {
    const ways = ["false", "true"].map((lower) =>
      answerOf<JointMoment>("/api/strength", new URLSearchParams({ angle: asked, at, lower })),
    );
    const found = await Promise.all(ways);
    drawStrength(found);
    showFigure(found.flatMap((w) => Object.keys(w.heads)));
    trouble.hidden = true;
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    trouble.hidden = false;
    trouble.textContent = error.message;
    document.querySelector("#strength")!.replaceChildren();
  }
}

function drawStrength(ways: JointMoment[]): void {
  const most = Math.max(...ways.map((w) => w.moment_nm), 1e-9);
  document.querySelector("#strength")!.innerHTML = ways
    .map((w) => {
      const rows = Object.entries(w.heads)
        .filter(([, share]) => Math.abs(share) > 0.005)
        .map(
          ([head, share]) =>
            `<li><span>${plain(head)}</span>${bar(share)}<span class="num">${share < 0 ? "−" : ""}${Math.round(Math.abs(share) * 100)}%</span></li>`,
        );
      return `<section class="strength-way"><h3>${w.direction}</h3><p class="strength-moment"><strong class="num">${w.moment_nm.toFixed(0)} N·m</strong>${bar(w.moment_nm / most)}</p><ul class="head-list" aria-label="Heads that produce it">${rows.join("")}</ul></section>`;
    })
    .join("");
  document.querySelector("#strength-sides")!.textContent =
    angle().selectedOptions[0].dataset.paired === "yes" ? ", on one side" : ", both sides together";
}

const bar = (share: number): string =>
  `<svg class="meter" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true"><rect class="ground" width="100" height="6" rx="1"/><rect class="part" width="${Math.max(0, Math.min(1, share)) * 100}" height="6" rx="1"/></svg>`;

/** Lengths or strength beside the figure. */
function view(name: string): void {
  for (const button of document.querySelectorAll<HTMLElement>("[data-beside]")) {
    const on = button.dataset.beside === name;
    button.setAttribute("aria-pressed", String(on));
    document.querySelector<HTMLElement>(`#view-${button.dataset.beside}`)!.hidden = !on;
  }
}

function listenToViews(): void {
  for (const button of document.querySelectorAll<HTMLElement>("[data-beside]")) {
    button.addEventListener("click", () => {
      view(button.dataset.beside!);
      void update();
    });
  }
  angle().addEventListener("change", () => void update());
  const asked = new URLSearchParams(location.search).get("strength");
  if (asked === null) return;
  if ([...angle().options].some((o) => o.value === asked)) angle().value = asked;
  view("strength");
}

const muscle = () => document.querySelector<HTMLSelectElement>("#posture-muscle")!;
const chosen = () => (muscle().selectedOptions[0].dataset.heads ?? "").split(" ").filter(Boolean);

function show(): void {
  if (!latest) return;
  const heads = chosen();
  if (!strengthShown()) showFigure(heads);
  drawHeads(heads.length ? heads : Object.keys(latest.heads));
}

/** The figure with some heads coloured; all where none is named. */
function showFigure(heads: string[]): void {
  const length = Object.fromEntries(Object.entries(latest!.heads).map(([h, v]) => [h, [v.fibre_length]]));
  figure().show(latest!.figure, { length, tension: {}, activation: {}, targets: heads }, true);
  figure().shown = heads.length ? "targets" : "all";
  const own = worn;
  if (own) void dress(figure(), own.coming, () => worn === own);
}

function drawHeads(heads: string[]): void {
  const list = document.querySelector("#posture-heads")!;
  const rows = heads.map((name) => ({ name, ...latest!.heads[name] })).sort((a, b) => b.span_position - a.span_position);
  list.innerHTML = rows
    .map((r) => {
      const arms = Object.entries(r.moment_arms_mm)
        .sort(([, a], [, b]) => Math.abs(b) - Math.abs(a))
        .slice(0, 2)
        .filter(([, v]) => Math.abs(v) >= 2)
        .map(([angle, v]) => `${v > 0 ? "+" : "−"}${Math.abs(v).toFixed(0)} mm ${plain(angle)}`);
      const share = Math.round(r.span_position * 100);
      return `<li><span>${plain(r.name)}</span><svg class="meter" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true"><rect class="ground" width="100" height="6" rx="1"/><rect class="third" x="66.7" width="33.3" height="6"/><rect class="part" width="${share}" height="6" rx="1"/></svg><span class="num">${share}%</span><span class="small quiet">${r.fibre_length.toFixed(2)} × optimal${arms.length ? `; ${arms.join(", ")}` : ""}</span></li>`;
    })
    .join("");
}

function say(slider: HTMLInputElement): void {
  const text = `${slider.value}°`;
  slider.closest(".slider")!.querySelector("output")!.textContent = text;
  slider.setAttribute("aria-valuetext", text);
}

function take(posture: string): void {
  const wanted = new Map(
    posture
      .split(" ")
      .filter(Boolean)
      .map((word) => word.split("=") as [string, string]),
  );
  for (const slider of sliders()) {
    slider.value = wanted.get(slider.name) ?? "0";
    say(slider);
  }
}

/** Start the page. */
export async function run(): Promise<void> {
  take(new URLSearchParams(location.search).get("angles") ?? document.querySelector<HTMLElement>("#posture-form")!.dataset.start!);
  document.querySelector("#posture-form")!.addEventListener("input", (event) => {
    const field = event.target as HTMLInputElement;
    if (field.type !== "range") return;
    say(field);
    void update(true);
  });
  document.querySelector("#posture-form")!.addEventListener("change", () => void update());
  document.addEventListener("click", (event) => {
    const preset = (event.target as HTMLElement).closest<HTMLElement>("[data-posture]");
    if (!preset) return;
    take(preset.dataset.posture!);
    void update();
  });
  muscle().addEventListener("change", show);
  listenToViews();
  await import("../elements/figure");
  await update();
}
