"""How strong a client is in a lift: from its known set, or from the body calibrated to others."""

from dataclasses import dataclass
from math import inf
from typing import Literal

from lengthwise.body.model import body_of
from lengthwise.errors import NoSolutionError
from lengthwise.lifts.definition import Lift
from lengthwise.training.calibration import TRANSFER_SD, Calibration
from lengthwise.training.client import Client, KnownLift, RelatedLift
from lengthwise.training.known import counts_body, known_of, total_one_rm_kg
from lengthwise.training.lift_strength import lift_strength

Variant = Literal["full", "long", "short", "mixed"]
Source = Literal["known", "known, other range", "a related lift", "model", "nothing"]
KNOWN_SD = 0.05
"""Error of a known 1RM from day to day [ln]: 4.2 % (V096), rounded up."""
VAGUE_SD = 1.0
"""From this error on [ln], a factor of almost three either way, a predicted load is none (own choice): a body that hardly rises without a load
tells of nothing that it could hold besides."""


@dataclass(frozen=True, kw_only=True)
class Ability:
    """How strong the client is in this lift and range, as whole resistance with the moved body included [kg].

    Attributes:
        one_rm_kg: largest. moved_kg: body mass in it. sd: standard error of its logarithm. source: known set, one of a near relative, model, or nothing.
        joints: that work.
    """

    one_rm_kg: float | None
    moved_kg: float
    sd: float
    source: Source
    joints: int
    known: KnownLift | None = None


def ability(client: Client, lift_id: str, lift: Lift, part: Variant, calibration: Calibration | None) -> Ability:
    """How strong the client is in a lift: from its known set, or from the calibrated body."""
    known = known_of(client.known_lifts, lift_id, lift)
    body = body_of(calibration.person if calibration else client.person)
    try:
        full = lift_strength(body, lift)
        asked = lift_strength(body, lift, part) if part in ("long", "short") else full
    except NoSolutionError:
        return _unmodelled(lift, part, known)
    if known is not None:
        related = isinstance(known, RelatedLift)
        error = TRANSFER_SD if related else KNOWN_SD if part in ("full", "mixed") else TRANSFER_SD / 2
        scale = asked.total_kg / full.total_kg if full.total_kg > 0 else 1.0
        total = total_one_rm_kg(known, asked.moved_kg) * scale
        source: Source = "a related lift" if related else "known" if asked is full else "known, other range"
        if total > 0 or not lift_has_kilograms(lift):
            return Ability(one_rm_kg=total, moved_kg=asked.moved_kg, sd=error, source=source, joints=len(asked.joints), known=known)
    joints, able = len(asked.joints), calibration is not None and asked.total_kg > 0 and lift_has_kilograms(lift)
    sd = calibration.load_sd(asked, lift) if calibration is not None and able else inf
    if sd > VAGUE_SD:
        return Ability(one_rm_kg=None, moved_kg=asked.moved_kg, sd=0.0, source="nothing", joints=joints)
    return Ability(one_rm_kg=asked.total_kg, moved_kg=asked.moved_kg, sd=sd, source="model", joints=joints)


def lift_has_kilograms(lift: Lift) -> bool:
    """Whether a coach can read the load; bands are pulled, not weighed."""
    return lift.gear != "band"


def _unmodelled(lift: Lift, part: Variant, known: KnownLift | None) -> Ability:
    """A known set of a lift that the body cannot do in the model; without one nothing is known."""
    total = 0.0 if known is None else total_one_rm_kg(known, 0.0)
    lifted = total > 0 or not lift_has_kilograms(lift)
    if known is None or counts_body(lift) or part not in ("full", "mixed") or not lifted:
        return Ability(one_rm_kg=None, moved_kg=0.0, sd=0.0, source="nothing", joints=2)
    return Ability(one_rm_kg=total, moved_kg=0.0, sd=KNOWN_SD, source="known", joints=2, known=known)
