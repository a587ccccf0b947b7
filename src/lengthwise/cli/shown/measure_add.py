"""A measurement that was entered, in a line."""

from lengthwise.cli.shared import out
from lengthwise.records.log_entries import EnteredMeasurement


def show(found: EnteredMeasurement) -> None:
    """What was read, where, when."""
    m = found.measurement
    shown = m.reference or " ".join(f"{v:.4g}" for v in m.values) + f" {m.unit}"
    out.print(f"{m.day} {m.kind} {m.site} {m.side}: {shown} (entry {found.entry})", markup=False)
