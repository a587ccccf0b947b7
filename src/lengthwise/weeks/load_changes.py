"""Loads that differ clearly from those of the week before: a coach looks for them where the changes of the week stand."""

from lengthwise.known.lifts import all_lifts
from lengthwise.planning.week import PlannedLift, Week, WeekChange
from lengthwise.quantities import planned_load
from lengthwise.records.past import Past
from lengthwise.training.client import Client, ReturningLift
from lengthwise.training.joint_use import loads_joint
from lengthwise.training.record_words import joint_told

MUCH = 0.1
"""A load that rises by no more than this is a usual step, which the line itself tells (own choice)."""


def load_changes(before: Week, week: Week, client: Client, past: Past) -> tuple[WeekChange, ...]:
    """Lifts of both weeks whose heaviest line is lighter than it was, or heavier by more than a usual step, and why."""
    was, now = _heaviest(before), _heaviest(week)
    both = [(was[i], x) for i, x in now.items() if i in was]
    return tuple(_told(old, x, client, past) for old, x in both if _differs(old.load_kg, x.load_kg))


def _heaviest(week: Week) -> dict[tuple[str, str], PlannedLift]:
    lines = [x for d in week.days for x in d.lifts if x.load_kg is not None]
    return {(x.lift, x.range): x for x in sorted(lines, key=lambda x: x.load_kg or 0.0)}


def _differs(was: float | None, now: float | None) -> bool:
    if was is None or now is None:
        return False
    return now < was or now > was + MUCH * abs(was)


def _told(old: PlannedLift, new: PlannedLift, client: Client, past: Past) -> WeekChange:
    was, now = (planned_load(x.load_kg, x.gear, client.mass_unit, False, x.each) for x in (old, new))
    return WeekChange(f"{new.name}: {now} instead of {was}", _why(new, past))


def _why(lift: PlannedLift, past: Past) -> str:
    if joint := past.joint(lift.lift):
        return f"the {joint_told(joint)} hurt when it was last done"
    if back := next((k for k in past.known if k.lift == lift.lift and isinstance(k, ReturningLift)), None):
        return f"a step on the way back since the {joint_told(back.hurt_before)} hurt"
    if lift.gentle:
        return "easy sets, since it works a joint that hurts"
    if past.went_on(lift.lift):
        return "by what was logged since"
    own = all_lifts().lifts[lift.lift], all_lifts().family[lift.lift]
    hurt = [joint_told(j) for j in past.sore if loads_joint(j, lift.lift, *own)]
    return f"it works the {' and '.join(hurt)}, which hurt lately" if hurt else ""
