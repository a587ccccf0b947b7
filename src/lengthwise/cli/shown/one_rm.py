"""A one-repetition maximum as tables."""

from rich.box import SIMPLE_HEAD
from rich.table import Table

from lengthwise.cli.shared import out
from lengthwise.training.one_rm_told import OneRm


def show(found: OneRm) -> None:
    """The estimate, what to trust, every equation, and loads for other repetitions."""
    out.print(f"1RM [bold]{found.one_rm:.1f}[/] ({found.equation}), {found.low:.1f} to {found.high:.1f} over all equations.")
    for note in found.notes:
        out.print(f"- {note}")
    table = Table("equation", "1RM", box=SIMPLE_HEAD)
    for name, value in found.by.items():
        table.add_row(name, f"{value:.1f}")
    out.print(table)
    shares = Table("repetitions", "load by equation", "printed % of 1RM", "printed elsewhere", box=SIMPLE_HEAD)
    for row in found.table:
        printed = ("" if percent is None else f"{percent:g}" for percent in (row.printed_percent, row.other_percent))
        shares.add_row(str(row.repetitions), f"{row.load:.1f} ({row.percent:.0f} %)", *printed)
    out.print(shares)
