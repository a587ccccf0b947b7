"""Heads as a table."""

from rich.table import Table

from lengthwise.body.named_heads import NamedHeads
from lengthwise.cli.shared import out


def show(found: NamedHeads) -> None:
    """How many lines each has, and what it counts to."""
    table = Table("head", "lines", "counts to")
    for own in found.heads:
        table.add_row(own.head, str(len(own.lines)), ", ".join(own.muscles))
    out.print(table)
