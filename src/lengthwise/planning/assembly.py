"""From sets by lift and day to a week that people can read: pairs, order, minutes, counted sets."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from lengthwise.body.anatomy import muscles
from lengthwise.body.muscle_names import in_full
from lengthwise.planning.as_before import as_before
from lengthwise.planning.order import in_order
from lengthwise.planning.pairing import minutes_of, minutes_told, named_muscle, pairs_of
from lengthwise.planning.question import Muscle, WeekQuestion
from lengthwise.planning.unhurried import longer_told, unhurried, with_rests
from lengthwise.planning.week import Choice, PlannedDay, PlannedLift, Week
from lengthwise.planning.week_model import Model, Sets, counted, is_long, main_heads, may_stand, trained

REPETITIONS = (8, 12)
RESERVE = 2.0
"""A set as it is planned before loads are given: common practice, no source."""
GENTLY = "easy sets for the sake of a sore joint, which grow little"
SERVES, HEAD = 0.25, 0.5
"""A lift is told beside others for a muscle from this part of a set on, and trains a head from this (own choice)."""
LEAST_SHOWN = 0.05
"""Counted sets below this are not shown."""
ROUNDING_SETS = 1.0
"""Whole sets rarely meet a bound exactly: so much above it is not told."""

NEARLY = 0.9
"""From this part of the most growth for its minutes on, a lift grows little less (own choice)."""


def sets_of_point(model: Model, point: NDArray[np.float64]) -> dict[tuple[int, int], int]:
    """Sets by choice and day of a programme's point."""
    return {(i, d): round(point[model.sets(i, d)]) for i, d in model.slots if point[model.sets(i, d)] > 0.5}


def week_of(question: WeekQuestion, sets: Sets, value: float, gap: float) -> Week:
    """The week of these sets: pairs where minutes are short, each day in order, its sets counted."""
    days = tuple(_day(question, d, {i: n for (i, e), n in sorted(sets.items()) if e == d}) for d in range(len(question.days)))
    week = counted_week(question, days, sets)
    return replace(week, value=value, gap=gap, notes=(*week.notes, *longer_told(question, days)))


def _day(question: WeekQuestion, d: int, mine: dict[int, int]) -> PlannedDay:
    offer, choices = question.days[d], {c.key: c for c in question.choices}
    pairs = pairs_of(question, d, mine)
    number = {i: k for k, pair in enumerate(pairs, 1) for i in pair}
    rests = {i: question.choices[i].rest_s for i in mine} if pairs else unhurried(question, d, mine)
    lifts = [_planned(question, i, n, number.get(i), rests[i]) for i, n in mine.items()]
    timed = with_rests(question, rests)
    minutes, spent = minutes_of(timed, mine, pairs), minutes_told(timed, mine, pairs)
    return as_before(question, PlannedDay(offer.day, offer.place, minutes, in_order(lifts, choices, question), spent))


def _planned(question: WeekQuestion, i: int, sets: int, pair: int | None, rest_s: float) -> PlannedLift:
    choice = question.choices[i]
    muscle = named_muscle(question, choice)
    return PlannedLift(
        lift=choice.lift,
        range=choice.range,
        name=choice.name,
        sets=sets,
        repetitions=REPETITIONS,
        reserve=RESERVE,
        pair=pair,
        muscle=muscle,
        gear=choice.gear,
        why=why(question, choice, muscle),
        kept=choice.kept,
        rest_s=rest_s,
        method=choice.method,
    )


def why(question: WeekQuestion, choice: Choice, main: str) -> str:
    """One plain sentence: what the lift is there for, what a set counts, and the wish that it serves."""
    found = {m.name: counted(choice, m) for m in question.muscles}
    told = sorted((m for m, n in found.items() if n >= 0.25 and m != main), key=lambda m: (-found[m], m))[:2]
    also = " and ".join(f"{found[m]:.1f} for {in_full(m)}" for m in told)
    beside = [choice.fraction.get(h, 0.0) for h in muscles().get(main, ())]
    counts = f"a set counts {found.get(main, sum(beside) / max(len(beside), 1)):.1f}" + (f", and {also}" if also else "")
    raised = next((m.raised for m in question.muscles if m.name == main), False)
    counts = GENTLY if choice.gentle else counts
    lead = f"For {in_full(main)}{', which you want more of' if raised else ''}: {counts}"
    return f"{'; '.join([lead, *_before_others(question, choice, main)])}."


def _before_others(question: WeekQuestion, choice: Choice, main: str) -> list[str]:
    """Why this lift and not its neighbour, by what the plan goes by: whose it is, heads that hardly another trains, length, growth a
    minute beside lifts of its sort that could take its place: a press is not there instead of a fly.
    """
    muscle = next((m for m in question.muscles if m.name == main), None)
    out = ["one of your own lifts"] if choice.familiar else ["you like it"] if choice.liked else []
    if muscle is None or choice.gentle:
        return [*out, "it spares the joint most"] if choice.gentle else out
    able = [c for c in question.left if counted(c, muscle) >= SERVES]
    eased = [c for c in question.left if c.gentle and trained(c, muscle) >= SERVES]
    own = [
        h for h in muscle.share if choice.fraction.get(h, 0.0) >= HEAD and sum(c.fraction.get(h, 0.0) >= HEAD for c in able) == 1
    ]
    out += (
        [f"of {len(able)} lifts for it here the only one that trains {' and '.join(map(in_full, own))}"]
        if own and len(able) > 1
        else []
    )
    out += ["loads it long"] if is_long(choice, muscle) else []
    multi, kind = choice.practice.multi, f"of {'several joints' if choice.practice.multi else 'one joint'} "
    alike = [c for c in able if c.practice.multi == multi]
    if len(able) < 2:
        return [*out, *_alone(choice, muscle, question.left, bool(eased), "")]
    if len(alike) < 2:
        kinds = [c for c in question.left if c.practice.multi == multi]
        return [*out, *_alone(choice, muscle, kinds, any(c.practice.multi == multi for c in eased), kind)]
    alike = [c for c in alike if c.key == choice.key or _could_stand(question, c)]
    best = max(alike, key=lambda c: (_a_minute(c, muscle), c.key), default=choice)
    part = _a_minute(choice, muscle) / max(_a_minute(best, muscle), 1e-9)
    if len(alike) < 2:
        return out
    if part >= 1 - 1e-9:
        return [*out, f"it grows most for its minutes of {len(alike)} lifts {kind}for it here"]
    if choice.kept or choice.familiar or choice.liked:
        return out
    return [*out, f"{best.name} grows {'a little more' if part >= NEARLY else 'more'} for the same minutes"]


def _alone(choice: Choice, muscle: Muscle, lifts: Sequence[Choice], eased: bool, kind: str) -> list[str]:
    """What is said where at most one of some lifts serves a muscle: the only one, unless another does a little for it.

    Args:
        eased: whether others do, in easy sets. kind: of lifts; empty for all.
    """
    if counted(choice, muscle) < SERVES:
        return []
    if any(counted(c, muscle) >= LEAST_SHOWN for c in lifts if c.lift != choice.lift):
        return [f"no other lift {kind}does much for it here"]
    return [f"the only {'hard sets' if eased else 'lift'} {kind}for it here"]


def _could_stand(question: WeekQuestion, choice: Choice) -> bool:
    """Whether a lift might stand in place of another: its load bites, a coach would write it down for more than a beginning or it is the client's own,
    no joint that hurts holds it back, and some day has what it needs.
    """
    usual = choice.kept or choice.familiar or (choice.practice.staple and not choice.practice.regression)
    return usual and choice.bites and not choice.strains and any(may_stand(question, choice, d, False) for d in question.days)


def _a_minute(choice: Choice, muscle: Muscle) -> float:
    """Growth of a muscle a minute of sets and rests, as the plan values it."""
    return counted(choice, muscle) * choice.value.get(muscle.name, 0.0) / (choice.set_s + choice.rest_s)


def counted_week(question: WeekQuestion, days: tuple[PlannedDay, ...], sets: Sets) -> Week:
    """A week of these days with its hard sets counted, and the easy ones told beside; nothing is claimed about better ones."""
    heads: dict[str, float] = {}
    easy: dict[str, float] = {}
    for (i, _), n in sorted(sets.items()):
        for head, fraction in question.choices[i].fraction.items():
            into = easy if question.choices[i].gentle else heads
            into[head] = into.get(head, 0.0) + n * fraction
    muscles = {m.name: _of_muscle(m, heads) for m in question.muscles}
    gentle = {m.name: _of_muscle(m, easy) for m in question.muscles}
    shown = {h: n for h, n in sorted(heads.items(), key=lambda kv: (-kv[1], kv[0])) if n >= LEAST_SHOWN}
    return Week(
        days=days,
        weekly_sets=shown,
        muscle_sets=muscles,
        value=0.0,
        gap=0.0,
        notes=((UNEQUAL,) if _unequal(days) else ()) + _easy_notes(gentle) + _notes(question, heads, muscles),
    )


def _of_muscle(muscle: Muscle, heads: Mapping[str, float]) -> float:
    """Counted sets of a muscle from those of its heads."""
    return sum(s * heads.get(h, 0.0) for h, s in muscle.share.items())


def _easy_notes(gentle: Mapping[str, float]) -> tuple[str, ...]:
    """What a muscle gets beside its sets that is begun lightly for a sore joint: light loads grow muscle alike only near failure (claim load)."""
    told = ", ".join(f"{in_full(name)} {n:.1f}" for name, n in gentle.items() if n >= LEAST_EASY)
    return (f"Easy sets for the sake of a sore joint, beside the counted ones: {told}. {LITTLE}",) if told else ()


LITTLE = "They keep the movement and grow little."
LEAST_EASY = 0.5
"""Fewer counted sets of a muscle are not told."""
UNEQUAL = "Supersets of unequal sets: take turns while both have sets left, then finish the longer one alone."


def _unequal(days: tuple[PlannedDay, ...]) -> bool:
    """Whether two lifts done in turn have different numbers of sets."""
    rounds: dict[tuple[str, int], set[int]] = {}
    for d in days:
        for x in d.lifts:
            if x.pair is not None:
                rounds.setdefault((d.day, x.pair), set()).add(x.sets)
    return any(len(sets) > 1 for sets in rounds.values())


def _notes(question: WeekQuestion, heads: Mapping[str, float], muscles: Mapping[str, float]) -> tuple[str, ...]:
    return (*_outside(question.muscles, muscles), *_heads_behind(question, heads, muscles))


def _outside(asked: Iterable[Muscle], muscles: Mapping[str, float]) -> list[str]:
    """Muscles outside their band, in one line for all below or above the same one."""
    told: dict[tuple[str, float, float], list[str]] = {}
    for m in asked:
        got = muscles[m.name]
        if got < m.low - 0.05 or got > m.high + ROUNDING_SETS:
            told.setdefault(("Below" if got < m.low else "Above", m.low, m.high), []).append(f"{in_full(m.name)} {got:.1f}")
    return [f"{side} {low:g} to {high:g} sets: {', '.join(names)}." for (side, low, high), names in told.items()]


def _heads_behind(question: WeekQuestion, heads: Mapping[str, float], muscles: Mapping[str, float]) -> list[str]:
    """Parts of a muscle that get much less than its best served one."""
    rules, out = question.rules, []
    for m in question.muscles:
        if muscles[m.name] < rules.heads_from:
            continue
        best = max(heads.get(h, 0.0) for h in m.share)
        for head in main_heads(m):
            if heads.get(head, 0.0) < rules.head_part * best - 0.05:
                out.append(
                    f"{in_full(head)} ({in_full(m.name)}): {heads.get(head, 0.0):.1f} sets, {best:.1f} for the best served part"
                )
    return out
