"""The command that lists the heads; it asks neither a body nor a lift, so it loads neither."""

import typer
from rich.table import Table

from lengthwise.actions import heads as actions
from lengthwise.cli.shared import Json, out, print_json


def add_to(app: typer.Typer) -> None:
    """Add `heads` to the command line."""
    app.command()(heads)


def heads(as_json: Json = False) -> None:
    """List every head, its muscle lines and the muscles it belongs to."""
    answer = actions.heads()
    if as_json:
        return print_json(answer)
    table = Table("head", "lines", "counts to")
    for row in answer["heads"]:
        table.add_row(row["head"], str(len(row["lines"])), ", ".join(row["muscles"]))
    out.print(table)
