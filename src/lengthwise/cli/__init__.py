"""The command line: asks the actions, prints tables for people or JSON for programs."""

import json
import sys

import typer
from rich.console import Console

from lengthwise.actions.lifts import left_out
from lengthwise.cli import body, clients, evidence, grading, lifts, log, review, sheets, store, web, week
from lengthwise.errors import LengthwiseError

app = typer.Typer(
    help="Which lifts, how, how much and why: computed from a musculoskeletal model and the studies.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)
for part in (body, lifts, clients, grading, evidence, review, sheets, web, week, log, store):
    part.add_to(app)


def main() -> None:
    """Run the command line; errors that Lengthwise raises become a message and an exit code."""
    try:
        _tell_left_out()
        app()
    except LengthwiseError as error:
        _report(error)
        sys.exit(error.exit_code)


def _tell_left_out() -> None:
    """Say which own lift files are left out of the library; programs get nothing but what they asked for."""
    faults = () if "--json" in sys.argv else left_out()
    for fault in faults:
        print(f"left out of your own lifts: {fault}", file=sys.stderr)


def _report(error: LengthwiseError) -> None:
    if "--json" in sys.argv:
        allowed = [a if isinstance(a, str | int | float) else str(a) for a in error.allowed]
        answer = {"error": error.kind, "message": str(error), "asked": error.asked, "allowed": allowed}
        print(json.dumps(answer, default=str), file=sys.stderr)
    else:
        Console(stderr=True).print(f"[bold red]{error.kind.replace('_', ' ')}:[/] ", end="")
        print(error, file=sys.stderr)
