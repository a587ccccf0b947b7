"""Studied lifts kept between runs: what is kept is named after everything it was computed from."""

import hashlib
import json
from collections.abc import Mapping, Sequence
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any

from lengthwise.body.person import Person
from lengthwise.grading import study
from lengthwise.grading.study import Candidate, Refused, Studied

_SOURCES = {
    "body": ("",),
    "lifts": ("catalogue.py", "definition.py", "expression.py", "motion.py", "resistance.py", "supports.py", "gear.toml"),
    "mechanics": ("",),
    "grading": ("facts.py", "joint_load.py", "study.py", "variation.py", "joints.toml", "spread.toml"),
}
"""Files whose content decides what a study finds, by package; an empty ending stands for every file."""


@cache
def code_hash() -> str:
    """A hash of the code and data behind every study, so that a change of either forgets what was kept."""
    digest = hashlib.sha256()
    for package, endings in _SOURCES.items():
        for file in _walk(files(f"lengthwise.{package}")):
            if file.name.endswith((".py", ".toml")) and file.name.endswith(endings):
                digest.update(file.name.encode() + b"\0" + file.read_bytes())
    return digest.hexdigest()


def _walk(folder: Traversable) -> list[Traversable]:
    found = sorted(folder.iterdir(), key=lambda f: f.name)
    return [f for f in found if f.is_file()] + [inner for d in found if d.is_dir() for inner in _walk(d)]


def name_of(person: Person, candidate: Candidate, heads: Sequence[str]) -> str:
    """The name under which a study is kept: a hash of the code, the person, the lift, the request and the heads."""
    request = candidate.request
    asked = {
        "code": code_hash(),
        "person": person_table(person),
        "lift_id": candidate.lift_id,
        "lift": candidate.lift.model_dump(mode="json", warnings=False),
        "request": [request.range, dict(request.setup), request.repetitions, request.reserve, request.power, request.n_pos],
        "heads": list(heads),
    }
    return hashlib.sha256(json.dumps(asked, sort_keys=True).encode()).hexdigest()


def person_table(person: Person) -> dict[str, Any]:
    """A person as plain values, from which `Person.model_validate` gives the same person."""
    return {name: dict(value) if isinstance(value, Mapping) else value for name, value in person}


def text_of(found: Studied | Refused) -> str:
    """A study as text."""
    return json.dumps(study.to_table(found))


def read(text: str) -> Studied | Refused:
    """A study back from its text.

    Raises:
        ValueError, KeyError, TypeError: the text is damaged.
    """
    return study.from_table(json.loads(text))
