"""A client's page as a file; of a week in a file, where one is named."""

from pathlib import Path
from typing import Annotated

import typer

from lengthwise.cli.shown.card import write as write
from lengthwise.questions.ask import Tell
from lengthwise.questions.sheet import SheetAsk, of_week
from lengthwise.report.typeset import Sheet
from lengthwise.weeks.week_answer import read_week

WeekFile = Annotated[Path | None, typer.Option("--week", help="A saved week (week --json); by default one is planned now.")]


def act(asked: SheetAsk, tell: Tell, *, week: WeekFile = None) -> Sheet | None:
    """The page of a week in a file, where one is named."""
    return of_week(asked, read_week(week)) if week and asked.what != "progress" else None
