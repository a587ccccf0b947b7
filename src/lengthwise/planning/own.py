"""The client's own lifts over several joints come on two days before anything guessed does their work."""

from lengthwise.planning.day_rows import FROM_THE_FLOOR
from lengthwise.planning.integer_programme import INFINITE
from lengthwise.planning.practice import OwnFirst, lists
from lengthwise.planning.week import Choice
from lengthwise.planning.week_model import Model


def add_own(model: Model) -> None:
    """Of each sort of work the own lifts first. A beginner's like days hold the same lifts anyhow."""
    for name, sort in lists().own_first.items() if not model.question.beginner else ():
        _twice(model, name, sort)


def _twice(model: Model, name: str, sort: OwnFirst) -> None:
    """A price where a guessed lift that waits stands in the week while own ones of the sort come but once: one for each day with a lift that does
    the same work, and one for all others.
    """
    choices = model.question.choices
    own = {(i, d) for i, d in model.slots if _is_own(choices[i]) and choices[i].practice.pattern in sort.own}
    if len({d for _, d in own}) < 2:
        return
    every = {model.used(i, d): 1.0 for i, d in own}
    waits = [
        (i, d) for i, d in model.slots if choices[i].practice.pattern in sort.waits and not (choices[i].kept or choices[i].gentle)
    ]
    same = [(i, d) for i, d in waits if choices[i].practice.pattern in sort.own]
    days = [[(i, e) for i, e in same if e == d] for d in range(len(model.question.days))]
    for number, alike in enumerate([*days, [slot for slot in waits if slot not in same]]):
        once = model.programme.add(("own once", name, number), INFINITE, -model.question.rules.own_twice_price) if alike else 0
        for guessed in model.one_of(alike):
            model.programme.keep({**every, once: 1.0, **{used: -n for used, n in guessed.items()}}, lower=1.0)


def _is_own(choice: Choice) -> bool:
    """Whether a lift of the client's own may come twice."""
    return choice.kept and choice.practice.multi and not choice.gentle and choice.lift not in FROM_THE_FLOOR
