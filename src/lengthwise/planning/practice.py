"""What a coach knows of a lift and the body model does not: staples, lifts for beginners, what must be held or steered."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Literal

from lengthwise.body.anatomy import Strict, muscles, read_table
from lengthwise.lifts.definition import Lift
from lengthwise.training.stations import needed

BIG = frozenset({"chest", "latissimus", "upper_back", "quadriceps", "hamstrings", "glutes"})
SMALL = frozenset({"triceps", "biceps", "calves", "abdominals", "deltoid_middle", "deltoid_posterior"})
"""Muscles with a floor of their own; a small one gets no more sets than a big one (common practice, no source)."""
ALONE = frozenset({"calves", "abdominals"})
"""Small muscles that no lift for a big one trains beside (common practice, no source)."""
Region = Literal["lower", "push", "pull", "any"]


class Movement(Strict):
    """Lifts of which a week holds one for a muscle: where it has a floor, only where the client raises it, or from so many sets on."""

    muscle: str
    raised: bool
    from_sets: float = 0.0
    told: str
    lifts: frozenset[str]


class OwnFirst(Strict):
    """Patterns of the client's own lifts over several joints, and patterns and families of guessed ones that wait until those come twice."""

    own: frozenset[str]
    waits: frozenset[str]


class Lists(Strict):
    """The lists of data/practice.toml."""

    multi_joint_families: frozenset[str]
    single_joint: frozenset[str]
    staples: frozenset[str]
    regressions: frozenset[str]
    wobbly: frozenset[str]
    grip: frozenset[str]
    supported_rows: frozenset[str]
    hanging: frozenset[str]
    learned: frozenset[str]
    standing_presses: frozenset[str]
    better: dict[str, str]
    one_side: dict[str, tuple[str, ...]]
    movement: tuple[Movement, ...]
    patterns: dict[str, frozenset[str]]
    jobs: dict[str, frozenset[str]]
    own_first: dict[str, OwnFirst]
    regions: dict[Region, frozenset[str]]


@dataclass(frozen=True, kw_only=True)
class Practice:
    """What a coach knows of one lift.

    Attributes:
        family, region, pattern: what sort of lift; patterns are alike in what they do. targets: heads it is meant for.
        movers: heads that it is meant for or that help much in it.
        multi: trained as a multi-joint lift. costly: a barbell squat, hinge or press. spine: loads the spine unsupported.
        one_leg: done with one leg after the other; one_side: with one side of any sort. chest_held: a row with the chest on a pad. grip: ends when the grip does. staple, regression, wobbly, hanging, learned: as data/practice.toml says. stations: it needs.
    """

    family: str
    region: Region
    pattern: str
    targets: tuple[str, ...]
    multi: bool
    costly: bool
    spine: bool
    grip: bool
    staple: bool
    regression: bool
    wobbly: bool
    hanging: bool
    learned: bool
    stations: frozenset[str]
    movers: frozenset[str] = frozenset()
    one_leg: bool = False
    one_side: bool = False
    chest_held: bool = False


@cache
def lists() -> Lists:
    """The lists, read once."""
    text = files("lengthwise.planning").joinpath("data", "practice.toml").read_text(encoding="utf-8")
    return read_table("practice.toml", Lists, tomllib.loads(text))


def practice_of(lift_id: str, lift: Lift, family: str) -> Practice:
    """What practice says of a lift; of one that no list names, what its family, gear and first target tell."""
    known = lists()
    multi = family in known.multi_joint_families and lift_id not in known.single_joint
    pattern = next((p for p, families in known.patterns.items() if family in families), family)
    free = lift.gear in ("barbell", "chains")
    return Practice(
        family=family,
        region=_region(lift, family),
        pattern=pattern if multi else family,
        targets=tuple(lift.targets),
        multi=multi,
        costly=free and multi and pattern in ("squat", "hinge", "press", "overhead press"),
        spine=_loads_spine(lift_id, lift, pattern),
        grip=lift_id in known.grip,
        staple=lift_id in known.staples,
        regression=lift_id in known.regressions,
        wobbly=lift_id in known.wobbly,
        hanging=lift_id in known.hanging,
        learned=lift_id in known.learned,
        stations=needed(lift_id),
        movers=frozenset({*lift.targets, *lift.movers}),
        chest_held=multi and pattern in ("row", "bent row") and lift.posture in ("chest_supported", "lying"),
        one_side=lift.sides == "one",
        one_leg=lift.sides == "one" and (family == "calf" or _region(lift, family) == "lower"),
    )


def _loads_spine(lift_id: str, lift: Lift, pattern: str) -> bool:
    """Free-weight squats and hinges, and bent rows without support."""
    if pattern in ("squat", "hinge"):
        return lift.gear in ("barbell", "chains")
    return pattern == "bent row" and lift_id not in lists().supported_rows and lift.gear == "barbell"


def _region(lift: Lift, family: str) -> Region:
    listed = next((r for r, families in lists().regions.items() if family in families), None)
    if listed is not None:
        return listed
    of = {m for m, heads in muscles().items() if lift.targets[0] in heads}
    if of & {"quadriceps", "hamstrings", "glutes", "adductors", "hip_abductors", "hip_flexors"}:
        return "lower"
    if of & {"chest", "triceps", "deltoid_anterior", "deltoid_middle"}:
        return "push"
    return "pull" if of & {"latissimus", "upper_back", "biceps", "deltoid_posterior", "trapezius"} else "any"
