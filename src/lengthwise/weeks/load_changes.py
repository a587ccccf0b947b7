"""Loads that differ clearly from those of the week before: a coach looks for them where the changes of the week stand."""

from lengthwise.known.lifts import all_lifts
from lengthwise.planning.week import PlannedLift, Week, WeekChange
from lengthwise.quantities import planned_load
from lengthwise.records.past import Past
from lengthwise.training.client import Client, FreeLift, PromisedLift, ReturningLift
from lengthwise.training.joint_use import loads_joint
from lengthwise.training.record_words import JointName, joint_told
from lengthwise.training.sore import leaves_alone

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
    less = (new.load_kg or 0.0) < (old.load_kg or 0.0)
    return WeekChange(f"{new.name}: {now} instead of {was}", _lighter(old, new, client, past) if less else _why(new, past))


def _lighter(old: PlannedLift, lift: PlannedLift, client: Client, past: Past) -> str:
    """Why a load fell: for the sake of a joint, unless the lift was logged since it hurt and leaves no more than before."""
    known = next((k for k in past.known if k.lift == lift.lift and isinstance(k, FreeLift)), None)
    near = known is None or known.hurt_since or (isinstance(known, PromisedLift) and known.hurt_near)
    joints = _joints(lift.lift, client) if near or lift.reserve > old.reserve or not past.went_on(lift.lift) else []
    if past.joint(lift.lift) or isinstance(known, ReturningLift) or not joints:
        return _why(lift, past)
    told, lately = " and ".join(map(joint_told, joints)), any(j in past.sore for j in joints)
    return f"{'easy sets for' if lift.gentle else 'for'} the sake of the {told}, which {'hurt lately' if lately else 'is sore'}"


def _joints(lift_id: str, client: Client) -> list[JointName]:
    """The sore joints that a lift works, else those that carry its load."""
    lift, family = all_lifts().lifts[lift_id], all_lifts().family[lift_id]
    able = [j for j in client.sore_joints if not leaves_alone(client, j, family)]
    return [j for j in able if loads_joint(j, lift_id, lift, family)] or able


def _why(lift: PlannedLift, past: Past) -> str:
    if joint := past.joint(lift.lift):
        return f"the {joint_told(joint)} hurt when it was last done"
    if back := next((k for k in past.known if k.lift == lift.lift and isinstance(k, ReturningLift)), None):
        step = "not done since it hurt, so it begins below its old load" if back.done_kg is None else "a step on its way back"
        return f"{joint_told(back.hurt_before)}: {step}"
    if taken := next((s.lift for s in past.away if s.to == lift.lift), None):
        return f"it takes the place of {all_lifts().lifts[taken].name}"
    return "by what was logged since" if past.went_on(lift.lift) else "by the record and the log as they are now"
