"""The line of a week that a lift was promised, and the sets done since."""

from dataclasses import dataclass

from lengthwise.training.log import LoggedSet


@dataclass(frozen=True, kw_only=True)
class Promise:
    """A planned line of a lift: load [kg], least and most repetitions, repetitions left, and sets."""

    load_kg: float
    repetitions: tuple[int, int]
    reserve: float
    sets: int = 1


@dataclass(frozen=True)
class Trail:
    """What a lift was promised, where a week is kept, and the sets done since by day, oldest first, none of which hurt."""

    promise: Promise | None
    days: tuple[tuple[LoggedSet, ...], ...] = ()
