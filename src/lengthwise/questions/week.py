"""Plan a week for PERSON: last week with as few changes as possible, or a first week of lifts that PERSON knows and likes."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from hashlib import sha256
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal

from annotated_types import MaxLen, MinLen
from pydantic import BeforeValidator, Field, InstanceOf, model_validator

from lengthwise.days import monday_meant
from lengthwise.errors import InputError, unknown
from lengthwise.planning.question import WEEKDAYS
from lengthwise.planning.week import Week
from lengthwise.questions.about_client import ClientAsk
from lengthwise.questions.answers import encode
from lengthwise.questions.ask import Question, Tell
from lengthwise.questions.fields import Day, Said
from lengthwise.training.record_words import DayName, MethodName, Phase, Template

if TYPE_CHECKING:
    from lengthwise.records.past import Past
    from lengthwise.weeks.week_plans import Changes

Word = Annotated[str, MinLen(1), MaxLen(80)]
MinutesWord = Annotated[str, Field(pattern=r"^(mon|tues|wednes|thurs|fri|satur|sun)day=\d{1,3}$")]


def minutes_by_day(words: Any) -> Any:
    """Minutes written as day=minutes, by day; a mapping is taken as it is.

    Raises:
        InputError: a part that is not written so. UnknownNameError: no such day.
    """
    return words if isinstance(words, Mapping) else dict(_minutes(w) for w in words)


def _minutes(word: str) -> tuple[str, float]:
    name, _, value = word.partition("=")
    try:
        return _day(name), float(value)
    except ValueError:
        raise InputError(f"cannot read {word!r}; write day=minutes, such as monday=40", asked=word) from None


def sets_by_day(words: Any) -> Any:
    """Lifts that must stand, written as day:lift:sets, by day and lift; a mapping is taken as it is.

    Raises:
        InputError: a part that is not written so. UnknownNameError: no such day or lift.
    """
    return words if isinstance(words, Mapping) else dict(_sets(w) for w in words)


def _sets(word: str) -> tuple[tuple[str, str], int]:
    from lengthwise.known.library import all_lifts  # only here: parsed where lifts are named

    day, _, rest = word.partition(":")
    lift, _, sets = rest.partition(":")
    name = _day(day)
    if not sets.isdigit() or not 1 <= int(sets) <= 8:
        raise InputError(f"cannot read {word!r}; write day:lift:sets with 1 to 8 sets, such as monday:bench_press:4", asked=word)
    return (name, all_lifts().find(lift)), int(sets)


def _day(word: str) -> DayName:
    name = word.strip().casefold()
    if name not in WEEKDAYS:
        raise unknown("day", name, WEEKDAYS)
    return name


class WeekAsk(ClientAsk):
    """A week to plan, and what is different this time."""

    monday: Annotated[Day | None, Said(words="any day of the week to plan; today by default")] = None
    without: Annotated[
        tuple[Word, ...],
        Field(max_length=20),
        Said(words="equipment you cannot use this week; day=equipment where on one day, such as thursday=cable"),
    ] = ()
    minutes: Annotated[
        Mapping[DayName, float],
        BeforeValidator(minutes_by_day),
        Field(max_length=7),
        Said(words="day=minutes, such as monday=40; 0 skips the day", flag="--minutes-today", written=list[MinutesWord]),
    ] = {}
    place: Annotated[
        str,
        MaxLen(40),
        Said(words="where to train: one of the client's places, or home_dumbbells, garage_rack, hotel, full_gym"),
    ] = ""
    template: Annotated[Literal["", Template], Said(words="how muscles are spread over the days, a starting point")] = ""
    phase: Annotated[Literal["", Phase], Said(words="what this week is for; by default what the record says")] = ""
    most_share: Annotated[
        float | None,
        Field(ge=0.3, le=0.75),
        Said(words="largest share of a muscle's sets from one lift; by default what the record says"),
    ] = None
    save_time: Annotated[
        tuple[MethodName, ...],
        Field(max_length=4),
        Said(words="ways to save time, where safe; the first safe one is used"),
    ] = ()
    fix: Annotated[
        Mapping[tuple[DayName, str], int],
        BeforeValidator(sets_by_day),
        Field(max_length=40),
        Said(words="sets to keep, as day:lift:sets, such as monday:bench_press:4", written=list[Word]),
    ] = {}
    keep_day: Annotated[
        tuple[Annotated[DayName, BeforeValidator(_day)], ...],
        Field(max_length=7),
        Said(words="days to leave as they are"),
    ] = ()
    anew: Annotated[bool, Said(words="plan from scratch, not from the last saved week")] = False
    ways: Annotated[
        int,
        Field(ge=1, le=5),
        Said(words="how many clearly different weeks to show", flag="--alternatives", sent={"le": 3}),
    ] = 1
    last: Annotated[InstanceOf[Week] | None, Said(words="the week to stay close to", inside=True)] = None

    @property
    def changes(self) -> "Changes":
        """What is different this time, as the planner takes it."""
        from lengthwise.weeks.week_plans import Changes

        on: dict[DayName, frozenset[str]] = {}
        for day, kind in (word.split("=", 1) for word in self.without if "=" in word):
            on[_day(day)] = on.get(_day(day), frozenset()) | {kind}
        return Changes(
            without=frozenset(word for word in self.without if "=" not in word), without_on=on, minutes=self.minutes, place=self.place, template=self.template or None,
            most_share=self.most_share, phase=self.phase or None, methods=tuple(dict.fromkeys(self.save_time)) or None,
            fixed=self.fix, closed=frozenset(self.keep_day), last=self.last,
        )  # fmt: skip

    @property
    def past(self) -> "Past":
        """What the client has done by then; without the saved week if planned from scratch."""
        from lengthwise.records.past import NOTHING, past_of_week

        number = self.client.number
        found = past_of_week(number, monday_meant(self.monday)) if number else NOTHING
        return replace(found, week=None, logged=(), before=None) if self.anew else found

    @property
    def rests_on(self) -> str:
        """The day, and what the client has done."""
        return f"{super().rests_on} {sha256(repr(self.past).encode()).hexdigest()}"

    @model_validator(mode="after")
    def _can_be_changed(self) -> "WeekAsk":
        self.changes  # noqa: B018  raises for gear and minutes that cannot be
        return self


@dataclass(frozen=True)
class Weeks:
    """The best week under these changes, and others that clearly differ from it."""

    PUBLIC: ClassVar = "*=best alternatives?=others"
    best: Week
    others: tuple[Week, ...] | None = None

    @property
    def every(self) -> tuple[Week, ...]:
        """All of them, the best first."""
        return self.best, *(self.others or ())

    @property
    def rows(self) -> tuple[dict[str, Any], ...]:
        """The planned lifts of the best, each with its day."""
        lifts = ((d.day, encode(x)) for d in self.best.days for x in d.lifts)
        return tuple({"day": day, **{k: v for k, v in x.items() if isinstance(v, str | int | float)}} for day, x in lifts)


def run(ask: WeekAsk, tell: Tell) -> Weeks:
    """The week, or a few; what is asked to differ counts for one alone.

    Raises:
        InputError: the screening says to see a clinician first; no days; a change to a day without training; a fixed lift is not possible.
        NoSolutionError: no lift can be done.
    """
    from lengthwise.weeks.week_plans import alternatives, plan_week

    if ask.ways == 1:
        return Weeks(plan_week(ask.client.client, ask.changes, tell, ask.past))
    best, *others = alternatives(ask.client.client, ask.ways, tell, ask.past)
    return Weeks(best, tuple(others))


QUESTION = Question(
    ask=WeekAsk,
    run=run,
    page="/week/{}",
    answer="questions.week.Weeks",
    waiting="Computing the lifts for this body; this happens once. Then planning the week takes seconds.",
    spread=True,
    address="",
)
