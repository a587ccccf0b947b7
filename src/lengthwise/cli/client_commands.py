"""Commands about a client's record."""

from pathlib import Path
from typing import Annotated

import typer

from lengthwise.cli.commands import group
from lengthwise.cli.shared import Told, telling
from lengthwise.records.new_client import new_client
from lengthwise.records.people import read_client
from lengthwise.weeks import clients as client_actions

person_app = group("person")


@person_app.command("new")
@telling
def new(
    file: Annotated[Path, typer.Argument(help="Where to write it (.toml).")],
    name: Annotated[str, typer.Option("--name", help="The client's name.")] = "New client",
) -> Told:
    """Write a new client's record to FILE as a commented template; never overwrites."""
    target = new_client(file, name)
    return {"file": str(target)}, f"{target}\nEdit it, then run: lengthwise person check {target}"


@person_app.command("check")
@telling
def check(file: Annotated[Path, typer.Argument(help="Record file (.toml).")]) -> Told:
    """Check a client's record and list every problem at once."""
    client = read_client(file)
    gaps = client_actions.gaps(client)
    found = {"file": str(file), "valid": True, "gaps": gaps}
    return found, f"{file}: valid record of {client.name}.", *(f"- {gap}" for gap in gaps)
