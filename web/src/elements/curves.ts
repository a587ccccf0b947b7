/**
 * <lw-curves title unit>: curves over the lifting phase that share a position with the figure.
 *
 * `data-described` is what the server says of it (report/lift_curves.py): which numbers, their axis, their words. show(lines) draws; `position` (0-1) moves the mark; `lw-position` (detail: 0-1) is sent when the pointer or arrow keys move it.
 */
import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";

/** One curve; `ghost` ones are what was there before. */
export interface Line {
  label: string;
  values: number[];
  colour: string;
  dash?: number[];
  width?: number;
  ghost?: boolean;
}
/** A curve as the server describes it. */
interface Described {
  keys: string[];
  scale: number;
  low: number | null;
  high: number | null;
  band: [number, number] | null;
  digits: number;
  end: string;
  labels: string[];
}
interface Panel {
  lines: Line[];
  low?: number;
  high?: number;
  mark?: number;
}

const POINTS = 101;

export class LwCurves extends HTMLElement {
  private plot?: uPlot;
  private at = 0;
  private panel?: Panel;
  private own?: Described;

  connectedCallback(): void {
    if (this.querySelector(".curves-plot")) return;
    const title = this.getAttribute("title-text") ?? "";
    this.insertAdjacentHTML(
      "beforeend",
      `<h3 class="curves-title">${title} <span class="quiet">${this.getAttribute("unit") ?? ""}</span></h3>
       <div class="curves-plot" tabindex="0" role="slider" aria-label="${title}: position in the lifting phase" aria-valuemin="0" aria-valuemax="100" aria-valuenow="0"></div>`,
    );
    const place = this.place();
    place.addEventListener("keydown", (event) => this.key(event));
    new ResizeObserver(() => this.plot?.setSize(this.size())).observe(place);
    matchMedia("(prefers-color-scheme: dark)").addEventListener(
      "change",
      () => this.panel && this.show(this.panel.lines, this.panel.mark, this.panel.low, this.panel.high),
    );
  }

  get described(): Described {
    return (this.own ??= JSON.parse(this.dataset.described!) as Described);
  }

  /** The numbers of a lift or a head that are shown here. */
  valuesOf(found: object): number[] {
    const { keys, scale } = this.described;
    const parts = keys.map((key) => (found as Record<string, number[]>)[key]);
    return parts[0].map((_, i) => scale * parts.reduce((sum, part) => sum + part[i], 0));
  }

  /** Draw these lines from now on; the axis is as described where its ends are not given. */
  show(lines: Line[], mark?: number, low = this.described.low ?? undefined, high = this.described.high ?? undefined): void {
    const panel = (this.panel = { lines, mark, low, high });
    this.plot?.destroy();
    const x = Array.from({ length: POINTS }, (_, i) => (i / (POINTS - 1)) * 100);
    const data = [x, ...panel.lines.map((line) => spread(line.values))];
    this.plot = new uPlot(this.options(panel), data as uPlot.AlignedData, this.place());
    this.position = this.at;
  }

  get position(): number {
    return this.at;
  }

  set position(value: number) {
    this.at = value;
    const place = this.place();
    place.setAttribute("aria-valuenow", String(Math.round(value * 100)));
    place.setAttribute("aria-valuetext", this.said());
    this.plot?.redraw(false);
  }

  private format(value: number): string {
    return `${value.toFixed(this.described.digits)}${this.described.end}`;
  }

  private place(): HTMLElement {
    return this.querySelector<HTMLElement>(".curves-plot")!;
  }

  private size(): { width: number; height: number } {
    const place = this.place();
    return { width: Math.max(place.clientWidth, 120), height: Math.max(place.clientHeight, 100) };
  }

  /** The curves' values at the mark, in words. */
  private said(): string {
    const own = this.panel?.lines.filter((line) => !line.ghost).slice(0, 4) ?? [];
    const values = own.map((line) => `${line.label} ${this.format(spread(line.values)[Math.round(this.at * (POINTS - 1))])}`);
    return `${Math.round(this.at * 100)}%: ${values.join(", ")}`;
  }

  private options(panel: Panel): uPlot.Options {
    const style = getComputedStyle(this);
    const of = (name: string) => style.getPropertyValue(name).trim();
    const axis = {
      stroke: of("--ink-2"),
      font: `12px ${of("--text")}`,
      grid: { stroke: of("--line"), width: 1 },
      ticks: { show: false },
    };
    return {
      ...this.size(),
      legend: { show: false },
      padding: [8, 18, 0, 0],
      cursor: { x: false, y: false, points: { show: false }, drag: { x: false, y: false } },
      scales: { x: { time: false, range: [0, 100] }, y: { range: (_, low, high) => bounds(panel, low, high) } },
      axes: [
        {
          ...axis,
          grid: { show: false },
          size: 28,
          values: (_, ticks) => ticks.map((t) => (t === 0 ? "bottom" : t === 100 ? "top" : t % 50 ? "" : `${t}%`)),
        },
        { ...axis, size: 46, values: (_, ticks) => ticks.map((v) => this.format(v)) },
      ],
      series: [{}, ...panel.lines.map((line) => drawn(line, of("--line-2")))],
      hooks: {
        drawClear: [(u) => shade(u, panel, this.described.band, of("--accent-soft"))],
        draw: [(u) => this.drawMark(u, of("--accent"), of("--sheet"))],
        ready: [(u) => this.listen(u)],
      },
    };
  }

  private listen(u: uPlot): void {
    let held = false;
    const move = (event: PointerEvent) => {
      const box = u.over.getBoundingClientRect();
      this.send(Math.min(Math.max((event.clientX - box.left) / box.width, 0), 1));
    };
    u.over.addEventListener("pointerdown", (event) => {
      held = true;
      u.over.setPointerCapture(event.pointerId);
      move(event);
    });
    u.over.addEventListener("pointermove", (event) => {
      if (held || event.pointerType === "mouse") move(event);
    });
    u.over.addEventListener("lostpointercapture", () => (held = false));
  }

  private key(event: KeyboardEvent): void {
    const steps: Record<string, number> = { ArrowLeft: -0.02, ArrowRight: 0.02, PageDown: -0.1, PageUp: 0.1, Home: -1, End: 1 };
    if (!(event.key in steps)) return;
    event.preventDefault();
    this.send(Math.min(Math.max(this.at + steps[event.key], 0), 1));
  }

  private send(to: number): void {
    this.position = to;
    this.dispatchEvent(new CustomEvent("lw-position", { detail: to, bubbles: true }));
  }

  private drawMark(u: uPlot, colour: string, ground: string): void {
    const { ctx, bbox } = u;
    const x = u.valToPos(this.at * 100, "x", true);
    ctx.save();
    ctx.strokeStyle = colour;
    ctx.lineWidth = 1.5 * devicePixelRatio;
    ctx.setLineDash([]);
    ctx.beginPath();
    ctx.moveTo(x, bbox.top);
    ctx.lineTo(x, bbox.top + bbox.height);
    ctx.stroke();
    this.panel?.lines.forEach((line, i) => {
      const value = u.data[i + 1][Math.round(this.at * (POINTS - 1))];
      if (line.ghost || value == null) return;
      ctx.fillStyle = line.colour;
      ctx.strokeStyle = ground;
      ctx.beginPath();
      ctx.arc(x, u.valToPos(value, "y", true), 4 * devicePixelRatio, 0, 2 * Math.PI);
      ctx.fill();
      ctx.stroke();
    });
    ctx.restore();
  }
}

/** A curve on even positions. */
function spread(values: number[]): number[] {
  return Array.from({ length: POINTS }, (_, i) => {
    const at = (i / (POINTS - 1)) * (values.length - 1);
    const k = Math.min(Math.floor(at), Math.max(values.length - 2, 0));
    return values[k] + ((values[k + 1] ?? values[k]) - values[k]) * (at - k);
  });
}

function drawn(line: Line, ghost: string): uPlot.Series {
  return {
    label: line.label,
    stroke: line.ghost ? ghost : line.colour,
    width: line.ghost ? 1.5 : (line.width ?? 2),
    dash: line.ghost ? [2, 4] : line.dash,
    points: { show: false },
    alpha: line.ghost ? 0.9 : 1,
  };
}

function bounds(panel: Panel, low: number, high: number): [number, number] {
  const bottom = panel.low ?? low;
  const top = panel.high ?? high;
  const room = (top - bottom || Math.abs(top) || 1) * 0.08;
  return [panel.low ?? bottom - room, panel.high ?? top + room];
}

/** The band of a panel, and a line where something happens. */
function shade(u: uPlot, panel: Panel, band: [number, number] | null, colour: string): void {
  const { ctx, bbox } = u;
  ctx.save();
  ctx.fillStyle = colour;
  if (band) {
    const [low, high] = band.map((v) => u.valToPos(v, "y", true));
    ctx.fillRect(bbox.left, high, bbox.width, low - high);
  }
  if (panel.mark !== undefined) {
    const x = u.valToPos(panel.mark * 100, "x", true);
    ctx.fillRect(x - 5 * devicePixelRatio, bbox.top, 10 * devicePixelRatio, bbox.height);
  }
  ctx.restore();
}

customElements.define("lw-curves", LwCurves);
