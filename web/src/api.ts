/** Questions to the server, and the shapes of its answers (see /api/openapi.json). */

export interface HeadMeasures {
  span_longest: number;
  loaded_length: number;
  long_range_load: number;
  tension_at_longest: number;
  joint_conflict: number;
  limiting_share: number;
  effort_share: number;
}
export interface HeadCurves {
  fibre_length: number[];
  activation: number[];
  active_force_n: number[];
  passive_force_n: number[];
  measures: HeadMeasures;
}
export interface Curves {
  lift: string;
  name: string;
  range: string;
  positions: number[];
  angles_deg: Record<string, number[]>;
  capacity_kg: number[];
  demand: number[];
  sticking: { position: number; load_kg: number; limiting: { head: string; share: number }[] };
  working: { load_kg: number; repetitions: number; reserve: number };
  heads: Record<string, HeadCurves>;
}
export interface Figure {
  mirrored: boolean;
  capsules: { segment: string; radii_mm: [number, number] }[];
  ends_mm: number[][];
  lines: { name: string; head: string; side: string; radius_mm: number; fibre_share: number }[];
  points_mm: number[][][];
  strength_n: Record<string, number>;
  loads: {
    mark: string;
    points_mm: number[][];
    direction: number[][];
    size: number[];
    handle: number[][];
    from_mm: number[] | null;
  }[];
  supports: { mark: string; push: number[] | null; moves: boolean; points_mm: number[][] }[];
  bar: boolean;
  resistance: string;
  gear: string;
}
export interface Motion {
  curves: Curves;
  figure: Figure;
}
export interface PostureAnswer {
  heads: Record<string, { fibre_length: number; span_position: number; max_force_n: number; moment_arms_mm: Record<string, number> }>;
  figure: Figure;
}

export interface StrengthAnswer {
  angle: string;
  direction: string;
  moment_nm: number;
  heads: Record<string, number>;
}

/** An answer that is an error, in the server's words. */
export class Refusal extends Error {}

/** Ask; the body that the page is about goes along. */
export async function ask(path: string, query: URLSearchParams = new URLSearchParams(), signal?: AbortSignal): Promise<Response> {
  const whole = new URLSearchParams(document.body.dataset.who ?? "");
  for (const [name, value] of query) whole.append(name, value);
  const answer = await fetch(`${path}?${whole}`, { signal, headers: { accept: "application/json" } });
  if (answer.ok) return answer;
  const told = await answer.json().catch(() => ({ message: `The server answered ${answer.status}.` }));
  throw new Refusal(told.message);
}

/** Ask for a JSON answer. */
export async function answerOf<T>(path: string, query?: URLSearchParams, signal?: AbortSignal): Promise<T> {
  return (await ask(path, query, signal)).json() as Promise<T>;
}

/** Runs one thing at a time; of what is asked for meanwhile only the latest is run, so that a dragged slider never queues. */
export class Latest {
  private busy = false;
  private next?: () => Promise<void>;

  /** Run this, now or when the present one is done. */
  async run(work: () => Promise<void>): Promise<void> {
    if (this.busy) {
      this.next = work;
      return;
    }
    this.busy = true;
    for (let now: (() => Promise<void>) | undefined = work; now; now = this.next) {
      this.next = undefined;
      await now();
    }
    this.busy = false;
  }
}

/** A head, muscle or angle as people write it. */
export function plain(name: string): string {
  const left = name.endsWith("_left");
  const text = (left ? name.slice(0, -5) : name).replaceAll("_", " ");
  return left ? `${text} (left)` : text;
}

const LB = 0.45359237;

/** A load in the units that the page shows. */
export function inUnits(kg: number): { value: number; unit: string } {
  return document.documentElement.dataset.units === "imperial" ? { value: kg / LB, unit: "lb" } : { value: kg, unit: "kg" };
}
