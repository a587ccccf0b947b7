"""What the sets of a day say about strength: the one that says most."""

from datetime import date, timedelta

from lengthwise.training.client import FreeLift, KnownLift
from lengthwise.training.log import LoggedSet
from lengthwise.training.one_rm import factor

LOOK_BACK = timedelta(weeks=8)
"""Older sets say little about today's strength (own choice)."""


MOST_REPETITIONS, MOST_RESERVE = 50, 10
"""What a record can say of a set (`KnownLift`)."""


NEAR = 2
"""What is left in reserve is judged well near failure only: such sets of a day hold before those further off (own choice)."""


def shown_by(day: date, sets: list[LoggedSet]) -> KnownLift | None:
    """The set of a day that says most. A lift that was done is known, however many repetitions it had."""
    done = [s for s in sets if s.repetitions >= 1]
    telling = [s for s in done if (s.reserve or 0) <= NEAR] or done
    if not telling:
        return None
    best = max(telling, key=lambda s: (s.load_kg * factor(_possible(s)), s.load_kg, _possible(s)))
    repetitions, reserve = min(best.repetitions, MOST_REPETITIONS), min(best.reserve or 0, MOST_RESERVE)
    return FreeLift(lift=best.lift, load_kg=best.load_kg, repetitions=repetitions, reserve=reserve, day=day)


def _possible(one: LoggedSet) -> float:
    return min(one.repetitions, MOST_REPETITIONS) + min(one.reserve or 0, MOST_RESERVE)
