"""Commands that follow a client: progress in figures, and the invented gym of the demo."""

from datetime import date
from pathlib import Path
from typing import Annotated

import typer
from rich.console import Console
from rich.progress import Progress

from lengthwise.actions import demo as demo_actions
from lengthwise.actions import progress as progress_actions
from lengthwise.actions import review as review_actions
from lengthwise.actions.clients import find_client
from lengthwise.cli.shared import Json, out, print_json
from lengthwise.cli.shown.review import show_lifts, show_rest
from lengthwise.errors import InputError
from lengthwise.questions.answers import encode
from lengthwise.reading import checked_day

Name = Annotated[str, typer.Argument(metavar="PERSON", help="Name of a kept client, or its beginning.")]
On = Annotated[str | None, typer.Option("--on", help="Day of the review, such as 2026-03-01; today by default.")]


def add_to(app: typer.Typer) -> None:
    """Add `progress` and `demo` to the command line."""
    app.command("progress")(progress)
    app.command("demo")(demo)


def _day(text: str | None) -> date | None:
    try:
        return checked_day(date.fromisoformat(text)) if text else None
    except ValueError:
        raise InputError(f"cannot read the day {text!r}; write it as 2026-03-01", asked=text, allowed=["YYYY-MM-DD"]) from None


def progress(
    person: Name,
    folder: Annotated[Path | None, typer.Option("--figures", help="Folder for the figures (PNG).")] = None,
    on: On = None,
    as_json: Json = False,
) -> None:
    """Show a client's progress: strength, volume against plan, pain and growth, with figures."""
    found = review_actions.review_client(person, _day(on))
    answer = {**encode(found), "figures": []}
    if folder is not None:
        answer["figures"] = [str(f) for f in progress_actions.save_pictures(found, folder)]
    if as_json:
        print_json(answer)
        return
    show_lifts(found, find_client(person).mass_unit)
    show_rest(found)
    if found.response and found.response.to_sets is not None:
        out.print(found.response.sentence)
    for file in answer["figures"]:
        out.print(f"figure: {file}")


def demo(as_json: Json = False) -> None:
    """Add the demo gym: six invented clients with twenty weeks of invented logs."""
    with Progress(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("inventing logs", total=None)
        answer = demo_actions.seed_demo(None, lambda done, total: bar.update(task, completed=done, total=total))
    if as_json:
        print_json(answer)
        return
    for row in answer["clients"]:
        out.print(f"{row['name']}: {row['visits']} visits, {row['sets']} sets")
    out.print("Invented people and logs. Try: lengthwise review with one of the names.")
