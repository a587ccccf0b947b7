"""Command `week`: plan a client's week from what was done before, plan it anew after a change, or show a few different ones."""

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer
from rich.box import SIMPLE_HEAD
from rich.markup import escape
from rich.table import Table

from lengthwise.actions import week as actions
from lengthwise.actions import week_answer as answers
from lengthwise.actions.clients import find_client
from lengthwise.actions.past import NOTHING, past_of
from lengthwise.cli.shared import Bar, Json, out, print_json, split_words
from lengthwise.errors import InputError
from lengthwise.grading.long_half import LONG_HALVES
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.quantities import MassUnit, planned_load, repetitions, set_count
from lengthwise.questions.answers import encode
from lengthwise.training.methods import methods


def week(
    person: Annotated[str, typer.Argument(help="A client's file (.toml), or the name of a kept client.")],
    why: Annotated[bool, typer.Option("--why", help="Say why each lift is there, and how to find a load that is a guess.")] = False,
    without: Annotated[list[str] | None, typer.Option(help="Equipment you cannot use this week; may be repeated.")] = None,
    minutes_today: Annotated[list[str] | None, typer.Option(help="day=minutes, such as monday=40; may be repeated.")] = None,
    place: Annotated[
        str, typer.Option(help="Where to train: one of the client's places, or home_dumbbells, garage_rack, hotel, full_gym.")
    ] = "",
    template: Annotated[
        str | None,
        typer.Option(
            help="How muscles are spread over the days: usual, full_body, upper_lower or push_pull_legs; a starting point."
        ),
    ] = None,
    phase: Annotated[
        str, typer.Option(help="What this week is for: grow, specialise, maintain or retest; from the record by default.")
    ] = "",
    most_share: Annotated[
        float | None, typer.Option(help="Largest share of a muscle's sets from one lift, 0.3 to 0.75; from the record by default.")
    ] = None,
    save_time: Annotated[
        list[str] | None,
        typer.Option(help="drop_set, rest_pause, cluster or long_halves, where safe; may be repeated, the first safe one is used."),
    ] = None,
    fix: Annotated[list[str] | None, typer.Option(help="Fix sets as day:lift:sets, such as monday:bench_press:4.")] = None,
    keep_day: Annotated[list[str] | None, typer.Option(help="Keep this day as it was; may be repeated.")] = None,
    anew: Annotated[bool, typer.Option("--anew", help="Plan from scratch, not from the last kept week.")] = False,
    last: Annotated[Path | None, typer.Option(help="Last week's --json output, to stay close to.")] = None,
    alternatives: Annotated[int, typer.Option(help="How many clearly different weeks to show, 1 to 5.")] = 1,
    csv: Annotated[Path | None, typer.Option(help="Also write the week as a table.")] = None,
    calendar: Annotated[Path | None, typer.Option(help="Also write the week as an iCalendar file (.ics).")] = None,
    start: Annotated[
        str | None, typer.Option(help="First Monday of the calendar, such as 2026-03-02; default next Monday.")
    ] = None,
    as_json: Json = False,
) -> None:
    """Plan a week for PERSON: last week with as few changes as possible, or a first week of lifts that PERSON knows and likes."""
    changes = actions.Changes(
        without=frozenset(split_words(without)),
        minutes=answers.parse_minutes(split_words(minutes_today)),
        place=place,
        template=answers.template_named(template or ""),
        most_share=most_share,
        phase=answers.phase_named(phase),
        methods=answers.methods_named(split_words(save_time)),
        fixed=answers.parse_fixed(split_words(fix)),
        closed=answers.parse_days(split_words(keep_day)),
        last=None if last is None else answers.read_week(last),
    )
    _check_alternatives(alternatives, changes.any or last is not None)
    files = answers.WeekFiles(csv, calendar, start)
    client = find_client(person)
    past = NOTHING if anew else past_of(person)
    with Bar("lifts") as bar:
        many = alternatives != 1
        found = actions.alternatives(client, alternatives, bar) if many else (actions.plan_week(client, changes, bar, past),)
    answers.save_files(client, found[0], files)
    if as_json:
        return _print_answer(found)
    _show_all(found, why, client.mass_unit, [file for file in (csv, calendar) if file])


def _show_all(found: Sequence[Week], why: bool, unit: MassUnit, written: Sequence[Path]) -> None:
    for number, one in enumerate(found, 1):
        if len(found) > 1:
            out.rule(f"week {number} of {len(found)}")
        _show(one, why, unit)
    for file in written:
        out.print(f"written: {file}")


def _check_alternatives(number: int, changed: bool) -> None:
    if number > 1 and changed:
        raise InputError(
            "alternatives start from the usual week; leave out --without, --minutes-today, --place, --fix, --keep-day and --last",
            asked=number,
        )


def _print_answer(found: Sequence[Week]) -> None:
    first = encode(found[0])
    more = {"alternatives": encode(found[1:])} if len(found) > 1 else {}
    print_json({**first, **more})


def _show(found: Week, why: bool, unit: MassUnit) -> None:
    if found.draft:
        out.print(
            f"[bold red]A draft:[/] a week up to {found.gap:.0%} better may exist; the search ended before that was settled.\n"
        )
    _show_changes(found)
    for conflict in found.conflicts:
        out.print(
            f"[bold red]Not met:[/] {conflict.wish}. {conflict.relaxing_it_buys[:1].upper()}{conflict.relaxing_it_buys[1:]}.",
            highlight=False,
        )
    if found.conflicts:
        out.print()
    for day in found.days:
        _show_day(day, why, unit)
    table = Table("muscle", "sets a week", box=SIMPLE_HEAD)
    for muscle, sets in found.muscle_sets.items():
        table.add_row(muscle.replace("_", " "), f"{sets:.1f}")
    out.print(table)
    for note in found.notes:
        out.print(f"[yellow]note:[/] {note}", highlight=False)
    _show_long_halves(found)
    near = "Proven best" if found.gap < 1e-3 else f"At most {found.gap:.1%} from the best possible"
    other = "" if found.difference is None else f"; {found.difference:.0%} of the nearest earlier week's lifts do not come again"
    out.print(f"{near} for these days{other}.", highlight=False)


def _show_long_halves(found: Week) -> None:
    """Halves that may be added to lifts of the week, with where they end and what makes that safe."""
    if not found.long_halves:
        return
    out.print(f"Long halves that you may add. {LONG_HALVES}", highlight=False)
    for o in found.long_halves:
        out.print(f"  {o.sentence}", highlight=False)
    out.print()


def _show_changes(found: Week) -> None:
    """This week against last."""
    if found.moved is None:
        return
    number = len(found.changes)
    if not number:
        out.print("This week against last: nothing changes.\n")
        return
    out.print(f"This week against last: {number} change{'' if number == 1 else 's'}, {found.moved} sets differ.", highlight=False)
    for change in found.changes:
        out.print(f"  {change.what}: {change.why}.", highlight=False)
    out.print()


def _show_day(day: PlannedDay, why: bool, unit: MassUnit) -> None:
    title = f"{day.day.capitalize()}, {escape(day.place)}, {day.minutes:.0f} min"
    table = Table(
        "", "lift", "sets", "repetitions", "in reserve", "load", "mainly for", title=title, title_justify="left", box=SIMPLE_HEAD
    )
    for x in day.lifts:
        load = planned_load(x.load_kg, x.gear, unit, x.guess)
        turn = "" if x.pair is None else f"superset {chr(64 + x.pair)}"
        part = "" if x.range == "full" else f" ({x.range} half)"
        table.add_row(
            turn, x.name + part, _sets(x), repetitions(*x.repetitions), f"{x.reserve:g}", load, x.muscle.replace("_", " ")
        )
    out.print(table)
    if why:
        for x in day.lifts:
            found = f" {x.find}" if x.find else ""
            out.print(f"  {x.name}: {x.why}{found}", highlight=False, style="dim")


def _sets(x: PlannedLift) -> str:
    return set_count(x.sets, methods()[x.method].name) if x.method else str(x.sets)


def add_to(app: typer.Typer) -> None:
    """Give a command line the command `week`."""
    app.command()(week)
