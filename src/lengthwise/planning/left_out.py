"""Lifts that wait for who a client is now, whatever gear and joints say: in pregnancy and after a birth.

The one rule that week, swap, rank, load and block ask. Which lifts it means is read from how each lift is done: how the body lies and what
presses on it. Careful practice, after ACOG Committee Opinion 804 (2020), from memory; the angles are own choices.
"""

from collections.abc import Collection
from datetime import date

from lengthwise.body.anatomy import muscles
from lengthwise.lifts.definition import BodyWeight, FreeWeight, Lift
from lengthwise.planning.practice import practice_of
from lengthwise.training.client import Client
from lengthwise.training.screening import after_birth, is_pregnant, lies_freely
from lengthwise.training.sore import reach

FLAT_DEG = 60.0
"""Leaned back further than this from upright is as good as flat on the back: a bench at 30° or more is not."""
FACE_DOWN_DEG = 30.0
"""Leaned forward further than this, what holds the trunk in front carries it: lying on it."""
OVER_FLOOR_DEG = 65.0
"""Leaned forward further than this on hands and feet, the belly is what comes down first."""
UNDER_BAR_DEG = 30.0
"""Leaned back further than this, a bar that slips lands on the trunk, and who stands or kneels tips over."""
BENDS_DEG = 15.0
"""A trunk that bends less in a lift is held (as `joint_use`)."""
BENDS_HARD_DEG = 25.0
"""A trunk that bends so much forward or sideways works hard at it, whatever the lift is for."""
HINGES_DEG = 50.0
"""Leaned forward further than this with the load on the shoulders."""
STRAINS = frozenset({"wheel_rollout"})
"""Lifts that stretch the abdominals under load: after a birth they wait with those that bend the trunk (common practice, no source)."""
FRONT = frozenset({"belly", "chest", "hip_crease", "thigh_top", "thigh_front"})
ON_BELLY = frozenset({"belly", "hip_crease", "belt"})
ON_SHOULDERS = frozenset({"bar_back", "bar_low"})
BARS = frozenset({"barbell", "ez_bar", "guided_bar", "chains"})
AFTER_BIRTH = (
    "trunk lifts that keep the trunk still come first after a birth; like it (wishes.liked) once whoever looks after you agrees"
)
FLAT = "pregnancy: flat on the back, or nearly"
FACE_DOWN = "pregnancy: on the belly"
PRESSED = "pregnancy: a pad, belt or bar presses on the belly or the hip crease"
BENT = "pregnancy: the trunk bends or turns hard"
FALLS = "pregnancy: a fall, or a weight that slips, may hit the belly"


def left_out(client: Client, lift_id: str, lift: Lift, family: str, today: date | None = None) -> str:
    """Why a lift waits for who the client is now; empty where nothing speaks against it.

    A like (wishes.liked) says that whoever looks after the client agreed to a trunk lift; lying flat, pressure on the belly and falls wait
    whatever is liked or known.
    """
    if is_pregnant(client) and (why := _in_pregnancy(lift_id, lift, family, lies_freely(client, today or date.today()))):
        return why
    return AFTER_BIRTH if after_birth(client) and not _liked(client, lift_id, lift) and strains_belly(lift_id, lift) else ""


def _in_pregnancy(lift_id: str, lift: Lift, family: str, lies: bool) -> str:
    """Why a lift waits in pregnancy.

    Args:
        lies: whether it is so early that lying flat is no matter.
    """
    back, front = leaned_deg(lift)
    if not lies and back < -FLAT_DEG:
        return FLAT
    if not lies and front > FACE_DOWN_DEG and _carried_in_front(lift):
        return FACE_DOWN
    if not lies and not isinstance(lift.resistance, BodyWeight) and ON_BELLY & set(_marks(lift.resistance.at)):
        return PRESSED
    if _bends_hard(lift, front):
        return BENT
    under_bar = not lies and lift.gear in BARS and back < -UNDER_BAR_DEG
    return FALLS if under_bar or _may_fall(lift_id, lift, family, (back, front)) else ""


def leaned_deg(lift: Lift) -> tuple[float, float]:
    """The least and most that a lift leans the pelvis forward from upright; -90 is flat on the back, 90 face down [deg]."""
    ways = reach(lift, "pelvis_tilt") or [(0.0, 0.0)]
    return min(low for low, _ in ways), max(high for _, high in ways)


def _carried_in_front(lift: Lift) -> bool:
    return any(s.kind == "surface" and FRONT & set(_marks(s.points)) for s in lift.supports)


def _bends_hard(lift: Lift, front: float) -> bool:
    """Whether a lift bends or turns the trunk hard, or hinges under a load on the shoulders."""
    under_load = not isinstance(lift.resistance, BodyWeight) and bool(ON_SHOULDERS & set(lift.resistance.at))
    return (
        (under_load and front > HINGES_DEG)
        or turns_deg(lift, "trunk_flexion") >= BENDS_HARD_DEG
        or turns_deg(lift, "trunk_side_bending") >= BENDS_HARD_DEG
        or turns_deg(lift, "trunk_rotation") >= BENDS_DEG
        or (turns_deg(lift, "trunk_flexion") >= BENDS_DEG and _trains_trunk(lift, ("erectors",)))
    )


def turns_deg(lift: Lift, angle: str) -> float:
    """How far a lift moves an angle [deg]."""
    return max((high - low for low, high in reach(lift, angle)), default=0.0)


def _may_fall(lift_id: str, lift: Lift, family: str, leans: tuple[float, float]) -> bool:
    """Whether the balance may go, so that the belly comes down."""
    back, front = leans
    known = practice_of(lift_id, lift, family)
    held = any(s.kind == "handle" for s in lift.supports) and not isinstance(lift.resistance, FreeWeight)
    on_one_leg = known.one_leg and lift.posture == "standing" and not held
    tips_back = lift.posture in ("standing", "kneeling") and back < -UNDER_BAR_DEG
    over_floor = front > OVER_FLOOR_DEG and lift.posture == "hands_and_feet" and not _kneels(lift)
    dives = lift.posture == "kneeling" and lift.gear == "body" and front > HINGES_DEG
    return known.wobbly or lift.unstable or on_one_leg or tips_back or over_floor or dives


def _kneels(lift: Lift) -> bool:
    return any(mark.startswith(("knee", "shin")) for s in lift.supports for mark in s.points)


def strains_belly(lift_id: str, lift: Lift) -> bool:
    """Whether a lift for the abdominals bends the trunk forward, stretches them under load, or hangs the belly from them."""
    if not _trains_trunk(lift, ("abdominals",)):
        return False
    return lift_id in STRAINS or turns_deg(lift, "trunk_flexion") >= BENDS_DEG


def _trains_trunk(lift: Lift, names: Collection[str]) -> bool:
    return any(set(lift.targets) & set(muscles()[m]) for m in names)


def _liked(client: Client, lift_id: str, lift: Lift) -> bool:
    named = {name.casefold() for name in client.wishes.liked}
    return bool(named & {lift_id, lift.name.casefold(), *(a.casefold() for a in lift.aliases)})


def _marks(points: Collection[str]) -> list[str]:
    """Landmarks without sides."""
    return [p.removesuffix("_right").removesuffix("_left") for p in points]
