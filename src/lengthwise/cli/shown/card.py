"""A page as a file."""

from pathlib import Path
from typing import Annotated

import typer

from lengthwise.cli.question_commands import Written
from lengthwise.cli.shared import PaperSize, ending
from lengthwise.questions.answering.sheets import write_pdf
from lengthwise.questions.ask import Ask
from lengthwise.report.typeset import Sheet

PdfFile = Annotated[
    Path | None,
    typer.Option(
        "--out", help="The PDF to write. Default: out/ and a name that says what it is.", callback=ending("sheet", ".pdf")
    ),
]


def write(found: Sheet, asked: Ask, *, file: PdfFile = None, paper: PaperSize = "a4") -> Written:
    """The page as PDF."""
    return {"file": str(write_pdf(found, file or Path("out") / f"{found.name}.pdf", paper))}
