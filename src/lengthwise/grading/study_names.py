"""Studied lifts kept between runs: what is kept is named after everything it was computed from."""

import hashlib
import json
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

from lengthwise.body.person import Person
from lengthwise.contents import hash_of
from lengthwise.grading.studied_lift import Candidate

_SOURCES = {
    "core": (".c", ".h", ".py"),
    "body": (".py", ".toml"),
    "lifts": (".py", "gear.toml"),
    "mechanics": (".py", ".toml"),
    "grading": ("columns.py", "facts.py", "joint_load.py", "study.py", "variation.py", "joints.toml", "spread.toml"),
}
"""Files whose content decides what a study finds, by package; lifts themselves are part of a study's name."""


def code_hash() -> str:
    """A hash of the code and data behind every study, so that a change of either forgets what was kept."""
    return hash_of(_SOURCES)


def file_of(person: Person, heads: Sequence[str]) -> str:
    """The name of the file that keeps the studies of one body for some heads: a hash of the code, the person and the heads."""
    return _file_of(code_hash(), person, tuple(heads))


@lru_cache(maxsize=64)  # asked for with every lift of a week
def _file_of(code: str, person: Person, heads: tuple[str, ...]) -> str:
    return _hash({"code": code, "person": person_table(person), "heads": list(heads)})


def name_of(candidate: Candidate) -> str:
    """The name of a study in its file: a hash of the lift and the request."""
    request = candidate.request
    return _hash(
        {
            "lift_id": candidate.lift_id,
            "lift": candidate.lift.model_dump(mode="json", warnings=False),
            "request": [request.range, dict(request.setup), request.repetitions, request.reserve, request.power, request.n_pos],
        }
    )


def _hash(asked: Mapping[str, Any]) -> str:
    return hashlib.sha256(json.dumps(asked, sort_keys=True).encode()).hexdigest()


def person_table(person: Person) -> dict[str, Any]:
    """A person as plain values, from which `Person.model_validate` gives the same person."""
    return {name: dict(value) if isinstance(value, Mapping) else value for name, value in person}
