"""A moving picture as a file."""

from pathlib import Path
from typing import Annotated

import typer

from lengthwise.actions.whole_files import write_whole
from lengthwise.cli.question_commands import Written
from lengthwise.errors import InputError
from lengthwise.questions.ask import Tell
from lengthwise.questions.film import FilmAsk
from lengthwise.report.filming import Film

ENDING = ".webp"
WebpFile = Annotated[Path, typer.Option("--to", help="The animated WebP to write.")]


def act(asked: FilmAsk, tell: Tell, *, to: WebpFile) -> None:
    """Nothing else; a name that cannot be written is told before anything is computed."""
    if to.suffix.lower() != ENDING:
        raise InputError(
            f"film: found a file named {to.name!r}; allowed a name ending in {ENDING}", asked=to.name, allowed=[ENDING]
        )


def write(found: Film, asked: FilmAsk, *, to: WebpFile) -> Written:
    """The picture as animated WebP."""
    write_whole(to, found.content)
    return {"file": str(to)}


def show(found: Film) -> None:
    """Its file says it all."""
