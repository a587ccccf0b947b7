/** What colours the muscles of a figure, from a lift's curves. */
import type { Curves, Motion } from "./api";
import type { HeadValues } from "./elements/figure";

/** Fibre length, tension as a share of the head's strength, and activation of every head. */
export function valuesOf({ curves, figure }: Motion, targets: string[]): HeadValues {
  const of = (pick: (head: Curves["heads"][string], name: string) => number[]) =>
    Object.fromEntries(Object.entries(curves.heads).map(([name, head]) => [name, pick(head, name)]));
  return {
    length: of((h) => h.fibre_length),
    activation: of((h) => h.activation),
    tension: of((h, name) => {
      const strength = figure.strength_n[name.replace(/_left$/, "")] || 1;
      return h.active_force_n.map((f, i) => (f + h.passive_force_n[i]) / strength);
    }),
    targets,
  };
}
