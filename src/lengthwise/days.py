"""Which week a day belongs to, and days as of which a log is read."""

from datetime import date, timedelta

from lengthwise.errors import InputError
from lengthwise.reading import checked_day

SUNDAY = 6


def monday_of(day: date) -> date:
    """The Monday of a day's week."""
    return day - timedelta(days=day.weekday())


def monday_meant(day: date | None) -> date:
    """The Monday of a day's week; of this week where none is named.

    Raises:
        InputError: a day that nothing can be about.
    """
    return monday_of(checked_day(day or date.today()))


def monday_to_open(today: date, sunday_trained: bool = False) -> date:
    """The Monday of the week that a coach looks at: of the week to come on a Sunday without training, when this one is over."""
    return monday_of(today + timedelta(days=1) if today.weekday() == SUNDAY and not sunday_trained else today)


def day_so_far(on: date | None) -> date:
    """The day as of which something is read; today where none is named.

    Raises:
        InputError: a day to come, or one that nothing can be about.
    """
    today = date.today()
    if on is not None and on > today:
        raise InputError(f"{on} is in the future; allowed days up to {today}", asked=str(on))
    return checked_day(on or today)
