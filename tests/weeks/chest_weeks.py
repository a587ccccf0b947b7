"""Invented weeks for the chest: a lift as the planner sees it, an offer of some, and a week that was kept."""

from lengthwise.known.lifts import all_lifts
from lengthwise.planning.question import Muscle
from lengthwise.planning.week import Choice, PlannedDay, PlannedLift, Week
from lengthwise.practice.week_lifts import practice
from lengthwise.weeks.week_choices import Offer

CHEST = Muscle(name="chest", share={"pectoralis_major_sternal": 1.0}, priority=1.0, low=8, high=16)


def choice(lift_id, **joints):
    """A lift as the planner sees it, with moments at joints [N·m]."""
    lift = all_lifts().lifts[lift_id]
    return Choice(
        lift=lift_id, range="full", name=lift.name, gear=lift.gear, value={"chest": 1.0}, fraction=dict.fromkeys(lift.targets, 1.0), setup_s=60.0,
        set_s=40.0, rest_s=120.0, joint_nm=joints, systemic=0.3, practice=practice(lift_id),
    )  # fmt: skip


def offer(*choices):
    return Offer(choices=choices, muscles=(CHEST,), days=(), out={}, measure=None)


def week(**sets):
    lifts = tuple(PlannedLift(lift=i, range="full", name=i, sets=n, repetitions=(8, 12), reserve=2.0) for i, n in sets.items())
    return Week(days=(PlannedDay("monday", "gym", 60.0, lifts),), weekly_sets={}, muscle_sets={}, value=0.0, gap=0.0)
