"""Fill the store with the invented gym: six invented clients and twenty weeks of invented logs."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import numpy as np

from lengthwise.days import monday_of
from lengthwise.errors import DataFileError, InputError
from lengthwise.known.lifts import all_lifts
from lengthwise.known.studies import Progress, no_progress
from lengthwise.lifts.definition import BodyWeight
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.questions.answering.lift_counting import moved_kg
from lengthwise.records.people import read_client
from lengthwise.records.store import store
from lengthwise.storage.client_rows import client_names, key_of, save_client
from lengthwise.storage.entries import begin_entry
from lengthwise.storage.log_rows import add_session
from lengthwise.storage.measurements import add_measurement
from lengthwise.storage.weeks import save_week
from lengthwise.training.client import Client
from lengthwise.training.demo_gym import WEEKS, truths
from lengthwise.training.log import Session
from lengthwise.training.scenario import Scenario, simulate
from lengthwise.training.volume import WeekOfPlan

SEED = 20
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


def record_files() -> dict[str, Path]:
    """The invented clients' records that come with Lengthwise, by name of file.

    Raises:
        DataFileError: they were not installed.
    """
    here = Path(__file__).resolve().parents[2] / "demo"
    folder = here if here.exists() else Path(__file__).resolve().parents[4] / "demo"
    found = {f.stem: f for f in [*folder.glob("*.toml"), *folder.glob("clients/*.toml")]}
    missing = sorted(truths().keys() - found.keys())
    if missing:
        raise DataFileError([f"demo: no record of {name}" for name in missing], asked=str(folder))
    return {name: found[name] for name in truths()}


def seed_demo(today: date | None = None, progress: Progress = no_progress) -> dict[str, Any]:
    """Keep the invented gym, its logs ending last Sunday; all of it or nothing.

    Raises:
        InputError: a client of one of its names is kept already; nothing was changed.
    """
    first = monday_of(today or date.today()) - timedelta(weeks=WEEKS)
    made = {}
    for i, (name, file) in enumerate(record_files().items()):
        client = read_client(file)
        made[client.name] = client, _without_body(client, simulate(truths()[name], first, WEEKS, np.random.default_rng([SEED, i])))
        progress(i + 1, len(truths()))
    with store().writing() as db:
        known = {key_of(n): n for n in client_names(db).values()}
        there = [known[key_of(n)] for n in made if key_of(n) in known]
        if there:
            raise InputError(f"the demo gym already exists ({', '.join(there)}); nothing was changed", asked=there[0])
        rows = [_keep(db, client, scenario) for client, scenario in made.values()]
    return {"clients": rows, "first": first.isoformat(), "weeks": WEEKS, "note": "invented people and logs"}


def _without_body(client: Client, made: Scenario) -> Scenario:
    """Loads as they are written down: without the body's mass that a body-weight lift moves."""
    lifts = all_lifts().lifts
    moved = {
        one.lift: moved_kg(client.person, one.lift)
        for one in made.truth.lifts
        if isinstance(lifts[one.lift].resistance, BodyWeight)
    }
    sessions = (_lighter(s, moved) for s in made.sessions) if moved else made.sessions
    return replace(made, sessions=tuple(sessions))


def _lighter(session: Session, moved: dict[str, float]) -> Session:
    sets = (replace(s, load_kg=round(2 * (s.load_kg - moved[s.lift])) / 2) if s.lift in moved else s for s in session.sets)
    return replace(session, sets=tuple(sets))


def _keep(db: Any, client: Client, made: Scenario) -> dict[str, Any]:
    number = save_client(db, client)
    entry = begin_entry(db, "session", number, "invented log of the demo")
    for session in made.sessions:
        add_session(db, number, session, entry)
    for measured in made.measurements:
        add_measurement(db, number, measured, entry)
    for week in made.planned:
        save_week(db, number, week.monday, _week(week, made.truth.days), "invented plan of the demo")
    return {"name": client.name, "visits": len(made.sessions), "sets": sum(len(s.sets) for s in made.sessions)}


def _week(plan: WeekOfPlan, weekdays: Iterable[int]) -> Week:
    names = all_lifts().lifts
    days = tuple(
        PlannedDay(
            WEEKDAYS[weekday],  # type: ignore[arg-type]
            "gym",
            visit.minutes,
            tuple(
                PlannedLift(
                    lift=p.lift,
                    range=p.range,
                    name=names[p.lift].name,
                    sets=p.sets,
                    repetitions=(6, 10),
                    reserve=p.reserve,
                    load_kg=None,
                    guess=True,
                    pair=None,
                    muscle=p.muscle,
                    gear=names[p.lift].gear,
                )
                for p in visit.lifts
            ),
        )
        for weekday, visit in zip(weekdays, plan.visits, strict=True)
    )
    return Week(
        days=days, weekly_sets={}, muscle_sets={}, value=0.0, gap=1.0, conflicts=(), notes=("Invented for the demo; not solved.",)
    )
