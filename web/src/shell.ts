/** The frame of every page: htmx without inline code, menus that close, and pages that start their own script. */
import htmx from "htmx.org";

htmx.config.includeIndicatorStyles = false;
htmx.config.allowEval = false;
htmx.config.selfRequestsOnly = true;
htmx.config.historyCacheSize = 0;

/** What a page with `data-page` on its body runs; each comes as its own file. */
const pages: Record<string, () => Promise<{ run: () => void | Promise<void> }>> = {
  choose: () => import("./pages/choose"),
  lift: () => import("./pages/lift"),
  side_by_side: () => import("./pages/side_by_side"),
  posture: () => import("./pages/posture"),
  evidence: () => import("./pages/evidence"),
  home: () => import("./pages/home"),
  lifts: () => import("./pages/lifts"),
  people: () => import("./pages/people"),
  week: () => import("./pages/week"),
  log: () => import("./pages/log"),
  sign_in: () => import("./pages/sign_in"),
};

/** Close an open menu on Escape, on a click elsewhere, and when another opens. */
function menus(): void {
  const open = () => document.querySelectorAll<HTMLDetailsElement>("details.menu[open]");
  document.addEventListener("click", (event) => {
    for (const menu of open()) if (!menu.contains(event.target as Node)) menu.open = false;
  });
  document.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    for (const menu of open()) {
      menu.open = false;
      menu.querySelector("summary")?.focus();
    }
  });
}

/** Forms marked so send themselves when a field changes. */
function sendOnChange(): void {
  document.addEventListener("change", (event) => {
    const form = (event.target as HTMLElement).closest<HTMLFormElement>("form[data-send-on-change]");
    form?.requestSubmit();
  });
}

/** Start everything that belongs to the page at hand. */
export function start(): void {
  menus();
  sendOnChange();
  const page = document.body.dataset.page;
  if (page && page in pages) void pages[page]().then((own) => own.run());
}
