"""One lift studied for one target: its facts, and how its measures move when the body or the technique is a little different."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from lengthwise.body.model import Body, body_of
from lengthwise.body.person import Person
from lengthwise.errors import InputError, NoSolutionError
from lengthwise.grading.facts import HeadFacts, LiftFacts, facts_of, head_facts
from lengthwise.grading.joint_load import beyond_limits
from lengthwise.grading.variation import (
    Direction,
    body_directions,
    factors,
    preferred_sign,
    shifted,
    size_of,
    technique_directions,
    varied_body,
)
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.again import Again
from lengthwise.mechanics.profile import LiftProfile, Outline, Request, profile
from lengthwise.mechanics.working_load import load_fraction

UNSOLVED = (NoSolutionError, InputError, RuntimeError)
"""What a lift may fail with: it cannot be taken or held, its set-up is out of bounds, or the solver stopped without an answer."""
MOST_REPETITIONS = 35
"""Repetitions beyond which a set to the limit is no longer known to build muscle; claim `load`: about 5 to 35 grow alike."""
COARSE = 11
"""Positions at which the shifts are solved."""


@dataclass(frozen=True)
class Candidate:
    """A lift to be studied: what it is called, how it is defined, and at what it is asked."""

    lift_id: str
    lift: Lift
    request: Request

    @property
    def key(self) -> str:
        """The lift with its range, as one name."""
        return self.lift_id if self.request.range == "full" else f"{self.lift_id} ({self.request.range})"


@dataclass(frozen=True)
class Shift:
    """The heads of a target with the body or the technique one standard deviation off in one direction.

    Attributes:
        direction: which way. sign: +1 or -1, which side was solved; 0 when neither side could be held.
        heads: facts of the target's heads there; the lift's own where sign is 0.
    """

    direction: Direction
    sign: int
    heads: Mapping[str, HeadFacts]


@dataclass(frozen=True)
class Studied:
    """A lift that this person can take.

    Attributes:
        facts: at the model's body and the cued technique.
        coarse: the same of the target's heads at COARSE positions, which the shifts compare with.
        shifts: one for each direction that was varied.
    """

    facts: LiftFacts
    coarse: Mapping[str, HeadFacts]
    shifts: tuple[Shift, ...]


@dataclass(frozen=True)
class Refused:
    """A lift that this person cannot take, or that a filter leaves out, and why."""

    key: str
    name: str
    reason: str


def study(person: Person, candidate: Candidate, heads: Sequence[str]) -> Studied | Refused:
    """A lift's facts and shifts for a target; refused where the person cannot take or hold it."""
    try:
        found = profile(body_of(person), candidate.lift_id, candidate.lift, candidate.request)
    except UNSOLVED as error:
        return Refused(candidate.key, candidate.lift.name, _reason(error))
    beyond = [*beyond_limits(found), *too_light(found)]
    if beyond:
        return Refused(candidate.key, candidate.lift.name, "; ".join(beyond))
    shifts = _Shifts(person, candidate.lift, _again(found, heads), tuple(heads))
    own, told = shifts.first(
        [*body_directions(found, heads)], {d: preferred_sign(found, d) for d in technique_directions(found, heads)}
    )
    if isinstance(own, Exception):
        return Refused(candidate.key, candidate.lift.name, _reason(own))
    return Studied(facts_of(found), own, tuple(shifts.settled(d, sign, heads_, own) for d, sign, heads_ in told))


def _again(found: LiftProfile, heads: Sequence[str]) -> Again:
    """A solved lift at COARSE of its positions."""
    some = np.linspace(0, len(found.capacity_kg) - 1, COARSE).round().astype(np.intp)
    return Again(found, some, heads)


Facts = Mapping[str, HeadFacts]


@dataclass(frozen=True)
class _Shifts:
    """A solved lift to be solved again on a body, or with a technique, that is a little off.

    Attributes:
        person, lift, again: whose, what and how. targets: the heads that are asked about.
    """

    person: Person
    lift: Lift
    again: Again
    targets: tuple[str, ...]

    def first(
        self, body: Sequence[Direction], technique: Mapping[Direction, int]
    ) -> tuple[Facts | Exception, list[tuple[Direction, int, Facts | Exception]]]:
        """The targets on the body itself, and for each direction to the side that is tried first, with that side."""
        bodies = [self.again.found.body, *(self._body(d, 1) for d in body)]
        own, *told = self._facts(self.again.solve(bodies, [self._lift(d, sign) for d, sign in technique.items()]))
        sides = {**dict.fromkeys(body, 1), **technique}
        return own, [(d, sign, found) for (d, sign), found in zip(sides.items(), told, strict=True)]

    def settled(self, direction: Direction, sign: int, found: Facts | Exception, own: Facts) -> Shift:
        """The shift to the side that could be solved; the lift's own facts where neither could."""
        if not isinstance(found, Exception):
            return Shift(direction, sign, found)
        is_body = direction.shared
        bodies, lifts = ([self._body(direction, -sign)], []) if is_body else ([], [self._lift(direction, -sign)])
        other = self._facts(self.again.solve(bodies, lifts))[0]
        return Shift(direction, 0, own) if isinstance(other, Exception) else Shift(direction, -sign, other)

    def _body(self, direction: Direction, sign: int) -> Body:
        return varied_body(self.person, factors({direction: sign}))

    def _lift(self, direction: Direction, sign: int) -> Lift:
        return shifted(self.lift, direction.of, sign * size_of(direction))

    def _facts(self, found: Sequence[LiftProfile | Exception]) -> list[Facts | Exception]:
        return [p if isinstance(p, Exception) else head_facts(p, self.targets) for p in found]


def too_light(found: LiftProfile | Outline) -> list[str]:
    """Why the gear is too light for a hard set; nothing where it is not."""
    moved = found.moved_kg
    whole, once = found.working_kg + moved, found.one_rm_kg + moved
    if found.working_kg >= found.set_load.wanted_kg or whole >= once * load_fraction(MOST_REPETITIONS, 0):
        return []
    return [
        f"{found.set_load.bound}: too light for a hard set of {MOST_REPETITIONS} repetitions; strength would ask for {found.set_load.wanted_kg:.0f} kg"
    ]


def _reason(error: Exception) -> str:
    return f"could not be computed: {error}" if isinstance(error, RuntimeError) else str(error)
