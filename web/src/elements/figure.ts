/**
 * <lw-figure>: a body in motion. All positions are given at once and played here.
 *
 * show(figure, values) gives it what to draw; `position` (0-1) is where it stands; `colouring` and `shown` say how muscles are drawn.
 * It sends `lw-position` (detail: 0-1) when it is played or scrubbed, `lw-chosen` (detail: a head) when a muscle is tapped or taken from
 * the list, and `lw-looked` when it is looked at otherwise; `look` holds how, for an address.
 */
import { Color, Scene, WebGLRenderer } from "three";
import type { Figure } from "../api";
import { colourOf, legend, LENGTH, TENSION, type Scale } from "../scales";
import { anatomical, AnatomyShape, linear, type Layers } from "./anatomy_shape";
import { BodyShape } from "./body_shape";
import { markupOf, NO_DRAWING } from "./figure_markup";
import { bodyPoints, nearBody } from "./framing";
import { GearShape } from "./gear_shape";
import { valueAt, type HeadValues } from "./head_words";
import { LineShape } from "./line_shape";
import { LoadArrows } from "./load_arrows";
import { Orbit } from "./orbit";
import { Pointing } from "./pointing";
import type { BonesHead, Packed, SceneHead } from "./solids_file";
import { Studio } from "./studio";

export type { HeadValues } from "./head_words";

const REPETITION_MS = 4000;
const WORKS = 0.12;
const SOLIDS = ["bone", "skin", "flesh", "fascia", "tendon", "steel", "iron", "rubber", "pad", "frame", "rope", "band", "clear"];

export type Colouring = "length" | "tension" | "anatomy";
export type Shown = "working" | "targets" | "all";

const STILL_VALUES: HeadValues = { length: {}, tension: {}, activation: {}, targets: [] };
const still = () => matchMedia("(prefers-reduced-motion: reduce)").matches;

export class LwFigure extends HTMLElement {
  private renderer?: WebGLRenderer;
  private readonly scene = new Scene();
  private readonly body = new BodyShape();
  private readonly gear = new GearShape();
  private readonly load = new LoadArrows();
  private readonly anatomy = new AnatomyShape();
  private readonly studio = new Studio();
  private pointing?: Pointing;
  private readonly lines = new LineShape();
  private orbit?: Orbit;
  private figure?: Figure;
  private values = STILL_VALUES;
  private at = 0;
  private asked = 0;
  private taken = false;
  private playing = 0;
  private colouringNow: Colouring = "length";
  private shownNow: Shown = "working";
  private readonly colours: Record<string, number[]> = {};
  private layersNow: Layers = "muscles";
  private aloneNow = false;
  private nearNow: string[] = [];

  connectedCallback(): void {
    if (this.renderer) return;
    const label = this.getAttribute("label") ?? "The body in this lift";
    this.innerHTML = markupOf(label, this.hasAttribute("still"));
    try {
      this.start();
      this.listen();
    } catch (error) {
      console.info("no figure:", error);
      this.view().innerHTML = NO_DRAWING;
      this.dataset.ready = this.dataset.drawn = "none";
    }
  }

  disconnectedCallback(): void {
    queueMicrotask(() => {
      if (this.isConnected) return;
      cancelAnimationFrame(this.playing);
      this.renderer?.dispose();
    });
  }

  /** Draw this figure with these values from now on. */
  show(figure: Figure, values: HeadValues = STILL_VALUES, keepView = false): void {
    if (!this.orbit) return;
    const same = this.figure !== undefined && keepView;
    this.figure = figure;
    this.values = values;
    this.body.build(figure);
    this.gear.build(figure);
    this.load.build(figure);
    this.lines.build(figure);
    this.wear(false);
    if (!same) this.frame();
    this.place();
    this.dataset.ready = "yes";
    this.dataset.readyMs ??= String(Math.round(performance.now()));
  }

  /** Draw bones, muscle volumes and whole gear of the lift that is shown, instead of glass and lines. */
  dress(lift: Packed<SceneHead>, bones: Packed<BonesHead>): void {
    if (!this.orbit) return;
    const fresh = !this.dataset.whole;
    this.anatomy.build(lift, bones);
    this.studio.ground(this.anatomy.floor);
    this.orbit.best = lift.head.view;
    this.wear(true);
    this.pointing?.offer(this.anatomy.heads());
    if (fresh) {
      this.orbit.turned = this.orbit.turned;
      this.frame();
    }
    this.dataset.dressed = "yes";
    if (lift.head.keys > 1) this.dataset.whole = "yes";
    this.dataset.dressedMs ??= String(Math.round(performance.now()));
  }

  get position(): number {
    return this.at;
  }

  set position(value: number) {
    this.at = Math.min(Math.max(value, 0), 1);
    this.place();
  }

  /** Where the body is weakest, 0-1: a dot on the load's path, which the key below names. */
  set weakest(position: number) {
    if (this.figure) this.load.markWeakest(this.figure, position);
    this.querySelector<HTMLElement>(".figure-key")!.hidden = false;
    this.draw();
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

  /** Look at some heads from near by, at all of the lift where none are named. */
  set near(heads: string[]) {
    this.nearNow = heads;
    this.frame();
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
    this.renderer = new WebGLRenderer({ antialias: true, alpha: true, powerPreference: "low-power" });
    this.renderer.debug.checkShaderErrors = false; // asking for them waits until every shader is made
    this.renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    this.view().append(this.renderer.domElement);
    this.renderer.shadowMap.enabled = true;
    this.scene.add(
      this.studio.group,
      this.lines.mesh,
      this.body.group,
      this.gear.group,
      this.load.group,
      this.anatomy.group,
      this.anatomy.skin.group,
    );
    this.wear(false);
    this.orbit = new Orbit(this.view(), () => this.draw());
    this.pointing = new Pointing(this.view(), this.querySelector(".figure-pointing")!, {
      seen: (x, y) =>
        this.anatomy.group.visible
          ? this.anatomy.seen((ray) => ray.setFromCamera(this.orbit!.at(x, y), this.orbit!.camera))
          : undefined,
      named: (head, chosen) => {
        if (!this.anatomy.mark(head, chosen)) return;
        this.draw();
        this.tell();
      },
      chosen: (head) => this.dispatchEvent(new CustomEvent("lw-chosen", { detail: head, bubbles: true })),
      values: () => this.values,
      position: () => this.at,
    });
    this.paint();
    this.drawLegend();
    new ResizeObserver(() => this.resize()).observe(this.view());
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this.paint());
  }

  private listen(): void {
    this.addEventListener("click", (event) => {
      const button = (event.target as HTMLElement).closest("button");
      if (button?.dataset.view) {
        this.orbit?.view(button.dataset.view);
        this.tell();
      }
      if (button && "play" in button.dataset) this.playing ? this.stop() : this.play();
    });
    this.fade().addEventListener("input", () => {
      this.anatomy.skin.opacity = Number(this.fade().value) / 100;
      this.draw();
    });
    this.scrubber().addEventListener("input", () => {
      this.stop();
      this.move(Number(this.scrubber().value) / 100);
    });
    this.addEventListener("change", (event) => {
      const field = event.target as HTMLInputElement;
      if ("layers" in field.dataset) this.layersNow = field.value as Layers;
      else if ("alone" in field.dataset) this.aloneNow = field.checked;
      else if (!("fade" in field.dataset)) return;
      this.peel();
      this.tell();
    });
    this.addEventListener("pointerup", () => this.tell());
    this.addEventListener("keydown", (event) => {
      if (event.key !== " " || (event.target as HTMLElement).closest("button, select, input")) return;
      event.preventDefault();
      this.playing ? this.stop() : this.play();
    });
  }

  /** Play at once, unless the reader asked for little motion. */
  begin(): void {
    if (!still()) this.play();
  }

  /** Whether bones and muscles are shown, or glass and lines. */
  private wear(anatomy: boolean): void {
    this.anatomy.group.visible = anatomy;
    this.body.group.visible = this.lines.mesh.visible = this.gear.group.visible = !anatomy;
    this.studio.wear(anatomy);
    for (const name of [".figure-pointing", ".figure-layers"]) this.querySelector<HTMLElement>(name)!.hidden = !anatomy;
    if (anatomy) this.peel();
    else this.anatomy.skin.group.visible = false;
  }

  /** Show the layers that are wanted. */
  private peel(): void {
    this.anatomy.peel(this.layersNow, this.aloneNow);
    this.querySelector<HTMLElement>(".figure-fade")!.hidden = this.layersNow !== "skin";
    this.place();
  }

  /** Say that what is looked at has changed. */
  private tell(): void {
    this.dispatchEvent(new CustomEvent("lw-looked", { bubbles: true }));
  }

  /** What is looked at, so that an address can hold it. */
  get look(): Record<string, string> {
    if (!this.orbit) return {};
    const out: Record<string, string> = { at: String(Math.round(this.at * 100)), view: this.orbit.turned, layers: this.layersNow };
    if (this.pointing!.head) out.muscle = this.pointing!.head;
    if (this.aloneNow) out.alone = "yes";
    if (this.layersNow === "skin") out.skin = this.fade().value;
    return out;
  }

  set look(asked: Record<string, string>) {
    if (!this.orbit) return;
    if (asked.view) this.orbit.turned = asked.view;
    const layers = this.querySelector<HTMLSelectElement>("[data-layers]")!;
    if ([...layers.options].some((o) => o.value === asked.layers)) this.layersNow = (layers.value = asked.layers) as Layers;
    this.aloneNow = this.querySelector<HTMLInputElement>("[data-alone]")!.checked = asked.alone === "yes";
    if (asked.skin) this.anatomy.skin.opacity = Number((this.fade().value = asked.skin)) / 100 || 0;
    if (asked.muscle) this.pointing!.head = asked.muscle;
    if (asked.at) this.move(Number(asked.at) / 100 || 0);
    this.peel();
  }

  /** What is seen now, at a size in pixels, on nothing, in the colours for paper: as large as a position 0-1 allows, or all of them where none is named. */
  picture(width: number, height: number, position?: number): HTMLCanvasElement {
    const [renderer, orbit, alone] = [this.renderer!, this.orbit!, !this.taken];
    if (alone) this.take(true);
    renderer.setPixelRatio(1);
    renderer.setSize(width, height, false);
    orbit.camera.aspect = width / height;
    orbit.camera.updateProjectionMatrix();
    this.frame(position);
    renderer.render(this.scene, orbit.camera);
    const out = document.createElement("canvas");
    [out.width, out.height] = [width, height];
    out.getContext("2d")!.drawImage(renderer.domElement, 0, 0);
    if (alone) this.take(false);
    return out;
  }

  /** Begin or end taking pictures: meanwhile the screen shows the last of them, and nothing is drawn for it in between. */
  take(now: boolean): void {
    const { dataset } = document.documentElement;
    const theme = dataset.theme;
    this.taken = now;
    if (now) dataset.theme = "light";
    this.paint();
    if (now && theme === undefined) delete dataset.theme;
    else if (now) dataset.theme = theme;
    if (now) return;
    this.renderer!.setPixelRatio(Math.min(devicePixelRatio, 2));
    this.resize();
  }

  private move(to: number): void {
    this.position = to;
    this.dispatchEvent(new CustomEvent("lw-position", { detail: this.at, bubbles: true }));
  }

  private mark(plays: boolean): void {
    const button = this.querySelector<HTMLButtonElement>("[data-play]");
    button?.setAttribute("aria-label", plays ? "Pause" : "Play");
    this.querySelector(".figure-pointing output")?.setAttribute("aria-live", plays ? "off" : "polite");
    button?.querySelector("path")?.setAttribute("d", plays ? "M5 3h4v14H5zM11 3h4v14h-4z" : "M5 3l12 7-12 7z");
  }

  private view(): HTMLElement {
    return this.querySelector<HTMLElement>(".figure-view")!;
  }

  private scrubber(): HTMLInputElement {
    return this.querySelector<HTMLInputElement>(".figure-transport input")!;
  }

  private fade(): HTMLInputElement {
    return this.querySelector<HTMLInputElement>("[data-fade]")!;
  }

  private scale(): Scale {
    return this.colouringNow === "length" ? LENGTH : TENSION;
  }

  /** What the colours say, for a picture without its legend; nothing where they say nothing. */
  get colourWords(): string {
    if (this.colouringNow === "anatomy") return "";
    const { title, low, high, label } = this.scale();
    return ` Dark to yellow: ${title.toLowerCase()}, ${label(low)} to ${label(high)}.`;
  }

  private drawLegend(): void {
    const place = this.querySelector(".figure-legend");
    if (place) place.innerHTML = this.colouringNow === "anatomy" ? "" : legend(this.scale());
  }

  /** Take the page's colours. */
  private paint(): void {
    const style = getComputedStyle(this);
    const of = (name: string) => style.getPropertyValue(name).trim();
    this.body.paint(of("--figure-skin"), of("--figure-rim"));
    this.load.paint(of("--figure-load"), of("--accent"));
    this.gear.paint(of("--figure-load"), of("--figure-metal"), of("--figure-pad"), of("--figure-floor"));
    this.anatomy.paint(Object.fromEntries(SOLIDS.map((name) => [name, of(`--solid-${name}`)])));
    this.studio.paint(of("--solid-dark") === "1");
    for (const name of ["tendon", "idle"]) this.colours[name] = new Color(of(`--figure-${name}`)).toArray();
    for (const name of ["quiet", "red"]) this.colours[name] = new Color(of(`--solid-${name}`)).toArray();
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

  /** Look at the figure, at the gear around it and at the load's arrows: at a position 0-1, at all of them where none is named. */
  private frame(position?: number): void {
    if (!this.figure || !this.orbit) return;
    const near = this.anatomy.group.visible ? this.anatomy.around(this.nearNow) : [];
    const aspect = this.orbit.camera.aspect || 1;
    if (near.length) return this.orbit.frame(near, [], aspect);
    const body = bodyPoints(this.figure, position);
    const gear = nearBody(body, this.anatomy.group.visible ? this.anatomy.gear() : []);
    this.orbit.frame([...body, ...this.load.reach(this.figure, position)], gear, aspect);
  }

  /** Put everything where it is at the present position. */
  private place(): void {
    const figure = this.figure;
    if (!figure) return;
    const last = figure.ends_mm.length - 1;
    const at = Math.min(Math.floor(this.at * last), Math.max(last - 1, 0));
    const between = last ? this.at * last - at : 0;
    const next = figure.ends_mm[Math.min(at + 1, last)];
    if (this.anatomy.group.visible) {
      this.anatomy.place(this.at);
      this.anatomy.colour((head, side) => this.lookOf(head, side)?.colour ?? this.colours.quiet);
    }
    if (this.body.group.visible)
      this.body.place(Float32Array.from(figure.ends_mm[at], (v, i) => (v + (next[i] - v) * between) / 1000));
    if (this.gear.group.visible) this.gear.place(at, between);
    this.load.place(at, between);
    if (this.lines.mesh.visible) this.lines.place(at, between, (head, side) => this.lookOf(head, side), this.colours.tendon);
    this.pointing?.say();
    const scrubber = this.scrubber();
    scrubber.value = String(this.at * 100);
    scrubber.setAttribute("aria-valuetext", `${Math.round(this.at * 100)}% of the lifting phase`);
    this.querySelector(".figure-transport output")!.textContent = `${Math.round(this.at * 100)}%`;
    this.draw();
  }

  /** A muscle's colour here and now: of its number where it is wanted, else undefined. */
  private lookOf(head: string, side: string): { length: number; colour: readonly number[] } | undefined {
    const own = side === "left" && `${head}_left` in this.values.length ? `${head}_left` : head;
    if (!this.wanted(own)) return undefined;
    if (this.colouringNow === "anatomy")
      return { length: valueAt(this.values.length[own] ?? [1], this.at), colour: anatomical(this.colours.red, head) };
    const curve = this.values[this.colouringNow][own];
    const colour = curve ? linear(colourOf(this.scale(), valueAt(curve, this.at))) : this.colours.idle;
    return { length: valueAt(this.values.length[own] ?? [1], this.at), colour };
  }

  private wanted(head: string): boolean {
    if (this.shownNow === "all") return true;
    const target = this.values.targets.includes(head.replace(/_left$/, ""));
    return target || (this.shownNow === "working" && Math.max(0, ...(this.values.activation[head] ?? [])) >= WORKS);
  }

  /** Draw once at the next chance, however often it is asked for. */
  private draw(): void {
    if (this.asked || this.taken) return;
    this.asked = requestAnimationFrame(() => {
      this.asked = 0;
      if (this.renderer && this.orbit) this.renderer.render(this.scene, this.orbit.camera);
      this.dataset.drawn = "yes";
    });
  }
}

customElements.define("lw-figure", LwFigure);
