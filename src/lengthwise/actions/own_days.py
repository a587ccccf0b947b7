"""A lift that the client does heavy on one day and light on another stays so: each day goes on from its own set."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.loading import Loading
from lengthwise.actions.logged_week import on_days
from lengthwise.actions.past import shown_by
from lengthwise.actions.week_loads import loaded
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.training.client import Client, KnownLift, PromisedLift
from lengthwise.training.known import is_called
from lengthwise.training.log import LoggedSet, Session

APART = 0.05
"""Two days of one lift whose loads differ by this part of the heavier are a heavy and a light day (common practice, no source)."""
Shown = Mapping[str, Mapping[str, KnownLift]]


def by_own_days(week: Week, how: Loading, sessions: Sequence[Session], client: Client) -> Week:
    """The week with the loads and repetitions of lifts that have a heavy and a light day, each from the set of its own day; where a kept
    week has a line for each, these go on (training/promise.py).

    Args:
        sessions: the visits of the last whole week of the log.
    """
    lined = {k.lift for k in how.client.known_lifts if isinstance(k, PromisedLift) and k.trail.others}
    apart = {i: days for i, days in _shown(sessions, client).items() if i not in lined and _are_apart(days)}
    if not apart:
        return week

    def own(day: PlannedDay, x: PlannedLift) -> PlannedLift:
        known = apart.get(x.lift, {}).get(day.day)
        return x if known is None or x.gentle or x.range != "full" else loaded(x, _as_on(how, known), day.place)

    return replace(week, days=tuple(replace(d, lifts=tuple(own(d, x) for x in d.lifts)) for d in week.days))


def _shown(sessions: Sequence[Session], client: Client) -> Shown:
    """Of each lift the set that says most about it on each of the client's days."""
    out: dict[str, dict[str, KnownLift]] = defaultdict(dict)
    for day, session in on_days(sessions, client):
        sets: dict[str, list[LoggedSet]] = defaultdict(list)
        for s in session.sets:
            if not (s.warm_up or s.pain) and s.range == "full" and s.lift in all_lifts().lifts:
                sets[s.lift].append(s)
        for lift, done in sets.items():
            if (known := shown_by(session.day, done)) is not None:
                out[lift][day] = known
    return out


def _are_apart(days: Mapping[str, KnownLift]) -> bool:
    """Whether a lift has a heavy day and a light one of more repetitions."""
    heavy, light = (f(days.values(), key=lambda k: k.load_kg) for f in (max, min))
    return heavy.load_kg - light.load_kg >= APART * heavy.load_kg and light.repetitions > heavy.repetitions


def _as_on(how: Loading, known: KnownLift) -> Loading:
    """The way to load a week as if a lift had been done on one day alone."""
    lift = all_lifts().lifts[known.lift]
    others = tuple(k for k in how.client.known_lifts if not is_called(known.lift, lift, k.lift))
    return replace(how, client=how.client.model_copy(update={"known_lifts": (*others, known)}))
