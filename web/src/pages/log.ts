/** The log of one client: sets entered with one thumb, kept at once in the browser, sent when there is a connection. */
import { inUnits } from "../api";
import { dateWords } from "../dates";
import { loadInWords, writtenLoad, type LoadRules } from "../load_words";
import { rest, takeUpRest } from "../rest";
import { forget, keep, newKey, remember, remembered, send, waitingOf, type Waiting } from "../waiting";

interface DoneSet {
  lift: string;
  name?: string;
  load_kg: number;
  repetitions: number;
  reserve: number | null;
  range: string;
  pain: string[];
  note: string;
  warm_up: boolean;
}
interface Due {
  lift: string;
  name: string;
  range: string;
  sets: number;
  repetitions: [number, number];
  reserve: number;
  load_kg: number | null;
  guess: boolean;
  rest_s: number;
  gear: string;
  step_kg: number;
  loads_kg: number[];
  hung: boolean;
  last: DoneSet[];
  last_day: string | null;
  how: string;
  cues: [string, string][];
  work: string;
}
interface Carried {
  client: number;
  days: { day: string; place: string; minutes: number; lifts: Due[] }[];
  names: Record<string, string>;
  hung: string[];
  held?: string[];
  words: LoadRules;
}
interface Kept {
  sessions: { day: string; sets: DoneSet[] }[];
  entries: { number: number; what: string; kind: string }[];
}

const part = <T extends HTMLElement = HTMLElement>(id: string) => document.getElementById(id) as T;
const root = part("log");
const carried = JSON.parse(root.dataset.carried!) as Carried;
const kgPerUnit = 1 / inUnits(1).value;
const unit = inUnits(1).unit;
/** How often what waits is tried anew while the page is looked at [ms]. */
const RETRY_MS = 2000;
/** A load above so many times the largest that the plan rests on is asked about, as the command line asks. */
const FAR_ABOVE = 1.6;
const state = {
  day: root.dataset.today!,
  plan: "",
  kept: undefined as Kept | undefined,
  waiting: [] as Waiting[],
  due: undefined as Due | undefined,
  busy: false,
  trouble: "",
  asked: "",
};

const shown = (kg: number) => writtenLoad(kg, carried.words);
const isHung = (lift: string) => carried.hung.includes(lift);
/** Whether a lift is held still, so that its sets are seconds. */
const isHeld = (lift: string) => (carried.held ?? []).includes(lift);
const counted = (s: DoneSet) => `${loadWords(s.load_kg, s.lift)} × ${s.repetitions}${isHeld(s.lift) ? " s" : ""}`;

const loadWords = (kg: number, lift: string) => loadInWords(kg, isHung(lift), carried.words);

function made(tag: string, words = "", kind = ""): HTMLElement {
  const found = document.createElement(tag);
  found.textContent = words;
  if (kind) found.className = kind;
  return found;
}

/** Sets of the day that the server has, and those that still wait. */
function doneOf(lift: string, range: string): number {
  const own = (s: DoneSet) => s.lift === lift && s.range === range && !s.warm_up;
  const kept = state.kept?.sessions.flatMap((s) => s.sets).filter(own).length ?? 0;
  const waits = state.waiting.filter((w) => w.body.day === state.day).flatMap((w) => (w.body.sets as DoneSet[] | undefined) ?? []);
  return kept + waits.filter(own).length;
}

function drawPlan(): void {
  const list = document.getElementById("log-lifts");
  if (!list) return;
  for (const b of document.querySelectorAll<HTMLElement>("[data-plan-day]"))
    b.setAttribute("aria-pressed", String(b.dataset.planDay === state.plan));
  const day = carried.days.find((d) => d.day === state.plan);
  list.replaceChildren(...(day?.lifts ?? []).map(planned));
}

function planned(due: Due): HTMLElement {
  const n = doneOf(due.lift, due.range);
  const item = made("li", "", n >= due.sets ? "sheet log-lift ready" : "sheet log-lift");
  const button = made("button", "", "log-open") as HTMLButtonElement;
  button.type = "button";
  const title = made("strong", due.range === "full" ? due.name : `${due.name}, ${due.range} half`);
  const unread: Record<string, string> = { band: carried.words.band, body: carried.words.easier };
  const load =
    due.load_kg === null
      ? (unread[due.gear] ?? carried.words.no_load)
      : `${loadWords(due.load_kg, due.lift)}${due.guess ? carried.words.guess : ""}`;
  const told = made("span", `${due.work}, ${due.reserve} in reserve, ${load}`, "small quiet");
  const count = made("span", n >= due.sets ? "done" : `${n} of ${due.sets}`, "log-count");
  count.setAttribute("aria-hidden", "true");
  button.append(title, told, count, made("span", `${n} of ${due.sets} sets done`, "unseen"));
  button.addEventListener("click", () => open(due));
  item.append(button);
  return item;
}

function drawDone(): void {
  const rows: HTMLElement[] = [];
  for (const s of state.kept?.sessions.flatMap((v) => v.sets) ?? []) rows.push(doneRow(s, "kept"));
  for (const w of state.waiting.filter((one) => one.body.day === state.day)) {
    for (const s of (w.body.sets as DoneSet[] | undefined) ?? []) rows.push(doneRow(s, "waits", w));
    if (!w.body.sets) rows.push(waitingRow(w));
  }
  part("log-done").replaceChildren(...rows, ...entries());
  part("log-none").hidden = rows.length > 0;
}

function doneRow(s: DoneSet, how: string, waits?: Waiting): HTMLElement {
  const row = made("li", "", how);
  const words = `${counted(s)}${s.reserve === null ? "" : `, ${s.reserve} in reserve`}${s.warm_up ? ", warm-up" : ""}`;
  row.append(made("strong", s.name ?? carried.names[s.lift] ?? s.lift), made("span", words, "num"));
  if (s.pain.length) row.append(made("span", `pain: ${s.pain.join(", ")}`, "tag pain"));
  if (waits) row.append(made("span", waits.fault ?? "not sent yet", waits.fault ? "tag pain" : "tag"), dropButton(waits));
  return row;
}

function waitingRow(w: Waiting): HTMLElement {
  const row = made("li", "", "waits");
  const what = w.body.line ? `${w.body.lift}: ${w.body.line}` : `${String(w.body.kind).replaceAll("_", " ")} ${w.body.site ?? ""}`;
  row.append(made("strong", what), made("span", w.fault ?? "not sent yet", w.fault ? "tag pain" : "tag"), dropButton(w));
  return row;
}

function dropButton(w: Waiting): HTMLElement {
  const button = made("button", "Delete", "small-button plain") as HTMLButtonElement;
  button.type = "button";
  button.addEventListener("click", () => void forget(w.key).then(refresh));
  return button;
}

/** The last entries, each undone as a whole. */
function entries(): HTMLElement[] {
  return (state.kept?.entries ?? [])
    .filter((e) => e.what.endsWith(state.day))
    .slice(0, 1)
    .map((e) => {
      const row = made("li", "", "undo");
      const button = made("button", "Undo the last entry", "small-button") as HTMLButtonElement;
      button.type = "button";
      button.title = e.what;
      button.addEventListener("click", () => void takeBack(e.number));
      row.append(button);
      return row;
    });
}

async function takeBack(number: number): Promise<void> {
  const answer = await fetch(`/api/log/${carried.client}/entries/${number}`, { method: "DELETE" }).catch(() => undefined);
  state.trouble = answer?.ok
    ? ""
    : answer
      ? "This entry cannot be undone now. Reload the page to see what is logged."
      : "You need a connection to undo this.";
  await read();
  draw();
}

function drawState(): void {
  const n = state.waiting.length;
  const faults = state.waiting.filter((w) => w.fault);
  const words =
    state.trouble ||
    (n
      ? `${n} ${n === 1 ? "entry" : "entries"} on this device, not sent yet`
      : navigator.onLine
        ? "All saved"
        : "No connection. What you enter is stored on this device and sent later.");
  const line = part("log-state");
  line.textContent = words;
  line.dataset.waiting = String(n);
  line.classList.toggle("waits", n > 0 || Boolean(state.trouble));
  part("log-faults").replaceChildren(
    ...faults
      .slice(0, 3)
      .map((w) =>
        made(
          "p",
          `The server refused an entry: ${w.fault!.replace(/\.$/, "")}. Delete it below and enter it again.`,
          "caution small fault-text",
        ),
      ),
  );
}

function draw(): void {
  drawPlan();
  drawDone();
  drawState();
}

/** What the server has of the day; what it had last where it cannot be asked. */
async function read(): Promise<void> {
  const name = `${carried.client} ${state.day}`;
  try {
    const answer = await fetch(`/api/log/${carried.client}?first=${state.day}&last=${state.day}`);
    if (answer.ok) await remember(name, await answer.json());
  } catch {
    // no connection: what was remembered stands
  }
  state.kept = await remembered<Kept>(name);
}

async function refresh(): Promise<void> {
  state.waiting = await waitingOf(carried.client);
  draw();
}

/** Send what waits, one after another; stops where there is no connection. */
async function sendAll(): Promise<void> {
  if (state.busy) return;
  state.busy = true;
  try {
    state.trouble = "";
    let some = false;
    for (const one of (await waitingOf(carried.client)).filter((w) => !w.fault)) {
      const how = await send(one);
      some ||= how === "sent";
      if (how === "signed out") state.trouble = "Sign in again to send the entries waiting on this device.";
      if (how === "signed out" || how === "offline") break;
    }
    if (some) await read();
  } finally {
    state.busy = false;
    await refresh();
  }
}

async function write(path: string, body: Record<string, unknown>): Promise<void> {
  const key = newKey();
  await keep({
    key,
    client: carried.client,
    at: Date.now(),
    path: `/api/log/${carried.client}/${path}`,
    body: { key, day: state.day, ...body },
  });
  await refresh();
  void sendAll();
}

const field = (name: "load" | "reps") => part<HTMLInputElement>(`entry-${name}`);
const numberIn = (input: HTMLInputElement) => Number(input.value.trim().replace(",", ".").replace("−", "-"));

function open(due: Due): void {
  state.due = due;
  part("entry-name").textContent = due.range === "full" ? due.name : `${due.name}, ${due.range} half`;
  const last = due.last.length ? `Last time (${dateWords(due.last_day!)}): ${due.last.map(counted).join(", ")}. ` : "";
  part("entry-told").textContent =
    `${last}${due.sets ? `Planned: ${due.work}${isHeld(due.lift) ? "" : `, ${due.reserve} in reserve`}.` : ""}`;
  part("entry-how").hidden = !due.how;
  part("entry-how-text").textContent = due.how;
  part("entry-cues").replaceChildren(...due.cues.map(([fault, cue]) => made("li", `${fault}: ${cue}`)));
  const today = [
    ...(state.kept?.sessions ?? []).flatMap((s) => s.sets),
    ...state.waiting.flatMap((w) => (w.body.day === state.day ? ((w.body.sets as DoneSet[]) ?? []) : [])),
  ];
  const before = today.filter((s) => s.lift === due.lift && !s.warm_up).at(-1);
  const nth = today.filter((s) => s.lift === due.lift && !s.warm_up).length;
  const then = due.last[nth] ?? due.last.at(-1);
  const load = before?.load_kg ?? due.load_kg ?? then?.load_kg ?? 0;
  const same = then !== undefined && then.load_kg === load ? then : undefined;
  part("entry-filled").textContent = before
    ? "Filled in from your last set."
    : same
      ? "Filled in from the same set last time."
      : due.sets
        ? "Filled in with the plan's minimum."
        : "";
  field("load").value = shown(load);
  field("load").dataset.kg = String(load);
  part("l-load").textContent = due.hung ? `Added weight, ${unit}; below 0 is assistance` : `Load, ${unit}`;
  sayLoad();
  part("l-reps").textContent = isHeld(due.lift) ? "Seconds held" : "Repetitions";
  field("reps").value = String((before ?? same)?.repetitions ?? due.repetitions[0]);
  const reserve = before || same ? (before ?? same)!.reserve : due.reserve;
  const left = reserve === null ? "" : String(Math.min(Math.round(reserve), 4));
  for (const r of document.querySelectorAll<HTMLInputElement>("#entry input[name=reserve]")) r.checked = r.value === left;
  for (const p of document.querySelectorAll<HTMLInputElement>("#entry input[name=pain]")) p.checked = false;
  part<HTMLDetailsElement>("entry-pain").open = false;
  part<HTMLInputElement>("entry-warm").checked = false;
  part("entry-fault").hidden = true;
  part<HTMLDialogElement>("entry").showModal();
  part("entry-keep").focus();
}

/** The next load that exists, else one step of the gear on. */
function step(name: "load" | "reps", way: 1 | -1): void {
  const input = field(name);
  if (name === "reps") {
    input.value = String(Math.min(100, Math.max(1, (Math.round(numberIn(input)) || 0) + way)));
    return;
  }
  const due = state.due!;
  const now = kilograms();
  const others = due.loads_kg.filter((kg) => (way > 0 ? kg > now + 0.01 : kg < now - 0.01));
  const lowest = due.hung ? -200 : 0;
  const next = others.length
    ? way > 0
      ? others[0]
      : others.at(-1)!
    : due.loads_kg.length && !(due.hung && way < 0)
      ? now
      : Math.max(lowest, now + way * due.step_kg);
  input.value = shown(next);
  input.dataset.kg = String(next);
  sayLoad();
}

/** The load of a body-weight lift in words. */
function sayLoad(): void {
  const kg = kilograms();
  part("entry-load-words").textContent = state.due?.hung && Number.isFinite(kg) ? loadWords(kg, state.due.lift) : "";
}

/** The load as entered; one that was only shown rounded keeps its exact value. */
function kilograms(): number {
  const input = field("load");
  const exact = Number(input.dataset.kg);
  return shown(exact) === input.value.trim() ? exact : Number((numberIn(input) * kgPerUnit).toFixed(3));
}

function fault(words: string): void {
  const box = part("entry-fault");
  box.textContent = words;
  box.hidden = false;
}

/** The largest load for one repetition that the plan rests on (a repetition is about a thirtieth of it); nothing where it has no load. */
function onceOf(due: Due): number {
  return due.hung || !due.load_kg ? 0 : due.load_kg * (1 + (due.repetitions[1] + due.reserve) / 30);
}

async function keepSet(event: Event): Promise<void> {
  event.preventDefault();
  const [load, reps] = [kilograms(), numberIn(field("reps"))];
  if (!Number.isFinite(load) || load < -200 || load > 1000)
    return fault(`Enter the load as a number from ${shown(-200)} to ${shown(1000)} ${unit}.`);
  if (!Number.isInteger(reps) || reps < 1 || reps > 100)
    return fault(`Enter ${isHeld(state.due!.lift) ? "seconds" : "repetitions"} as a whole number from 1 to 100.`);
  const due = state.due!;
  const once = onceOf(due);
  if (once && load > FAR_ABOVE * once && state.asked !== `${due.lift} ${load}`) {
    state.asked = `${due.lift} ${load}`;
    return fault(
      `${loadWords(load, due.lift)}? The plan assumes about ${loadWords(Math.round(once), due.lift)} for one repetition. If the load is right, press “Set done” again.`,
    );
  }
  const reserve = document.querySelector<HTMLInputElement>("#entry input[name=reserve]:checked")?.value ?? "";
  const pain = [...document.querySelectorAll<HTMLInputElement>("#entry input[name=pain]:checked")].map((p) => p.value);
  const warm = part<HTMLInputElement>("entry-warm").checked;
  const one = {
    lift: due.lift,
    load_kg: load,
    repetitions: reps,
    reserve: reserve === "" ? null : Number(reserve),
    range: due.range,
    pain,
    note: "",
    warm_up: warm,
  };
  await write("sets", { sets: [one] });
  part<HTMLDialogElement>("entry").close();
  rest(warm ? 60 : due.rest_s);
}

function listen(): void {
  part("entry-form").addEventListener("submit", (event) => void keepSet(event));
  field("load").addEventListener("input", sayLoad);
  part("entry-close").addEventListener("click", () => part<HTMLDialogElement>("entry").close());
  part("lift-names").append(
    ...Object.values(carried.names)
      .sort()
      .map((name) => new Option(name)),
  );
  for (const b of document.querySelectorAll<HTMLElement>("[data-less], [data-more]")) {
    b.addEventListener("click", () => step((b.dataset.less ?? b.dataset.more) as "load" | "reps", b.dataset.less ? -1 : 1));
  }
  for (const b of document.querySelectorAll<HTMLElement>("[data-plan-day]")) {
    b.addEventListener("click", () => {
      state.plan = b.dataset.planDay!;
      drawPlan();
    });
  }
  part<HTMLInputElement>("log-day").addEventListener("change", (event) => {
    const value = (event.target as HTMLInputElement).value;
    if (value) void choose(value);
  });
  part("any-lift")
    .closest("form")!
    .addEventListener("submit", (event) => {
      event.preventDefault();
      const name = part<HTMLInputElement>("any-lift").value.trim();
      const found = Object.entries(carried.names).find(([id, n]) => n.toLowerCase() === name.toLowerCase() || id === name);
      part<HTMLInputElement>("any-lift").setCustomValidity(found ? "" : "No lift has that name. Choose one from the list.");
      if (!found) return void part<HTMLInputElement>("any-lift").reportValidity();
      open({
        lift: found[0],
        name: found[1],
        range: "full",
        sets: 0,
        repetitions: [8, 10],
        reserve: 2,
        load_kg: null,
        guess: false,
        rest_s: 120,
        gear: "",
        step_kg: 2.5,
        loads_kg: [],
        hung: isHung(found[0]),
        last: [],
        last_day: null,
        how: "",
        cues: [],
        work: "",
      });
    });
  part("any-lift").addEventListener("input", () => part<HTMLInputElement>("any-lift").setCustomValidity(""));
  part("line-form").addEventListener("submit", (event) => {
    event.preventDefault();
    const [lift, line] = [part<HTMLInputElement>("line-lift"), part<HTMLInputElement>("line")];
    void write("line", { lift: lift.value.trim(), line: line.value.trim() }).then(() => (line.value = ""));
  });
  measurements();
  for (const name of ["online", "offline"]) window.addEventListener(name, () => void sendAll());
  document.addEventListener("visibilitychange", () => !document.hidden && void sendAll());
  window.setInterval(() => !document.hidden && state.waiting.some((w) => !w.fault) && void sendAll(), RETRY_MS);
}

function measurements(): void {
  const kind = part<HTMLSelectElement>("measure-kind");
  const chosen = () => kind.selectedOptions[0].dataset;
  const show = () => {
    part("measure-unit").textContent = chosen().unit ?? "";
    for (const f of document.querySelectorAll<HTMLElement>("[data-sited]")) f.hidden = chosen().at === undefined;
  };
  kind.addEventListener("change", show);
  show();
  part("measure-form").addEventListener("submit", (event) => {
    event.preventDefault();
    const input = part<HTMLInputElement>("measure-values");
    const values = input.value
      .trim()
      .split(/[\s;]+/)
      .map((w) => Number(w.replace(",", ".")) * Number(chosen().size));
    input.setCustomValidity(
      values.every((v) => Number.isFinite(v) && v > 0) ? "" : "Numbers separated by spaces, such as 36.5 36.7",
    );
    if (!input.reportValidity()) return;
    const [site, side] =
      chosen().at !== undefined
        ? [part<HTMLSelectElement>("measure-site").value, part<HTMLSelectElement>("measure-side").value]
        : ["", ""];
    void write("measurements", { kind: kind.value, site, side, values: values.map((v) => Number(v.toFixed(3))) }).then(
      () => (input.value = ""),
    );
  });
  part("measure-values").addEventListener("input", () => part<HTMLInputElement>("measure-values").setCustomValidity(""));
}

async function choose(day: string): Promise<void> {
  state.day = day;
  const weekday = new Date(`${day}T12:00:00`).toLocaleDateString("en", { weekday: "long" }).toLowerCase();
  const order = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"];
  const from = order.indexOf(weekday);
  const days = carried.days.filter((d) => d.lifts.length);
  const ahead = (d: string) => (order.indexOf(d) - from + 7) % 7;
  state.plan = [...days].sort((a, b) => ahead(a.day) - ahead(b.day))[0]?.day ?? "";
  await read();
  await refresh();
}

/** Keep page and files for times without a connection. */
async function keepPage(): Promise<void> {
  if (!("serviceWorker" in navigator)) return;
  await navigator.serviceWorker.register("/log/worker.js", { scope: "/log/" });
  const ready = await navigator.serviceWorker.ready;
  const files = performance
    .getEntriesByType("resource")
    .map((r) => new URL(r.name))
    .filter((u) => u.origin === location.origin && u.pathname.startsWith("/built/"));
  const told = new MessageChannel();
  told.port1.onmessage = (event: MessageEvent<boolean>) => {
    if (!event.data) return;
    document.body.dataset.offline = "ready";
    part("works-offline").textContent = "This page works offline on this device.";
  };
  ready.active?.postMessage([location.pathname, "/mark.svg", ...new Set(files.map((u) => u.pathname))], [told.port2]);
}

/** Start the page. */
export async function run(): Promise<void> {
  listen();
  takeUpRest();
  await choose(today());
  void sendAll();
  await keepPage().catch(() => undefined);
  if (!("serviceWorker" in navigator))
    part("works-offline").textContent =
      "This page needs a connection to open. If it drops, your sets are stored on this device and sent later.";
}

/** The day by this device's clock: a page opened from the device's own store may be days old. */
function today(): string {
  const now = new Date();
  const own = `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, "0")}-${String(now.getDate()).padStart(2, "0")}`;
  const input = part<HTMLInputElement>("log-day");
  input.max = own;
  input.value = own;
  return own;
}
