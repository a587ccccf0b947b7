"""Commands about a client's record."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Any, TypeVar

import typer
from rich.box import SIMPLE_HEAD
from rich.console import Console
from rich.table import Table

from lengthwise.actions import clients as client_actions
from lengthwise.actions.new_client import new_client
from lengthwise.actions.people import read_client
from lengthwise.cli.shared import Json, out, print_json
from lengthwise.questions.answers import encode

T = TypeVar("T")
Asked = Annotated[str, typer.Argument(metavar="PERSON", help="Person file (.toml), or the name of a kept client.")]
person = typer.Typer(help="Write, check and show a client's record.", no_args_is_help=True)


def add_to(app: typer.Typer) -> None:
    """Add `person` to the command line."""
    app.add_typer(person, name="person")


def _busy(what: str, ask: Callable[[], T]) -> T:
    """Answer a question while a sign of work turns on standard error."""
    with Console(stderr=True).status(what):
        return ask()


@person.command("new")
def new(
    file: Annotated[Path, typer.Argument(help="Where to write it (.toml).")],
    name: Annotated[str, typer.Option("--name", help="The client's name.")] = "New client",
    as_json: Json = False,
) -> None:
    """Write a new client's record to FILE as a commented template; never overwrites."""
    target = new_client(file, name)
    if as_json:
        print_json({"file": str(target)})
    else:
        out.print(f"{target}\nEdit it, then run: lengthwise person check {target}", soft_wrap=True, markup=False)


@person.command("check")
def check(file: Annotated[Path, typer.Argument(help="Person file (.toml).")], as_json: Json = False) -> None:
    """Check a client's record and list every fault at once."""
    client = read_client(file)
    warnings = client_actions.gaps(client)
    if as_json:
        print_json({"file": str(file), "valid": True, "gaps": warnings})
        return
    out.print(f"{file}: valid record of {client.name}.", soft_wrap=True, markup=False)
    for gap in warnings:
        out.print(f"- {gap}", markup=False)


@person.command("show")
def show(asked: Asked, as_json: Json = False) -> None:
    """Show a client: body, screening, places and their loads, known lifts against the model, weekly sets."""
    client = client_actions.find_client(asked)
    answer = _busy("fitting the body to known lifts", lambda: encode(client_actions.what_follows(client)))
    if as_json:
        print(json.dumps(answer, allow_nan=False, default=str))
    else:
        _print_client(answer)


def _print_client(answer: dict[str, Any]) -> None:
    body = answer["body"]
    out.print(
        f"[bold]{answer['name']}[/], {body['sex']}, {body['age_y']:g} years, {body['stature_m']:g} m, {body['mass_kg']:g} kg, {body['training']}"
    )
    screening = answer["screening"]
    if screening is None:
        out.print("Screening: not answered. Ask before training starts; the questions are in docs/people.md.")
    else:
        out.print(f"Screening: [bold]{screening['answer']}[/]. {'; '.join(screening['reasons'])}.")
        for care in screening["care"]:
            out.print(f"  {care}")
    for day in answer["days"]:
        out.print(f"{day['day']}: {day['minutes']:g} min, {day['place']}")
    _print_gear(answer["places"])
    _print_calibration(answer["calibration"])
    bands = ", ".join(f"{m} {b['low']:g}-{b['high']:g}{'*' if b['own'] else ''}" for m, b in answer["weekly_sets"].items())
    out.print(f"Hard sets a week (* own wish, others by default, claim weekly_sets): {bands}.")
    if answer["sore_joints"]:
        out.print(f"To be spared: {', '.join(answer['sore_joints'])}.")
    for gap in answer["gaps"]:
        out.print(f"[yellow]-[/] {gap}")


def _print_gear(places: dict[str, Any]) -> None:
    table = Table("place", "gear", "loads", "lightest", "heaviest", "smallest step", box=SIMPLE_HEAD)
    for place, kinds in places.items():
        for kind, row in kinds.items():
            numbers = (
                ["", "", ""]
                if row["lightest_kg"] is None
                else [f"{row[k]:g}" for k in ("lightest_kg", "heaviest_kg", "smallest_step_kg")]
            )
            table.add_row(place, kind, f"{row['loads']}{' (assumed)' if row['assumed'] else ''}", *numbers)
    if table.row_count:
        out.print(table)


def _print_calibration(answer: dict[str, Any]) -> None:
    if not answer["lifts"] and not answer["skipped"]:
        out.print("No known lifts: strength is that of the population, loads are guesses.")
        return
    table = Table("known lift", "1RM kg", "model before", "after", "left over", "limited by", box=SIMPLE_HEAD)
    for row in answer["lifts"]:
        limits = ", ".join(f"{g.replace('_', ' ')} {s:.0%}" for g, s in list(row["limited_by"].items())[:3])
        table.add_row(
            row["lift"],
            f"{row['known_kg']:.0f}",
            f"{row['before_kg']:.0f}",
            f"{row['after_kg']:.0f}",
            f"{row['residual']:+.0%}",
            limits,
        )
    out.print(table)
    moved = sorted(answer["strength"].items(), key=lambda kv: -answer["informed"][kv[0]])[:8]
    out.print("Strength against the population, best known groups first: " + ", ".join(f"{g} × {f:.2f}" for g, f in moved) + ".")
    for note in [*answer["skipped"], *answer["notes"]]:
        out.print(f"[yellow]-[/] {note}")


@person.command("questions")
def questions(as_json: Json = False) -> None:
    """Show the questions to ask before training starts, and the words that answer them in a person file."""
    answer = client_actions.screening_questions()
    if as_json:
        print_json(answer)
        return
    for key, question in answer["question"].items():
        out.print(f"[bold]{key}[/]: {question}")
        for word, meaning in answer.get(key, {}).items():
            out.print(f"    {word}: {meaning}")
