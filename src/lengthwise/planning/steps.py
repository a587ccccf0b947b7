"""A week grows from the one done last in steps: some sets more in all, two for a muscle, and none for a joint that hurts (common practice, no source)."""

from collections import Counter
from math import ceil

from lengthwise.planning import wording
from lengthwise.planning.model import Model, counted
from lengthwise.planning.question import Muscle, Question
from lengthwise.planning.week import Week

NEARLY = 0.5
"""A muscle that is so near its step has taken it (own choice: sets are whole)."""


def most_sets(question: Question) -> float:
    """The most hard sets of the week; no bound where nobody knows what was done last."""
    done, rules = question.done, question.rules
    return float("inf") if done is None else done.sets + ceil(rules.grow_part * done.sets)


def most_of(question: Question, muscle: str) -> float:
    """The most counted sets of a muscle, by the same."""
    done = question.done
    return float("inf") if done is None else done.muscles.get(muscle, 0.0) + question.rules.grow_sets


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
        part = {i: counted(c, muscle) for i, c in enumerate(choices)}
        most = max(most_of(question, muscle.name), sum(n * part[i] for i, n in fixed.items()))
        p.keep(model.total(part), upper=most, wish=wording.muscle_step(muscle.name, most))
    for joint, most in done.strain.items():
        worked = {i: 1.0 for i, c in enumerate(choices) if joint in c.strains}
        p.keep(model.total(worked), upper=max(most, sum(n for i, n in fixed.items() if i in worked)), wish=wording.no_more(joint))
    for i, d in model.slots:
        c = choices[i]
        if c.strains and i not in fixed and not (c.familiar or c.lift in done.lifts):
            p.keep({model.used(i, d): 1.0}, upper=0.0, wish=wording.nothing_new(c.name))


def held_back(question: Question, week: Week, muscle: Muscle) -> bool:
    """Whether a muscle waits for the steps by which a week grows: the week or the muscle has taken its own."""
    now = sum(x.sets for d in week.days for x in d.lifts)
    full = now >= most_sets(question) - 1
    return question.done is not None and (full or week.muscle_sets[muscle.name] >= most_of(question, muscle.name) - NEARLY)
