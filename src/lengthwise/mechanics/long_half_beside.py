"""A lift on a body with its long half beside it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from lengthwise.lifts.definition import RangeCue
from lengthwise.mechanics.measures import HeadMeasures
from lengthwise.mechanics.profile import LiftProfile, RangeName, Request, profile


@dataclass(frozen=True)
class HalfBeside:
    """The long half of the same lift: its cue, whether it can be ended safely, its load, and the targets' measures over it."""

    PUBLIC: ClassVar = "range start=part.start end=part.end cue=part.cue safe=part.safe load_kg heads"

    range: RangeName
    part: RangeCue
    load_kg: float
    heads: Mapping[str, HeadMeasures]


@dataclass(frozen=True)
class LiftOnBody:
    """A lift on a body, with its long half beside it."""

    PUBLIC: ClassVar = """
        *=profile
        lift_measures{economy=profile.economy balance_demand=profile.balance_demand
        seconds_per_set=profile.seconds_per_set load_step_fraction=profile.load_step_fraction partial=half}
    """

    profile: LiftProfile
    half: HalfBeside

    @property
    def rows(self) -> list[dict[str, object]]:
        """The measures of each head."""
        return [{"head": name, **vars(head.measures)} for name, head in self.profile.heads.items()]


def with_long_half(found: LiftProfile) -> LiftOnBody:
    """A profile with the long half beside it, worked out now where that is not what was asked."""
    r = found.request
    request = Request(range="long", setup=r.setup, repetitions=r.repetitions, reserve=r.reserve, power=r.power, n_pos=21)
    long = found if r.range == "long" else profile(found.body, found.lift_id, found.lift, request)
    heads = {h: long.heads[h].measures for h in found.lift.targets}
    return LiftOnBody(found, HalfBeside("long", found.lift.ranges["long"], long.working_kg, heads))
