"""Long halves of lifts: offered where the estimate favours them, with where they end and what makes them safe."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from lengthwise.arrays import Array
from lengthwise.grading.draws import Streams
from lengthwise.grading.growth_value import Growth, drawn_growth, summed_up
from lengthwise.grading.sentences import between, sure_of
from lengthwise.grading.studied_lift import Studied
from lengthwise.grading.target import Target
from lengthwise.lifts.definition import Lift

SURE = 2 / 3
"""A long half is offered from this chance on that it grows more than the full range (own choice, as for the groups of an order)."""
LONG_HALVES = (
    "Lengthened partials, for some of the full sets. The chance is estimated from length, over all trials; the few that tried long halves "
    "themselves do not agree (claim long_half)."
)
CLAIM = "long_half"
SETTLED_ELSE = ("against", "equivalent")
"""Verdicts of that claim under which no long half is offered, whatever length says: its trials tried the thing itself."""
PART_SPREAD = 0.14
"""Spread of what a part of the range may grow beside what its length says [log growth]: an offset of its own, learned from the trials
of parts, is −0.06 ± 0.14. It predicts trials left out no better (−1.0, −2.1 to −0.2), so the law has none, and only this doubt is added
(validation/growth_parts.py)."""
NOTHING = 1e-9
RESTS = {
    "cable": "the stack comes to rest at the bottom",
    "lever": "the stack comes to rest at the bottom",
    "body": "feet, knees or hands take the weight when it gets hard",
}
"""Why no help is needed at the bottom, by gear; everything else can be put down there (the lift's file says `safe`)."""
SLACK = "band"


@dataclass(frozen=True, kw_only=True)
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
            f"{self.name}, long half alone ({self.cue}): about {g.mean:.1f} × the growth of its full range ({between(g)}), "
            f"{sure_of(self.better)} that it is more; {self.safety}."
        )


def safety_of(lift: Lift) -> str:
    """What makes a set safe that ends in the long half; empty where nothing does, and then it is not offered: nor with a band, whose load is least
    there, where it hangs slack.
    """
    if lift.gear == SLACK:
        return ""
    needed = f"{lift.spotting[:1].lower()}{lift.spotting[1:]}".rstrip(".")
    if not lift.ranges["long"].safe:
        return f"only with {needed}" if needed else ""
    return needed or RESTS.get(lift.gear, "the load can be put down at the bottom")


def favoured(
    pairs: Sequence[tuple[Studied, Studied]], lifts: Mapping[str, Lift], target: Target, draws: Array, source: Streams
) -> tuple[LongHalf, ...]:
    """Of lifts studied over their full range and their long half, the halves that are favoured; most favoured first.

    What is compared is growth by the law that trials taught: a half shortens the head over less way, which the gate of an order counts
    against it but trials do not.
    """
    found = [_offer(full, half, lifts[full.facts.lift_id], target, draws, source) for full, half in pairs]
    return tuple(sorted((o for o in found if o.better >= SURE), key=lambda o: (-o.better, o.lift)))


def _offer(full: Studied, half: Studied, lift: Lift, target: Target, draws: Array, source: Streams) -> LongHalf:
    whole, part = (drawn_growth(s, target, draws, source) for s in (full, half))
    base = np.maximum(whole.law, NOTHING)
    doubt = part.law * np.expm1(PART_SPREAD * source.normal(f"part of {full.facts.lift_id}"))
    apart = part.law + doubt - whole.law
    miss = part.seen - part.law - whole.seen + whole.law
    ratio = np.maximum(1 + apart / base + miss / base.mean(), 0.0)
    growth = summed_up(float(part.usual.mean() / max(float(whole.usual.mean()), NOTHING)), ratio)
    better = float((apart + miss > 0).mean())
    return LongHalf(
        lift=full.facts.lift_id, name=lift.name, growth=growth, better=better, cue=lift.ranges["long"].cue, safety=safety_of(lift)
    )
