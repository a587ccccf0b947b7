"""Which lifts are worth offering to the planner: the best for each muscle and head at each place, and those that must stay on the table."""

from collections.abc import Collection, Iterator, Sequence

from lengthwise.planning.question import DayOffer, Muscle
from lengthwise.planning.week import Choice

FOR_MUSCLE = 4
FOR_HEAD = 1
FOR_MANY = 8
"""How many of the best are offered for a muscle, for a head, and for all muscles together, at each place: more add time, not worth (own
choice; measured in docs/weeks.md)."""


def shortlist(
    choices: Sequence[Choice], muscles: Sequence[Muscle], days: Sequence[DayOffer], keep: Collection[str] = ()
) -> tuple[Choice, ...]:
    """The choices worth offering; lifts in `keep` (ids) always are, where they serve any muscle at all."""
    gears = {d.gear for d in days}
    kept = {c.key for gear in gears for c in _at([c for c in choices if c.gear in gear], muscles)}
    kept |= {c.key for c in choices if c.lift in keep and c.value}
    return tuple(c for c in choices if c.key in kept)


def _at(choices: Sequence[Choice], muscles: Sequence[Muscle]) -> Iterator[Choice]:
    for muscle in muscles:
        yield from _best(choices, {c.key: _good(c, muscle) for c in choices}, FOR_MUSCLE)
        for head in muscle.share:
            yield from _best(choices, {c.key: c.fraction.get(head, 0.0) * c.value.get(muscle.name, 0.0) for c in choices}, FOR_HEAD)
    yield from _best(choices, {c.key: sum(m.priority * _good(c, m) for m in muscles) for c in choices}, FOR_MANY)


def _good(choice: Choice, muscle: Muscle) -> float:
    """Counted sets of one set times their graded value."""
    return sum(s * choice.fraction.get(h, 0.0) for h, s in muscle.share.items()) * choice.value.get(muscle.name, 0.0)


def _best(choices: Sequence[Choice], worth: dict[tuple[str, str], float], most: int) -> list[Choice]:
    ranked = sorted((c for c in choices if worth[c.key] > 0), key=lambda c: (-worth[c.key], c.key))
    return ranked[:most]
