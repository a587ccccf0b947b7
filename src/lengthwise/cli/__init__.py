"""The command line: asks the actions, prints tables for people or JSON for programs."""

import json
import sys
from collections.abc import Sequence

import typer
from rich.console import Console

from lengthwise.actions.lifts import left_out, own_folder
from lengthwise.cli import body, clients, evidence, grading, lifts, log, review, sheets, store, web, week
from lengthwise.errors import DataFileError, LengthwiseError

app = typer.Typer(
    help="Which lifts, how, how much and why: computed from a musculoskeletal model and the studies.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)
NO_LIBRARY = ("lift", "serve", "store", "account", "study", "pool")
"""Commands that ask no lift of the library; `serve` leaves wrong files out and tells them on its pages."""
for part in (body, lifts, clients, grading, evidence, review, sheets, web, week, log, store):
    part.add_to(app)


def main() -> None:
    """Run the command line; errors that Lengthwise raises become a message and an exit code."""
    try:
        _check_own_lifts(sys.argv[1:])
        app()
    except LengthwiseError as error:
        _report(error)
        sys.exit(error.exit_code)


def _check_own_lifts(asked: Sequence[str]) -> None:
    """Refuse to answer from a library that lacks what its user wrote; commands that mend it, or ask no lift, go on.

    Raises:
        DataFileError: every fault of the user's own lift files.
    """
    faults = () if not asked or asked[0] in NO_LIBRARY or "--help" in asked else left_out()
    if faults:
        raise DataFileError(faults, asked=str(own_folder()))


def _report(error: LengthwiseError) -> None:
    if "--json" in sys.argv:
        allowed = [a if isinstance(a, str | int | float) else str(a) for a in error.allowed]
        answer = {"error": error.kind, "message": str(error), "asked": error.asked, "allowed": allowed}
        print(json.dumps(answer, default=str), file=sys.stderr)
    else:
        Console(stderr=True).print(f"[bold red]{error.kind.replace('_', ' ')}:[/] ", end="")
        print(error, file=sys.stderr)
