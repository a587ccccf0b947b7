"""What a day keeps of the week before: the pairs and the order of its lifts, where the rules of a new day allow them, so that loads can be
compared from week to week (common practice, no source).
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from lengthwise.mechanics.profile import RangeName
from lengthwise.planning.check_order import key_of, order_faults
from lengthwise.planning.question import WeekQuestion
from lengthwise.planning.week import PlannedDay, PlannedLift, Week, WeekChange

Key = tuple[str, RangeName]
Pairs = frozenset[frozenset[Key]]
MINUTES = "the day needs the minutes that its supersets save"
NOT_IN_TURN = "with these sets the old ones cannot be done in turn or save too little"


def day_before(previous: Week | None, day: str) -> PlannedDay | None:
    """The same day of the week before; nothing where there was none."""
    return next((d for d in previous.days if d.day == day and d.lifts), None) if previous else None


def pairs_in(day: PlannedDay) -> Pairs:
    """The lifts of a day that are done in turn."""
    members: dict[int, set[Key]] = {}
    for x in day.lifts:
        if x.pair is not None:
            members.setdefault(x.pair, set()).add(key_of(x))
    return frozenset(frozenset(pair) for pair in members.values() if len(pair) == 2)


def as_before(question: WeekQuestion, day: PlannedDay) -> PlannedDay:
    """The day with its lifts in the order of the week before; as it is where that order would break a rule."""
    before = day_before(question.previous, day.day)
    if before is None:
        return day
    old = _in_old_order(day, before)
    return day if _fault(question, old) else old


def order_changes(question: WeekQuestion, previous: Week, week: Week) -> Iterator[WeekChange]:
    """Days whose lifts come in another order or in other pairs than in the week before, and why; lifts that came or went are told apart."""
    for day in week.days:
        before = day_before(previous, day.day)
        if before is None:
            continue
        both = {key_of(x) for x in day.lifts} & {key_of(x) for x in before.lifts}
        was, now = ({pair for pair in pairs_in(d) if pair <= both} for d in (before, day))
        name = day.day.capitalize()
        if was != now:
            yield WeekChange(f"{name}: {'other' if now else 'no'} supersets", NOT_IN_TURN if was - now else MINUTES)
        elif _turned(before, day, both) and (why := _fault(question, _in_old_order(day, before))):
            yield WeekChange(f"{name}: its lifts come in another order", f"in the old one {why}")


def _turned(before: PlannedDay, day: PlannedDay, both: set[Key]) -> bool:
    """Whether the lifts of both days come in another order."""
    one, other = ([key_of(x) for x in d.lifts if key_of(x) in both] for d in (before, day))
    return one != other


def _fault(question: WeekQuestion, day: PlannedDay) -> str:
    """The first rule of order that a day breaks; empty where it keeps all."""
    return next(order_faults(day, {(c.lift, c.range): c for c in question.choices}, question), "")


def _in_old_order(day: PlannedDay, before: PlannedDay) -> PlannedDay:
    """The day's lifts as they came before, a new one after all that it follows anyhow; a pair stands where its earlier lift stood."""
    place = {key_of(x): k for k, x in enumerate(before.lifts)}
    last = len(place)
    units = [sorted(unit, key=lambda x: place.get(key_of(x), last)) for unit in _units(day.lifts)]
    far, ranks = -1, []
    for unit in units:
        stood = place.get(key_of(unit[0]))
        far = far if stood is None else max(far, stood)
        ranks.append((far if stood is None else stood, stood is None))
    ranked = [units[k] for k in sorted(range(len(units)), key=lambda k: ranks[k])]
    numbers = list(dict.fromkeys(unit[0].pair for unit in ranked if unit[0].pair is not None))
    number = {pair: k for k, pair in enumerate(numbers, 1)}
    lifts = (replace(x, pair=None if x.pair is None else number[x.pair]) for unit in ranked for x in unit)
    return replace(day, lifts=tuple(lifts))


def _units(lifts: Sequence[PlannedLift]) -> list[list[PlannedLift]]:
    """Lifts alone, and pairs together."""
    units: dict[object, list[PlannedLift]] = {}
    for x in lifts:
        units.setdefault(key_of(x) if x.pair is None else x.pair, []).append(x)
    return list(units.values())
