"""Command `swap`: what a client could do instead of a lift."""

from typing import Annotated, cast

import typer
from rich.box import SIMPLE_HEAD
from rich.table import Table

from lengthwise.actions.clients import find_client
from lengthwise.actions.past import past_of
from lengthwise.actions.swap import Because, swap_answer, swap_lift
from lengthwise.cli.shared import Bar, Json, out, print_json
from lengthwise.quantities import planned_load, repetitions


def swap(
    person: Annotated[str, typer.Argument(help="A client's file (.toml), or the name of a kept client.")],
    lift: Annotated[str, typer.Argument(help="The lift that goes, by id, name or alias.")],
    because: Annotated[str, typer.Option(help="Why it goes: pain, gear, time or taste.")] = "",
    as_json: Json = False,
) -> None:
    """Show what PERSON could do instead of LIFT: for the same heads, with the load, why, and what is lost."""
    client = find_client(person)
    with Bar("lifts") as bar:
        found = swap_lift(client, lift, cast(Because, because), past_of(person), bar)
    if as_json:
        return print_json(swap_answer(found))
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
    if because == "pain":
        out.print("Pain is nothing to train through; see a clinician about pain that lasts.", highlight=False)


def add_to(app: typer.Typer) -> None:
    """Give a command line the command `swap`."""
    app.command()(swap)
