/** Colour scales that are even to the eye and safe for colour-blind readers; see docs/look.md for sources. */

export type Rgb = [number, number, number];

const VIRIDIS = ["440154", "482878", "3e4989", "31688e", "26828e", "1f9e89", "35b779", "6ece58", "b5de2b", "fde725"];
const CIVIDIS = ["00224e", "123570", "3b496c", "575d6d", "707173", "8a8678", "a59c74", "c3b369", "e1cc55", "fee838"];

/** What a figure's colours stand for. */
export interface Scale {
  title: string;
  low: number;
  high: number;
  ticks: number[];
  label: (value: number) => string;
  stops: Rgb[];
}

const rgb = (hex: string): Rgb => [0, 2, 4].map((i) => parseInt(hex.slice(i, i + 2), 16) / 255) as Rgb;

/** Fibre length as multiples of the optimal one. */
export const LENGTH: Scale = {
  title: "Fibre length, × optimal",
  low: 0.4,
  high: 1.6,
  ticks: [0.4, 0.7, 1, 1.3, 1.6],
  label: (v) => v.toFixed(1),
  stops: VIRIDIS.map(rgb),
};

/** Tension as a share of a head's largest. */
export const TENSION: Scale = {
  title: "Tension, share of the head's strength",
  low: 0,
  high: 1,
  ticks: [0, 0.25, 0.5, 0.75, 1],
  label: (v) => `${Math.round(v * 100)}%`,
  stops: CIVIDIS.map(rgb),
};

/** The colour of a value, cut to the scale's ends. */
export function colourOf(scale: Scale, value: number): Rgb {
  const at = Math.min(Math.max((value - scale.low) / (scale.high - scale.low), 0), 1) * (scale.stops.length - 1);
  const k = Math.min(Math.floor(at), scale.stops.length - 2);
  const part = at - k;
  return scale.stops[k].map((c, i) => c + (scale.stops[k + 1][i] - c) * part) as Rgb;
}

/** A legend as an SVG drawing, described in words for those who cannot see it. */
export function legend(scale: Scale): string {
  const stops = scale.stops.map(
    (c, i) =>
      `<stop offset="${(i / (scale.stops.length - 1)) * 100}%" stop-color="rgb(${c.map((v) => Math.round(v * 255)).join(",")})"/>`,
  );
  const x = (v: number) => 8 + ((v - scale.low) / (scale.high - scale.low)) * 184;
  const ticks = scale.ticks.map((v) => `<text x="${x(v)}" y="37" text-anchor="middle">${scale.label(v)}</text>`);
  const id = `scale-${scale.low}-${scale.high}`;
  return `<svg viewBox="0 0 200 42" role="img" aria-label="${scale.title}, from ${scale.label(scale.low)} (dark) to ${scale.label(scale.high)} (light)">
    <defs><linearGradient id="${id}">${stops.join("")}</linearGradient></defs>
    <text x="8" y="10">${scale.title}</text><rect x="8" y="15" width="184" height="10" rx="2" fill="url(#${id})"/>${ticks.join("")}</svg>`;
}

/** Colour and dash of the n-th series of a chart; both differ, so that neither is needed alone. */
export function series(n: number): { colour: string; dash: number[] } {
  const dashes = [[], [7, 4], [2, 3], [10, 3, 2, 3], [], [7, 4], [2, 3], [10, 3, 2, 3]];
  const name = `--c${(n % 8) + 1}`;
  return { colour: getComputedStyle(document.documentElement).getPropertyValue(name).trim(), dash: dashes[n % 8] };
}
