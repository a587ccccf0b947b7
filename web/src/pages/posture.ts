/** The page where joints are moved and every head's length is watched. */
import { answerOf, Latest, plain, Refusal, type PostureAnswer } from "../api";
import type { LwFigure } from "../elements/figure";

const sliders = () => [...document.querySelectorAll<HTMLInputElement>("#posture-form input[type=range]")];
const figure = () => document.querySelector<LwFigure>("lw-figure")!;
let latest: PostureAnswer | undefined;

function angles(): string {
  return sliders()
    .filter((s) => Number(s.value) !== 0)
    .map((s) => `${s.name}=${s.value}`)
    .join(" ");
}

const queue = new Latest();
const update = (): Promise<void> => queue.run(answer);

async function answer(): Promise<void> {
  const trouble = document.querySelector<HTMLElement>("#posture-trouble")!;
  const text = angles();
  history.replaceState(null, "", text ? `?${new URLSearchParams({ angles: text })}` : location.pathname);
  try {
    latest = await answerOf<PostureAnswer>("/api/posture", new URLSearchParams({ angles: text }));
    trouble.hidden = true;
    show();
  } catch (error) {
    trouble.hidden = false;
    trouble.textContent = error instanceof Refusal ? error.message : "The server does not answer. Is it still running?";
  }
}

const muscle = () => document.querySelector<HTMLSelectElement>("#posture-muscle")!;
const chosen = () => (muscle().selectedOptions[0].dataset.heads ?? "").split(" ").filter(Boolean);

function show(): void {
  if (!latest) return;
  const length = Object.fromEntries(Object.entries(latest.heads).map(([h, v]) => [h, [v.fibre_length]]));
  const heads = chosen();
  figure().show(latest.figure, { length, tension: {}, activation: {}, targets: heads }, true);
  figure().shown = heads.length ? "targets" : "all";
  drawHeads(heads.length ? heads : Object.keys(latest.heads));
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
      return `<li><span>${plain(r.name)}</span><svg class="meter" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true"><rect class="ground" width="100" height="6" rx="1"/><rect class="third" x="66.7" width="33.3" height="6"/><rect class="part" width="${share}" height="6" rx="1"/></svg><span class="num">${share} %</span><span class="small quiet">${r.fibre_length.toFixed(2)} × optimal${arms.length ? `; ${arms.join(", ")}` : ""}</span></li>`;
    })
    .join("");
}

function say(slider: HTMLInputElement): void {
  const text = `${slider.value}°`;
  slider.closest(".slider")!.querySelector("output")!.textContent = text;
  slider.setAttribute("aria-valuetext", text);
}

function take(posture: string): void {
  const wanted = new Map(posture.split(" ").filter(Boolean).map((word) => word.split("=") as [string, string]));
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
    void update();
  });
  document.addEventListener("click", (event) => {
    const preset = (event.target as HTMLElement).closest<HTMLElement>("[data-posture]");
    if (!preset) return;
    take(preset.dataset.posture!);
    void update();
  });
  muscle().addEventListener("change", show);
  await import("../elements/figure");
  await update();
}
