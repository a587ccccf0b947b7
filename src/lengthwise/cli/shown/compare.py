"""Lifts side by side, as a table."""

from lengthwise.cli.shared import new_table, out
from lengthwise.grading.facts import HeadFacts
from lengthwise.grading.sentences import between, lift_in_text, plain
from lengthwise.populations.side_by_side import InLift, SideBySide


def show(found: SideBySide) -> None:
    """Growth, span and activation of each head in every lift, then what gains from which."""
    titles = (f"{f.name}\n{f.working_kg:.0f} kg, {f.seconds_per_set:.0f} s a set" for f in found.facts)
    table = new_table("head", *titles)
    for head in found.heads:
        cells = (_cell(f.heads[head], x) for f, x in zip(found.facts, found.inside[head], strict=True))
        table.add_row(plain(head), *cells)
    out.print(table)
    for lift, heads in _by_reference(found).items():
        out.print(f"× the growth of the {lift_in_text(lift)}, as in `rank`: {', '.join(map(plain, heads))}", style="dim")
    for head, sentence in found.gains.items():
        out.print(sentence)
        if said := found.holds_in_adults.get(head):
            out.print(f"  {said}", style="dim")


def _cell(head: HeadFacts, inside: InLift) -> str:
    g = inside.growth
    apart = "" if g.low == g.high else f" ({between(g)})"
    held = ", held" if inside.holds else ""
    return f"growth {g.mean:.2f} ×{apart}{held}; longest at {head.span_longest:.0%} of its span, at most {head.peak_activation:.0%} active"


def _by_reference(found: SideBySide) -> dict[str, list[str]]:
    out: dict[str, list[str]] = {}
    for head, lift in found.reference.items():
        out.setdefault(lift, []).append(head)
    return out
