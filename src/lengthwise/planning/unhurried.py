"""Rests of a day that few easy sets leave early: longer ones, until it uses most of its minutes.

A beginner's day holds six lifts of three sets, which may take half of its minutes; more of them nobody has to learn or recover from. Between sets
there is time then (two to three minutes for several joints, one to two for one: American College of Sports Medicine 2009, from memory).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from lengthwise.planning.pairing import minutes_of
from lengthwise.planning.question import WeekQuestion
from lengthwise.planning.week import Choice, PlannedDay

LONGER = "Longer rests, up to {:g} s, on {}: few easy sets leave the time there. Shorter ones do as well, and beginners need no more sets."
STEP_S = 15.0
"""Rests grow by so much at a time, all of a day alike (own choice)."""


def unhurried(question: WeekQuestion, d: int, sets: Mapping[int, int]) -> dict[int, float]:
    """Rest after a set of each lift of a day [s]: longer where a beginner, or who starts easily, would be done long before its minutes are over.

    Args:
        d: the day's place. sets: of its lifts, by their place among the choices; none of them in turn.
    """
    own, more = {i: question.choices[i] for i in sets}, 0.0
    rests = {i: c.rest_s for i, c in own.items()}
    while (question.beginner or question.easy) and _minutes(question, rests, sets) < question.rules.fill_least * question.days[
        d
    ].minutes:
        more += STEP_S
        longer = {i: max(c.rest_s, min(c.rest_s + more, longest_s(question, c))) for i, c in own.items()}
        if longer == rests:
            break
        rests = longer
    return rests


def longest_s(question: WeekQuestion, choice: Choice) -> float:
    """The longest that sets of a lift rest for the sake of a day's minutes [s]."""
    return question.rules.rest_most_s if choice.practice.multi else question.rules.rest_most_single_s


def with_rests(question: WeekQuestion, rests: Mapping[int, float]) -> WeekQuestion:
    """The question with lifts that rest so long, by their place among the choices."""
    choices = tuple(replace(c, rest_s=rests.get(i, c.rest_s)) for i, c in enumerate(question.choices))
    return replace(question, choices=choices)


def _minutes(question: WeekQuestion, rests: Mapping[int, float], sets: Mapping[int, int]) -> float:
    return minutes_of(with_rests(question, rests), sets, [])


def longer_told(question: WeekQuestion, days: Sequence[PlannedDay]) -> Iterator[str]:
    """On which days of a week sets rest longer than they need, and how long at most."""
    usual = {c.key: c.rest_s for c in question.choices}
    longer = {
        d.day.capitalize(): max(rests) for d in days if (rests := [x.rest_s for x in d.lifts if x.rest_s > usual[x.lift, x.range]])
    }
    if longer:
        yield LONGER.format(max(longer.values()), " and ".join(longer))
