"""Facts of many lifts on one body, every head of them: computed on all processors once, then read from disk."""

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from lengthwise.actions.cache_files import cache_folder, keep, kept
from lengthwise.actions.studies import FEW, Progress, no_progress
from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.errors import InputError, NoSolutionError
from lengthwise.grading import facts, store
from lengthwise.grading.facts import LiftFacts, facts_of
from lengthwise.grading.joint_load import beyond_limits
from lengthwise.grading.study import Candidate
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.profile import RangeName, Request, profile

N_POS = 21
"""Positions at which lifts are solved for a week: working loads differ by less than 1 % from 41 positions in the lifts compared."""

Outcome = LiftFacts | str
"""The facts, or why this person cannot do the lift."""


def facts_of_lifts(
    person: Person, lifts: Sequence[tuple[str, Lift, RangeName]], progress: Progress = no_progress
) -> dict[tuple[str, RangeName], Outcome]:
    """The facts of every lift in the given range on this person's body."""
    from joblib import Parallel, cpu_count, delayed  # only here: slow to load

    files = {(i, part): _file(person, i, lift, part) for i, lift, part in lifts}
    found: dict[tuple[str, RangeName], Outcome] = {k: known for k, f in files.items() if (known := kept(f, _read)) is not None}
    missing = [(i, lift, part) for i, lift, part in lifts if (i, part) not in found]
    done = len(found)
    progress(done, len(files))
    table = store.person_table(person)
    jobs = 1 if len(missing) <= FEW else min(cpu_count(), len(missing))
    for lift_id, part, text in Parallel(n_jobs=jobs, return_as="generator_unordered")(
        delayed(_solve)(table, i, lift, part) for i, lift, part in missing
    ):
        found[lift_id, part] = _read(text)
        keep(files[lift_id, part], text)
        done += 1
        progress(done, len(files))
    return {k: found[k] for k in files}


def _request(part: RangeName) -> Request:
    return Request(range=part, n_pos=N_POS)


def _solve(table: dict[str, Any], lift_id: str, lift: Lift, part: RangeName) -> tuple[str, RangeName, str]:
    """One lift in whichever process it runs."""
    try:
        found = profile(body_of(Person.model_validate(table)), lift_id, lift, _request(part))
    except (NoSolutionError, InputError, RuntimeError) as error:
        return lift_id, part, json.dumps({"reason": str(error)})
    beyond = beyond_limits(found)
    text = {"reason": "; ".join(beyond)} if beyond else facts.to_table(facts_of(found))
    return lift_id, part, json.dumps(text)


def _read(text: str) -> Outcome:
    table = json.loads(text)
    return str(table["reason"]) if "reason" in table else facts.from_table(table)


def _file(person: Person, lift_id: str, lift: Lift, part: RangeName) -> Path:
    name = f"{store.file_of(person, ())}-{store.name_of(Candidate(lift_id, lift, _request(part)))}"
    return cache_folder() / "facts" / f"{name}.json"
