"""What was done and measured: sets of a session, body measurements, readiness."""

import re
from dataclasses import dataclass, field
from datetime import date
from typing import ClassVar, Literal

from lengthwise.ranges import RangeName
from lengthwise.training.measure_kinds import MEASURES, MeasureKind

BAND = re.compile(r"(?:[^\W\d_]+[ -]){0,2}band", re.IGNORECASE)
"""A band by what people call it: band, red band, dark green band."""
THEN = "; "
"""Stands between the band of a set and what else is noted of it."""


def noted(band: str, note: str) -> str:
    """What is noted of a set: its band first, which has no kilograms."""
    return THEN.join(filter(None, (band, note)))


@dataclass(frozen=True, kw_only=True)
class LoggedSet:
    """One set as it was done.

    Attributes:
        lift: id. load_kg: as used in the lift's own terms (one dumbbell, added load for body weight).
        repetitions: done. reserve: repetitions left at the end, where judged. range: part of the lifting phase.
        pain: joints that hurt, by name when read from the store. note: free words. warm_up: whether it was one.
        number: by which the store knows it; does not count when sets are compared.
    """

    lift: str
    load_kg: float
    repetitions: int
    reserve: float | None = None
    range: RangeName = "full"
    pain: tuple[str, ...] = ()
    note: str = ""
    warm_up: bool = False
    number: int | None = field(default=None, compare=False)

    @property
    def band(self) -> str:
        """The band that it was done with, as its note begins; empty where none is named."""
        first = self.note.partition(THEN)[0].strip()
        return first if BAND.fullmatch(first) else ""


@dataclass(frozen=True, kw_only=True)
class Session:
    """One visit: its day, sets in order, readiness (1 poor to 5 very good, where asked) and minutes; `number` is the store's."""

    PUBLIC: ClassVar = "number day minutes readiness note sets"
    day: date
    sets: tuple[LoggedSet, ...]
    readiness: int | None = None
    minutes: float | None = None
    note: str = ""
    number: int | None = field(default=None, compare=False)


@dataclass(frozen=True, kw_only=True)
class Measurement:
    """A body measurement; repeats of one day are kept apart, since their spread is the error.

    Attributes:
        day: when. kind: what was used. site: where on the body, such as upper_arm; empty for mass. side: where it matters.
        values: one or more readings in the kind's unit; none for a photo. reference: where a photo lies.
        number: by which the store knows it.
    """

    PUBLIC: ClassVar = "number day kind site side values unit reference note"
    day: date
    kind: MeasureKind
    site: str = ""
    side: Literal["right", "left", ""] = ""
    values: tuple[float, ...] = ()
    reference: str = ""
    note: str = ""
    number: int | None = field(default=None, compare=False)

    @property
    def unit(self) -> str:
        """Of its readings."""
        return MEASURES[self.kind].unit

    def shown(self, mass: str, length: str) -> tuple[list[float], str]:
        """Its readings for somebody who reads masses and lengths in these units, and the unit that they are in."""
        unit, size = MEASURES[self.kind].shown(mass, length)
        return [value / size for value in self.values], unit


@dataclass(frozen=True)
class DatedSet:
    """A set with its day."""

    day: date
    done: LoggedSet
