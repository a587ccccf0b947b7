/** Pictures and clips of a figure to take along: on paper white, with a title, a line of words, and for clips the curve. */
import type { LwFigure } from "./figure";
import { valueAt } from "./head_words";
import { webmOf, type Block } from "./webm";

/** Shapes by name: width and height in pixels. */
export const SHAPES: Record<string, [number, number]> = {
  "16:9": [1920, 1080],
  "4:5": [1600, 2000],
  "1:1": [1600, 1600],
  "9:16": [1080, 1920],
};
const CLIP: [number, number] = [960, 540];
const CLIP_MS = 8000;
const FRAMES = 24;
const AHEAD = 4; // so many pictures wait for the encoder at most

/** What stands around the figure. */
export interface Told {
  title: string;
  words: string;
  /** One number a position, drawn below in a clip. */
  curve: number[];
  curveName: string;
}

const INK = "#1e1b22";
const GROUND = "#ffffff";
const ACCENT = "#6b2a63";
const FAINT = "#b9b3ad";

/** The figure as it is looked at, with its title and words. */
export function pictureOf(figure: LwFigure, [width, height]: [number, number], told: Told, inks = true): HTMLCanvasElement {
  const out = document.createElement("canvas");
  [out.width, out.height] = [width, height];
  const ink = out.getContext("2d")!;
  const unit = Math.min(width, height) / 100;
  ink.fillStyle = GROUND;
  ink.fillRect(0, 0, width, height);
  const below = broken(ink, told.words, width, height)[0][1] - 4 * unit;
  ink.drawImage(figure.picture(width, Math.round(below - 9 * unit), figure.position), 0, 9 * unit);
  if (inks) letter(ink, width, height, told);
  return out;
}

function letter(ink: CanvasRenderingContext2D, width: number, height: number, told: Told): void {
  const unit = Math.min(width, height) / 100;
  ink.fillStyle = INK;
  ink.font = `600 ${4.4 * unit}px Palatino, "Liberation Serif", Georgia, serif`;
  ink.fillText(told.title, 4 * unit, 7 * unit, width - 8 * unit);
  for (const [line, y] of broken(ink, told.words, width, height)) ink.fillText(line, 4 * unit, y);
}

/** Words in lines that fit a picture, each with its height in it; the pen takes their size. */
function broken(ink: CanvasRenderingContext2D, words: string, width: number, height: number): [string, number][] {
  const unit = Math.min(width, height) / 100;
  ink.font = `${2.6 * unit}px system-ui, sans-serif`;
  const lines = [""];
  for (const word of words.split(" ")) {
    const longer = `${lines[lines.length - 1]} ${word}`.trim();
    if (ink.measureText(longer).width <= width - 8 * unit) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  const first = height - Math.max(6, 3.4 * lines.length - 0.8) * unit;
  return lines.map((line, i) => [line, first + i * 3.4 * unit]);
}

/** The same as SVG: the figure as a picture in it, the words as text that can be edited. */
export function drawingOf(figure: LwFigure, size: [number, number], told: Told): string {
  const [width, height] = size;
  const unit = Math.min(width, height) / 100;
  const safe = (text: string) => text.replace(/[&<>"]/g, (c) => `&#${c.charCodeAt(0)};`);
  const drawn = pictureOf(figure, size, told, false);
  const image = drawn.toDataURL("image/png");
  const lines = broken(drawn.getContext("2d")!, told.words, width, height).map(
    ([line, y]) => `<tspan x="${4 * unit}" y="${y}">${safe(line)}</tspan>`,
  );
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" role="img" aria-label="${safe(`${told.title}. ${told.words}`)}"><image href="${image}" width="${width}" height="${height}"/><text x="${4 * unit}" y="${7 * unit}" font-family="Palatino, Georgia, serif" font-weight="600" font-size="${4.4 * unit}" fill="${INK}">${safe(told.title)}</text><text font-family="sans-serif" font-size="${2.6 * unit}" fill="${INK}">${lines.join(" ")}</text></svg>`;
}

/** Whether this browser can make clips. */
export const canRecord = (): boolean => "VideoEncoder" in window;

/** One repetition, down and up, twice, with its curve, as WebM: every picture in its turn, however long the machine takes. */
export async function clipOf(figure: LwFigure, told: Told, tell: (share: number) => void): Promise<Blob> {
  const stood = figure.position;
  const frames: HTMLCanvasElement[] = [];
  figure.take(true);
  try {
    for (let i = 0; i < FRAMES; i++) {
      figure.position = i / (FRAMES - 1);
      frames.push(framed(figure, told));
      tell((i + 1) / FRAMES / 2);
      await new Promise(requestAnimationFrame);
    }
    figure.position = stood;
  } finally {
    figure.take(false);
  }
  const turn = [...frames, ...[...frames].reverse()];
  return webmOf(await encoded([...turn, ...turn], (share) => tell(0.5 + share / 2)), CLIP, CLIP_MS);
}

/** Pictures that are shown one after the other for the length of a clip. */
async function encoded(frames: HTMLCanvasElement[], tell: (share: number) => void): Promise<Block[]> {
  const out: Block[] = [];
  let fault: DOMException | undefined;
  const encoder = new VideoEncoder({
    output: (chunk) => {
      const data = new Uint8Array(chunk.byteLength);
      chunk.copyTo(data);
      out.push({ data, at: chunk.timestamp / 1000, key: chunk.type === "key" });
    },
    error: (error) => (fault = error),
  });
  const step = CLIP_MS / frames.length;
  encoder.configure({ codec: "vp8", width: CLIP[0], height: CLIP[1], bitrate: 4_000_000, framerate: 1000 / step });
  for (const [k, frame] of frames.entries()) {
    const picture = new VideoFrame(frame, { timestamp: Math.round(k * step * 1000) });
    encoder.encode(picture, { keyFrame: k % (2 * FRAMES) === 0 });
    picture.close();
    while (encoder.encodeQueueSize > AHEAD) await new Promise((done) => setTimeout(done, 5));
    tell((k + 1) / frames.length);
  }
  await encoder.flush();
  encoder.close();
  if (fault) throw fault;
  return out;
}

/** A frame of the clip: the figure, its title and words, and the curve with where it stands. */
function framed(figure: LwFigure, told: Told): HTMLCanvasElement {
  const [width, height] = CLIP;
  const out = document.createElement("canvas");
  [out.width, out.height] = CLIP;
  const ink = out.getContext("2d")!;
  ink.fillStyle = GROUND;
  ink.fillRect(0, 0, width, height);
  ink.drawImage(figure.picture(width * 0.6, height - 90), 0, 44);
  letter(ink, width, height, told);
  const [left, top, wide, high] = [width * 0.64, 110, width * 0.32, 250];
  const most = Math.max(...told.curve) || 1;
  const place = (t: number): [number, number] => [left + t * wide, top + high * (1 - valueAt(told.curve, t) / most)];
  ink.font = "16px system-ui, sans-serif";
  ink.fillText(`${told.curveName}: ${Math.round(valueAt(told.curve, figure.position) * 100)}%`, left, top - 16);
  ink.fillText("bottom", left, top + high + 24);
  ink.textAlign = "right";
  ink.fillText("top", left + wide, top + high + 24);
  ink.fillStyle = FAINT;
  ink.fillRect(left, top + high, wide, 1);
  ink.strokeStyle = ACCENT;
  ink.lineWidth = 3;
  ink.beginPath();
  for (let t = 0; t <= 1.0001; t += 0.02) ink.lineTo(...place(Math.min(t, 1)));
  ink.stroke();
  ink.fillStyle = ACCENT;
  ink.beginPath();
  ink.arc(...place(figure.position), 8, 0, 2 * Math.PI);
  ink.fill();
  return out;
}

/** Let the reader keep a file. */
export function handOver(file: Blob, name: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(file);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
