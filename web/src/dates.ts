/** Dates as the reader's browser writes them; the server writes them in words for whoever has no script. */
const FORMS: Record<string, Intl.DateTimeFormatOptions> = {
  day: { dateStyle: "long" },
  weekday: { dateStyle: "full" },
  moment: { dateStyle: "medium", timeStyle: "short" },
};

/** A day such as 2026-03-02, or a moment such as 2026-03-02T10:15:00Z in the reader's own time zone. */
export function dateWords(iso: string, form = "day"): string {
  const at = new Date(iso.includes("T") ? iso : `${iso}T12:00:00`);
  return new Intl.DateTimeFormat(undefined, FORMS[form]).format(at);
}

/** Write every date of a part of the page so. */
export function localDates(part: ParentNode): void {
  for (const time of part.querySelectorAll<HTMLTimeElement>("time[data-form]"))
    time.textContent = dateWords(time.dateTime, time.dataset.form);
}
