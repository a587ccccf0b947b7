"""A planned week as files and back: loads, pairs and warm-up are read as they were written."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter

from lengthwise.errors import DataFileError, InputError
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.question import WEEKDAYS
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.practice.guessed import two_held
from lengthwise.reading import checked_day, json_of
from lengthwise.report.week_files import calendar_text, csv_text
from lengthwise.training.client import Client
from lengthwise.training.methods import methods

ROW = TypeAdapter(PlannedLift)
WRITTEN = {f.name for f in fields(PlannedLift)}
USUAL = {"range": "full", "repetitions": (8, 12), "reserve": 2.0}
"""Of a file that says no more than lifts and sets."""


def read_week(file: Path) -> Week:
    """A week from the file of an earlier answer: enough of it to stay near to.

    Raises:
        DataFileError: it cannot be read, or is no week.
    """
    try:
        table = json_of(str(file), file.read_text(encoding="utf-8"))
        days = tuple(_day_from(d) for d in table["days"])
    except (OSError, ValueError, KeyError, TypeError) as error:
        said = f"{file}: not a week: {error}; allowed the output of lengthwise week PERSON --json"
        raise DataFileError([said], asked=str(file)) from error
    return Week(
        days=days,
        weekly_sets=table.get("weekly_sets", {}),
        muscle_sets=table.get("muscle_sets", {}),
        value=float(table.get("value", 0.0)),
        gap=0.0,
        record=str(table.get("record", "")),
    )


def _day_from(table: Mapping[str, Any]) -> PlannedDay:
    if table["day"] not in WEEKDAYS:
        raise ValueError(f"day {table['day']!r}")
    return PlannedDay(table["day"], str(table.get("place", "")), float(table.get("minutes", 0)), tuple(_lifts_from(table["lifts"])))


def _lifts_from(rows: Sequence[Mapping[str, Any]]) -> list[PlannedLift]:
    known = all_lifts()
    return [_lift_from(row, known.find(str(row["lift"]))) for row in rows]


def _lift_from(row: Mapping[str, Any], lift_id: str) -> PlannedLift:
    """A planned lift as its row has it; what an older file does not say stays as usual.

    Raises:
        ValueError: something is not what it should be.
    """
    lift, way = all_lifts().lifts[lift_id], row.get("method") or ""
    if way and way not in methods():
        raise ValueError(f"method {way!r}")
    warm_up = tuple((w["load_kg"], w["repetitions"]) for w in row.get("warm_up", ()))
    own = {"lift": lift_id, "name": lift.name, "gear": lift.gear, "each": two_held(lift), "warm_up": warm_up}
    return ROW.validate_python({**USUAL, **{k: row[k] for k in WRITTEN if k in row}, **own})


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
            found = checked_day(date.fromisoformat(self.start))
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
                raise InputError(f"there is no folder {file.parent} to write {file.name} to", asked=str(file))
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
            files.calendar.write_bytes(calendar_text(week, client.name, files.monday(), unit=client.mass_unit))
    except OSError as error:
        raise InputError(f"cannot write {error.filename}: {error.strerror}", asked=str(error.filename)) from error
