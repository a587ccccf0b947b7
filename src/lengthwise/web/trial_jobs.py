"""Trials beside the model as something to be run: once for a body, a file of comparisons and the lifts in it."""

import json
from collections.abc import Callable
from hashlib import sha256
from typing import Any

from lengthwise.actions.known_studies import library
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.trials import beside_the_model
from lengthwise.body.person import Person
from lengthwise.errors import DataFileError
from lengthwise.evidence.exchange import to_json
from lengthwise.grading.store import person_table
from lengthwise.grading.trials import TrialFile, arms
from lengthwise.web.jobs import Told

MOST_COMPARISONS, MOST_ARMS = 200, 60
"""Of one file; the command takes longer ones."""


def check_size(name: str, found: TrialFile) -> None:
    """Whether a file of comparisons is one that can be waited for.

    Raises:
        DataFileError: it has too many comparisons or arms.
    """
    counts = {"comparisons": (len(found.comparison), MOST_COMPARISONS), "different arms": (len(arms(found)), MOST_ARMS)}
    faults = [
        f"{name}: holds {n} {what}; allowed {most}; longer ones: lengthwise trials --file"
        for what, (n, most) in counts.items()
        if n > most
    ]
    if faults:
        raise DataFileError(faults, asked=name)


def trials_job(person: Person, found: TrialFile | None) -> tuple[str, Callable[[Told], dict[str, Any]]]:
    """The comparison as something to be run, by a key that says what was asked: of the library's studies where there is no file."""
    lifts = all_lifts().lifts
    asked = to_json(library().studies) if found is None else found.model_dump(mode="json")
    used = sorted(lifts) if found is None else sorted({a.lift for a in arms(found)} & set(lifts))
    parts = [person_table(person), asked, *(lifts[i].model_dump(mode="json", warnings=False) for i in used)]
    key = sha256(json.dumps(parts, sort_keys=True).encode()).hexdigest()
    return f"trials {key}", lambda tell: beside_the_model(found, person, tell)
