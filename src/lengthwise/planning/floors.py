"""Floors before all else: where a week leaves a muscle below its floor and another would not, that other is looked for and shown."""

from collections.abc import Iterator

from lengthwise.planning.highs import Work, maximise
from lengthwise.planning.integer_programme import Programme
from lengthwise.planning.practice import BIG
from lengthwise.planning.question import NEARLY_MET, Muscle
from lengthwise.planning.week_model import Model, Sets, counted


def firmer(model: Model, programme: Programme, sets: Sets) -> Iterator[frozenset[str]]:
    """Floors to be held in a further search, most at once first: those that were met, with those missed that the linear programme can meet.

    None where no floor is missed or none can be met. Muscles in `BIG` alone where all together are too much.
    """
    asked = [m for m in model.question.muscles if ("floor", m.name) in programme.place]
    missed = [m.name for m in asked if short(model, sets, m) > NEARLY_MET]
    met = {m.name for m in asked} - {*missed}
    able = [name for name in missed if _possible(programme, met | {name})]
    tried = []
    for names in (met | {*able}, (met | {*able}) & BIG):
        if names & {*able} and names not in tried:
            tried.append(names)
            yield frozenset(names)


def short(model: Model, sets: Sets, muscle: Muscle) -> float:
    """Counted sets that a muscle lacks of its floor."""
    return muscle.floor - sum(n * counted(model.question.choices[i], muscle) for (i, _), n in sets.items())


def _possible(programme: Programme, names: set[str]) -> bool:
    """Whether some floors can be met together, lifts in parts."""
    return maximise(programme.fixing({programme.place["floor", m]: 0.0 for m in names}), Work(whole=False)).found


def minutes_help(programme: Programme, muscle: str) -> bool:
    """Whether a muscle below its floor could reach it with more minutes, lifts in parts: else no minute is what it lacks."""
    rows = [r for r in programme.rows if r.wish is None or r.wish.kind != "minutes"]
    longer = Programme(list(programme.columns), rows, programme.place)
    return _possible(longer, {muscle})
