"""What the estimate of growth is made of: a few features of each head in a lift, computed by the body."""

import json
from collections.abc import Mapping
from dataclasses import astuple, dataclass
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, TypeVar

import numpy as np
from numpy.typing import NDArray

from lengthwise.body import anatomy
from lengthwise.body.scaling import lifting_skill
from lengthwise.errors import InputError, unknown
from lengthwise.growth.programme import Done

if TYPE_CHECKING:  # what has to be solved is loaded where it is: the estimate alone reads kept features
    from lengthwise.body.model import Body
    from lengthwise.lifts.definition import Lift
    from lengthwise.mechanics.profile import HeadProfile, LiftProfile

MUSCLES = (
    "triceps", "elbow_flexors", "chest", "glutes", "adductors", "quadriceps", "hamstrings", "calves", "latissimus", "hip_abductors",
    "abdominals", "erectors",
)  # fmt: skip
"""Muscles whose heads share one movement: part of a head's drive is taken from its whole muscle, since how synergists divide a
load is the least known part of the body. A head of none of them stands alone."""
APART = frozenset({"pectoralis_major_clavicular", "adductor_magnus_ischial"})
"""Heads that do the opposite of the rest of their muscle at a joint that all of them cross, and so are driven apart from it: the upper
chest flexes the shoulder where the lower extends it, the hamstring part of adductor magnus extends the hip where the others flex it
(anatomy, from memory)."""
LEAST_PART = 1 / 50
"""A part of a lifting phase is at least this long: what a hold at one angle spans."""
STILL_N = 1e-9
CM3_OF_NM = 100.0
"""Cubic centimetres that bear 1 N·m at a tension of 1 N/cm²."""
T = TypeVar("T", float, NDArray[np.float64])


@dataclass(frozen=True)
class Features:
    """One head in one lift, of the side that does more (mechanics/sides.py).

    Attributes:
        drive: mean activation over the lifting phase, 0-1. group: the same of its muscle (MUSCLES), heads by volume.
        span: tension-weighted place between its shortest and longest possible length, 0-1.
        fibre: tension-weighted fibre length [of optimal].
        conflict: joint conflict, 0 joints agree, towards 1 they cancel.
        volume: measured area times optimal length of its lines [cm³], which weighs heads that are measured together.
        tension: mean active force over maximal force, of what a lift brings to bear. old_grade: value of the typed criteria for this head, 0-1.
    """

    drive: float
    group: float
    span: float
    fibre: float
    conflict: float
    volume: float
    tension: float = 0.0
    old_grade: float = 0.0


def features_of(found: "LiftProfile") -> dict[str, Features]:
    """The features of every head of a profile."""
    from lengthwise.mechanics.sides import trained_side

    heads = [h for h in found.heads if not h.endswith("_left")]
    volume = {h: _volume(found, h) for h in heads}
    trained = {h: found.heads[trained_side(found, h)] for h in heads}
    drive = {h: float(trained[h].activation.mean()) for h in heads}
    return {h: _head(trained[h], drive[h], _group(h, drive, volume), volume[h], _strength(found, h)) for h in heads}


def _head(p: "HeadProfile", drive: float, group: float, volume: float, strength_n: float) -> Features:
    force = np.asarray(p.active_force_n)
    weight = force / force.sum() if force.sum() > STILL_N else np.full(len(force), 1 / len(force))
    return Features(
        drive, group, float(weight @ p.span_position), float(weight @ p.fibre_length), float(p.measures.joint_conflict), volume,
        float(force.mean() / strength_n),
    )  # fmt: skip


@cache
def muscle_of(head: str) -> tuple[str, ...]:
    """The heads that share a movement with this one, itself included."""
    if head in APART:
        return (head,)
    heads = next((anatomy.muscles()[m] for m in MUSCLES if head in anatomy.muscles()[m]), (head,))
    return tuple(h for h in heads if h not in APART)


def _group(head: str, drive: Mapping[str, float], volume: Mapping[str, float]) -> float:
    mine = [h for h in muscle_of(head) if h in drive]
    return sum(drive[h] * volume[h] for h in mine) / sum(volume[h] for h in mine)


def _volume(found: "LiftProfile", head: str) -> float:
    lines = found.body.lines
    pick = lines.of_head(head)
    return volume_cm3(head, float((lines.max_force_n[pick] * lines.optimal_m[pick]).sum()))


def volume_cm3(head: str, work_nm: T) -> T:
    """The volume of a head whose maximal force times optimal length is `work_nm`: what a square centimetre bears differs between muscles."""
    return work_nm * CM3_OF_NM / anatomy.head_tension_ncm2(head)


def _strength(found: "LiftProfile", head: str) -> float:
    """Maximal force of a head in the lift [N]: what is brought to bear of it, as activation counts it."""
    lines = found.body.lines
    skill = lifting_skill(found.body.person, found.lift.practised)
    return skill * float(lines.max_force_n[lines.of_head(head)].sum())


def profile_of(body: "Body", done: Done, lifts: "Mapping[str, Lift]") -> "LiftProfile":
    """The profile of a lift as an arm did it, at the load that its own range allows.

    Raises:
        InputError: no such lift, angle or set-up value. NoSolutionError: the body cannot do it.
    """
    from lengthwise.lifts.definition import RangeCue
    from lengthwise.mechanics.profile import Request, profile

    if done.lift not in lifts:
        raise unknown("lift", done.lift, lifts)
    lift = lifts[done.lift]
    if done.angle is None:
        return profile(body, done.lift, lift, Request(range=done.part, setup=dict(done.setup)))
    start, end = _window(body, done, lift)
    cue = RangeCue.model_construct(start=start, end=end, cue="a part of the range", safe=False)
    part = lift.model_copy(update={"ranges": {**lift.ranges, "long": cue}})
    return profile(body, done.lift, part, Request(range="long", setup=dict(done.setup)))


def _window(body: "Body", done: Done, lift: "Lift") -> tuple[float, float]:
    """Where in the lifting phase an angle lies between its two values."""
    from lengthwise.mechanics.profile import Request, profile

    assert done.angle is not None
    name, *ends = done.angle
    courses = profile(body, done.lift, lift, Request(range="full", setup=dict(done.setup))).angles_deg
    course = courses.get(name, courses.get(f"{name}_right"))
    if course is None:
        raise InputError(f"{lift.name} does not move {name!r}", asked=name, allowed=list(courses))
    order, phase = np.argsort(course), np.linspace(0, 1, len(course))
    start, end = sorted(float(np.interp(v, course[order], phase[order])) for v in ends)
    start = min(start, 1 - LEAST_PART)
    return start, max(end, start + LEAST_PART)


Table = Mapping[str, Mapping[str, Features]]
"""Features by what was done, then by head."""


@cache
def kept_features() -> dict[str, dict[str, Features]]:
    """Features of the arms of the studies that come with Lengthwise (data/arms.json), on the usual body."""
    text = files("lengthwise.growth").joinpath("data", "arms.json").read_text(encoding="utf-8")
    return {done: {h: Features(*f) for h, f in heads.items()} for done, heads in json.loads(text).items()}


def write_features(found: Mapping[str, Features]) -> str:
    """The heads of one lift as text, to four digits."""
    return json.dumps({h: [round(v, 4) for v in astuple(f)] for h, f in sorted(found.items())})


def read_features(text: str) -> dict[str, Features]:
    """The heads of one lift back from `write_features`.

    Raises:
        ValueError, TypeError: the text is damaged.
    """
    return {h: Features(*f) for h, f in json.loads(text).items()}


def write_table(found: Table) -> str:
    """The text that `kept_features` reads."""
    return "{\n" + ",\n".join(f" {json.dumps(d)}: {write_features(each)}" for d, each in sorted(found.items())) + "\n}\n"
