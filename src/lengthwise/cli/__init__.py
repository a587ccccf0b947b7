"""The command line: asks the questions, prints tables for people or JSON for programs."""

import gc
import json
import os
import sys
from typing import Annotated

import typer

from lengthwise.cli.commands import Commands
from lengthwise.errors import LengthwiseError

app = typer.Typer(
    cls=Commands,
    help="Which lifts, how, how much and why: computed from a musculoskeletal model and the studies.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)

SELDOM = (200_000, 20, 20)
"""How rarely memory is searched for what refers to itself: hardly anything here does, and looking took a tenth of the start."""


def _say_version(asked: bool) -> None:
    if asked:
        from importlib.metadata import version

        print(f"lengthwise {version('lengthwise')}")
        raise typer.Exit


@app.callback()
def _options(
    _: Annotated[bool, typer.Option("--version", callback=_say_version, is_eager=True, help="Show the version and exit.")] = False,
) -> None:
    """Options of the whole command line."""


def main() -> None:
    """Run the command line; errors that Lengthwise raises become a message and an exit code."""
    gc.set_threshold(*SELDOM)
    os.environ.setdefault("MUJOCO_GL", "off")  # MuJoCo's windows take as long to load as all else of it, and none is opened
    try:
        app()
    except LengthwiseError as error:
        _report(error)
        sys.exit(error.exit_code)
    finally:
        gc.freeze()  # what is left goes with the process; to look through all of it once more takes a quarter of a second


def _report(error: LengthwiseError) -> None:
    if "--json" in sys.argv:
        allowed = [a if isinstance(a, str | int | float) else str(a) for a in error.allowed]
        answer = {"error": error.kind, "message": str(error), "asked": error.asked, "allowed": allowed}
        print(json.dumps(answer, default=str), file=sys.stderr)
    else:
        from rich.console import Console

        Console(stderr=True).print(f"[bold red]{error.kind.replace('_', ' ')}:[/] ", end="")
        print(error, file=sys.stderr)
