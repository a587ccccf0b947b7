"""Lifts that wait for who a client is now, whatever gear and joints say: in pregnancy, after a birth, with thin bones, falls, or old and new.

The one rule that week, swap, rank, load and block ask. Which lifts it means is read from how each lift is done: how the body lies and what
presses on it. Careful practice: pregnancy after ACOG Committee Opinion 804 (2020), bones after Sinaki and Mikkelsen (1984), who saw more broken
vertebrae where bending exercises were done; both from memory. The angles are own choices.
"""

from collections.abc import Collection
from datetime import date

from lengthwise.body.anatomy import muscles
from lengthwise.lifts.definition import BodyWeight, FreeWeight, Lift
from lengthwise.planning.practice import Practice, practice_of
from lengthwise.training.client import Client
from lengthwise.training.holds import is_held
from lengthwise.training.joint_reach import marks, reach
from lengthwise.training.joint_use import works_joint
from lengthwise.training.screening import after_birth, has, is_pregnant, lies_freely
from lengthwise.training.sore import is_done
from lengthwise.training.stations import MACHINES, needed

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
OLD_Y = 65
"""From this age on bones of somebody who never lifted are taken for thin (common practice, no source)."""
LEGS = ("quadriceps", "hamstrings", "glutes", "calves", "adductors", "hip_abductors", "hip_flexors")
"""Muscles that nobody trains who keeps to a seat (wishes.seated_only)."""
TRUNK = ("abdominals", "obliques", "erectors")
STRAINS = frozenset({"wheel_rollout"})
"""Lifts that stretch the abdominals under load: after a birth they wait with those that bend the trunk (common practice, no source)."""
FRONT = frozenset({"belly", "chest", "hip_crease", "thigh_top", "thigh_front"})
ON_BELLY = frozenset({"belly", "hip_crease", "belt"})
ON_SHOULDERS = frozenset({"bar_back", "bar_low"})
BENCHES = frozenset({"flat_bench", "seal_bench"})
ROWS = frozenset({"row", "row_bent_over"})
BARS = frozenset({"barbell", "ez_bar", "guided_bar", "chains"})
AFTER_BIRTH = (
    "trunk lifts that keep the trunk still come first after a birth; like it (wishes.liked) once whoever looks after you agrees"
)
FLAT = "pregnancy: flat on the back, or nearly"
FACE_DOWN = "pregnancy: on the belly"
PRESSED = "pregnancy: a pad, belt or bar presses on the belly or the hip crease"
BENT = "pregnancy: the trunk bends or turns hard"
THIN = "osteoporosis: the trunk bends or turns under load; like it (wishes.liked) once whoever looks after you agrees"
OLD = "at this age the first trunk lifts keep the trunk still: nobody measured the bones"
NOT_SEATED = "seated only: it is not done on a seat or a bench"
OF_LEGS = "seated only: the legs work in it"
UNBRACED = "seated only: the trunk alone would hold against the pull; with a pad at the chest instead"
UNSTEADY = "falls: hard to balance"
ON_FLOOR = "falls: it is done on the floor, and one has to get up again"
FALLS = "pregnancy: a fall, or a weight that slips, may hit the belly"


def left_out(client: Client, lift_id: str, lift: Lift, family: str, today: date | None = None) -> str:
    """Why a lift waits for who the client is now; empty where nothing speaks against it.

    A like (wishes.liked) says that whoever looks after the client agreed to a trunk lift; what waits in pregnancy, and what an unsteady client may
    fall from, waits whatever is liked or known.
    """
    if is_pregnant(client) and (why := _in_pregnancy(lift_id, lift, family, lies_freely(client, today or date.today()))):
        return why
    if client.wishes.seated_only and (why := _not_seated(client, lift_id, lift, family)):
        return why
    if has(client, "falls") and _unsteady(practice_of(lift_id, lift, family), lift, leaned_deg(lift)[0]):
        return UNSTEADY
    if _liked(client, lift_id, lift):
        return ""
    if has(client, "falls") and not is_done(client, lift_id, lift) and _on_floor(lift_id, lift):
        return ON_FLOOR
    if has(client, "osteoporosis") and (_bends_hard(lift) or strains_belly(lift_id, lift)):
        return THIN
    new = is_old_and_new(client) and not is_done(client, lift_id, lift)
    if new and practice_of(lift_id, lift, family).pattern != "hinge" and _bends_spine(lift_id, lift):
        return OLD
    return AFTER_BIRTH if after_birth(client) and strains_belly(lift_id, lift) else ""


def _not_seated(client: Client, lift_id: str, lift: Lift, family: str) -> str:
    """Why a lift cannot be done from a chair or a bench; one that the client likes or does as written is known to be."""
    if any(set(lift.targets) & set(muscles()[m]) for m in LEGS) or any(works_joint(lift, j) for j in ("hip", "knee", "ankle")):
        return OF_LEGS
    if _liked(client, lift_id, lift) or is_done(client, lift_id, lift):
        return ""
    seat = any("seat" in marks(s.points) for s in lift.supports)
    on_bench = lift.posture == "lying" and bool(BENCHES & needed(lift_id))
    if not (lift.posture == "seated" or on_bench or seat):
        return NOT_SEATED
    return UNBRACED if family in ROWS and not _carried_in_front(lift) else ""


def is_old_and_new(client: Client) -> bool:
    """Whether somebody untrained is of an age at which thin bones are common."""
    return client.training == "untrained" and client.age_y >= OLD_Y


def _bends_spine(lift_id: str, lift: Lift) -> bool:
    """Whether a lift for the trunk bends or turns it."""
    return _trains_trunk(lift, TRUNK) and (_bends_hard(lift) or strains_belly(lift_id, lift))


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
    if not lies and not isinstance(lift.resistance, BodyWeight) and ON_BELLY & marks(lift.resistance.at):
        return PRESSED
    if _bends_hard(lift):
        return BENT
    under_bar = not lies and lift.gear in BARS and back < -UNDER_BAR_DEG
    return FALLS if under_bar or _may_fall(lift_id, lift, family, (back, front)) else ""


def leaned_deg(lift: Lift) -> tuple[float, float]:
    """The least and most that a lift leans the pelvis forward from upright; -90 is flat on the back, 90 face down [deg]."""
    ways = reach(lift, "pelvis_tilt") or [(0.0, 0.0)]
    return min(low for low, _ in ways), max(high for _, high in ways)


def _carried_in_front(lift: Lift) -> bool:
    return any(s.kind == "surface" and FRONT & marks(s.points) for s in lift.supports)


def _bends_hard(lift: Lift) -> bool:
    """Whether a lift bends or turns the trunk hard, or hinges under a load on the shoulders."""
    under_load = not isinstance(lift.resistance, BodyWeight) and bool(ON_SHOULDERS & set(lift.resistance.at))
    return (
        (under_load and leaned_deg(lift)[1] > HINGES_DEG)
        or rounds_deg(lift) >= BENDS_HARD_DEG
        or turns_deg(lift, "trunk_side_bending") >= BENDS_HARD_DEG
        or turns_deg(lift, "trunk_rotation") >= BENDS_DEG
        or (rounds_deg(lift) >= BENDS_DEG and _trains_trunk(lift, ("erectors",)))
    )


def rounds_deg(lift: Lift) -> float:
    """How far a lift bends the trunk forward beyond straight [deg]; bending it back counts nothing."""
    return max((high - max(low, 0.0) for low, high in reach(lift, "trunk_flexion")), default=0.0)


def turns_deg(lift: Lift, angle: str) -> float:
    """How far a lift moves an angle [deg]."""
    return max((high - low for low, high in reach(lift, angle)), default=0.0)


def _may_fall(lift_id: str, lift: Lift, family: str, leans: tuple[float, float]) -> bool:
    """Whether the balance may go, so that the belly comes down."""
    back, front = leans
    over_floor = front > OVER_FLOOR_DEG and lift.posture == "hands_and_feet" and not _kneels(lift)
    dives = lift.posture == "kneeling" and lift.gear == "body" and front > HINGES_DEG
    return over_floor or dives or _unsteady(practice_of(lift_id, lift, family), lift, back)


def _unsteady(known: Practice, lift: Lift, back: float) -> bool:
    """Whether a lift is hard to balance: by name, on one leg without a hand hold, or leaning back on the feet or knees."""
    held = any(s.kind == "handle" for s in lift.supports) and not isinstance(lift.resistance, FreeWeight)
    on_one_leg = known.one_leg and lift.posture == "standing" and not held
    tips_back = lift.posture in ("standing", "kneeling") and back < -UNDER_BAR_DEG
    return known.wobbly or lift.unstable or on_one_leg or tips_back


def _on_floor(lift_id: str, lift: Lift) -> bool:
    """Whether a lift is done on the floor, or begins there: kneeling, on hands and feet, or lying on no bench and no machine; a hip thrust on a bench
    begins sitting before it. A plank is no such lift: hardly anything else trains a trunk that must keep still (common practice, no source).
    """
    if is_held(lift_id):
        return False
    if lift.posture == "hands_and_feet":
        return _kneels(lift) or leaned_deg(lift)[1] > OVER_FLOOR_DEG
    held = marks(m for s in lift.supports for m in s.points)
    on_bench = bool(BENCHES & needed(lift_id)) and not ("upper_back" in held and "sacrum" not in held)
    return lift.posture == "kneeling" or (lift.posture == "lying" and lift.gear not in MACHINES and not on_bench)


def _kneels(lift: Lift) -> bool:
    return any(mark.startswith(("knee", "shin")) for s in lift.supports for mark in s.points)


def strains_belly(lift_id: str, lift: Lift) -> bool:
    """Whether a lift for the abdominals bends the trunk forward, stretches them under load, or hangs the belly from them."""
    if not _trains_trunk(lift, ("abdominals",)):
        return False
    return lift_id in STRAINS or rounds_deg(lift) >= BENDS_DEG


def _trains_trunk(lift: Lift, names: Collection[str]) -> bool:
    return any(set(lift.targets) & set(muscles()[m]) for m in names)


def _liked(client: Client, lift_id: str, lift: Lift) -> bool:
    named = {name.casefold() for name in client.wishes.liked}
    return bool(named & {lift_id, lift.name.casefold(), *(a.casefold() for a in lift.aliases)})
