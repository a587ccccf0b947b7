"""Trials beside the model as something to be run: once for a body, a file of comparisons and the lifts in it."""

import json
from collections.abc import Callable
from hashlib import sha256
from typing import Any

from lengthwise.actions.choosing import beside_the_model
from lengthwise.actions.lifts import all_lifts
from lengthwise.body.person import Person
from lengthwise.errors import DataFileError
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


def trials_job(person: Person, found: TrialFile) -> tuple[str, Callable[[Told], dict[str, Any]]]:
    """The comparison as something to be run, by a key that says what was asked."""
    lifts = all_lifts().lifts
    used = sorted({a.lift for a in arms(found)} & set(lifts))
    parts = [person_table(person), found.model_dump(mode="json"), *(lifts[i].model_dump(mode="json", warnings=False) for i in used)]
    key = sha256(json.dumps(parts, sort_keys=True).encode()).hexdigest()
    return f"trials {key}", lambda tell: beside_the_model(found, person, tell)
