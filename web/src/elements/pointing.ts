/** Pointing at a muscle: with the pointer, a tap, or a list for keyboard and screen reader; all give the same words. */
import { plain } from "../api";
import { wordsOf, type HeadValues } from "./head_words";

const TAP_PX = 6;

/** What the figure knows. */
interface Asked {
  /** The muscle at a place of the window. */
  seen(x: number, y: number): { head: string; side: string } | undefined;
  /** A head was pointed at, "" for none; whether it was chosen, so that it should be seen under what lies over it. */
  named(head: string, chosen: boolean): void;
  /** A head was chosen: tapped, or taken from the list. */
  chosen(head: string): void;
  values(): HeadValues;
  position(): number;
}

export class Pointing {
  private now?: { head: string; side: string };
  private waiting = 0;
  private pressed = [0, 0];
  private readonly list: HTMLSelectElement;
  private readonly words: HTMLOutputElement;

  constructor(
    view: HTMLElement,
    place: HTMLElement,
    private readonly asked: Asked,
  ) {
    this.list = place.querySelector("select")!;
    this.words = place.querySelector("output")!;
    this.list.addEventListener("change", () => this.choose(this.list.value ? { head: this.list.value, side: "right" } : undefined));
    view.addEventListener("pointerdown", (e) => (this.pressed = [e.clientX, e.clientY]));
    view.addEventListener("pointermove", (e) => this.hover(e));
    view.addEventListener("pointerup", (e) => {
      if (Math.hypot(e.clientX - this.pressed[0], e.clientY - this.pressed[1]) < TAP_PX)
        this.choose(this.asked.seen(e.clientX, e.clientY));
    });
  }

  /** The head that is pointed at, "" for none. */
  get head(): string {
    return this.now?.head ?? "";
  }

  set head(head: string) {
    this.now = head ? { head, side: "right" } : undefined;
    if (this.list.options.length) this.offer([...this.list.options].map((o) => o.value).filter(Boolean));
  }

  /** Fill the list with the heads that are drawn. */
  offer(heads: string[]): void {
    const chosen = this.now?.head ?? "";
    const options = heads.map((h) => new Option(plain(h), h)).sort((a, b) => a.text.localeCompare(b.text));
    this.list.replaceChildren(new Option("Point at a muscle…", ""), ...options);
    this.list.value = heads.includes(chosen) ? chosen : "";
    this.point(this.list.value ? this.now : undefined, true);
  }

  /** Say anew what is pointed at; the numbers change with the position. */
  say(): void {
    this.words.textContent = this.now ? wordsOf(this.now.head, this.now.side, this.asked.values(), this.asked.position()) : "";
  }

  private hover(event: PointerEvent): void {
    if (event.buttons || event.pointerType === "touch" || this.waiting) return;
    this.waiting = requestAnimationFrame(() => {
      this.waiting = 0;
      const found = this.asked.seen(event.clientX, event.clientY);
      if (found) this.point(found);
    });
  }

  private choose(found: { head: string; side: string } | undefined): void {
    this.point(found, true);
    if (found) this.asked.chosen(found.head);
  }

  private point(found: { head: string; side: string } | undefined, chosen = false): void {
    this.now = found;
    this.list.value = found?.head ?? "";
    this.asked.named(found?.head ?? "", chosen);
    this.say();
  }
}
