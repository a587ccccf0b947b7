"""What a client's record asks of every lift: gear and stations that are there, and sore joints that are spared."""

from dataclasses import replace

from lengthwise.grading.facts import LiftFacts
from lengthwise.grading.filters import LiftWishes
from lengthwise.grading.ranking import RankedLift
from lengthwise.grading.studied_lift import Refused, Studied
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.left_out import left_out
from lengthwise.practice.borne import Borne, borne, spared_nm
from lengthwise.practice.joint_caps import usual_nm
from lengthwise.practice.sore_choices import TOO_MUCH
from lengthwise.quantities import percent
from lengthwise.training.client import Client
from lengthwise.training.joint_use import joints_loaded
from lengthwise.training.sore import severity, spoiled
from lengthwise.weeks.week_candidates import absent_for

REFUSED = "the record refuses it"


def allowed_by(record: Client, wishes: LiftWishes) -> tuple[LiftWishes, dict[str, str]]:
    """The wishes with the record's own beside them, and the lifts that it leaves out, each with the reason.

    Gear that is named takes the place of what the record has, and a moment that of the joint's. Sore joints are spared by position;
    by moment only where the record names one or the joint is severely sore; `spared` says what a week leaves of the others.
    """
    lifts = all_lifts()
    family = lifts.family
    sore = {i: reason for i, lift in lifts.lifts.items() if (reason := spoiled(record, i, lift, family[i]))}
    waits = {i: reason for i, lift in lifts.lifts.items() if (reason := left_out(record, i, lift, family[i]))}
    named = {j for j, most in record.sore_joints.items() if most is not None or severity(record, j) == "severe"}
    limits: dict[str, float] = {j: most for j, most in spared_nm(record).items() if j in named}
    refused = {lifts.find(name): REFUSED for name in record.wishes.refused}
    out = refused | sore | waits if wishes.gear else refused | sore | waits | absent_for(record)
    return replace(wishes, spare_nm={**limits, **wishes.spare_nm}), out


def spared(record: Client, found: Studied | Refused) -> Studied | Refused:
    """A lift as it was studied; refused where a sore joint leaves weeks nothing of it (`borne`)."""
    if isinstance(found, Refused) or _borne(record, found.facts).stays:
        return found
    return Refused(found.facts.key, found.facts.name, TOO_MUCH)


def kept_lighter(record: Client, lift: RankedLift) -> RankedLift:
    """A ranked lift that says with which part of its load a sore joint keeps it."""
    part, i = _borne(record, lift.facts).part, lift.facts.lift_id
    if part == 1:
        return lift
    joints = joints_loaded(record, i, all_lifts().lifts[i], all_lifts().family[i])
    return replace(lift, why=f"{lift.why} For the sore {joints}: {percent(part)} of the usual load at most.")


def _borne(record: Client, facts: LiftFacts) -> Borne:
    return borne(record, facts.lift_id, all_lifts().family[facts.lift_id], usual_nm(record, facts))
