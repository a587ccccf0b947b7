"""The long halves of some lifts, studied beside their full range."""

from collections.abc import Sequence

from lengthwise.arrays import Array
from lengthwise.body.person import Person
from lengthwise.grading.draws import Streams
from lengthwise.grading.long_half import LongHalf, favoured, safety_of
from lengthwise.grading.studied_lift import Candidate, Studied
from lengthwise.grading.target import Target
from lengthwise.known.lifts import all_lifts
from lengthwise.known.studies import study_all
from lengthwise.mechanics.profile import Request
from lengthwise.practice.lift_growth import long_halves_open

LEADING = 5
"""So many lifts from the top of an order are asked for their long half (own choice: what a coach reads)."""


def long_halves(person: Person, some: Sequence[Studied], target: Target, draws: Array, source: Streams) -> tuple[LongHalf, ...]:
    """The long halves of some lifts, as far as they are favoured and can be made safe; most favoured first."""
    if not long_halves_open():
        return ()
    lifts = all_lifts().lifts
    able = {s.facts.lift_id: s for s in some if safety_of(lifts[s.facts.lift_id])}
    halves = study_all(person, [Candidate(i, lifts[i], Request(range="long")) for i in able], target.heads)
    pairs = [(able[h.facts.lift_id], h) for h in halves if isinstance(h, Studied)]
    return favoured(pairs, lifts, target, draws, source)
