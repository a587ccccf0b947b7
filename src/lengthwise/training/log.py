"""What was done and measured: sets of a session, body measurements, readiness."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from lengthwise.mechanics.profile import RangeName

MeasureKind = Literal["mass", "girth", "skinfold", "ultrasound_thickness", "photo"]
UNIT = {"mass": "kg", "girth": "cm", "skinfold": "mm", "ultrasound_thickness": "mm", "photo": ""}


@dataclass(frozen=True)
class LoggedSet:
    """One set as it was done.

    Attributes:
        lift: id. load_kg: as used in the lift's own terms (one dumbbell, added load for body weight).
        repetitions: done. reserve: repetitions left at the end, where judged. range: part of the lifting phase.
        pain: joints that hurt. note: free words. warm_up: whether it was one.
    """

    lift: str
    load_kg: float
    repetitions: int
    reserve: float | None = None
    range: RangeName = "full"
    pain: tuple[str, ...] = ()
    note: str = ""
    warm_up: bool = False


@dataclass(frozen=True)
class Session:
    """One visit: its day, sets in order, readiness (1 poor to 5 very good, where asked) and minutes."""

    day: date
    sets: tuple[LoggedSet, ...]
    readiness: int | None = None
    minutes: float | None = None
    note: str = ""


@dataclass(frozen=True)
class Measurement:
    """A body measurement; repeats of one day are kept apart, since their spread is the error.

    Attributes:
        day: when. kind: what was used. site: where on the body, such as upper_arm; empty for mass. side: where it matters.
        values: one or more readings in the kind's unit (UNIT); none for a photo. reference: where a photo lies.
    """

    day: date
    kind: MeasureKind
    site: str = ""
    side: Literal["right", "left", ""] = ""
    values: tuple[float, ...] = ()
    reference: str = ""
    note: str = ""
