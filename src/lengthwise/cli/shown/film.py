"""A moving picture as a file."""

from pathlib import Path
from typing import Annotated

import typer

from lengthwise.cli.question_commands import Written
from lengthwise.cli.shared import ending
from lengthwise.files.whole_files import write_whole
from lengthwise.questions.film import FilmAsk
from lengthwise.report.filming import Film

WebpFile = Annotated[Path, typer.Option("--to", help="The animated WebP to write.", callback=ending("film", ".webp"))]


def write(found: Film, asked: FilmAsk, *, to: WebpFile) -> Written:
    """The picture as animated WebP."""
    write_whole(to, found.content)
    return {"file": str(to)}
