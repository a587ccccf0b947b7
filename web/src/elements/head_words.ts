/** What a head does at a position, in words. */
import { plain } from "../api";

/** What colours the muscles: by head, one number a position. */
export interface HeadValues {
  length: Record<string, number[]>;
  tension: Record<string, number[]>;
  activation: Record<string, number[]>;
  targets: string[];
}

/** A curve's value between its positions. */
export function valueAt(curve: number[], position: number): number {
  const at = position * (curve.length - 1);
  const k = Math.min(Math.floor(at), Math.max(curve.length - 2, 0));
  return curve[k] + ((curve[k + 1] ?? curve[k]) - curve[k]) * (at - k);
}

/** A position in words: bottom and top are the ends of the lifting phase. */
export function placed(position: number): string {
  if (position < 0.03) return "at the bottom";
  return position > 0.97 ? "at the top" : `${Math.round(position * 100)}% of the way up`;
}

/** A head's name and numbers at a position, as one sentence. */
export function wordsOf(head: string, side: string, values: HeadValues, position: number): string {
  const own = side === "left" && `${head}_left` in values.length ? `${head}_left` : head;
  const name = plain(own);
  const named = name.charAt(0).toUpperCase() + name.slice(1);
  if (!values.length[own]) return `${named}: not computed for this lift.`;
  const fibres = `${named}: fibres ${valueAt(values.length[own], position).toFixed(2)} × optimal`;
  if (!values.tension[own]) return `${fibres}.`;
  const [tension, drive] = [values.tension, values.activation].map((v) => valueAt(v[own], position));
  const harder = Object.values(values.activation).filter((v) => valueAt(v, position) > drive).length;
  const percent = (v: number) => `${Math.round(v * 100)}%`;
  const rank =
    drive < 0.02 ? "at rest" : `drive ${percent(drive)}, number ${harder + 1} of ${Object.keys(values.activation).length}`;
  return `${fibres}, tension ${percent(tension)} of its strength, ${rank}.`;
}
