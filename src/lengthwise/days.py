"""Which week a day belongs to, and days as of which a log is read."""

from datetime import date, timedelta

from lengthwise.errors import InputError
from lengthwise.reading import checked_day


def monday_of(day: date) -> date:
    """The Monday of a day's week."""
    return day - timedelta(days=day.weekday())


def monday_meant(day: date | None) -> date:
    """The Monday of a day's week; of this week where none is named.

    Raises:
        InputError: a day that nothing can be about.
    """
    return monday_of(checked_day(day or date.today()))


def day_so_far(on: date | None) -> date:
    """The day as of which something is read; today where none is named.

    Raises:
        InputError: a day to come, or one that nothing can be about.
    """
    today = date.today()
    if on is not None and on > today:
        raise InputError(f"{on} is still to come; allowed days up to {today}", asked=str(on))
    return checked_day(on or today)
