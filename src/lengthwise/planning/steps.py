"""A week grows from the one done last in steps: some sets more in all, two for a muscle, and none for a joint that hurts (common practice, no source).

What a muscle lacks of its floor comes half-way at once, and whole in the second or third week: no muscle of the goal gets nothing after a log of
a few lifts, and nobody does nearly twice as much as the week before.
"""

from collections import Counter
from dataclasses import replace
from math import ceil

from lengthwise.planning import wording
from lengthwise.planning.integer_programme import INFINITE
from lengthwise.planning.question import NEARLY_MET, Muscle, SetsBefore, WeekQuestion
from lengthwise.planning.week import Week
from lengthwise.planning.week_model import Model, direct
from lengthwise.training.record_words import joint_told

A_SET = 1.0
"""A muscle with less has gone without (own choice)."""
WAITS = "sets grow in steps, so that more waits for later weeks"


def most_sets(question: WeekQuestion) -> float:
    """The most hard sets of the week; no bound where nobody knows what was done last."""
    done, rules = question.done, question.rules
    if done is None:
        return INFINITE
    return done.sets + max(ceil(rules.grow_part * done.sets), sum(done.toward.values()))


def most_of(question: WeekQuestion, muscle: Muscle) -> float:
    """The most sets of lifts meant for a muscle, by the same."""
    done = question.done
    if done is None:
        return INFINITE
    return done.muscles.get(muscle.name, 0) + max(question.rules.grow_sets, done.toward.get(muscle.name, 0))


def missing(question: WeekQuestion) -> list[str]:
    """Muscles that the week grows for and that the week done last left out but for less than a set."""
    done = question.done
    return (
        []
        if done is None
        else [m.name for m in question.muscles if m.floor and m.name in question.growing and done.counted.get(m.name, 0.0) < A_SET]
    )


def within_steps(question: WeekQuestion) -> WeekQuestion:
    """The question with floors, and own bands that begin, no higher than steps allow: else lifts meant for others would come in for their sake."""
    done = question.done
    if done is None:
        return question
    toward = {m.name: _toward_floor(question, done, m) for m in question.muscles}
    grown = replace(question, done=replace(done, toward=toward))
    return replace(
        grown, muscles=tuple(_within(grown, m, done.counted.get(m.name, 0.0) + toward[m.name]) for m in question.muscles)
    )


def _within(question: WeekQuestion, muscle: Muscle, most: float) -> Muscle:
    low = min(muscle.low, most_of(question, muscle)) if muscle.own else muscle.low
    return replace(muscle, low=low, floor=min(muscle.floor, most))


def _toward_floor(question: WeekQuestion, done: SetsBefore, muscle: Muscle) -> int:
    """Sets that bring a muscle half-way to its floor: those of a lift at least, a raised one's on two days."""
    lacks, least = muscle.floor - done.counted.get(muscle.name, 0.0), int(question.rules.least_sets)
    on_two_days = muscle.raised and lacks >= 2 * least
    return max(ceil(lacks / 2), 2 * least if on_two_days else least) if lacks > NEARLY_MET else 0


def add_steps(model: Model) -> None:
    """The bounds of a week that follows one that was done; what is fixed by hand stands all the same."""
    question, done = model.question, model.question.done
    if done is None:
        return
    p, choices = model.programme, question.choices
    at = {c.key: i for i, c in enumerate(choices)}
    fixed: Counter[int] = Counter()
    for (_, key), n in question.pinned.items():
        fixed.update({at[key]: n} if key in at else {})
    every = dict.fromkeys(range(len(choices)), 1.0)
    p.keep(
        model.total(every), upper=max(most_sets(question), sum(fixed.values())), wish=wording.steps(done.sets, most_sets(question))
    )
    for muscle in question.muscles:
        part = {i: direct(c, muscle) for i, c in enumerate(choices)}
        most = max(most_of(question, muscle), sum(n * part[i] for i, n in fixed.items()))
        p.keep(model.total(part), upper=most, wish=wording.muscle_step(muscle.name, most))
    for joint, most in done.strain.items():
        worked = {i: 1.0 for i, c in enumerate(choices) if joint in c.strains}
        p.keep(model.total(worked), upper=max(most, sum(n for i, n in fixed.items() if i in worked)), wish=wording.no_more(joint))
    for joint, lifts, most in done.back:
        worked = {i: 1.0 for i, c in enumerate(choices) if c.lift in lifts}
        p.keep(
            model.total(worked),
            upper=max(most, sum(n for i, n in fixed.items() if i in worked)),
            wish=wording.way_back(joint, most),
        )
    for i, c in enumerate(choices):
        if c.strains and i not in fixed and (c.lift in done.lifts or not c.familiar):
            most = done.lifts.get(c.lift, 0)
            p.keep(model.total({i: 1.0}), upper=most, wish=wording.no_more_of(c.name, most))


def add_no_more(model: Model) -> None:
    """Lifts that get no more sets on a day than they had there, and fewer at a price only, but where a joint asks for it."""
    question = model.question
    for i, d in model.slots:
        choice = question.choices[i]
        if choice.key in question.no_more:
            had = model.old.get((question.days[d].day, choice.key), 0)
            model.programme.keep({model.sets(i, d): 1.0}, upper=had)
            if had and not (choice.strains or choice.gentle):
                model.ask({model.sets(i, d): 1.0}, had, question.rules.miss_price)


def held_back(question: WeekQuestion, week: Week, muscle: Muscle) -> str:
    """What a muscle waits for, in words: the steps by which a week grows, or a joint that hurts; empty where neither holds it back."""
    if question.done is None:
        return ""
    known = {c.key: c for c in question.choices}
    planned = [(known[x.lift, x.range], x.sets) for d in week.days for x in d.lifts]
    meant = sum(n for c, n in planned if direct(c, muscle))
    able = [c for c in question.choices if direct(c, muscle) and c.lift not in question.refused]
    hurts, out = (
        sorted({j for c in able for j in c.strains}),
        {i for _, lifts, most in question.done.back if not most for i in lifts},
    )
    if able and all(c.strains or c.gentle for c in able):
        return f"what trains it works the {' and '.join(map(joint_told, hurts))}, which gets no more work while it hurts"
    if able and all(c.gentle or c.lift in out for c in able):
        return "it comes back by easy sets, which do not count"
    if sum(n for _, n in planned) >= most_sets(question) - 1 or meant >= most_of(question, muscle):
        return WAITS
    return ""
