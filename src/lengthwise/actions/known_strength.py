"""The body of a client: its strength fitted to the lifts it is known to do, wherever the client is asked about."""

from functools import lru_cache

from lengthwise.actions.lifts import all_lifts
from lengthwise.body.person import Person
from lengthwise.training import calibration as fitting
from lengthwise.training.calibration import Calibration
from lengthwise.training.client import Client, KnownLift
from lengthwise.training.known import known_lifts


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
