/** Signing in: pages kept for times without a connection belong to whoever was signed in before, and go; what waits to be sent stays. */

/** Start the page. */
export async function run(): Promise<void> {
  for (const field of document.querySelectorAll<HTMLInputElement>("input[type=password]")) field.after(shower(field));
  if (location.pathname !== "/sign-in" || !("caches" in window)) return;
  for (const name of await caches.keys()) if (name.startsWith("log-pages")) await caches.delete(name);
}

/** A tick that shows what is typed into a field of a password. */
function shower(field: HTMLInputElement): HTMLLabelElement {
  const label = document.createElement("label");
  const tick = document.createElement("input");
  tick.type = "checkbox";
  tick.addEventListener("change", () => (field.type = tick.checked ? "text" : "password"));
  label.className = "tick small";
  label.append(tick, " show it");
  return label;
}
