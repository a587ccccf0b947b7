"""Which week a day belongs to."""

from datetime import date

from lengthwise.storage import weeks


def monday_of(day: date | None) -> date:
    """The Monday of a day's week; of this week where none is named."""
    return weeks.monday_of(day or date.today())
