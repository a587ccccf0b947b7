"""The body of a client: its strength fitted to the lifts it is known to do, wherever the client is asked about."""

import hashlib
import json
from functools import lru_cache

from lengthwise.body.person import Person
from lengthwise.contents import hash_of
from lengthwise.files.cache_files import keep, kept
from lengthwise.files.folders import cache_folder
from lengthwise.grading.study_names import person_table
from lengthwise.known.lifts import all_lifts
from lengthwise.training import calibration as fitting
from lengthwise.training.calibration import Calibration
from lengthwise.training.client import Client, KnownLift
from lengthwise.training.known import known_lifts

_SOURCES = {
    "core": (".c", ".h", ".py"),
    "body": (".py", ".toml"),
    "lifts": (".py", "gear.toml"),
    "mechanics": (".py", ".toml"),
    "training": ("calibration.py", "client.py", "known.py", "lift_strength.py", "one_rm.py", ".toml"),
}
"""Files that decide what a fit of strength finds; lifts themselves are part of its name."""


def calibration_of(client: Client) -> Calibration:
    """The client's body fitted to its known lifts; kept for the next question about the same client."""
    return _calibration(client.person, client.known_lifts)


@lru_cache(maxsize=64)
def _calibration(person: Person, known: tuple[KnownLift, ...]) -> Calibration:
    lifts = all_lifts()
    return fitting.calibrate(person, {i: (lifts.lifts[i], k) for i, k in known_lifts(known, lifts).items()})


def calibrated_person(client: Client) -> Person:
    """The body to compute with, its strength fitted to known lifts; the factors of strength are kept on disk."""
    return _calibrated(client.person, client.known_lifts) if client.known_lifts else client.person


@lru_cache(maxsize=64)
def _calibrated(person: Person, known: tuple[KnownLift, ...]) -> Person:
    file = cache_folder() / "strength" / f"{_name(person, known)}.json"
    strength = kept(file, json.loads)
    if strength is None:
        strength = dict(_calibration(person, known).person.strength)
        keep(file, json.dumps(strength))
    return person.model_copy(update={"strength": Person(strength=strength).strength})


def _name(person: Person, known: tuple[KnownLift, ...]) -> str:
    """A name for a fit: a hash of all that it is computed from."""
    lifts = all_lifts()
    asked = {
        "code": hash_of(_SOURCES),
        "person": person_table(person),
        "known": [k.model_dump(mode="json", exclude={"hurt", "hurt_on", "hurt_before", "hurt_near", "hurt_since"}) for k in known],
        "lifts": {i: lifts.lifts[i].model_dump(mode="json", warnings=False) for i in known_lifts(known, lifts)},
    }
    return hashlib.sha256(json.dumps(asked, sort_keys=True).encode()).hexdigest()
