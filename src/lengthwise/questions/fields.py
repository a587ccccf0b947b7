"""The kinds of field that questions share: how each is checked, resolved, said and offered, in one place."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, fields
from datetime import date
from typing import Annotated, Any, Literal, get_origin

from annotated_types import MaxLen
from pydantic import AfterValidator, BeforeValidator, Field
from pydantic.fields import FieldInfo

from lengthwise.days import day_so_far
from lengthwise.errors import InputError, unknown
from lengthwise.ranges import RangeName
from lengthwise.reading import checked_day

LIMITS = ("ge", "gt", "le", "lt", "min_length", "max_length", "pattern")


@dataclass(frozen=True, kw_only=True)
class Said:
    """How people meet a field.

    Attributes:
        words: what it is, for help and schema. unit: of its numbers. argument: whether it follows the command's name.
        each: its name where it is given one by one (`lift` for `lifts`). flag: its option where that is not its name.
        names: every name that it may have, where it may have no other; empty where anything goes.
        written: its type where it is sent as words. example: something that is allowed.
        sent: bounds that are narrower for what is sent. pattern: how it is written in an address. inside: whether nobody is asked for it, since a face knows it.
        with_file: whether it is asked beside a file alone, so that no address asks it. whole: whether commas belong to its words. of: what its words name: a muscle or a lift.
    """

    words: str = ""
    unit: str = ""
    argument: bool = False
    each: str = ""
    flag: str = ""
    names: Callable[[], Sequence[str]] | None = None
    written: Any = None
    example: Any = None
    pattern: str | None = None
    sent: Mapping[str, Any] = field(default_factory=dict, hash=False)
    inside: bool = False
    with_file: bool = False
    whole: bool = False
    of: Literal["muscle", "lift", ""] = ""


USUAL = Said()


def said_of(field: FieldInfo) -> Said:
    """The words of a field: its own, and those of its kind where it has none."""
    merged: dict[str, Any] = {}
    for own in (m for m in field.metadata if isinstance(m, Said)):
        merged |= {f.name: v for f in fields(Said) if (v := getattr(own, f.name)) != getattr(USUAL, f.name)}
    return Said(**merged)


def bounds_of(field: FieldInfo) -> dict[str, Any]:
    """The limits of a field by their name: `ge`, `le`, `max_length`…"""
    return {k: v for m in field.metadata for k in LIMITS if (v := getattr(m, k, None)) is not None}


def is_many(field: FieldInfo, said: Said) -> bool:
    """Whether a field takes several words."""
    return said.written is not None or get_origin(field.annotation) in (tuple, frozenset)


def _target(name: str) -> str:
    from lengthwise.grading.target import target_named

    return target_named(name).name


def _lift(name: str) -> str:
    from lengthwise.known.library import all_lifts  # only here: lifts are not parsed for questions about the body alone

    return all_lifts().find(name)


def _measure_names() -> Sequence[str]:
    from lengthwise.grading.measure_words import MEASURE_WORDS

    return tuple(MEASURE_WORDS)


def _measure(name: str) -> str:
    if name not in _measure_names():
        raise unknown("measure", name, _measure_names())
    return name


def _measurements() -> Sequence[str]:
    from lengthwise.training.measure_kinds import MEASURES

    return tuple(MEASURES)


def _measurement(name: str) -> str:
    if name not in _measurements():
        raise unknown("kind of measurement", name, _measurements())
    return name


def spans(words: Any) -> Any:
    """Spans written as name=least-most in percent (which end is the smaller goes without saying), by name; a mapping of shares 0-1 is taken as it is.

    Raises:
        InputError: a word that is not written so, or out of 0 to 100.
    """
    return words if isinstance(words, Mapping) else dict(_span(w) for w in words)


def settings(words: Any) -> Any:
    """Numbers written as name=value, by name; a mapping is taken as it is.

    Raises:
        InputError: a word that is not written so.
    """
    return words if isinstance(words, Mapping) else dict(_setting(w) for w in words)


def _setting(word: str) -> tuple[str, float]:
    name, _, value = word.partition("=")
    try:
        return name.strip(), float(value)
    except ValueError:
        raise InputError(f"cannot read {word!r}; write name=number, such as pulley_cm=40", asked=word) from None


def _span(word: str) -> tuple[str, tuple[float, float]]:
    name, _, span = word.partition("=")
    low, _, high = span.partition("-")
    try:
        pair = float(low) / 100, float(high) / 100
    except ValueError:
        raise InputError(f"cannot read {word!r}; write lift=least-most in percent, such as push_up=20-50", asked=word) from None
    if not all(0 <= share <= 1 for share in pair):
        raise InputError(f"{word!r}: allowed 0 to 100 percent", asked=word, allowed=[0, 100])
    return name.strip(), (min(pair), max(pair))


def read_day(text: Any) -> Any:
    """A day, as a date or written as 2026-03-01.

    Raises:
        InputError: anything else.
    """
    try:
        return date.fromisoformat(text) if isinstance(text, str) else text
    except ValueError:
        raise InputError(f"cannot read the day {text!r}; write it as 2026-03-01", asked=text, allowed=["YYYY-MM-DD"]) from None


MuscleOrHead = Annotated[
    str,
    MaxLen(60),
    AfterValidator(_target),
    Said(words="a muscle such as triceps, a head such as triceps_long, or several: triceps, chest", of="muscle"),
]
LiftId = Annotated[
    str, MaxLen(80), AfterValidator(_lift), Said(words="id, name or alias of a lift", of="lift", example="standing_calf_raise")
]
MeasureName = Annotated[
    str,
    AfterValidator(_measure),
    Said(words="what to maximise (joint_conflict: to minimise)", names=_measure_names),
]
MeasurementKind = Annotated[str, AfterValidator(_measurement), Said(words="what was measured", names=_measurements)]
POSTURE = r"^([a-z][a-z_]{2,40}=-?[0-9]{1,3}(\.[0-9]{1,4})?( |$))*$"
PostureWords = Annotated[
    str,
    MaxLen(600),
    Said(words="clinical angles in degrees, such as shoulder_flexion=160 elbow_flexion=90", pattern=POSTURE),
]
SpanWord = Annotated[str, Field(pattern=r"^[A-Za-z][A-Za-z0-9_ -]{0,79}=(100|\d{1,2}(\.\d{1,3})?)-(100|\d{1,2}(\.\d{1,3})?)$")]
Spans = Annotated[Mapping[LiftId, tuple[float, float]], BeforeValidator(spans), Said(written=list[SpanWord], unit="%")]
Ranges = Annotated[
    tuple[RangeName, ...],
    AfterValidator(lambda parts: tuple(dict.fromkeys(parts)) or ("full",)),
    Said(words="parts of the range to compare", each="range", sent={"max_length": 3}),
]
Repetitions = Annotated[int, Field(ge=1, le=40), Said(words="repetitions of a set")]
Reserve = Annotated[float, Field(ge=0, le=10), Said(words="repetitions left in reserve")]
Day = Annotated[date, BeforeValidator(read_day), AfterValidator(checked_day), Said(words="a day, such as 2026-03-01")]
DaySoFar = Annotated[date, BeforeValidator(read_day), AfterValidator(day_so_far), Said(words="a day, such as 2026-03-01")]
