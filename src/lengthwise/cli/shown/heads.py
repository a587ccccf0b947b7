"""Heads as a table."""

from rich.box import HEAVY_HEAD

from lengthwise.body.named_heads import NamedHeads
from lengthwise.cli.shared import print_table


def show(found: NamedHeads) -> None:
    """How many lines each has, and what it counts to."""
    columns = {"head": lambda h: h.head, "lines": lambda h: str(len(h.lines)), "counts to": lambda h: ", ".join(h.muscles)}
    print_table(found.heads, columns, box=HEAVY_HEAD)
