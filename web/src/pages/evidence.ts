/** The evidence pages: a check of a new study's file before it is sent. */
const LARGEST = 900_000;

/** Start the page. */
export function run(): void {
  const field = document.querySelector<HTMLInputElement>("input[type=file]");
  field?.addEventListener("change", () => {
    const large = (field.files?.[0]?.size ?? 0) > LARGEST;
    field.setCustomValidity(large ? "This file is too large; allowed 0.9 MB." : "");
    field.reportValidity();
  });
}
