"""A page as a file."""

from pathlib import Path
from typing import Annotated

import typer

from lengthwise.actions.sheets import check_ending, write_pdf
from lengthwise.cli.question_commands import Written
from lengthwise.cli.shared import PaperSize, checked_paper
from lengthwise.questions.ask import Ask, Tell
from lengthwise.report.typeset import Sheet

PdfFile = Annotated[Path | None, typer.Option("--out", help="The PDF to write. Default: out/ and a name that says what it is.")]


def act(asked: Ask, tell: Tell, *, file: PdfFile = None, paper: PaperSize = "a4") -> None:
    """Nothing else; what cannot be written is told before anything is computed."""
    checked_paper(paper)
    if file is not None:
        check_ending(file)


def write(found: Sheet, asked: Ask, *, file: PdfFile = None, paper: PaperSize = "a4") -> Written:
    """The page as PDF."""
    return {"file": str(write_pdf(found, file or Path("out") / f"{found.name}.pdf", checked_paper(paper)))}


def show(found: Sheet) -> None:
    """Its file says it all."""
