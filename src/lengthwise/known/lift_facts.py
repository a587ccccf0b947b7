"""Facts of many lifts on one body, every head of them: computed on all processors once, then read from disk."""

from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path

from lengthwise.body.model import Body, body_of
from lengthwise.body.person import Person
from lengthwise.files.cache_files import keep, kept_content
from lengthwise.files.folders import cache_folder
from lengthwise.grading import study_names
from lengthwise.grading.columns import packed_facts, unpacked_facts
from lengthwise.grading.facts import LiftFacts, facts_of
from lengthwise.grading.joint_load import beyond_limits
from lengthwise.grading.studied_lift import Candidate
from lengthwise.known.studies import Progress, no_progress
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.many import FAILS, in_threads
from lengthwise.mechanics.profile import RangeName, Request, profile

N_POS = 21
"""Positions at which lifts are solved for a week: working loads differ by less than 1 % from 41 positions in the lifts compared."""

Outcome = LiftFacts | str
"""The facts, or why this person cannot do the lift."""


def facts_of_lifts(
    person: Person, lifts: Sequence[tuple[str, Lift, RangeName]], progress: Progress = no_progress
) -> dict[tuple[str, RangeName], Outcome]:
    """The facts of every lift in the given range on this person's body."""
    files = {(i, part): _file(person, i, lift, part) for i, lift, part in lifts}
    found: dict[tuple[str, RangeName], Outcome] = {
        k: known for k, f in files.items() if (known := kept_content(f, _read)) is not None
    }
    missing = [(i, lift, part) for i, lift, part in lifts if (i, part) not in found]
    done = len(found)
    progress(done, len(files))
    if not missing:  # then nobody waits for a body, which takes longest of all to load and make
        return found
    body = body_of(person)
    for at, content in in_threads(lambda one: packed_facts(_told(body, *one)), missing):
        lift_id, _, part = missing[at]
        found[lift_id, part] = _read(content)
        keep(files[lift_id, part], content)
        done += 1
        progress(done, len(files))
    return {k: found[k] for k in files}


def _request(part: RangeName) -> Request:
    return Request(range=part, n_pos=N_POS)


def _told(body: Body, lift_id: str, lift: Lift, part: RangeName) -> Outcome:
    """The facts of one lift, or why there are none."""
    try:
        found = profile(body, lift_id, lift, _request(part))
    except FAILS as error:
        return str(error)
    return "; ".join(beyond_limits(found)) or facts_of(found)


_read = lru_cache(maxsize=1024)(unpacked_facts)
"""The lifts of a few clients: a change of a week asks for the same ones again."""


def _file(person: Person, lift_id: str, lift: Lift, part: RangeName) -> Path:
    name = f"{study_names.file_of(person, ())}-{study_names.name_of(Candidate(lift_id, lift, _request(part)))}"
    return cache_folder() / "facts" / f"{name}"
