"""What weeks without lifting leave of the strength that a set shows, and when somebody comes back from a long lay-off.

Common practice, no source: the published losses at hand are of muscle size, in older adults after 12 to 52 weeks (claim `detraining`); they
say which way it goes and not how many kilograms.
"""

from bisect import bisect_right
from collections.abc import Collection, Iterable
from datetime import date, timedelta
from itertools import pairwise

from lengthwise.training.client import AgedLift, Client, KnownLift

LEFT = ((4.0, 1.0), (8.0, 0.95), (13.0, 0.85), (26.0, 0.72))
"""Weeks without lifting, and the part of the strength that is still counted on; straight between them, level outside (common practice)."""
LONG_WEEKS = 8
"""From so many weeks on a lay-off is long: the first week back is an easy one (common practice, no source)."""
BACK_WEEKS = 8
"""A stretch without lifting that ended so long ago is trained back: what was lost comes back faster than it came (common practice)."""
SPARED = timedelta(weeks=52)
"""So old a set may be where nothing is logged and the screening says active for three months: then an old day is no lay-off (own choice)."""
UNDATED = "Known sets without a date count as done today ({}): enter the date of each under Known lifts."


def left_after(weeks: float) -> float:
    """The part of the strength that is counted on after so many weeks without lifting."""
    k = bisect_right([w for w, _ in LEFT], weeks)
    if k in (0, len(LEFT)):
        return LEFT[min(k, len(LEFT) - 1)][1]
    (w0, p0), (w1, p1) = LEFT[k - 1 : k + 1]
    return round(p0 + (weeks - w0) / (w1 - w0) * (p1 - p0), 2)


def weeks_without(trained: Iterable[date], since: date, today: date) -> int:
    """The most whole weeks in a row without lifting, from a day until today; stretches that were trained back since are left out.

    Args:
        trained: days with lifting, in any order; those outside are left out.
    """
    days = sorted({since, *(d for d in trained if since < d <= today), max(today, since)})
    lately = today - timedelta(weeks=BACK_WEEKS)
    return max(((b - a).days // 7 for a, b in pairwise(days) if b > lately), default=0)


def active(client: Client, trained: Collection[date]) -> bool:
    """Whether no log says otherwise and the screening says that somebody has been active for three months."""
    return not trained and client.screening is not None and client.screening.active_now


def aged(
    known: Iterable[KnownLift], trained: Iterable[date], today: date, spared: timedelta = timedelta(0)
) -> tuple[KnownLift, ...]:
    """Known sets, those from before weeks without lifting with what is left of them; those without a day, and those no older than `spared`, as
    they are.

    Args:
        trained: days of the log; those of the sets count too.
    """
    sets, days = tuple(known), set(trained)
    days |= {k.day for k in sets if k.day}
    return tuple(
        _aged(k, weeks_without(days, k.day, today)) if type(k) is KnownLift and k.day and today - k.day > spared else k
        for k in sets
    )


def _aged(known: KnownLift, weeks: int) -> KnownLift:
    part = left_after(weeks)
    return known if part == 1 else AgedLift(**dict(known), kept=part)


def comes_back(client: Client, trained: Collection[date], today: date) -> bool:
    """Whether the next week is the first after a long lay-off: nothing dated for LONG_WEEKS, or, where no day says anything, somebody who
    has lifted before and is not active by the screening. Never where nothing is logged and the screening says active.
    """
    if active(client, trained):
        return False
    days = [*trained, *(k.day for k in client.known_lifts if k.day)]
    if days:
        return weeks_without((), max(days), today) >= LONG_WEEKS
    lifted = client.training != "untrained" and (client.training_years > 0 or bool(client.known_lifts))
    return client.screening is not None and not client.screening.active_now and lifted


def how_old(day: date, today: date) -> str:
    """The age of a set in words: "from March, 9 months old", with the year where it is another one."""
    months = round((today - day).days / 30.44)
    when = f"{day:%B}" if day.year == today.year else f"{day:%B %Y}"
    age = (
        f"{max((today - day).days // 7, 1)} weeks" if months < 2 else f"{months} months" if months < 24 else f"{months // 12} years"
    )
    return f"from {when}, {age} old"
