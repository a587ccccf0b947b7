/** What was written down and has not reached the server yet: kept in the browser's own database until the server says that it has it. */

/** Something to be sent; `fault` holds the server's words where it refused. */
export interface Waiting {
  key: string;
  client: number;
  at: number;
  path: string;
  body: Record<string, unknown>;
  fault?: string;
}

let opened: Promise<IDBDatabase> | undefined;

function database(): Promise<IDBDatabase> {
  opened ??= new Promise((resolve, reject) => {
    const asked = indexedDB.open("lengthwise-log", 1);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore("waiting", { keyPath: "key" });
      asked.result.createObjectStore("seen");
    };
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
  return opened;
}

/** One request in a transaction that has been written for good before this returns. */
async function done<T>(store: "waiting" | "seen", mode: IDBTransactionMode, ask: (s: IDBObjectStore) => IDBRequest<T>): Promise<T> {
  const work = (await database()).transaction(store, mode);
  return new Promise((resolve, reject) => {
    const asked = ask(work.objectStore(store));
    work.oncomplete = () => resolve(asked.result);
    work.onerror = work.onabort = () => reject(work.error);
  });
}

/** Keep something until it is sent. */
export const keep = (one: Waiting) => done("waiting", "readwrite", (s) => s.put(one));

/** Forget something. */
export const forget = (key: string) => done("waiting", "readwrite", (s) => s.delete(key));

/** Everything of one client that waits, oldest first. */
export async function waitingOf(client: number): Promise<Waiting[]> {
  const all = await done<Waiting[]>("waiting", "readonly", (s) => s.getAll());
  return all.filter((w) => w.client === client).sort((a, b) => a.at - b.at);
}

/** The last answer of the server about a day, for times without a connection. */
export const remember = (name: string, value: unknown) => done("seen", "readwrite", (s) => s.put(value, name));

/** What was remembered. */
export const remembered = <T>(name: string) => done<T | undefined>("seen", "readonly", (s) => s.get(name));

/** A key that nobody else chooses. */
export function newKey(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((b) => b.toString(16).padStart(2, "0")).join("");
}

export type Sent = "sent" | "offline" | "signed out" | "refused";

/** Send one thing; what the server refuses stays, with its reason. */
export async function send(one: Waiting): Promise<Sent> {
  let answer: Response;
  try {
    answer = await fetch(one.path, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(one.body),
    });
  } catch {
    return "offline";
  }
  if (answer.ok) {
    await forget(one.key);
    return "sent";
  }
  if (answer.status === 401 || answer.status === 403) return "signed out";
  if (answer.status >= 500 || answer.status === 408 || answer.status === 429) return "offline";
  const told = await answer.json().catch(() => ({ message: `The server answered ${answer.status}.` }));
  await keep({ ...one, fault: told.message });
  return "refused";
}
