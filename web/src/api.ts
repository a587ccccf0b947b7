/** Questions to the server; the shapes of its answers are made from its own description (make check). */

export type {
  Figure,
  HeadMeasures,
  HeadProfile as HeadCurves,
  JointMoment,
  LiftProfile as Curves,
  MotionDrawn as Motion,
  PostureAnswer,
} from "./api.gen";

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

/** Names that people say otherwise than we write them, as the page gives them. */
let said: Record<string, string> | undefined;

/** A head, muscle or angle as people write it. */
export function plain(name: string): string {
  said ??= JSON.parse(document.body.dataset.said ?? "{}") as Record<string, string>;
  if (name.endsWith("_left")) return `left ${plain(name.slice(0, -5))}`;
  return said[name] ?? name.replaceAll("_", " ");
}

const LB = 0.45359237;

/** A load in the units that the page shows. */
export function inUnits(kg: number): { value: number; unit: string } {
  return document.documentElement.dataset.units === "imperial" ? { value: kg / LB, unit: "lb" } : { value: kg, unit: "kg" };
}
