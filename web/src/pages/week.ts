/** Week: a lift is dragged by its grip to another day, by mouse or finger; the keyboard has the list beside it, which is what dragging sets too. */

interface Drag {
  lift: HTMLElement;
  over: HTMLElement | null;
}
let drag: Drag | undefined;

function mark(over: HTMLElement | null): void {
  for (const day of document.querySelectorAll(".week-day.over-here")) day.classList.remove("over-here");
  over?.classList.add("over-here");
}

function begin(event: PointerEvent): void {
  const grip = (event.target as HTMLElement).closest<HTMLElement>("[data-grip]");
  const lift = grip?.closest<HTMLElement>("[data-lift]");
  if (!grip || !lift) return;
  event.preventDefault();
  grip.setPointerCapture(event.pointerId);
  drag = { lift, over: null };
  lift.classList.add("dragged");
}

function move(event: PointerEvent): void {
  if (!drag) return;
  const under = document.elementFromPoint(event.clientX, event.clientY)?.closest<HTMLElement>(".week-day") ?? null;
  drag.over = under && under.closest("[data-board]") === drag.lift.closest("[data-board]") ? under : null;
  mark(drag.over);
  const edge = 60;
  if (event.clientY < edge) window.scrollBy(0, -12);
  if (event.clientY > window.innerHeight - edge) window.scrollBy(0, 12);
}

function drop(): void {
  if (!drag) return;
  const { lift, over } = drag;
  drag = undefined;
  mark(null);
  lift.classList.remove("dragged");
  if (!over || over.contains(lift)) return;
  const list = lift.querySelector<HTMLSelectElement>("[data-to]")!;
  list.value = over.dataset.day!;
  list.dispatchEvent(new Event("change", { bubbles: true }));
}

/** Start the page. */
export function run(): void {
  document.addEventListener("pointerdown", begin);
  document.addEventListener("pointermove", move);
  document.addEventListener("pointerup", drop);
  document.addEventListener("pointercancel", () => {
    drag?.lift.classList.remove("dragged");
    drag = undefined;
    mark(null);
  });
}
