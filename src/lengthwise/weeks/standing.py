"""A kept week as it stands today: lifts that were done since have the load that their sets have earned, and days that are done say so."""

from dataclasses import replace

from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.practice.beginning import starts_easy
from lengthwise.practice.loading import Loading
from lengthwise.practice.week_loads import loaded
from lengthwise.records.past import Past
from lengthwise.training.client import Client
from lengthwise.weeks.clients import lighter_of
from lengthwise.weeks.done_days import with_done


def as_it_stands(client: Client, week: Week, past: Past) -> Week:
    """The week with the lines of lifts that went on since it was kept loaded anew, and what was done on its days; every other line as it was."""

    def now(day: PlannedDay, x: PlannedLift) -> PlannedLift:
        if x.gentle or x.range != "full" or x.load_kg is None or not past.went_on(x.lift):
            return x
        known = past.of(client)
        return loaded(x, Loading(known, past.today(client), starts_easy(client), lighter_of(known, x.lift)), day.place, day.day)

    days = tuple(replace(d, lifts=tuple(now(d, x) for x in d.lifts)) for d in week.days)
    return with_done(replace(week, days=days), past.visits, client)
