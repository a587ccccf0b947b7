/** The frame of every page: htmx without inline code, menus that close, and pages that start their own script. */
import htmx from "htmx.org";
import { localDates } from "./dates";

htmx.config.includeIndicatorStyles = false;
htmx.config.allowEval = false;
htmx.config.selfRequestsOnly = true;
htmx.config.historyCacheSize = 0;
// What the server refuses comes as a part that says why; where it does not answer at all, the page stays as it is and says so.
htmx.config.responseHandling = [
  { code: "204", swap: false },
  { code: "[234]..", swap: true },
  { code: "...", swap: false },
];

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

/** Says that the server did not answer, until it does. */
function tellTrouble(): void {
  const box = document.createElement("p");
  box.className = "caution";
  box.setAttribute("role", "alert");
  const tell = (words: string) => {
    box.textContent = words;
    if (words) document.getElementById("main")!.prepend(box);
    else box.remove();
  };
  document.addEventListener("htmx:sendError", () => tell("The server is not answering. Is it still running? Nothing was changed."));
  document.addEventListener("htmx:beforeSwap", (event) => {
    const { status } = (event as CustomEvent<{ xhr: XMLHttpRequest }>).detail.xhr;
    tell(status >= 500 ? "Something went wrong on the server. Nothing was changed; try again." : "");
  });
}

/** Mark the page once its own script has done what it does at first. */
async function begun(work: Promise<void>): Promise<void> {
  try {
    await work;
  } finally {
    document.body.dataset.begun = "yes";
  }
}

/** Start everything that belongs to this page. */
export function start(): void {
  menus();
  sendOnChange();
  tellTrouble();
  localDates(document);
  document.addEventListener("htmx:load", (event) => localDates(event.target as HTMLElement));
  const page = document.body.dataset.page;
  void begun(page && page in pages ? pages[page]().then((own) => own.run()) : Promise.resolve());
}
