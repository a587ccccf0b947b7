"""Questions about one client: who it is, whether to begin, the calibrated body, and the load of a lift."""

from collections.abc import Callable
from datetime import date
from functools import lru_cache
from pathlib import Path

from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.people import read_client
from lengthwise.body.person import Person
from lengthwise.errors import InputError
from lengthwise.training import calibration as fitting
from lengthwise.training.calibration import Calibration
from lengthwise.training.client import Client, KnownLift
from lengthwise.training.known import known_lifts
from lengthwise.training.prescription import Prescription, Target, prescribe
from lengthwise.training.screening import Outcome, screen_client

Finder = Callable[[str], Client | None]
finders: list[Finder] = []
"""Asked in turn for a name that is no file; whatever keeps clients adds itself here."""


def find_client(asked: str) -> Client:
    """The client of a TOML file, or the one kept under this name.

    Raises:
        DataFileError: the file has faults; all of them at once.
        InputError: neither a file nor a kept client.
    """
    file = Path(asked)
    if file.suffix == ".toml" or file.is_file():
        return read_client(file)
    for finder in finders:
        found = finder(asked)
        if found is not None:
            return found
    raise InputError(f"no client is called {asked!r}; give a person file (.toml) or the name of a kept client", asked=asked)


def calibration_of(client: Client) -> Calibration:
    """The client's body fitted to its known lifts; kept for the next question about the same client."""
    return _calibration(client.person, client.known_lifts)


def calibrated_person(client: Client) -> Person:
    """The body to compute with, its strength fitted to known lifts."""
    return calibration_of(client).person


@lru_cache(maxsize=64)
def _calibration(person: Person, known: tuple[KnownLift, ...]) -> Calibration:
    lifts = all_lifts()
    return fitting.calibrate(person, {i: (lifts.lifts[i], k) for i, k in known_lifts(known, lifts).items()})


def screening_of(client: Client, today: date | None = None) -> Outcome | None:
    """Whether to begin, begin easy or see a clinician first; nothing where the questions were not answered."""
    return screen_client(client, today or date.today())


def starts_easy(client: Client, today: date | None = None) -> bool:
    """Whether the screening says to start easy.

    Raises:
        InputError: it says to see a clinician first, so no loads are given.
    """
    outcome = screening_of(client, today)
    if outcome is not None and outcome.answer == "see a clinician first":
        raise InputError(
            f"{client.name}: see a clinician first: {'; '.join(outcome.reasons)}. No loads are given until a clinician agreed; enter the "
            "day as screening.cleared_by_clinician",
            asked=client.name,
            allowed=["screening.cleared_by_clinician"],
        )
    return outcome is not None and outcome.answer == "start easy"


def load_of(client: Client, asked: str, target: Target) -> Prescription:
    """The prescription of a lift, found by id, name or alias.

    Raises:
        InputError: the screening says to see a clinician first; no such lift, place or range.
    """
    lifts = all_lifts()
    lift_id = lifts.find(asked)
    wanted = Target(target.repetitions, target.reserve, target.range, target.place, target.easy or starts_easy(client))
    return prescribe(client, lift_id, lifts.lifts[lift_id], wanted, calibration_of(client))
