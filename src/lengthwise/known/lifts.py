"""Questions about lifts: the catalogue, and what one asks of a body."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import ClassVar

from lengthwise.body.model import Body, body_of
from lengthwise.body.person import Person
from lengthwise.errors import NoSolutionError
from lengthwise.known.library import all_lifts as all_lifts
from lengthwise.known.studies import Progress, no_progress
from lengthwise.lifts.catalogue import gear
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.profile import LiftProfile, Request, profile


@dataclass(frozen=True)
class SetupRange:
    """A set-up parameter of a lift."""

    default: float
    min: float
    max: float
    unit: str


@dataclass(frozen=True)
class LiftEntry:
    """A lift of the library."""

    PUBLIC: ClassVar = """
        id name=lift.name aliases=lift.aliases family gear posture=lift.posture sides=lift.sides targets=lift.targets
        prime_movers=lift.prime_movers setup ranges
    """

    id: str
    lift: Lift
    family: str

    @property
    def gear(self) -> str:
        """Its kind by name."""
        return gear()[self.lift.gear].name

    @property
    def setup(self) -> dict[str, SetupRange]:
        """What can be set, and between what."""
        return {n: SetupRange(s.default, s.min, s.max, s.unit) for n, s in self.lift.setup.items()}

    @property
    def ranges(self) -> list[str]:
        """Parts of the lifting phase that can be asked for."""
        return ["full", *self.lift.ranges]


@dataclass(frozen=True)
class Lifts:
    """The library of lifts."""

    lifts: tuple[LiftEntry, ...]


def list_lifts() -> Lifts:
    """Every lift with what it is for and how it can be set up."""
    found = all_lifts()
    return Lifts(tuple(LiftEntry(i, lift, found.family[i]) for i, lift in found.lifts.items()))


def profile_lift(body: Body, asked: str, request: Request) -> LiftProfile:
    """What a lift, found by id, name or alias, asks of a body."""
    found = all_lifts()
    lift_id = found.find(asked)
    return profile(body, lift_id, found.lifts[lift_id], request)


def profiled(person: Person, ids: Sequence[str], request: Request, tell: Progress = no_progress) -> Iterator[LiftProfile]:
    """Several lifts on one body, one after another; a failure says which of them it was.

    Raises:
        NoSolutionError: this person cannot take or hold the positions of one.
    """
    body, lifts = body_of(person), all_lifts().lifts
    for done, lift_id in enumerate(ids, 1):
        yield _profile_named(body, lift_id, lifts[lift_id], request)
        tell(done, len(ids))


def _profile_named(body: Body, lift_id: str, lift: Lift, request: Request) -> LiftProfile:
    try:
        return profile(body, lift_id, lift, request)
    except NoSolutionError as error:
        said = str(error)
        message = said if said.startswith(lift.name) else f"{lift.name}: {said}"
        raise NoSolutionError(message, asked=lift_id, allowed=error.allowed) from error
