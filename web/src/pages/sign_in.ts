/** Signing in: pages kept for times without a connection belong to whoever was signed in before, and go; what waits to be sent stays. */

/** Start the page. */
export async function run(): Promise<void> {
  if ("caches" in window) for (const name of await caches.keys()) if (name.startsWith("log-pages")) await caches.delete(name);
}
