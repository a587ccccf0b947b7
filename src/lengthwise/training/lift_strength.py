"""What a body can lift once, and how it changes with the strength of each muscle group."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from types import MappingProxyType

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.model import Body
from lengthwise.body.person import Person
from lengthwise.body.posture import clinical
from lengthwise.body.scaling import lifting_skill
from lengthwise.errors import NoSolutionError
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.capacity import capacity
from lengthwise.mechanics.equilibrium import Setting, set_up
from lengthwise.mechanics.measures import carried_body_kg, moved_body_kg
from lengthwise.mechanics.profile import RangeName, Request, part_of, phase_of, share_used, within_reach
from lengthwise.mechanics.working_load import one_rm_kg

N_POS = 21
MOVES_DEG = 20.0
"""An angle that changes by less over the lifting phase does not count as a joint that works; estimate."""
BY_ANKLE = frozenset({"ankle"})
_JOINT = {"scapula": "shoulder", "forearm": "wrist", "subtalar": "ankle"}


@dataclass(frozen=True)
class LiftStrength:
    """What a body can lift.

    Attributes:
        largest_kg: what can be lifted once (1RM), as a profile tells it [kg]; below 0 where the body alone is too heavy.
        moved_kg: body mass that counts to the resistance [kg]: of body-weight lifts, and of lifts by the ankle alone, in which the body is most of
            it. In squats and hinges the equations of the 1RM were found with the load of the bar alone.
        joints: that turn over the lifting phase.
        slope: ∂ ln(largest + moved)/∂ ln(strength) of each muscle group, (n_group,), in the order of `groups()`.
    """

    largest_kg: float
    moved_kg: float
    slope: Array
    joints: frozenset[str]

    @property
    def total_kg(self) -> float:
        """The whole resistance, moved body included [kg]."""
        return self.largest_kg + self.moved_kg


def groups() -> tuple[str, ...]:
    """Every muscle group whose strength can be scaled."""
    return tuple(sorted({line.group for line in anatomy.lines().values()}))


@dataclass(frozen=True)
class Posed:
    """A lift set up for a body: the matrices, the body mass moved instead of a load and with one [kg], and the joints that turn."""

    setting: Setting
    moved_kg: float
    carried_kg: float
    joints: frozenset[str]


def pose(
    body: Body, lift: Lift, part: RangeName = "full", setup: Mapping[str, float] = MappingProxyType({}), n_pos: int = N_POS
) -> Posed:
    """A lift set up for a body.

    Raises:
        NoSolutionError: the body cannot take the lift's positions.
    """
    asked = Request(range=part, setup=setup, n_pos=n_pos)
    try:
        setting = _setting(body, lift, asked)
    except NoSolutionError:
        setting = _setting(body, lift, within_reach(body, lift, asked))
    moved, joints = moved_body_kg(setting), _working_joints(body, setting.path.q)
    return Posed(setting, moved, carried_body_kg(setting) if not moved and joints == BY_ANKLE else 0.0, joints)


def _setting(body: Body, lift: Lift, asked: Request) -> Setting:
    return set_up(body, lift, phase_of(lift, asked), asked.setup, part_of(lift, asked))


def strength_of(posed: Posed, factor: Array | None = None) -> LiftStrength:
    """What can be lifted once.

    Args:
        factor: how many times as strong each group's active force is than the body's, (n_group,); passive forces stay.

    Raises:
        NoSolutionError: the body cannot hold the lift's positions.
    """
    setting = posed.setting
    of_line = np.array(setting.body.lines.groups)[setting.lines]
    balance = setting.balance
    if factor is not None:
        stronger = dict(zip(groups(), factor, strict=True))
        balance = replace(balance, muscle=balance.muscle * np.array([stronger[g] for g in of_line]))
    able = capacity(balance, setting.coordinates)
    used = share_used(setting.lift)
    weakest = int(np.argmin(able.load_kg))
    held = used * float(able.load_kg[weakest])
    slope_kg = used * able.slope_kg[weakest]
    moved_kg = posed.moved_kg + posed.carried_kg
    slope = np.array([slope_kg[of_line == g].sum() for g in groups()]) / max(held + moved_kg, 1e-9)
    skill = lifting_skill(setting.body.person, setting.lift.practised)
    return LiftStrength(one_rm_kg(held, posed.moved_kg, skill), moved_kg, slope, posed.joints)


def lift_strength(body: Body, lift: Lift, part: RangeName = "full") -> LiftStrength:
    """The largest load of a lift for this body; kept, since a week changed by hand asks for the same lifts again and again.

    Raises:
        NoSolutionError: the body cannot take or hold the lift's positions.
    """
    found = _found(_Asked(body.person, _table(_Same(lift)), part, body, lift))
    if isinstance(found, NoSolutionError):
        raise found.with_traceback(None)
    return found


@dataclass(frozen=True)
class _Asked:
    """A lift on a body by what decides the answer: the person, the lift's own table and the part of its range."""

    person: Person
    table: str
    part: RangeName
    body: Body = field(compare=False)
    lift: Lift = field(compare=False)


class _Same:
    """A lift as the object that it is: frozen, so that its table need not be written again to know it."""

    def __init__(self, lift: Lift) -> None:
        self.lift = lift

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and self.lift is other.lift

    def __hash__(self) -> int:
        return id(self.lift)


@lru_cache(maxsize=2048)
def _table(same: _Same) -> str:
    return same.lift.model_dump_json(warnings=False)


@lru_cache(maxsize=2048)
def _found(asked: _Asked) -> LiftStrength | NoSolutionError:
    try:
        return strength_of(pose(asked.body, asked.lift, asked.part))
    except NoSolutionError as error:
        return error


def _working_joints(body: Body, q: Array) -> frozenset[str]:
    moving = {angle for angle, values in clinical(body, q).items() if np.ptp(values) >= MOVES_DEG}
    stems = {angle.split("_")[0] for angle in moving} - {"pelvis"}
    return frozenset(_JOINT.get(stem, stem) for stem in stems)
