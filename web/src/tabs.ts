/** Tabs on a phone: one part of a page at a time; where there is room all parts stand beside one another and the tabs are gone. */

const NARROW = matchMedia("(max-width: 40rem)");

/** Let the buttons of a list of tabs show the parts that they control. */
export function tabs(list: HTMLElement): void {
  const all = [...list.querySelectorAll<HTMLButtonElement>("[role=tab]")];
  const part = (tab: HTMLElement) => document.getElementById(tab.getAttribute("aria-controls")!)!;
  const chosen = () => all.find((t) => t.getAttribute("aria-selected") === "true")!;

  const show = () => {
    list.hidden = !NARROW.matches;
    for (const tab of all) {
      const own = part(tab);
      own.hidden = NARROW.matches && tab !== chosen();
      if (NARROW.matches) {
        own.setAttribute("role", "tabpanel");
        own.setAttribute("aria-labelledby", tab.id);
      } else for (const name of ["role", "aria-labelledby"]) own.removeAttribute(name);
    }
  };
  const choose = (tab: HTMLButtonElement) => {
    for (const other of all) {
      other.setAttribute("aria-selected", String(other === tab));
      other.tabIndex = other === tab ? 0 : -1;
    }
    show();
  };

  list.addEventListener("click", (event) => {
    const tab = (event.target as HTMLElement).closest<HTMLButtonElement>("[role=tab]");
    if (tab) choose(tab);
  });
  list.addEventListener("keydown", (event) => {
    const way = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (!way) return;
    event.preventDefault();
    choose(all[(all.indexOf(chosen()) + way + all.length) % all.length]);
    chosen().focus();
  });
  // A link into a part that is not shown, as for skipping, shows it first.
  document.addEventListener("click", (event) => {
    const hash = (event.target as HTMLElement).closest<HTMLAnchorElement>("a[href^='#']")?.hash.slice(1);
    const tab = hash && all.find((t) => part(t).contains(document.getElementById(hash)));
    if (tab) choose(tab);
  });
  NARROW.addEventListener("change", show);
  show();
}
