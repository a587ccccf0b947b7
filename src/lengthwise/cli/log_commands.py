"""Taking back what was entered; adding, importing and showing are questions."""

from dataclasses import asdict
from typing import Annotated

import typer

from lengthwise.cli.commands import group
from lengthwise.cli.shared import Told, new_table, telling
from lengthwise.records import log_entries as log_actions

log_app = group("log")
measure_app = group("measure")


@log_app.command("undo")
@telling
def undo(
    who: Annotated[str | None, typer.Argument(metavar="[PERSON]", help="Only this client's last entry.")] = None,
    entry: Annotated[int | None, typer.Option("--entry", help="Number of an entry or import.")] = None,
    list_them: Annotated[bool, typer.Option("--list", help="Only list the last entries.")] = False,
) -> Told:
    """Undo the last entry or import, or the one with a given number."""
    if list_them:
        return _entries(who)
    gone = log_actions.undo(who, entry)
    counts = {"sets": gone.sets, "sessions": gone.sessions, "measurements": gone.measurements}
    said = ", ".join(f"{n} {what}" for what, n in counts.items() if n) or "it was already empty"
    answer = {"entry": gone.entry.number, "what": gone.entry.what, "removed": counts}
    return answer, f"undone: entry {gone.entry.number}, {gone.entry.what} ({said})"


def _entries(who: str | None) -> Told:
    found = log_actions.list_entries(who)
    table = new_table("entry", "when (UTC)", "what", "undone")
    for e in found:
        table.add_row(str(e.number), f"{e.at:%Y-%m-%d %H:%M}", e.what, f"{e.undone_at:%Y-%m-%d %H:%M}" if e.undone_at else "")
    answer = [{**asdict(e), "at": str(e.at), "undone_at": e.undone_at and str(e.undone_at)} for e in found]
    return {"entries": answer}, table
