/** Keeps the log's pages and their files, so that the log opens without a connection. It answers nothing else. */
const CACHE = "log-pages-1";

interface WorkerEvent extends Event {
  waitUntil(work: Promise<unknown>): void;
}
interface FetchEvent extends WorkerEvent {
  request: Request;
  respondWith(answer: Promise<Response>): void;
}
const worker = self as unknown as {
  skipWaiting(): Promise<void>;
  clients: { claim(): Promise<void> };
  location: Location;
} & EventTarget;

worker.addEventListener("install", (event) => (event as WorkerEvent).waitUntil(worker.skipWaiting()));
worker.addEventListener("activate", (event) => (event as WorkerEvent).waitUntil(worker.clients.claim()));

/** A page names the files that it needs, and is told when all of them are kept. */
worker.addEventListener("message", (event) => {
  const { data, ports } = event as MessageEvent<string[]>;
  (event as unknown as WorkerEvent).waitUntil(keepAll(data).then((all) => ports[0].postMessage(all)));
});

worker.addEventListener("fetch", (event) => {
  const { request } = event as FetchEvent;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== worker.location.origin || url.pathname.startsWith("/api/")) return;
  const built = url.pathname.startsWith("/built/assets/");
  (event as FetchEvent).respondWith(built ? keptFirst(request) : freshFirst(request));
});

/** Keep these files, as they are now where there is a connection; whether all are kept. */
async function keepAll(paths: string[]): Promise<boolean> {
  const cache = await caches.open(CACHE);
  const kept = await Promise.all(
    paths.map(async (path) => {
      const before = (await cache.match(path)) !== undefined;
      if (before && path.startsWith("/built/")) return true;
      const answer = await fetch(path, { credentials: "same-origin" }).catch(() => null);
      if (!answer || !whole(answer)) return before;
      await cache.put(path, answer);
      return true;
    }),
  );
  return kept.every(Boolean);
}

/** Files whose names change with their content need not be asked for again. */
async function keptFirst(request: Request): Promise<Response> {
  return (await caches.match(request)) ?? fetch(request);
}

/** A page as it is now, or as it was when there was a connection. */
async function freshFirst(request: Request): Promise<Response> {
  try {
    const answer = await fetch(request);
    if (whole(answer) && request.mode === "navigate") await (await caches.open(CACHE)).put(request, answer.clone());
    return answer;
  } catch (error) {
    const kept = await caches.match(request, { ignoreSearch: true });
    if (kept) return kept;
    throw error;
  }
}

/** An answer worth keeping: no error, and no sign-in page in place of the one asked for. */
function whole(answer: Response): boolean {
  return answer.ok && !answer.redirected && answer.type === "basic";
}
