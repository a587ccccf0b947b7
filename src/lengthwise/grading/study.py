"""One lift studied for one target: its facts, and how its measures move when the body or the technique is a little different."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

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
from lengthwise.mechanics.equilibrium import Setting, set_up, set_up_again
from lengthwise.mechanics.profile import LiftProfile, Request, Start, part_of, phase_of, profile, solved
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
    coarse = _Coarse.of(found, candidate, heads)
    try:
        own = coarse.heads(found.body)
    except UNSOLVED as error:
        return Refused(candidate.key, candidate.lift.name, _reason(error))
    body = [_body_shift(person, coarse, d, own) for d in body_directions(found, heads)]
    technique = [_technique_shift(coarse, d, preferred_sign(found, d), own) for d in technique_directions(found, heads)]
    return Studied(facts_of(found), own, (*body, *technique))


@dataclass(frozen=True)
class _Coarse:
    """A solved lift to be solved again at some of its positions, on a body or with a technique that is a little off.

    Attributes:
        found: the lift. candidate: the same at COARSE positions. some: which of the lift's positions these are. start: what was found there.
        targets: the heads that are asked about.
    """

    found: LiftProfile
    candidate: Candidate
    some: NDArray[np.intp]
    start: Start
    targets: tuple[str, ...]

    @classmethod
    def of(cls, found: LiftProfile, candidate: Candidate, heads: Sequence[str]) -> "_Coarse":
        some = np.linspace(0, len(found.capacity_kg) - 1, COARSE).round().astype(np.intp)
        asked = replace(candidate, request=replace(candidate.request, n_pos=COARSE))
        return cls(found, asked, some, found.start.at(some), tuple(heads))

    def heads(self, body: Body) -> dict[str, HeadFacts]:
        """The targets on a body that differs only in its lines; so it moves alike, and its postures are known."""
        return self._facts(set_up_again(self.found.setting, body, self.some))

    def with_technique(self, lift: Lift) -> dict[str, HeadFacts]:
        """The targets with another technique."""
        request = self.candidate.request
        return self._facts(set_up(self.found.body, lift, phase_of(lift, request), request.setup, part_of(lift, request)))

    def _facts(self, setting: Setting) -> dict[str, HeadFacts]:
        return head_facts(solved(setting, self.found.lift_id, self.candidate.request, self.start, self.targets), self.targets)


def too_light(found: LiftProfile) -> list[str]:
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


def _body_shift(person: Person, coarse: _Coarse, direction: Direction, own: Mapping[str, HeadFacts]) -> Shift:
    for sign in (1, -1):
        try:
            return Shift(direction, sign, coarse.heads(varied_body(person, factors({direction: sign}))))
        except UNSOLVED:
            continue
    return Shift(direction, 0, own)


def _technique_shift(coarse: _Coarse, direction: Direction, first: int, own: Mapping[str, HeadFacts]) -> Shift:
    for sign in (first, -first):
        try:
            other = shifted(coarse.candidate.lift, direction.of, sign * size_of(direction))
            return Shift(direction, sign, coarse.with_technique(other))
        except UNSOLVED:
            continue
    return Shift(direction, 0, own)
