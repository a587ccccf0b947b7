"""A client's progress as tables, with its figures."""

from pathlib import Path
from typing import Annotated

import typer

from lengthwise.cli.question_commands import Written
from lengthwise.cli.shared import out
from lengthwise.cli.shown.review import show_lifts, show_rest
from lengthwise.known.evidence import save_pictures
from lengthwise.questions.progress import ProgressAsk
from lengthwise.report.trend_figures import pictures
from lengthwise.training.review import Review


def write(
    found: Review,
    asked: ProgressAsk,
    *,
    folder: Annotated[Path | None, typer.Option("--figures", help="Folder for the figures (PNG).")] = None,
) -> Written:
    """The figures, where they are asked for."""
    client = asked.client.client
    drawn = pictures(found, unit=client.mass_unit, length=client.length_unit) if folder else ()
    return {"figures": [str(f) for f in save_pictures(drawn, folder)] if folder else []}


def show(found: Review, asked: ProgressAsk) -> None:
    """Strength of each lift, then volume, pain and growth."""
    show_lifts(found, asked.client.client.mass_unit, asked.client.client.length_unit)
    show_rest(found)
    if found.response and found.response.to_sets is not None:
        out.print(found.response.sentence)
