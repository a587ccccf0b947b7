"""A client's year as two tables: its weeks, and the sets of each phase."""

from rich.box import SIMPLE_HEAD
from rich.table import Table

from lengthwise.actions.year_plan import Year
from lengthwise.cli.shared import out
from lengthwise.quantities import day, name_of, plain
from lengthwise.questions.year import YearAsk


def show(found: Year, asked: YearAsk) -> None:
    """When what is for, and how many sets of it."""
    table = Table("from", "to", "weeks", "for", title=f"Year of {asked.client.client.name}", box=SIMPLE_HEAD)
    for r in found.phases:
        table.add_row(day(r.span.monday), day(r.span.last), str(r.span.weeks), r.span.phase)
    out.print(table)
    by_phase = {r.span.phase: r.bands for r in found.phases}
    sets = Table("sets a week", *by_phase, box=SIMPLE_HEAD)
    for m in found.phases[0].bands:
        sets.add_row(name_of(m), *(f"{plain(bands[m].low, 1)}–{plain(bands[m].high, 1)}" for bands in by_phase.values()))
    out.print(sets)
    for words, claim in dict.fromkeys((r.words, r.claim) for r in found.phases):
        out.print(f"{words[:1].upper()}{words[1:]} ({claim}).", highlight=False)
    out.print(
        "The turns of a year are common practice, no source. Plan a week of a phase with lengthwise week PERSON --phase.",
        highlight=False,
    )
