"""Sets that were entered, one a line."""

from lengthwise.cli.shared import out
from lengthwise.cli.shown.log_show import lift_name, set_words
from lengthwise.records.log_entries import EnteredSets


def show(found: EnteredSets) -> None:
    """Each set, and how to undo all of them."""
    for s in found.sets:
        out.print(f"{lift_name(s.lift)}: {set_words(s, 'kg')}", markup=False)
    out.print(f"saved as entry {found.entry}; undo it with: lengthwise log undo --entry {found.entry}", style="dim")
