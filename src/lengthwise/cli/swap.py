"""Command `swap`: what a client could do instead of a lift."""

from datetime import date
from typing import Annotated, cast, get_args

import typer
from rich.box import SIMPLE_HEAD
from rich.table import Table

from lengthwise.actions.clients import find_client
from lengthwise.actions.past import past_of
from lengthwise.actions.store import client_number, numbered_client, store
from lengthwise.actions.swap import Because, swap_lift
from lengthwise.actions.swap_taken import Span, take_swap
from lengthwise.cli.log import read_day
from lengthwise.cli.shared import Bar, Json, out, print_json
from lengthwise.errors import unknown
from lengthwise.quantities import day as in_words
from lengthwise.quantities import planned_load, repetitions
from lengthwise.questions.answers import encode


def swap(
    person: Annotated[str, typer.Argument(help="A client's file (.toml), or the name of a kept client.")],
    lift: Annotated[str, typer.Argument(help="The lift to replace: id, name or alias.")],
    because: Annotated[str, typer.Option(help="Why it is replaced: pain, gear, time or taste.")] = "",
    take: Annotated[str, typer.Option(help="Put this lift in its place, and keep that.")] = "",
    span: Annotated[
        str, typer.Option("--for", help="How long: week (that week alone), or block (every week of its block from then on).")
    ] = "week",
    day: Annotated[str | None, typer.Option(help="A day of the week it begins with, such as 2026-03-02; today by default.")] = None,
    as_json: Json = False,
) -> None:
    """Show what PERSON could do instead of LIFT, with load, reason and what is lost; take one with --take."""
    if take:
        return _take(person, lift, take, span, read_day(day) or date.today(), as_json)
    client = find_client(person)
    with Bar("lifts") as bar:
        found = swap_lift(client, lift, cast(Because, because), past_of(person), bar)
    if as_json:
        return print_json(encode(found))
    table = Table(
        "instead", "growth", "load", "repetitions", "why", "what is lost", title=f"Instead of {found.name}", box=SIMPLE_HEAD
    )
    for c in found.candidates:
        p = c.planned
        load = planned_load(p.load_kg, p.gear, client.mass_unit, p.guess)
        table.add_row(c.name, f"{c.growth:.0%}", load, repetitions(*p.repetitions), c.reason, c.lost or "nothing")
    out.print(table)
    out.print(
        "Growth: what a set does for the same heads beside the lift that goes, by counted sets and graded value.", highlight=False
    )
    if found.part:
        out.print(f"Nearest of all: {found.name} itself, {found.part}, if nothing hurts there.", highlight=False)
    if because == "pain":
        out.print("Pain is nothing to train through; see a clinician about pain that lasts.", highlight=False)


def _take(person: str, lift: str, to: str, span: str, day: date, as_json: bool) -> None:
    if span not in get_args(Span):
        raise unknown("span", span, get_args(Span))
    with store().reading() as db:
        number = client_number(db, person)
    taken = take_swap(number, numbered_client(number).client, lift, to, day, cast(Span, span))
    if as_json:
        return print_json({"weeks": encode(taken)})
    for one in taken:
        out.print(f"Week of {in_words(one.monday)}: {' '.join(one.said)}", highlight=False)


def add_to(app: typer.Typer) -> None:
    """Give a command line the command `swap`."""
    app.command()(swap)
