"""Commands that make paper and pictures to take along: sheet, card, film."""

from pathlib import Path
from typing import Annotated

import typer

from lengthwise.cli.shared import Bar, Json, LiftName, PaperSize, PersonFile, checked_paper, out, print_json
from lengthwise.errors import InputError

PdfFile = Annotated[Path | None, typer.Option("--out", help="The PDF to write. Default: out/ and a name that says what it is.")]
WHAT = ("week", "block", "progress")


def sheet(
    person: Annotated[str, typer.Argument(help="A client's file, or the name of a kept client.")],
    what: Annotated[str, typer.Option("--what", help="week, block or progress.")] = "week",
    week: Annotated[Path | None, typer.Option("--week", help="A saved week (week --json); by default one is planned now.")] = None,
    link: Annotated[str, typer.Option("--link", help="Address of the log page, for the QR code on the sheet.")] = "",
    file: PdfFile = None,
    paper: PaperSize = "a4",
    as_json: Json = False,
) -> None:
    """Write a client's week, block of weeks or progress as PDF."""
    from lengthwise.actions import sheets
    from lengthwise.actions.clients import find_client
    from lengthwise.actions.past import kept_now, past_of
    from lengthwise.actions.review import review_client
    from lengthwise.actions.week import plan_week
    from lengthwise.actions.week_answer import read_week

    size = checked_paper(paper)
    if what not in WHAT:
        raise InputError(f"sheet {what!r}; allowed {', '.join(WHAT)}", asked=what, allowed=WHAT)
    if file is not None:
        sheets.check_ending(file)
    with Bar(what) as bar:
        if what == "progress":
            made = sheets.progress_paper(review_client(person, rank=True, progress=bar))
        else:
            client = find_client(person)
            kept = kept_now(person)
            past = past_of(person)
            planned = read_week(week) if week else kept or plan_week(client, progress=bar, past=past)
            made = (
                sheets.week_paper(client, planned, link, past) if what == "week" else sheets.block_paper(client, planned, past=past)
            )
    _written(sheets.write_pdf(made, file or Path("out") / f"{made.name}.pdf", size), as_json)


def card(lift: LiftName, person: PersonFile = None, file: PdfFile = None, paper: PaperSize = "a4", as_json: Json = False) -> None:
    """Write a card on LIFT as PDF: drawing, what works, the set, parts of the range, curves, cautions."""
    from lengthwise.actions import sheets

    size = checked_paper(paper)
    if file is not None:
        sheets.check_ending(file)
    made = sheets.lift_card(lift, person)
    _written(sheets.write_pdf(made, file or Path("out") / f"{made.name}.pdf", size), as_json)


def film(
    lift: LiftName,
    to: Annotated[Path, typer.Option("--to", help="The animated WebP to write.")],
    compare: Annotated[str | None, typer.Option("--compare", help="Another lift to show beside it.")] = None,
    person: PersonFile = None,
    as_json: Json = False,
) -> None:
    """Animate one repetition of LIFT, with the curve of how hard each position is."""
    from lengthwise.actions.film import write_film

    file = write_film(lift, to, compare, person)
    if as_json:
        return print_json({"file": str(file)})
    out.print(f"film: {file}", highlight=False)


def _written(file: Path, as_json: bool) -> None:
    if as_json:
        return print_json({"file": str(file)})
    out.print(f"sheet: {file}", highlight=False)


def add_to(app: typer.Typer) -> None:
    """Give a command line the commands that make paper and films."""
    for command in (sheet, card, film):
        app.command()(command)
