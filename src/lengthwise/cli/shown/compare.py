"""Lifts side by side, as a table."""

from rich.box import SIMPLE_HEAD
from rich.table import Table

from lengthwise.cli.shared import out
from lengthwise.populations.side_by_side import Comparison


def show(found: Comparison) -> None:
    """Growth, span and activation of each head in every lift, then what gains from which."""
    titles = (f"{f.name}\n{f.working_kg:.0f} kg, {f.seconds_per_set:.0f} s a set" for f in found.facts)
    table = Table("head", *titles, box=SIMPLE_HEAD)
    for head in found.heads:
        cells = (
            f"growth {g.mean:.2f} ({g.low:.1f}-{g.high:.1f}), span to {f.heads[head].span_longest:.2f}, peak {f.heads[head].peak_activation:.0%}"
            for f, g in zip(found.facts, found.growth[head], strict=True)
        )
        table.add_row(head, *cells)
    out.print(table)
    for head, sentence in found.gains.items():
        out.print(sentence, highlight=False)
        if said := found.holds_in_adults.get(head):
            out.print(f"  {said}", style="dim", highlight=False)
