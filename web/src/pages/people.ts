/** People: fields that belong to a tick show with it, faults are brought into view. */

/** Start the page. */
export function run(): void {
  for (const tick of document.querySelectorAll<HTMLInputElement>("[data-shows]")) {
    const part = document.getElementById(tick.dataset.shows!)!;
    const show = () => (part.hidden = !tick.checked);
    tick.addEventListener("change", show);
    show();
  }
  for (const field of document.querySelectorAll<HTMLInputElement>("input[name^='loads.']")) {
    const tick = field.closest(".gear-row")!.querySelector<HTMLInputElement>("input[type=checkbox]")!;
    const show = () => (field.hidden = !tick.checked);
    tick.addEventListener("change", show);
    show();
  }
  document.querySelector<HTMLElement>("#faults")?.focus();
}
