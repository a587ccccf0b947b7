/** The order of lifts: by tiers of growth, which the server says, then by preferences and their weights as the server does. */

import type { LiftInOrder } from "./api.gen";

/** What is needed of a lift to put it in its place and to filter it. */
export type Rankable = Pick<LiftInOrder, "lift" | "range" | "tier" | "fit" | "gear" | "unstable" | "seconds_per_set" | "joints_nm">;

/** What lifts must meet: the same rules as the server's filters. */
export interface Wishes {
  gear: Set<string>;
  spare: Map<string, number>;
  minutes: number | null;
  steady: boolean;
  /** Why lifts cannot be done where the client trains, by id; empty where nobody asks. */
  absent: Record<string, string>;
}

const FEWEST_SETS = 2;

/** The weighted mean of the values of preferences, 0-1. */
export function score(fit: Record<string, number>, weights: Record<string, number>): number {
  let [sum, total] = [0, 0];
  for (const name in weights) {
    sum += weights[name] * (fit[name] ?? 0);
    total += weights[name];
  }
  return total > 0 ? sum / total : 0;
}

const key = (r: Rankable) => (r.range === "full" ? r.lift : `${r.lift} (${r.range})`);

/** Best first; within a tier by preferences, then by name. */
export function inOrder<T extends Rankable>(lifts: T[], weights: Record<string, number>): { row: T; value: number }[] {
  const found = lifts.map((row) => ({ row, value: score(row.fit, weights) }));
  return found.sort((a, b) => a.row.tier - b.row.tier || b.value - a.value || (key(a.row) < key(b.row) ? -1 : 1));
}

/** Why a wish leaves a lift out; nothing when it does not. */
export function refusal(row: Rankable, wishes: Wishes, gearName: (kind: string) => string): string {
  if (wishes.absent[row.lift]) return wishes.absent[row.lift];
  if (wishes.gear.size && !wishes.gear.has(row.gear)) return `needs ${gearName(row.gear)}`;
  if (wishes.steady && row.unstable) return "stands on an unstable surface";
  const reasons: string[] = [];
  for (const [joint, most] of wishes.spare) {
    const load = row.joints_nm[joint] ?? 0;
    if (load > most) reasons.push(`the ${joint} carries ${load.toFixed(0)} N·m at the load of the set; allowed ${most.toFixed(0)}`);
  }
  if (wishes.minutes !== null && Math.floor((wishes.minutes * 60) / row.seconds_per_set) < FEWEST_SETS) {
    reasons.push(
      `${FEWEST_SETS} hard sets need ${((FEWEST_SETS * row.seconds_per_set) / 60).toFixed(1)} min; there are ${wishes.minutes}`,
    );
  }
  return reasons.join("; ");
}
