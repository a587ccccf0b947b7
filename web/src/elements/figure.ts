/**
 * <lw-figure>: a body in motion. All positions are given at once and played here.
 *
 * show(figure, values) gives it what to draw; `position` (0-1) is where it stands; `colouring` and `shown` say how muscles are drawn.
 * It sends `lw-position` (detail: 0-1) when it is played or scrubbed.
 */
import { Color, DirectionalLight, HemisphereLight, Mesh, MeshLambertMaterial, Scene, Vector3, WebGLRenderer } from "three";
import type { Figure } from "../api";
import { colourOf, legend, LENGTH, TENSION, type Scale } from "../scales";
import { BodyShape } from "./body_shape";
import { GearShape } from "./gear_shape";
import { Orbit, VIEWS } from "./orbit";
import { Tubes } from "./tube";

const REPETITION_MS = 4000;
const WORKS = 0.12;

/** What colours the muscles: by head, one number a position. */
export interface HeadValues {
  length: Record<string, number[]>;
  tension: Record<string, number[]>;
  activation: Record<string, number[]>;
  targets: string[];
}
export type Colouring = "length" | "tension";
export type Shown = "working" | "targets" | "all";

const STILL_VALUES: HeadValues = { length: {}, tension: {}, activation: {}, targets: [] };
const still = () => matchMedia("(prefers-reduced-motion: reduce)").matches;

export class LwFigure extends HTMLElement {
  private renderer?: WebGLRenderer;
  private readonly scene = new Scene();
  private readonly body = new BodyShape();
  private readonly gear = new GearShape();
  private readonly flesh = new MeshLambertMaterial({ vertexColors: true });
  private muscles = new Mesh(undefined, this.flesh);
  private tubes?: Tubes;
  private orbit?: Orbit;
  private figure?: Figure;
  private values = STILL_VALUES;
  private at = 0;
  private asked = 0;
  private playing = 0;
  private colouringNow: Colouring = "length";
  private shownNow: Shown = "working";
  private readonly colours: Record<string, number[]> = {};

  connectedCallback(): void {
    if (this.renderer) return;
    const label = this.getAttribute("label") ?? "The body in this lift";
    this.innerHTML = `
      <div class="figure-view" role="img" tabindex="0" aria-label="${label}. Arrow keys turn it, plus and minus bring it nearer or further."></div>
      <div class="figure-legend"></div>
      <div class="figure-views choices" role="group" aria-label="View">${Object.keys(VIEWS)
        .map((v) => `<button type="button" class="small-button" data-view="${v}">${v}</button>`)
        .join("")}</div>
      <div class="figure-transport" ${this.hasAttribute("still") ? "hidden" : ""}>
        <button type="button" class="icon-button" data-play aria-label="Play"><svg viewBox="0 0 20 20" width="18" aria-hidden="true"><path d="M5 3l12 7-12 7z" fill="currentColor"/></svg></button>
        <input type="range" min="0" max="100" step="0.5" value="0" aria-label="Position in the lifting phase">
        <output class="num">0 %</output>
      </div>`;
    this.start();
    this.listen();
  }

  disconnectedCallback(): void {
    cancelAnimationFrame(this.playing);
    this.renderer?.dispose();
  }

  /** Draw this figure with these values from now on. */
  show(figure: Figure, values: HeadValues = STILL_VALUES, keepView = false): void {
    const same = this.figure !== undefined && keepView;
    this.figure = figure;
    this.values = values;
    this.body.build(figure);
    this.gear.build(figure);
    this.tubes = new Tubes(figure.lines.length * (figure.mirrored ? 2 : 1));
    this.muscles.geometry.dispose();
    this.muscles.geometry = this.tubes.geometry;
    if (!same) this.frame();
    this.place();
    this.dataset.ready = "yes";
    this.dataset.readyMs ??= String(Math.round(performance.now()));
  }

  get position(): number {
    return this.at;
  }

  set position(value: number) {
    this.at = Math.min(Math.max(value, 0), 1);
    this.place();
  }

  set colouring(value: Colouring) {
    this.colouringNow = value;
    this.drawLegend();
    this.place();
  }

  set shown(value: Shown) {
    this.shownNow = value;
    this.place();
  }

  /** Play up and down until stopped. */
  play(): void {
    const begun = performance.now() - this.at * (REPETITION_MS / 2);
    const step = (now: number) => {
      const turn = ((now - begun) / REPETITION_MS) % 1;
      const way = turn < 0.5 ? turn * 2 : 2 - turn * 2;
      this.move(way * way * (3 - 2 * way));
      this.playing = requestAnimationFrame(step);
    };
    this.stop();
    this.playing = requestAnimationFrame(step);
    this.mark(true);
  }

  /** Stop playing. */
  stop(): void {
    cancelAnimationFrame(this.playing);
    this.playing = 0;
    this.mark(false);
  }

  private start(): void {
    const view = this.view();
    this.renderer = new WebGLRenderer({ antialias: true, alpha: true, powerPreference: "low-power" });
    this.renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    view.append(this.renderer.domElement);
    const sun = new DirectionalLight(0xffffff, 1.7);
    sun.position.set(2, -3, 4);
    this.muscles.frustumCulled = false;
    this.scene.add(new HemisphereLight(0xffffff, 0x998877, 1.7), sun, this.muscles, this.body.group, this.gear.group);
    this.orbit = new Orbit(view, () => this.draw());
    this.paint();
    this.drawLegend();
    new ResizeObserver(() => this.resize()).observe(view);
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this.paint());
  }

  private listen(): void {
    this.addEventListener("click", (event) => {
      const button = (event.target as HTMLElement).closest("button");
      if (button?.dataset.view) this.orbit?.view(button.dataset.view);
      else if (button && "play" in button.dataset) this.playing ? this.stop() : this.play();
    });
    this.scrubber().addEventListener("input", () => {
      this.stop();
      this.move(Number(this.scrubber().value) / 100);
    });
    this.addEventListener("keydown", (event) => {
      if (event.key !== " " || (event.target as HTMLElement).closest("button")) return;
      event.preventDefault();
      this.playing ? this.stop() : this.play();
    });
  }

  /** Play at once, unless the reader asked for little motion. */
  begin(): void {
    if (!still()) this.play();
  }

  private move(to: number): void {
    this.position = to;
    this.dispatchEvent(new CustomEvent("lw-position", { detail: this.at, bubbles: true }));
  }

  private mark(plays: boolean): void {
    const button = this.querySelector<HTMLButtonElement>("[data-play]");
    button?.setAttribute("aria-label", plays ? "Pause" : "Play");
    button?.querySelector("path")?.setAttribute("d", plays ? "M5 3h4v14H5zM11 3h4v14h-4z" : "M5 3l12 7-12 7z");
  }

  private view(): HTMLElement {
    return this.querySelector<HTMLElement>(".figure-view")!;
  }

  private scrubber(): HTMLInputElement {
    return this.querySelector<HTMLInputElement>("input[type=range]")!;
  }

  private scale(): Scale {
    return this.colouringNow === "length" ? LENGTH : TENSION;
  }

  private drawLegend(): void {
    const place = this.querySelector(".figure-legend");
    if (place) place.innerHTML = legend(this.scale());
  }

  /** Take the page's colours. */
  private paint(): void {
    const style = getComputedStyle(this);
    const of = (name: string) => style.getPropertyValue(name).trim();
    this.body.paint(of("--figure-skin"), of("--figure-rim"));
    this.gear.paint(of("--figure-load"), of("--figure-metal"), of("--figure-pad"), of("--figure-floor"));
    for (const name of ["tendon", "idle"]) this.colours[name] = new Color(of(`--figure-${name}`)).toArray();
    this.place();
  }

  private resize(): void {
    const { clientWidth: width, clientHeight: height } = this.view();
    if (!width || !height || !this.renderer || !this.orbit) return;
    this.renderer.setSize(width, height);
    this.orbit.camera.aspect = width / height;
    this.orbit.camera.updateProjectionMatrix();
    this.frame();
  }

  /** Look at all positions of the figure, its floor and its load. */
  private frame(): void {
    if (!this.figure || !this.orbit) return;
    const [low, high] = [new Vector3(Infinity, Infinity, 0), new Vector3(-Infinity, -Infinity, 0)];
    for (const ends of this.figure.ends_mm) {
      for (let i = 0; i < ends.length; i += 3) {
        const p = new Vector3(ends[i], ends[i + 1], ends[i + 2]).divideScalar(1000);
        low.min(p.clone().subScalar(0.1));
        high.max(p.addScalar(0.1));
      }
    }
    low.z = Math.max(low.z, -0.02);
    this.orbit.frame(low, high, this.orbit.camera.aspect || 1);
  }

  /** Put everything where it is at the present position. */
  private place(): void {
    const figure = this.figure;
    if (!figure) return;
    const last = figure.ends_mm.length - 1;
    const at = Math.min(Math.floor(this.at * last), Math.max(last - 1, 0));
    const between = last ? this.at * last - at : 0;
    const next = figure.ends_mm[Math.min(at + 1, last)];
    this.body.place(Float32Array.from(figure.ends_mm[at], (v, i) => (v + (next[i] - v) * between) / 1000));
    this.gear.place(at, between);
    this.placeMuscles(figure, at, between);
    const scrubber = this.scrubber();
    scrubber.value = String(this.at * 100);
    scrubber.setAttribute("aria-valuetext", `${Math.round(this.at * 100)} % of the lifting phase`);
    this.querySelector("output")!.textContent = `${Math.round(this.at * 100)} %`;
    this.draw();
  }

  private placeMuscles(figure: Figure, at: number, between: number): void {
    const tubes = this.tubes!;
    let slot = 0;
    figure.lines.forEach((line, i) => {
      const head = line.side === "left" && `${line.head}_left` in this.values.length ? `${line.head}_left` : line.head;
      if (!this.wanted(head)) return;
      const points = between > 0 ? blended(figure.points_mm[at][i], figure.points_mm[at + 1]?.[i], between) : figure.points_mm[at][i];
      const own = this.values[this.colouringNow][head];
      const value = own ? valueAt(own, this.at) : undefined;
      for (const mirror of figure.mirrored ? [false, true] : [false]) {
        tubes.write(slot++, {
          points,
          mirror,
          radius: line.radius_mm / 1000,
          fibreShare: line.fibre_share,
          fibreLength: valueAt(this.values.length[head] ?? [1], this.at),
          colour: value === undefined ? this.colours.idle : linear(colourOf(this.scale(), value)),
          tendon: this.colours.tendon,
        });
      }
    });
    tubes.finish(slot);
  }

  private wanted(head: string): boolean {
    if (this.shownNow === "all") return true;
    const target = this.values.targets.includes(head.replace(/_left$/, ""));
    return target || (this.shownNow === "working" && Math.max(0, ...(this.values.activation[head] ?? [])) >= WORKS);
  }

  /** Draw once at the next chance, however often it is asked for. */
  private draw(): void {
    if (this.asked) return;
    this.asked = requestAnimationFrame(() => {
      this.asked = 0;
      if (this.renderer && this.orbit) this.renderer.render(this.scene, this.orbit.camera);
      this.dataset.drawn = "yes";
    });
  }
}

const linear = (rgb: readonly number[]) => new Color().setRGB(rgb[0], rgb[1], rgb[2], "srgb").toArray();

/** A curve's value between its positions. */
function valueAt(curve: number[], position: number): number {
  const at = position * (curve.length - 1);
  const k = Math.min(Math.floor(at), Math.max(curve.length - 2, 0));
  return curve[k] + ((curve[k + 1] ?? curve[k]) - curve[k]) * (at - k);
}

/** A line's points between two positions; a line that wraps otherwise there jumps at the middle. */
function blended(a: number[], b: number[] | undefined, part: number): number[] {
  if (!b || a.length !== b.length) return b && part > 0.5 ? b : a;
  return a.map((v, i) => v + (b[i] - v) * part);
}

customElements.define("lw-figure", LwFigure);
