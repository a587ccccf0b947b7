"""What a day and a week must hold, as any coach writes it down: a press, a pull, work for knees and hips; and no lift three times over."""

from collections import defaultdict
from collections.abc import Iterator, Sequence

from lengthwise.planning.legs import add_legs, knee_lifts
from lengthwise.planning.practice import BIG, Movement, lists
from lengthwise.planning.question import Muscle
from lengthwise.planning.week import Choice
from lengthwise.planning.week_model import HALF, Model, counted, direct

OF_A_DAY = {
    "whole": ("press", "pull", "legs"),
    "upper": ("press", "pull"),
    "lower": ("knee", "hip"),
    "push": ("press",),
    "pull": ("pull",),
}
"""Jobs of a day by what it holds of the body (common practice, no source)."""
OF_A_WEEK = ("chest press", "row", "pulldown", "knee", "hip")
"""Jobs that come at least once a week (common practice, no source)."""
OF_A_SORT = 2
"""Different lifts of one sort a week at most: a third split squat teaches nothing (common practice, no source)."""


OVERHEAD_DAYS = 3
"""From so many days on the week holds a press overhead, unless a shoulder is sore (common practice, no source)."""
MANY_SETS = 8
"""A muscle with a lower bound of fewer sets is not looked at movement by movement (own choice)."""


def add_jobs(model: Model) -> None:
    """Each job that a lift available can do is done; what gives way has its price."""
    for d, offer in enumerate(model.question.days):
        if offer.day not in model.question.closed:
            for job in OF_A_DAY[offer.shape]:
                if _was_done(model, offer.day, job):
                    _once(model, job, d, f"a multi-joint lift for {_WORDS[job]} on {offer.day.capitalize()}")
                    _in_full(model, job, d)
            if offer.shape == "push":
                _side_raise(model, d)
            if offer.shape == "pull" and not model.question.beginner:
                _row_and_pulldown(model, d)
    for job in OF_A_WEEK:
        _once(model, job, None, f"a {job} in the week" if job in _NAMED else f"a multi-joint lift for {_WORDS[job]} in the week")
    if len(model.question.days) >= OVERHEAD_DAYS and not any("shoulder" in joint for joint in model.question.joint_nm):
        _once(model, "overhead press", None, "", model.question.rules.own_price)
    add_legs(model)
    _big_by_basics(model)
    _movements(model)
    _few_of_a_sort(model)


_WORDS = {
    "press": "pressing",
    "pull": "pulling",
    "legs": "the legs",
    "knee": "the front of the thighs",
    "hip": "hips and hamstrings",
}
_NAMED = frozenset({"chest press", "row", "pulldown"})


def _was_done(model: Model, day: str, job: str) -> bool:
    """Whether the week before did a job on a day, or none stood then: days that a client has shared out otherwise stay so."""
    done = {key for there, key in model.old if there == day}
    return not done or any(does(c, job) for c in model.question.choices if c.key in done)


def _once(model: Model, job: str, day: int | None, told: str, price: float | None = None) -> None:
    doing = [(i, d) for i, d in model.slots if day in (None, d) and does(model.question.choices[i], job)]
    if job == "knee" and day is not None and len(loaded := knee_lifts(model, doing)) < len(doing):
        doing, told = loaded, told.replace(f"a multi-joint lift for {_WORDS[job]}", "a squat or leg press")
    factors = {model.used(i, d): 1.0 for i, d in doing}
    if factors:
        model.ask(factors, 1.0, model.question.rules.job_price if price is None else price, told)


def _in_full(model: Model, job: str, d: int) -> None:
    """On few short days the basics come before what is small: a job of a day has the sets of a main lift, each as dear as one below a floor; not
    where a muscle is raised, whose own sets come first (common practice, no source).
    """
    question = model.question
    sets = {model.sets(i, d): 1.0 for i, c in model.on(d) if does(c, job)}
    if question.few_minutes and sets and not any(m.raised for m in question.muscles):
        model.ask(sets, question.rules.main_least_sets, question.rules.floor_price)


def _big_by_basics(model: Model) -> None:
    """On few short days multi-joint lifts train the big muscles: a leg curl or a fly takes the minutes of a press, a pull or a squat. Not where the
    muscle is raised or has a band of the client's own, nor of lifts that are the client's own or stood there before (common practice, no source).
    """
    question = model.question
    big = [m for m in question.muscles if m.name in BIG and not (m.raised or m.own)]
    for i, d in model.slots if question.few_minutes else ():
        c = question.choices[i]
        stays = c.practice.multi or c.kept or model.old.get((question.days[d].day, c.key))
        if not stays and any(direct(c, m) for m in big):
            model.pay(model.used(i, d), -question.rules.told_price)


def _row_and_pulldown(model: Model, d: int) -> None:
    """A pull day has both a row and a pulldown, where the week before had them there (common practice, no source).

    Not for a beginner: few lifts, often done, train all.
    """
    for job in ("row", "pulldown"):
        if _was_done(model, model.question.days[d].day, job):
            _once(model, job, d, "", model.question.rules.told_price)


def _side_raise(model: Model, d: int) -> None:
    """A push day has a raise to the side, which no press replaces, unless the shoulder is sore (common practice, no source)."""
    lifts = {i for x in wanted(model.question.muscles) if x.muscle == "deltoid_middle" for i in x.lifts}
    factors = {model.used(i, d): 1.0 for i, c in model.on(d) if c.lift in lifts}
    if factors and "shoulder" not in model.question.joint_nm:
        model.ask(factors, 1.0, model.question.rules.told_price)


def does(choice: Choice, job: str) -> bool:
    """Whether a lift does a job: a multi-joint lift of one of its patterns."""
    return choice.practice.multi and choice.practice.pattern in lists().jobs[job]


def _movements(model: Model) -> None:
    """Each movement that a muscle of the week wants, such as a side raise."""
    for movement in wanted(model.question.muscles):
        factors = {model.used(i, d): 1.0 for i, d in model.slots if model.question.choices[i].lift in movement.lifts}
        if factors and movement.from_sets:
            _from(model, movement, factors)
        elif factors:
            muscle = next(m for m in model.question.muscles if m.name == movement.muscle)
            price = model.question.rules.job_price if muscle.raised or muscle.floor else model.question.rules.own_price
            if not muscle.floor:
                _at_all(model, muscle)
            model.ask(factors, 1.0, price, f"{movement.told} in the week" if muscle.raised or muscle.floor else "")
            if movement.raised and not model.question.beginner:
                _well(model, movement)


def _at_all(model: Model, muscle: Muscle) -> None:
    """On few days a small muscle has no floor, but something trains it: a raise or a press for the side deltoid, after the basics where these are
    short (common practice, no source).
    """
    factors = {model.used(i, d): 1.0 for i, d in model.slots if counted(model.question.choices[i], muscle) >= HALF}
    rules = model.question.rules
    if factors:
        model.ask(factors, 1.0, rules.own_price if model.question.few_minutes else rules.job_price)


def _well(model: Model, movement: Movement) -> None:
    """A movement that a raised muscle wants is no token: it gets as many sets as a lift has on a day (common practice, no source).

    Not for a beginner: few lifts, often done, train all.
    """
    doing = {i: 1.0 for i, c in enumerate(model.question.choices) if c.lift in movement.lifts}
    most = max(model.programme.columns[k].upper for k in model.total(doing))
    model.ask(model.total(doing), most, model.question.rules.own_price)


def _from(model: Model, movement: Movement, used: dict[int, float]) -> None:
    """A movement that belongs to a muscle from so many sets on: without it each set more has its price."""
    muscle = next(m for m in model.question.muscles if m.name == movement.muscle)
    sets = model.total({i: counted(c, muscle) for i, c in enumerate(model.question.choices)})
    row = {k: -v for k, v in sets.items()} | dict.fromkeys(used, movement.from_sets)
    model.ask(row, -movement.from_sets, model.question.rules.incline_price)


def wanted(muscles: Sequence[Muscle]) -> list[Movement]:
    """The movements that muscles of a week want."""
    own = {m.name: m for m in muscles}
    return [x for x in lists().movement if x.muscle in own and _wants(own[x.muscle], x)]


def _wants(muscle: Muscle, movement: Movement) -> bool:
    if movement.from_sets:
        return not muscle.raised and muscle.low >= MANY_SETS and muscle.high > movement.from_sets
    return muscle.raised if movement.raised else muscle.priority >= 1


def _few_of_a_sort(model: Model) -> None:
    """Of one sort of lift only a few different ones; the client's own and those of the week before are free."""
    own = {c.lift for c in model.question.choices if c.kept} | {key[0] for _, key in model.old}
    for number, sort in enumerate(_sorts(model)):
        if len(sort) <= OF_A_SORT:
            continue
        inside = {}
        for lift, days in sorted(sort.items()):
            here = model.programme.add(("sort", number, lift), 1.0)
            inside[here] = -1.0
            for used in days:
                model.programme.keep({here: 1.0, used: -1.0}, lower=0.0)
        most = max(OF_A_SORT, len(own & sort.keys()))
        model.ask(inside, -float(most), model.question.rules.told_price)


def _sorts(model: Model) -> Iterator[dict[str, list[int]]]:
    """Lifts that do the same, each with the columns that say on which days it stands."""
    found: dict[str, dict[str, list[int]]] = defaultdict(dict)
    for i, d in model.slots:
        choice = model.question.choices[i]
        found[choice.practice.pattern or choice.lift].setdefault(choice.lift, []).append(model.used(i, d))
    yield from (found[k] for k in sorted(found))
