"""A muscle explained, as files."""

from pathlib import Path
from typing import Annotated

import typer

from lengthwise.cli.question_commands import Written
from lengthwise.cli.shared import PaperSize, ending
from lengthwise.errors import InputError
from lengthwise.questions.answering.grading_pictures import described, write_explainer, write_slides
from lengthwise.questions.ask import Tell
from lengthwise.questions.explain import ExplainAsk
from lengthwise.report.grading_explainer import Explained


def act(
    asked: ExplainAsk,
    tell: Tell,
    *,
    folder: Annotated[Path | None, typer.Option("--out", help="Folder for the page and the pictures.")] = None,
    slides: Annotated[
        Path | None,
        typer.Option("--slides", help="A deck of slides to write (.pptx), its text editable.", callback=ending("slides", ".pptx")),
    ] = None,
) -> None:
    """Nothing else; where there is nowhere to write, that is told before anything is computed."""
    if folder is None and slides is None:
        raise InputError(
            "explain: nowhere to write to; give --out FOLDER, --slides FILE.pptx or both", allowed=["--out", "--slides"]
        )


def write(
    found: Explained, asked: ExplainAsk, *, folder: Path | None = None, slides: Path | None = None, paper: PaperSize = "a4"
) -> Written:
    """Page, paper and pictures in a folder, and slides, as they are asked for."""
    who = described(asked.person)
    made = write_explainer(found, who, folder, paper) if folder else ()
    return {"files": [str(f) for f in (*made, *([write_slides(found, who, slides)] if slides else []))]}
