"""From the point of a programme to a week that people can read."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from lengthwise.planning.model import Model, best_value, counted, worth_of_set
from lengthwise.planning.order import in_order
from lengthwise.planning.pairing import saved_s
from lengthwise.planning.question import Muscle, Question
from lengthwise.planning.week import Choice, PlannedDay, PlannedLift, Week
from lengthwise.planning.wording import plain

REPETITIONS = (8, 12)
RESERVE = 2.0
"""A set as it is planned before loads are given: common practice, no source."""
LEAST_SHOWN = 0.05
"""Counted sets below this are not shown."""

ROUNDING_SETS = 1.0
"""Whole sets rarely meet a bound exactly: so much above it is not told."""

Sets = Mapping[tuple[int, int], int]
"""Sets by choice and day."""


def week_of(model: Model, point: NDArray[np.float64]) -> Week:
    """The week of a point: whole sets, pairs only where minutes are short, each day in order; its worth is counted anew."""
    question = model.question
    sets = _sets(model, point)
    choices = {c.key: c for c in question.choices}
    days = []
    for day, offer in enumerate(question.days):
        mine = {i: n for (i, d), n in sets.items() if d == day}
        pairs = _needed_pairs(question, mine, _pairs(model, point, day), day)
        number = {i: k for k, pair in enumerate(pairs, 1) for i in pair}
        lifts = [_planned(question, i, n, number.get(i)) for i, n in mine.items()]
        days.append(PlannedDay(offer.day, offer.place, minutes_of(question, mine, pairs), in_order(lifts, choices, question)))
    return counted_week(question, tuple(days), sets)


def _sets(model: Model, point: NDArray[np.float64]) -> dict[tuple[int, int], int]:
    out = {}
    for name, place in model.programme.place.items():
        if isinstance(name, tuple) and name[0] == "sets" and round(point[place]) > 0:
            out[name[1], name[2]] = round(point[place])
    return out


def _pairs(model: Model, point: NDArray[np.float64], day: int) -> list[tuple[int, int]]:
    return [
        (name[1], name[2])
        for name, place in model.programme.place.items()
        if isinstance(name, tuple) and name[0] == "pair" and name[3] == day and point[place] > 0.5
    ]


def _needed_pairs(question: Question, sets: Mapping[int, int], pairs: list[tuple[int, int]], day: int) -> list[tuple[int, int]]:
    """The pairs without which the day would take too long: those that save least go first."""
    kept = [p for p in pairs if all(sets.get(i) for i in p)]
    for pair in sorted(kept, key=lambda p: _pair_saves(question, sets, p)):
        fewer = [p for p in kept if p != pair]
        if minutes_of(question, sets, fewer) <= question.days[day].minutes:
            kept = fewer
    return sorted(kept)


def _pair_saves(question: Question, sets: Mapping[int, int], pair: tuple[int, int]) -> float:
    a, b = (question.choices[i] for i in pair)
    return min(sets[i] for i in pair) * saved_s(a, b, question.rules)


def minutes_of(question: Question, sets: Mapping[int, int], pairs: list[tuple[int, int]]) -> float:
    """How long a day takes [min]: warm-up, set-up, sets and rests, less what pairs save."""
    total = question.rules.warm_up_min * 60
    for i, n in sets.items():
        choice = question.choices[i]
        total += choice.setup_s + n * (choice.set_s + choice.rest_s)
    return (total - sum(_pair_saves(question, sets, p) for p in pairs)) / 60


def _planned(question: Question, i: int, sets: int, pair: int | None) -> PlannedLift:
    choice = question.choices[i]
    muscle = main_muscle(question, choice)
    return PlannedLift(
        choice.lift,
        choice.range,
        choice.name,
        sets,
        REPETITIONS,
        RESERVE,
        pair=pair,
        muscle=muscle,
        gear=choice.gear,
        why=_why(question, choice, muscle),
    )


def main_muscle(question: Question, choice: Choice) -> str:
    """The muscle to which a lift is worth most in this week."""
    worth = {m.name: m.priority * worth_of_set(choice, m, best_value(question, m.name)) for m in question.muscles}
    return max(worth, key=lambda name: worth[name], default="")


def _why(question: Question, choice: Choice, main: str) -> str:
    found = {m.name: counted(choice, m) for m in question.muscles}
    told = sorted((m for m, n in found.items() if n >= 0.2), key=lambda m: (m != main, -found[m]))
    counts = ", ".join(f"{found[m]:.1f} for {plain(m)}" for m in told[:4])
    if not counts:
        return ""
    best = best_value(question, main)
    return f"A set counts {counts}; graded {choice.value.get(main, 0):.2f} for {plain(main)} (best at hand {best:.2f})."


def counted_week(question: Question, days: tuple[PlannedDay, ...], sets: Sets) -> Week:
    """A week of these days with its sets counted and its worth; nothing is claimed about better ones."""
    per_choice: dict[int, int] = {}
    for (i, _), n in sets.items():
        per_choice[i] = per_choice.get(i, 0) + n
    heads: dict[str, float] = {}
    for i, n in per_choice.items():
        for head, fraction in question.choices[i].fraction.items():
            heads[head] = heads.get(head, 0.0) + n * fraction
    muscles = {m.name: sum(s * heads.get(h, 0.0) for h, s in m.share.items()) for m in question.muscles}
    shown = {h: n for h, n in sorted(heads.items(), key=lambda kv: -kv[1]) if n >= LEAST_SHOWN}
    week = Week(days, shown, muscles, worth_of(question, per_choice, heads, muscles, len(sets)), 0.0)
    return replace(week, notes=_notes(question, heads, muscles))


def worth_of(
    question: Question, per_choice: Mapping[int, int], heads: Mapping[str, float], muscles: Mapping[str, float], lift_days: int
) -> float:
    """What a week is worth: see docs/weeks.md."""
    rules = question.rules
    total = -rules.lift_price * lift_days
    for m in question.muscles:
        best = best_value(question, m.name)
        good = sum(n * worth_of_set(question.choices[i], m, best) for i, n in per_choice.items())
        total += m.priority * (min(good, m.low) + rules.slope_in_band * min(max(good - m.low, 0.0), m.high - m.low))
        total -= rules.over_price * max(muscles[m.name] - m.high, 0.0)
        total -= sum(_head_price(m, h, heads, question) for h in m.share)
    return total


def _head_price(m: Muscle, head: str, heads: Mapping[str, float], question: Question) -> float:
    short = max(question.rules.least_head_part * m.low - heads.get(head, 0.0), 0.0)
    return question.rules.head_price * m.priority * m.share[head] / sum(m.share.values()) * short


def _notes(question: Question, heads: Mapping[str, float], muscles: Mapping[str, float]) -> tuple[str, ...]:
    out = []
    for m in question.muscles:
        got = muscles[m.name]
        if got < m.low - 0.05 or got > m.high + ROUNDING_SETS:
            side = "below" if got < m.low else "above"
            out.append(f"{plain(m.name)}: {got:.1f} sets, {side} {m.low:g} to {m.high:g}")
        least = question.rules.least_head_part * m.low
        for head in m.share:
            if heads.get(head, 0.0) < least - 0.05:
                out.append(f"{plain(head)} ({plain(m.name)}): {heads.get(head, 0.0):.1f} sets, less than {least:g}")
    return tuple(out)
