"""Which lifts are asked about at all, and which a wish leaves out: always with the reason."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

from lengthwise.errors import InputError, unknown
from lengthwise.grading.facts import LiftFacts
from lengthwise.grading.joint_load import joint_named, references
from lengthwise.grading.studied_lift import Candidate, Refused
from lengthwise.grading.target import Target
from lengthwise.lifts.catalogue import Catalogue, gear
from lengthwise.mechanics.profile import RangeName, Request

FEWEST_SETS = 2
"""A lift of which fewer hard sets fit in the minutes is left out; common practice, no source."""


@dataclass(frozen=True)
class LiftWishes:
    """What lifts must meet.

    Attributes:
        gear: kinds available; empty for all.
        spare_nm: most that a joint may carry [N·m], by joint.
        minutes: time for the muscle in one session [min]; None for any.
        steady: leave out unstable surfaces.
    """

    gear: frozenset[str] = frozenset()
    spare_nm: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    minutes: float | None = None
    steady: bool = False

    def __post_init__(self) -> None:
        for kind in self.gear:
            if kind not in gear():
                raise unknown("equipment", kind, gear())
        for joint, most in self.spare_nm.items():
            joint_named(joint)
            if most < 0:
                raise InputError(f"{joint} = {most:g} N·m; allowed 0 or more", asked=most)
        if self.minutes is not None and not 1 <= self.minutes <= 240:
            raise InputError(f"minutes = {self.minutes:g}; allowed 1 to 240", asked=self.minutes, allowed=[1, 240])


def spared_joints(words: Iterable[str]) -> dict[str, float]:
    """Joints to protect written as `shoulder` (below what counts as a real load) or `shoulder=20` (N·m).

    Raises:
        UnknownNameError: no such joint. InputError: not a number after the sign.
    """
    out = {}
    for word in words:
        name, _, most = word.partition("=")
        joint = joint_named(name.strip())
        try:
            out[joint] = float(most) if most else references()[joint].load_nm
        except ValueError:
            raise InputError(
                f"cannot read {word!r}; write a joint, or joint=moment in N·m such as {joint}=20", asked=word
            ) from None
    return out


def candidates(found: Catalogue, target: Target, ranges: Sequence[RangeName], request: Request) -> tuple[Candidate, ...]:
    """The lifts that are meant for a target, or whose prime movers it holds, in every asked range; by id."""
    out = []
    for lift_id in sorted(found.lifts):
        lift = found.lifts[lift_id]
        if not {*lift.targets, *lift.movers} & {*target.heads}:
            continue
        for part in dict.fromkeys(ranges):
            if part == "full" or part in lift.ranges:
                own = Request(
                    range=part,
                    setup=request.setup,
                    repetitions=request.repetitions,
                    reserve=request.reserve,
                    power=request.power,
                    n_pos=request.n_pos,
                )
                out.append(Candidate(lift_id, lift, own))
    return tuple(out)


def refused_unsolved(candidate: Candidate, wishes: LiftWishes) -> Refused | None:
    """Whether a wish leaves a lift out before anything is computed."""
    lift = candidate.lift
    reason = ""
    if wishes.gear and lift.gear not in wishes.gear:
        reason = f"needs {gear()[lift.gear].name}; available: {', '.join(sorted(wishes.gear))}"
    elif wishes.steady and lift.unstable:
        reason = "stands on an unstable surface"
    return Refused(candidate.key, lift.name, reason) if reason else None


def refused_solved(facts: LiftFacts, wishes: LiftWishes) -> Refused | None:
    """Whether a wish leaves a lift out by what it was found to ask."""
    reasons = []
    for joint, most in wishes.spare_nm.items():
        load = facts.joints[joint].moment_nm if joint in facts.joints else 0.0
        if load > most:
            reasons.append(f"the {joint} carries {load:.0f} N·m at the load of the set; allowed {most:.0f}")
    if wishes.minutes is not None and hard_sets_in(facts, wishes.minutes) < FEWEST_SETS:
        need = FEWEST_SETS * facts.seconds_per_set / 60
        reasons.append(f"{FEWEST_SETS} hard sets need {need:.1f} min; there are {wishes.minutes:g}")
    return Refused(facts.key, facts.name, "; ".join(reasons)) if reasons else None


def hard_sets_in(facts: LiftFacts, minutes: float) -> int:
    """How many hard sets of a lift fit in some minutes."""
    return int(minutes * 60 // facts.seconds_per_set)
