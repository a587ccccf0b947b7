"""A planned week: what differs from the last, each day with its lifts, sets by muscle, and how near to the best it is."""

import re
from collections import Counter
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Annotated

import typer
from rich.markup import escape

from lengthwise.body.muscle_names import plain
from lengthwise.cli.question_commands import Written
from lengthwise.cli.shared import new_table, out, print_table
from lengthwise.days import monday_meant
from lengthwise.errors import InputError
from lengthwise.grading.long_half import LONG_HALVES
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.quantities import load as in_words
from lengthwise.quantities import number_of, percent, planned_load, repetitions, seconds, set_count
from lengthwise.questions.ask import Tell
from lengthwise.questions.week import WeekAsk, Weeks, run
from lengthwise.records.kept_weeks import keep_week
from lengthwise.training.client import MassUnit
from lengthwise.training.methods import methods
from lengthwise.training.warm_up import OF_GUESSES
from lengthwise.weeks.week_answer import WeekFiles, read_week, save_files

END = "stop at first pain"
LEAST_TOLD = 1.0


def act(
    asked: WeekAsk,
    tell: Tell,
    *,
    last: Annotated[Path | None, typer.Option(help="Last week's --json output, to stay close to.")] = None,
    csv: Annotated[Path | None, typer.Option(help="Also write the week as a table.")] = None,
    calendar: Annotated[Path | None, typer.Option(help="Also write the week as an iCalendar file (.ics).")] = None,
    start: Annotated[
        str | None, typer.Option(help="First Monday of the calendar, such as 2026-03-02; by default next Monday.")
    ] = None,
    keep: Annotated[bool, typer.Option("--keep", help="Save the week for a stored client; later weeks start from it.")] = False,
    keep_draft: Annotated[
        bool, typer.Option("--keep-draft", help="Save the week even if it is a draft, once you have checked it.")
    ] = False,
) -> Weeks:
    """The week, near to that of a file where one is named; files that cannot be written are told first."""
    WeekFiles(csv, calendar, start)
    if (keep or keep_draft) and not asked.client.number:
        raise InputError("only stored clients have weeks to save", asked="--keep-draft" if keep_draft else "--keep")
    if asked.ways > 1 and (asked.changes.any or last):
        raise InputError(
            "alternatives start from the usual week; leave out --without, --minutes-today, --place, --fix, --keep-day and --last",
            asked=asked.ways,
        )
    return run(asked.model_copy(update={"last": read_week(last)}) if last else asked, tell)


def write(
    found: Weeks,
    asked: WeekAsk,
    *,
    csv: Path | None = None,
    calendar: Path | None = None,
    start: str | None = None,
    keep: bool = False,
    keep_draft: bool = False,
) -> Written:
    """The week as a table and as a calendar, where they are asked for; and kept in the store.

    Raises:
        InputError: a draft that nobody says to have seen.
    """
    save_files(asked.client.client, found.best, WeekFiles(csv, calendar, start))
    made = {what: str(file) for what, file in (("table", csv), ("calendar", calendar)) if file}
    if found.best.draft and keep and not keep_draft:
        raise InputError("a draft is not saved unseen; check it without --keep, then save it with --keep-draft")
    return {**made, "kept": _kept(found.best, asked)} if keep or keep_draft else made


def _kept(week: Week, asked: WeekAsk) -> str:
    """Keep a week; says for when."""
    monday = monday_meant(asked.monday or date.today())
    keep_week(asked.client.number or 0, monday, week, "kept from the command line")
    return f"for the week of {monday}"


def show(
    found: Weeks,
    asked: WeekAsk,
    *,
    why: Annotated[bool, typer.Option("--why", help="Say why each lift is there, and how to find a load that is a guess.")] = False,
) -> None:
    """Each week."""
    for number, one in enumerate(found.every, 1):
        if found.others:
            out.rule(f"week {number} of {len(found.every)}")
        _show(one, why, asked.client.client.mass_unit)


def _show(found: Week, why: bool, unit: MassUnit) -> None:
    if found.draft:
        out.print(f"[bold red]A draft:[/] {found.draft_told}\n")
    _show_changes(found, why)
    for conflict in found.conflicts:
        out.print(f"[bold red]Not met:[/] {conflict.wish}. {conflict.relaxing_it_buys[:1].upper()}{conflict.relaxing_it_buys[1:]}.")
    if found.conflicts:
        out.print()
    often = _often(found) if why else ()
    for day in found.days:
        if done := found.done.get(day.day):
            out.print(f"[bold]{day.day.capitalize()}:[/] {done}")
        _show_day(day, why, unit, often)
    for sentence in often:
        out.print(f"For every load that is a guess: {sentence}", style="dim")
    print_table(found.muscle_sets.items(), {"muscle": lambda x: plain(x[0]), "sets a week": lambda x: f"{x[1]:.1f}"})
    if why:
        heads = ", ".join(f"{plain(h)} {n:.0f}" for h, n in found.weekly_sets.items() if n >= LEAST_TOLD)
        out.print(f"By head, every one that gets a set or more: {heads}.", style="dim")
    for note in found.notes:
        out.print(f"[yellow]note:[/] {note}")
    _show_long_halves(found)
    other = (
        "" if found.difference is None else f"; {percent(found.difference)} of the nearest earlier week's lifts do not come again"
    )
    out.print(f"{found.nearness}{other}.")


def _show_long_halves(found: Week) -> None:
    """Halves that may be added to lifts of the week, with where they end and what makes that safe."""
    if not found.long_halves:
        return
    out.print(f"Long halves that you may add. {LONG_HALVES}")
    for o in found.long_halves:
        out.print(f"  {o.sentence}")
    out.print()


def _show_changes(found: Week, why: bool) -> None:
    """What differs from the week before; what has no reason of its own is told on request."""
    if not found.compared:
        return
    out.print(f"{found.compared}.")
    told = [c for c in found.changes if c.why or why]
    for change in told:
        out.print(f"  {change.sentence}")
    if left := len(found.changes) - len(told):
        out.print(f"  {number_of(left, 'other change')} that follow{'s' if left == 1 else ''} from the week as a whole: --why.")
    out.print()


def _often(found: Week) -> tuple[str, ...]:
    """What every guess of a week says word for word of how to find its load: told once; a caution stands at its lift."""
    lifts = {(x.lift, x.range): x for d in found.days for x in d.lifts}.values()
    said = Counter(s for x in lifts for s in dict.fromkeys(_sentences(x.find)))
    return tuple(s for s, n in said.items() if n > 1 and s.startswith(OF_GUESSES))


def _sentences(text: str) -> list[str]:
    return re.split(r"(?<=\.) (?=[A-Z])", text) if text else []


def _show_day(day: PlannedDay, why: bool, unit: MassUnit, often: Sequence[str] = ()) -> None:
    title = f"{day.day.capitalize()}, {escape(day.place)}, {day.minutes:.0f} min"
    columns = ("", "lift", "sets", "repetitions", "in reserve", "load", "rest", "mainly for")
    table = new_table(*columns, title=title, title_justify="left")
    for x in day.lifts:
        load = planned_load(x.load_kg, x.gear, unit, x.guess, x.each)
        turn = "" if x.pair is None else f"superset {chr(64 + x.pair)}"
        part = "" if x.range == "full" else f" ({x.range} half)"
        table.add_row(
            turn,
            x.name + part,
            _sets(x),
            repetitions(*x.up_to, x.held),
            "–" if x.held else END if x.gentle else f"{x.reserve:g}",
            load,
            seconds(x.rest_s),
            plain(x.muscle),
        )
    out.print(table)
    if day.lifts and day.spent:
        out.print(f"  {day.spent}.", style="dim")
    if following := _following(day, unit):
        out.print(f"  Next load, once every set reaches the most: {following}.", style="dim")
    if why:
        for x in day.lifts:
            own = [s for s in _sentences(x.find) if s not in often]
            out.print(f"  {x.name}: {' '.join([x.why, *own, *_warm_up(x, unit)])}", style="dim")


def _following(day: PlannedDay, unit: MassUnit) -> str:
    """The load that follows of each lift of a day that has one."""
    return ", ".join(f"{x.name} {_thicker_or(x, unit)}" for x in day.lifts if x.next_at is not None)


def _thicker_or(lift: PlannedLift, unit: MassUnit) -> str:
    return "a thicker band" if lift.next_kg is None else in_words(lift.next_kg, lift.gear, unit)


def _warm_up(x: PlannedLift, unit: MassUnit) -> list[str]:
    """Sets before the hard ones, as the sheet has them."""
    rising = ", ".join(f"{n} × {in_words(kg, x.gear, unit)}" for kg, n in x.warm_up)
    return [f"Warm-up: {rising}."] if rising else []


def _sets(x: PlannedLift) -> str:
    return set_count(x.sets, methods()[x.method].name) if x.method else str(x.sets)
