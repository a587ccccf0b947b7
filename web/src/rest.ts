/** The rest between sets: counts down by the clock, so that it is right after the phone was asleep or the page was opened anew. */
const KEY = "lengthwise-rest";

const part = <T extends HTMLElement = HTMLElement>(id: string) => document.getElementById(id) as T;
let timer = 0;

interface Rest {
  ends: number;
  whole: number;
}

function kept(): Rest | null {
  try {
    return JSON.parse(localStorage.getItem(KEY) ?? "null") as Rest | null;
  } catch {
    return null;
  }
}

/** Begin a rest of so many seconds. */
export function rest(seconds: number): void {
  localStorage.setItem(KEY, JSON.stringify({ ends: Date.now() + seconds * 1000, whole: seconds }));
  tick();
}

function tick(): void {
  clearTimeout(timer);
  const now = kept();
  const left = now ? Math.ceil((now.ends - Date.now()) / 1000) : 0;
  const bar = part("rest");
  if (!now || left < -600) {
    bar.hidden = true;
    return;
  }
  bar.hidden = false;
  const size = Math.abs(left);
  const clock = new Date(now.ends).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });
  const time = `${Math.floor(size / 60)}:${String(size % 60).padStart(2, "0")}`;
  part("rest-left").textContent = left > 0 ? `Next set in ${time}, at ${clock}` : `Rest ended ${time} ago`;
  bar.classList.toggle("over", left <= 0);
  part("rest-line").setAttribute("stroke-dasharray", `${Math.max(0, Math.min(1, left / now.whole)) * 100} 100`);
  if (left === 0) navigator.vibrate?.([200, 100, 200]);
  timer = window.setTimeout(tick, 1000 - (Date.now() % 1000));
}

/** Take up a rest that is under way, and listen to its buttons. */
export function takeUpRest(): void {
  part("rest-more").addEventListener("click", () => {
    const now = kept();
    if (now) localStorage.setItem(KEY, JSON.stringify({ ends: Math.max(now.ends, Date.now()) + 60_000, whole: now.whole + 60 }));
    tick();
  });
  part("rest-stop").addEventListener("click", () => {
    localStorage.removeItem(KEY);
    tick();
  });
  tick();
}
