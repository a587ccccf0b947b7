"""The line of a week that a lift was promised, and the sets done since."""

from dataclasses import dataclass
from datetime import date

from lengthwise.training.log import LoggedSet


@dataclass(frozen=True, kw_only=True)
class Promise:
    """A planned line of a lift: load [kg], least and most repetitions, repetitions left, sets, and the fewest repetitions that suit the lift."""

    load_kg: float
    repetitions: tuple[int, int]
    reserve: float
    sets: int = 1
    fewest: int = 1


@dataclass(frozen=True)
class KeptLine:
    """What a line of a kept week promises, the first day on which it may have been followed, and whether its load is a guess."""

    promise: Promise
    since: date
    guess: bool = False


@dataclass(frozen=True)
class Trail:
    """What a lift was promised, where a week is kept, and the sets done since by day, oldest first, and on the visit before: none of them hurt."""

    promise: Promise | None
    days: tuple[tuple[LoggedSet, ...], ...] = ()
    before: tuple[LoggedSet, ...] = ()
