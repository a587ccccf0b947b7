"""The long halves of the leading lifts: offered where the estimate favours them, with where they end and what makes them safe."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

import numpy as np
from numpy.typing import NDArray

from lengthwise.actions.grading import Asked
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.people import read_person
from lengthwise.actions.studies import study_all
from lengthwise.actions.trials import learned
from lengthwise.body.person import Person
from lengthwise.grading.draws import Streams, streams
from lengthwise.grading.growth_value import Growth, drawn_growth, summed_up
from lengthwise.grading.ranking import Ranking
from lengthwise.grading.study import Candidate, Studied
from lengthwise.grading.target import Target
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.profile import Request

Array = NDArray[np.float64]

LEADING = 5
"""So many lifts from the top of an order are asked for their long half (own choice: what a coach reads)."""
SURE = 2 / 3
"""A long half is offered from this chance on that it grows more than the full range (own choice, as for the groups of an order)."""
NOTHING = 1e-9
RESTS = {
    "cable": "the stack comes to rest at the bottom",
    "lever": "the stack comes to rest at the bottom",
    "band": "the band is slack at the bottom",
    "body": "feet, knees or hands take the weight when it gets hard",
}
"""Why no help is needed at the bottom, by gear; everything else can be put down there (the lift's file says `safe`)."""


@dataclass(frozen=True)
class LongHalf:
    """A long half that may grow more than the whole range of the same lift.

    Attributes:
        lift, name: which. growth: over that of the full range, with its 90 % interval. better: chance that it grows more, 0-1.
        cue: where it starts and ends. safety: what makes its end safe.
    """

    PUBLIC: ClassVar = "lift name growth better_than_full=better ends=cue safety sentence"
    lift: str
    name: str
    growth: Growth
    better: float
    cue: str
    safety: str

    @property
    def sentence(self) -> str:
        """The offer as a coach says it."""
        g = self.growth
        return (
            f"{self.name}, long half alone ({self.cue}): {g.mean:.2f} × the growth of its full range ({g.low:.1f}-{g.high:.1f}), "
            f"{self.better:.0%} sure that it is more; {self.safety}."
        )


def safety_of(lift: Lift) -> str:
    """What makes a set safe that ends in the long half; empty where nothing does, and then it is not offered."""
    needed = f"{lift.spotting[:1].lower()}{lift.spotting[1:]}".rstrip(".")
    if not lift.ranges["long"].safe:
        return f"only with {needed}" if needed else ""
    return needed or RESTS.get(lift.gear, "the load can be put down at the bottom")


def long_halves_of(asked: Asked, found: Ranking) -> tuple[LongHalf, ...]:
    """The long halves worth a thought beside an order of full ranges; none where the question itself let halves compete."""
    if asked.ranges != ("full",):
        return ()
    person, lifts = read_person(asked.person), all_lifts().lifts
    first = [Candidate(r.facts.lift_id, lifts[r.facts.lift_id], asked.request) for r in found.lifts[:LEADING]]
    leaders = [s for s in study_all(person, first, found.target.heads) if isinstance(s, Studied)]
    draws = learned()[1].sample(asked.n_draw, asked.seed)
    return long_halves(person, leaders, found.target, draws, streams(asked.n_draw, np.random.default_rng(asked.seed)))


def long_halves(person: Person, leaders: Sequence[Studied], target: Target, draws: Array, source: Streams) -> tuple[LongHalf, ...]:
    """The long halves of some lifts, as far as they are favoured and can be made safe; most favoured first.

    What is compared is growth by the law that trials taught: a half shortens the head over less way, which the gate of an order counts
    against it but trials do not.
    """
    lifts = all_lifts().lifts
    able = {s.facts.lift_id: s for s in leaders[:LEADING] if safety_of(lifts[s.facts.lift_id])}
    halves = study_all(person, [Candidate(i, lifts[i], Request("long")) for i in able], target.heads)
    found = [_offer(able[h.facts.lift_id], h, target, draws, source) for h in halves if isinstance(h, Studied)]
    return tuple(sorted((o for o in found if o.better >= SURE), key=lambda o: (-o.better, o.lift)))


def _offer(full: Studied, half: Studied, target: Target, draws: Array, source: Streams) -> LongHalf:
    whole, part = (drawn_growth(s, target, draws, source) for s in (full, half))
    base = np.maximum(whole.law, NOTHING)
    ratio = np.maximum(part.law / base + (part.seen - part.law - whole.seen + whole.law) / base.mean(), 0.0)
    lift = all_lifts().lifts[full.facts.lift_id]
    growth = summed_up(float(part.law.mean() / base.mean()), ratio)
    better = float((part.seen > whole.seen).mean())
    return LongHalf(full.facts.lift_id, lift.name, growth, better, lift.ranges["long"].cue, safety_of(lift))
