"""What an accepted proposal asks of one week alone: a lighter week, another reserve, another part of the range."""

from collections.abc import Sequence
from dataclasses import replace

from lengthwise.planning.week import PlannedLift, Week
from lengthwise.training.proposal import Change


def changed_week(week: Week, changes: Sequence[Change]) -> Week:
    """The week with each lift's reserve, range and sets as accepted; counted sets follow where all sets shrink alike.

    A lighter week keeps at least one set of each lift. Loads of a lift in a new range are left open: they are not comparable.
    """
    days = tuple(replace(d, lifts=tuple(_changed(x, changes) for x in d.lifts)) for d in week.days)
    before, after = (sum(x.sets for d in w for x in d.lifts) for w in (week.days, days))
    part = after / before if before else 1.0
    heads, muscles = ({k: n * part for k, n in counted.items()} for counted in (week.weekly_sets, week.muscle_sets))
    return replace(week, days=days, weekly_sets=heads, muscle_sets=muscles)


def _changed(planned: PlannedLift, changes: Sequence[Change]) -> PlannedLift:
    for change in changes:
        if change.share < 1:
            planned = replace(planned, sets=max(1, round(planned.sets * change.share)))
        if change.lift is not None and (planned.lift, planned.range) == change.lift:
            if change.reserve is not None:
                planned = replace(planned, reserve=change.reserve)
            if change.to is not None and change.to[0] == planned.lift:
                planned = replace(planned, range=change.to[1], load_kg=None, guess=True)
    return planned
