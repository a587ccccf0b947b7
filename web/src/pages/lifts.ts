/** The library: finding a lift while typing. */

/** Start the page. */
export function run(): void {
  const field = document.querySelector<HTMLInputElement>("#find")!;
  const find = () => {
    const words = field.value.toLowerCase().split(/\s+/).filter(Boolean);
    let count = 0;
    for (const group of document.querySelectorAll<HTMLElement>(".library-group")) {
      let any = false;
      for (const row of group.querySelectorAll<HTMLElement>("li")) {
        row.hidden = !words.every((w) => row.dataset.words!.includes(w));
        if (!row.hidden) count++;
        any ||= !row.hidden;
      }
      group.hidden = !any;
    }
    document.querySelector("#found")!.textContent = words.length ? `${count} found` : "";
    document.querySelector<HTMLElement>("#none-found")!.hidden = count > 0;
  };
  field.addEventListener("input", find);
  find();
}
