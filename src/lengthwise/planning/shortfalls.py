"""What a week falls short of, in words: own wishes in conflict, rules that gave way, and what would bring a muscle to its floor."""

from collections.abc import Collection

from lengthwise.planning import leads
from lengthwise.planning.conflict import explained, smallest_conflict
from lengthwise.planning.floors import minutes_help
from lengthwise.planning.integer_programme import INFINITE
from lengthwise.planning.question import NEARLY_MET, Muscle, WeekQuestion
from lengthwise.planning.steps import held_back
from lengthwise.planning.week import Conflict, Week
from lengthwise.planning.week_model import Model, direct, forgiving, may_stand, trained
from lengthwise.planning.wording import at_least, floor

TRAINS = 0.3
"""A lift trains a muscle when a set counts more than this for it (own choice)."""
FEW = 2
"""With fewer lifts left for a muscle its want is put down to the sore joint (own choice)."""
NEAR_ENOUGH = 0.25
"""Counted sets short of a floor for which nobody changes a week (own choice)."""
SPARE_MIN = 10.0
"""Minutes that a day has left in which a lift more could be done (own choice)."""


def gave_way_told(model: Model, week: Week, words: str) -> str:
    """What is said of a rule that gave way and that nobody wished for."""
    for muscle in model.question.muscles:
        if words == leads.told(muscle):
            return leads.why_not(model, forgiving(model), muscle, week)
    return f"Not met this week: {words}."


def conflicts(model: Model, gave_way: Collection[str], week: Week) -> tuple[Conflict, ...]:
    """Why own wishes are missed, as the smallest conflict; and every other rule of practice that had to give way."""
    question = model.question
    missed = tuple(m for m in question.muscles if m.own and week.muscle_sets[m.name] < m.low - NEARLY_MET)
    own = _own_conflicts(model, missed, week) if missed else ()
    told = {c.wish for c in own}
    return (
        *own,
        *(Conflict(text, _instead(model, week, text)) for text in gave_way if text in model.wished - told),
    )


def _own_conflicts(model: Model, missed: tuple[Muscle, ...], week: Week) -> tuple[Conflict, ...]:
    found = smallest_conflict(model.programme)
    if found.wishes:
        return explained(model.programme, found)
    return tuple(
        Conflict(
            at_least(m.name, m.low).text,
            f"{week.muscle_sets[m.name]:.1f} sets were found; that more are impossible was not proven: give more minutes",
        )
        for m in missed
    )


def _served(question: WeekQuestion, muscle: Muscle) -> bool:
    """Whether any lift that is not refused and can stand on a day trains a muscle."""
    able = (c for c in question.choices if c.lift not in question.refused and trained(c, muscle) > TRAINS)
    return any(may_stand(question, c, d, False) for c in able for d in question.days)


def _spared(question: WeekQuestion, muscle: Muscle) -> str:
    """What is left for a muscle where a joint is to be spared and hardly a lift meant for it is left; empty else."""
    left = [c.name for c in question.left if direct(c, muscle)]
    sore = question.joint_nm or (question.done is not None and question.done.strain)
    if not sore or len(left) >= FEW:
        return ""
    return f"of the lifts meant for it {left[0] if left else 'none'} is left beside the sore joint"


def _room(model: Model, week: Week, muscle: Muscle) -> str:
    """What would bring a muscle to its floor: no minutes where a day on which a lift for it may stand has some left."""
    question = model.question
    rules, sorts = question.rules, {x.lift for d in week.days for x in d.lifts}
    if question.beginner and (len(sorts) >= rules.beginner_lifts or all(len(d.lifts) >= rules.few_lifts_a_day for d in week.days)):
        few = f"{rules.few_lifts_a_day:.0f} lifts a day and {rules.beginner_lifts:.0f} a week"
        return f"a beginner does {few} at most, so that each is learned: swap one for it"
    able = [c for c in question.choices if c.lift not in question.refused and trained(c, muscle) > TRAINS]
    spent = {d.day: d.minutes for d in week.days}
    spare = any(
        day.minutes - spent[day.day] > SPARE_MIN and any(may_stand(question, c, day, False) for c in able) for day in question.days
    )
    if not spare and minutes_help(forgiving(model), muscle.name):
        return "more minutes would make room"
    if spare and question.trouble == INFINITE:
        return "all else stays as it was: fix a lift for it by hand, or plan the week again"
    return "the lifts that its days may hold give no more; other days or lifts would"


def _instead(model: Model, week: Week, text: str) -> str:
    """What the week holds instead of a rule that gave way."""
    question = model.question
    muscle = next((m for m in question.muscles if floor(m.name, m.floor) == text), None)
    if muscle is None:
        full = all(d.minutes > o.minutes - SPARE_MIN for d, o in zip(week.days, question.days, strict=True))
        return f"{'minutes and sets do' if full else 'the rest of the week does'} not hold it beside the other wishes"
    gets = f"it gets {week.muscle_sets[muscle.name]:.1f}"
    if muscle.floor - week.muscle_sets[muscle.name] < NEAR_ENOUGH:
        return f"{gets}, which is near enough"
    if not _served(question, muscle):
        return f"{gets}; no lift is left that trains it: refuse fewer, or list more equipment"
    return f"{gets}; {held_back(question, week, muscle) or _spared(question, muscle) or _room(model, week, muscle)}"
