"""Command `week`: plan a client's week, plan it anew after a change, or show a few different ones."""

from pathlib import Path
from typing import Annotated

import typer
from rich.box import SIMPLE_HEAD
from rich.markup import escape
from rich.table import Table

from lengthwise.actions import week as actions
from lengthwise.actions.clients import find_client
from lengthwise.cli.shared import Bar, Json, out, print_json, split_words
from lengthwise.errors import InputError
from lengthwise.planning.week import PlannedDay, PlannedLift, Week


def week(
    person: Annotated[str, typer.Argument(help="A client's file (.toml), or the name of a kept client.")],
    why: Annotated[bool, typer.Option("--why", help="Say of each lift what a set of it counts for.")] = False,
    without: Annotated[list[str] | None, typer.Option(help="Gear that cannot be used this week; may be repeated.")] = None,
    minutes_today: Annotated[list[str] | None, typer.Option(help="day=minutes, such as monday=40; may be repeated.")] = None,
    last: Annotated[Path | None, typer.Option(help="Last week's --json output: stay near to it.")] = None,
    alternatives: Annotated[int, typer.Option(help="How many clearly different weeks to show, 1 to 5.")] = 1,
    csv: Annotated[Path | None, typer.Option(help="Also write the week as a table.")] = None,
    calendar: Annotated[Path | None, typer.Option(help="Also write the week as an iCalendar file (.ics).")] = None,
    start: Annotated[
        str | None, typer.Option(help="First Monday of the calendar, such as 2026-03-02; default next Monday.")
    ] = None,
    as_json: Json = False,
) -> None:
    """Plan a week for PERSON: lifts, days, sets and loads that are worth most within minutes, gear, joints and wishes."""
    changes = actions.Changes(
        frozenset(split_words(without)),
        actions.parse_minutes(split_words(minutes_today)),
        None if last is None else actions.read_week(last),
    )
    if alternatives > 1 and (changes.without or changes.minutes or last):
        raise InputError(
            "alternatives start from the usual week; leave out --without, --minutes-today and --last", asked=alternatives
        )
    files = actions.WeekFiles(csv, calendar, start)
    client = find_client(person)
    with Bar("lifts") as bar:
        found = actions.alternatives(client, alternatives, bar) if alternatives != 1 else (actions.plan_week(client, changes, bar),)
    actions.save_files(client, found[0], files)
    if as_json:
        first = actions.week_answer(found[0])
        more = {"alternatives": [actions.week_answer(w) for w in found[1:]]} if len(found) > 1 else {}
        print_json({**first, **more})
        return
    for number, one in enumerate(found, 1):
        if len(found) > 1:
            out.rule(f"week {number} of {len(found)}")
        _show(one, why)
    for file in (csv, calendar):
        if file is not None:
            out.print(f"written: {file}")


def _show(found: Week, why: bool) -> None:
    for conflict in found.conflicts:
        out.print(f"[bold red]In conflict:[/] {conflict.wish}. {conflict.relaxing_it_buys}.", highlight=False)
    if found.conflicts:
        out.print("These wishes cannot all be met; the week below misses them by as little as was found.\n", highlight=False)
    for day in found.days:
        _show_day(day, why)
    table = Table("muscle", "sets a week", box=SIMPLE_HEAD)
    for muscle, sets in found.muscle_sets.items():
        table.add_row(muscle.replace("_", " "), f"{sets:.1f}")
    out.print(table)
    for note in found.notes:
        out.print(f"[yellow]note:[/] {note}", highlight=False)
    near = "Proven best" if found.gap < 1e-3 else f"At most {found.gap:.1%} from the best possible"
    best = "The best week found that misses as little as can be" if found.conflicts else near
    moved = "" if found.moved is None else f"; {found.moved} sets differ from the week before"
    other = "" if found.difference is None else f"; {found.difference:.0%} of the nearest earlier week's lifts do not come again"
    out.print(f"{best} (found in {found.solve_s:.1f} s){moved}{other}.", highlight=False)


def _load(lift: PlannedLift) -> str:
    if lift.load_kg is None:
        return ""
    words = f"{lift.load_kg:g} kg"
    if lift.gear == "body":
        words = "body weight" if lift.load_kg == 0 else f"+ {words}" if lift.load_kg > 0 else f"{-lift.load_kg:g} kg of help"
    return words + (" guess" if lift.guess else "")


def _show_day(day: PlannedDay, why: bool) -> None:
    title = f"{day.day.capitalize()}, {escape(day.place)}, {day.minutes:.0f} min"
    table = Table(
        "", "lift", "sets", "repetitions", "in reserve", "load", "mainly for", title=title, title_justify="left", box=SIMPLE_HEAD
    )
    for x in day.lifts:
        load = _load(x)
        turn = "" if x.pair is None else f"in turn {x.pair}"
        low, high = x.repetitions
        part = "" if x.range == "full" else f" ({x.range} half)"
        table.add_row(turn, x.name + part, str(x.sets), f"{low}-{high}", f"{x.reserve:g}", load, x.muscle.replace("_", " "))
    out.print(table)
    if why:
        for x in day.lifts:
            out.print(f"  {x.name}: {x.why}", highlight=False, style="dim")


def add_to(app: typer.Typer) -> None:
    """Give a command line the command `week`."""
    app.command()(week)
