"""The line of a week that a lift was promised, and the sets done since."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from lengthwise.training.log import LoggedSet


@dataclass(frozen=True, kw_only=True)
class Promise:
    """A planned line of a lift: load [kg], least and most repetitions, repetitions left, sets, the fewest repetitions that suit the lift, and whether
    nobody has lifted the load yet.
    """

    load_kg: float
    repetitions: tuple[int, int]
    reserve: float
    sets: int = 1
    fewest: int = 1
    guess: bool = False


@dataclass(frozen=True)
class KeptLine:
    """What a line of a kept week promises, the first day on which it may have been followed, and its days of the week."""

    promise: Promise
    since: date
    on: frozenset[str] = frozenset()


def line_of(lines: Sequence[KeptLine], sets: Sequence[LoggedSet]) -> KeptLine:
    """Which of a lift's lines a visit followed: the nearest in load, of equal ones in repetitions."""
    top = max(sets, key=lambda s: s.load_kg)
    return min(lines, key=lambda k: (abs(k.promise.load_kg - top.load_kg), abs(sum(k.promise.repetitions) / 2 - top.repetitions)))


@dataclass(frozen=True, kw_only=True)
class Trail:
    """What a lift was promised, where a week is kept, and the sets done since by day, oldest first, and on the visit before: none of them hurt.

    Attributes:
        bad: sets of the last visit, where the day was bad as a whole: it lowers nothing, and nothing goes up before the next.
        on: days of the week whose line it is. others: of lines with another range, where a lift has a heavy and a light day.
    """

    promise: Promise | None
    days: tuple[tuple[LoggedSet, ...], ...] = ()
    before: tuple[LoggedSet, ...] = ()
    bad: tuple[LoggedSet, ...] = ()
    on: frozenset[str] = frozenset()
    others: tuple["Trail", ...] = ()

    def at(self, day: str | None) -> "Trail":
        """The trail of a day's own line; this one where the day has none of its own."""
        return next((t for t in self.others if day in t.on), self)

    @property
    def is_followed(self) -> bool:
        """Whether a line was kept and something was done since."""
        return any(t.promise is not None and t.days for t in (self, *self.others))
