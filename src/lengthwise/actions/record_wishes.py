"""What a client's record asks of every lift: gear and stations that are there, and sore joints that are spared."""

from dataclasses import replace

from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.sore_choices import spared_nm
from lengthwise.actions.week_lifts import absent_for
from lengthwise.grading.filters import LiftWishes
from lengthwise.training.client import Client
from lengthwise.training.sore import severity, spoiled


def allowed_by(record: Client, wishes: LiftWishes) -> tuple[LiftWishes, dict[str, str]]:
    """The wishes with the record's own beside them, and the lifts that it leaves out, each with the reason.

    Gear that is named takes the place of what the record has, and a moment that of the joint's. Sore joints are spared by position;
    by moment only where the record names one or the joint is severely sore, since a week lightens the load of the others instead.
    """
    lifts = all_lifts()
    sore = {i: reason for i, lift in lifts.lifts.items() if (reason := spoiled(record, i, lift, lifts.family[i]))}
    named = {j for j, most in record.sore_joints.items() if most is not None or severity(record, j) == "severe"}
    limits: dict[str, float] = {j: most for j, most in spared_nm(record).items() if j in named}
    out = sore if wishes.gear else sore | absent_for(record)
    return replace(wishes, spare_nm={**limits, **wishes.spare_nm}), out
