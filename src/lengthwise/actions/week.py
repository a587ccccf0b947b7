"""A week for a client: planned, planned anew after a change, in a few different ways, with loads; and as the machine-readable answer."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from lengthwise.actions.clients import starts_easy
from lengthwise.actions.known_strength import calibration_of
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.studies import Progress, no_progress
from lengthwise.actions.week_choices import Offer, offer_of, raised_lifts, spared_nm
from lengthwise.errors import DataFileError, InputError, unknown
from lengthwise.lifts.catalogue import gear
from lengthwise.planning.check import check
from lengthwise.planning.question import WEEKDAYS, DayOffer, Question
from lengthwise.planning.shortlist import shortlist
from lengthwise.planning.solve import plan
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.report.week_files import calendar_text, csv_text
from lengthwise.training.client import Client, DayName
from lengthwise.training.prescription import Target, prescribe

SECONDS = 4.5


@dataclass(frozen=True)
class Changes:
    """What is different this time.

    Attributes:
        without: kinds of gear that cannot be used. minutes: of some days instead of the usual.
        last: the week to stay near to; where there are changes and no week is given, the usual week is planned first.
    """

    without: frozenset[str] = frozenset()
    minutes: Mapping[DayName, float] = field(default_factory=dict)
    last: Week | None = None

    def __post_init__(self) -> None:
        for kind in self.without:
            if kind not in gear():
                raise unknown("gear", kind, gear())
        for day, minutes in self.minutes.items():
            if day not in WEEKDAYS:
                raise unknown("day", day, WEEKDAYS)
            if not 10 <= minutes <= 240:
                raise InputError(f"{day} = {minutes:g} minutes; allowed 10 to 240", asked=minutes, allowed=[10, 240])


NO_CHANGES = Changes()


def plan_week(client: Client, changes: Changes = NO_CHANGES, progress: Progress = no_progress) -> Week:
    """The week of a client, every lift with a load that exists, recounted independently.

    Raises:
        InputError: the screening says to see a clinician first; no days; a change to a day without training.
        NoSolutionError: no lift can be done.
    """
    easy = starts_easy(client)
    offer = offer_of(client, progress)
    question = question_of(client, offer, changes)
    if changes.last is None and (changes.without or changes.minutes):
        usual = plan(question_of(client, offer, NO_CHANGES))
        question = question_of(client, offer, replace(changes, last=usual))
    return with_loads(client, _planned(question), easy)


def alternatives(client: Client, number: int, progress: Progress = no_progress) -> tuple[Week, ...]:
    """The best week and others that clearly differ from all before; fewer where no more are possible.

    Raises:
        InputError: a number outside 1 to 5, or as `plan_week`.
    """
    if not 1 <= number <= 5:
        raise InputError(f"alternatives = {number}; allowed 1 to 5", asked=number, allowed=[1, 5])
    easy = starts_easy(client)
    question = question_of(client, offer_of(client, progress), NO_CHANGES)
    found: list[Week] = []
    while len(found) < number:
        week = _planned(replace(question, earlier=tuple(found)))
        if not any(d.lifts for d in week.days):
            break
        found.append(week)
    return tuple(with_loads(client, w, easy) for w in found)


def _planned(question: Question) -> Week:
    week = plan(question)
    faults = check(week, question)
    if faults:
        raise RuntimeError(f"the recount of the week disagrees with the plan: {'; '.join(faults)}")
    return week


def question_of(client: Client, offer: Offer, changes: Changes) -> Question:
    """What the planner is asked: the lifts worth offering, and the client's wishes with what is different this time.

    Raises:
        InputError: a change to a day without training.
    """
    absent = [d for d in changes.minutes if d not in {o.day for o in offer.days}]
    if absent:
        raise InputError(f"no training on {absent[0]}", asked=absent[0], allowed=[o.day for o in offer.days])
    days = tuple(replace(o, minutes=changes.minutes.get(o.day, o.minutes)) for o in offer.days)
    find = all_lifts().find
    refused = frozenset(find(name) for name in client.wishes.refused)
    spared = spared_nm(client)
    free = [c for c in offer.choices if c.lift not in refused and all(c.joint_nm.get(j, 0.0) <= most for j, most in spared.items())]
    keep = {x.lift for d in changes.last.days for x in d.lifts} if changes.last else set()
    keep |= set(raised_lifts(client))
    narrowed = tuple(DayOffer(o.day, o.place, o.minutes, o.gear - changes.without) for o in days)
    listed = {c.key for c in shortlist(free, offer.muscles, narrowed, keep)}
    listed |= {c.key for c in offer.choices if c.lift in refused}
    choices = tuple(c for c in offer.choices if c.key in listed)
    return Question(
        choices,
        days,
        offer.muscles,
        refused,
        changes.without,
        spared,
        client.wishes.pair_lifts,
        changes.last,
        seconds=SECONDS,
    )


def with_loads(client: Client, week: Week, easy: bool) -> Week:
    """The week with a load, repetitions and reserve for every lift."""
    days = tuple(replace(d, lifts=tuple(_loaded(client, x, d.place, easy) for x in d.lifts)) for d in week.days)
    return replace(week, days=days)


def _loaded(client: Client, planned: PlannedLift, place: str, easy: bool) -> PlannedLift:
    lift = all_lifts().lifts[planned.lift]
    there = place if lift.gear in client.places[place].gear else None
    found = prescribe(client, planned.lift, lift, Target(range=planned.range, place=there, easy=easy), calibration_of(client))
    return replace(
        planned, gear=lift.gear, load_kg=found.load_kg, guess=found.guess, repetitions=found.repetitions, reserve=found.reserve
    )


def week_answer(week: Week) -> dict[str, Any]:
    """A week as the machine-readable answer."""
    return {
        "days": [
            {"day": d.day, "place": d.place, "minutes": d.minutes, "lifts": [_lift_answer(x) for x in d.lifts]} for d in week.days
        ],
        "weekly_sets": dict(week.weekly_sets),
        "muscle_sets": dict(week.muscle_sets),
        "value": week.value,
        "gap": week.gap,
        "conflicts": [{"wish": c.wish, "relaxing_it_buys": c.relaxing_it_buys} for c in week.conflicts],
        "moved": week.moved,
        "difference": week.difference,
        "notes": list(week.notes),
        "solve_s": week.solve_s,
    }


def _lift_answer(x: PlannedLift) -> dict[str, Any]:
    return {**vars(x), "repetitions": list(x.repetitions)}


def read_week(file: Path) -> Week:
    """A week from the file of an earlier answer: enough of it to stay near to.

    Raises:
        DataFileError: it cannot be read, or is no week.
    """
    try:
        table = json.loads(file.read_text(encoding="utf-8"))
        days = tuple(_day_from(d) for d in table["days"])
    except (OSError, ValueError, KeyError, TypeError) as error:
        said = f"{file}: not a week: {error}; allowed the output of lengthwise week PERSON --json"
        raise DataFileError([said], asked=str(file)) from error
    return Week(days, table.get("weekly_sets", {}), table.get("muscle_sets", {}), float(table.get("value", 0.0)), 0.0)


def _day_from(table: Mapping[str, Any]) -> PlannedDay:
    if table["day"] not in WEEKDAYS:
        raise ValueError(f"day {table['day']!r}")
    return PlannedDay(table["day"], str(table.get("place", "")), float(table.get("minutes", 0)), tuple(_lifts_from(table["lifts"])))


def _lifts_from(rows: Sequence[Mapping[str, Any]]) -> list[PlannedLift]:
    known = all_lifts()
    out = []
    for row in rows:
        lift_id = known.find(str(row["lift"]))
        low, high = row.get("repetitions", (8, 12))
        out.append(PlannedLift(lift_id, row.get("range", "full"), known.lifts[lift_id].name, int(row["sets"]), (low, high), float(row.get("reserve", 2))))  # fmt: skip
    return out


def parse_minutes(words: Sequence[str]) -> dict[DayName, float]:
    """Minutes written as day=minutes.

    Raises:
        InputError: a part that is not.
    """
    out: dict[DayName, float] = {}
    for word in words:
        name, _, value = word.partition("=")
        day = name.strip().casefold()
        if day not in WEEKDAYS:
            raise unknown("day", day, WEEKDAYS)
        try:
            out[day] = float(value)
        except ValueError:
            raise InputError(f"cannot read {word!r}; write day=minutes, such as monday=40", asked=word) from None
    return out


@dataclass(frozen=True)
class WeekFiles:
    """Where a week is to be written as well, and the Monday (year-month-day) of the calendar."""

    csv: Path | None = None
    calendar: Path | None = None
    start: str | None = None

    def monday(self) -> date:
        """The first day of the calendar's week; the next Monday where none is named.

        Raises:
            InputError: no date, or not a Monday.
        """
        today = date.today()
        if self.start is None:
            return today + timedelta(days=(7 - today.weekday()) % 7)
        try:
            found = date.fromisoformat(self.start)
        except ValueError:
            raise InputError(f"start {self.start!r}; write a Monday as year-month-day", asked=self.start) from None
        if found.weekday() != 0:
            raise InputError(f"{self.start} is a {WEEKDAYS[found.weekday()].capitalize()}; allowed a Monday", asked=self.start)
        return found

    def __post_init__(self) -> None:
        for file, ending in ((self.csv, ".csv"), (self.calendar, ".ics")):
            if file is not None and file.suffix != ending:
                raise InputError(f"file {file.name!r}; allowed ending {ending}", asked=str(file), allowed=[ending])
            if file is not None and not file.parent.is_dir():
                raise InputError(f"no folder {file.parent} to write {file.name} into", asked=str(file))
        self.monday()


def save_files(client: Client, week: Week, files: WeekFiles) -> None:
    """Write a week as a table and as a calendar, where asked.

    Raises:
        InputError: a file cannot be written.
    """
    try:
        if files.csv is not None:
            files.csv.write_text(csv_text(week), encoding="utf-8", newline="")
        if files.calendar is not None:
            files.calendar.write_bytes(calendar_text(week, client.name, files.monday()))
    except OSError as error:
        raise InputError(f"cannot write {error.filename}: {error.strerror}", asked=str(error.filename)) from error
