"""A raised muscle leads those that are wanted less, and what is said where it cannot."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from lengthwise.body.muscle_names import in_full
from lengthwise.planning.highs import Work, maximise
from lengthwise.planning.integer_programme import INFINITE, Programme
from lengthwise.planning.question import Muscle, WeekQuestion
from lengthwise.planning.steps import held_back
from lengthwise.planning.week import Week
from lengthwise.planning.week_model import Model, counted

AHEAD = 0.33
"""A raised muscle gets so much more than others for each step of its priority above theirs: a third more at 2 (common practice, no source)."""
HALF_A_SET = 0.5
"""Of its lead so much does not matter (own choice)."""
HELD_SLACK = 1e-6
"""What others have is kept but for what arithmetic rounds."""
A_SET = 1.0
"""With less than so much more in the lifts at hand they are what ends it (own choice)."""


def add_lead(model: Model, muscle: Muscle, total: Mapping[int, float]) -> None:
    """A raised muscle leads those that are wanted less: one price for what it lacks beside the most of them, so that nothing is won by taking from
    what one of them needs; a higher one where it has fewer sets than that, down to their lower bounds. A beginner, whose lifts are few, pays the
    first alone.
    """
    others, rules, words = led(model.question, muscle), model.question.rules, told(muscle)
    if not others:
        return
    lead = {o.name: 1 + AHEAD * (muscle.priority - o.priority) for o in others}
    model.ask({**total, _most(model, muscle, lead): -1.0}, -HALF_A_SET, rules.lead_price, words)
    if not model.question.beginner:
        level = _most(model, muscle, dict.fromkeys(lead, 1.0))
        model.programme.keep({level: 1.0}, lower=max(o.low for o in others))
        model.ask({**total, level: -1.0}, 0.0, rules.behind_price)


def led(question: WeekQuestion, muscle: Muscle) -> list[Muscle]:
    """The muscles that a raised one leads."""
    return [o for o in question.muscles if 1 <= o.priority < muscle.priority and o.high <= muscle.high and not o.own]


def told(muscle: Muscle) -> str:
    """What a raised muscle asks for."""
    return f"clearly more sets for {in_full(muscle.name)} than for every other muscle"


def _most(model: Model, muscle: Muscle, lead: Mapping[str, float]) -> int:
    """A column that is at least the sets of each muscle, times what the raised one is to have over it."""
    most = model.programme.add(("led", muscle.name, max(lead.values())), INFINITE)
    for o in (o for o in model.question.muscles if o.name in lead):
        sets = model.total({i: lead[o.name] * counted(c, o) for i, c in enumerate(model.question.choices)})
        model.programme.keep({most: 1.0, **{k: -v for k, v in sets.items()}}, lower=0.0)
    return most


def why_not(model: Model, programme: Programme, muscle: Muscle, week: Week) -> str:
    """Why a raised muscle does not lead: it grows in steps, its lifts end there, or what it lacks would be taken from what others need; where it
    would not, how far it could go.
    """
    sets = week.muscle_sets
    top = max(led(model.question, muscle), key=lambda o: sets[o.name])
    could = _at_most(model, programme, muscle)
    name, has = in_full(muscle.name), sets[muscle.name]
    beside = f"{name[0].upper()}{name[1:]} is raised and gets {has:.1f} sets beside {sets[top.name]:.1f} for {in_full(top.name)}"
    if held := held_back(model.question, week, muscle):
        return f"{beside}: {held}."
    if could - has < A_SET:
        return f"{beside}: the lifts that these days may hold give it no more."
    kept = _at_most(
        model, programme, muscle, [(o, min(o.low, sets[o.name])) for o in model.question.muscles if o.name != muscle.name]
    )
    if kept - has < A_SET:
        return f"{beside}: these days could hold up to {could:.0f}, but that takes what others need of their bands; raise it further, or lower others."
    return f"{beside}: these days could hold about {kept:.0f} and leave others what they need of their bands; raise it further, or lower others."


def _at_most(model: Model, programme: Programme, muscle: Muscle, least: Sequence[tuple[Muscle, float]] = ()) -> float:
    """The most counted sets that a muscle can have, lifts in parts, while others keep so many at least; whatever they get where none are named."""

    def total(of: Muscle) -> dict[int, float]:
        return model.total({i: counted(c, of) for i, c in enumerate(model.question.choices)})

    own = total(muscle)
    columns = [replace(c, worth=own.get(k, 0.0)) for k, c in enumerate(programme.columns)]
    held = Programme(columns, [*programme.rows], programme.place)
    for other, sets in least:
        held.keep(total(other), lower=sets - HELD_SLACK)
    return maximise(held, Work(whole=False)).worth
