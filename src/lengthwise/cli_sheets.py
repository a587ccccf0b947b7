"""Commands that make paper: card."""

from pathlib import Path
from typing import Annotated

import typer

from lengthwise.cli_grading import AsJson, PaperSize, PersonFile, checked_paper, out, print_json

PdfFile = Annotated[Path | None, typer.Option("--out", help="The PDF to write. Default: out/ and a name that says what it is.")]


def card(lift: str, person: PersonFile = None, file: PdfFile = None, paper: PaperSize = "a4", as_json: AsJson = False) -> None:
    """Write the card of LIFT as PDF: drawing, what works, the set, parts of the range, curves, cautions."""
    from lengthwise.actions import sheets

    made = sheets.lift_card(lift, person)
    _written(sheets.write_pdf(made, file or Path("out") / f"{made.name}.pdf", checked_paper(paper)), as_json)


def _written(file: Path, as_json: bool) -> None:
    if as_json:
        return print_json({"file": str(file)})
    out.print(f"sheet: {file}", highlight=False)


def add_to(app: typer.Typer) -> None:
    """Give a command line the commands that make paper."""
    for command in (card,):
        app.command()(command)
