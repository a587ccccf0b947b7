"""Command `year`: a client's year on one page."""

from datetime import date
from typing import Annotated

import typer
from rich.box import SIMPLE_HEAD
from rich.table import Table

from lengthwise.actions.clients import find_client
from lengthwise.actions.year import year_of
from lengthwise.cli.log import read_day
from lengthwise.cli.shared import Json, out, print_json
from lengthwise.quantities import day, name_of, plain
from lengthwise.questions.answers import encode


def year(
    person: Annotated[str, typer.Argument(help="A client's file (.toml), or the name of a kept client.")],
    start: Annotated[str | None, typer.Option(help="A day of the first week, such as 2026-03-02; this week by default.")] = None,
    as_json: Json = False,
) -> None:
    """Show PERSON's year: when to grow, specialise, maintain and re-test, with weekly sets for every muscle."""
    client = find_client(person)
    found = year_of(client, read_day(start) or date.today())
    if as_json:
        return print_json(encode(found))
    table = Table("from", "to", "weeks", "for", title=f"Year of {client.name}", box=SIMPLE_HEAD)
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


def add_to(app: typer.Typer) -> None:
    """Give a command line the command `year`."""
    app.command()(year)
