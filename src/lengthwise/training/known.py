"""What a client's known sets say about a lift."""

from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from functools import lru_cache

from lengthwise.lifts.catalogue import Catalogue
from lengthwise.lifts.definition import BodyWeight, Lift
from lengthwise.training.client import AgedLift, CalmedLift, KnownLift, PainfulLift
from lengthwise.training.one_rm import factor

LATELY = timedelta(weeks=1)
"""A lift's light day of the week is no loss of strength: the strongest set of so long counts (common practice, no source)."""


def is_called(lift_id: str, lift: Lift, asked: str) -> bool:
    """Whether `asked` is this lift's id, name or alias, in any case."""
    key = _key(asked)
    return key in (_key(name) for name in (lift_id, lift.name, *lift.aliases))


def known_of(known: Iterable[KnownLift], lift_id: str, lift: Lift) -> KnownLift | None:
    """The set that says most about a lift: the strongest of the week that ends with the latest, undated ones before all. Where it hurt, or does
    no longer, the latest day alone says how much goes.
    """
    sets = [k for k in known if is_called(lift_id, lift, k.lift)]
    last = max(sets, key=lambda k: (k.day or date.min, *_strength(k)), default=None)
    if last is None or last.day is None or isinstance(last, PainfulLift | CalmedLift):
        return last
    return max((k for k in sets if k.day and last.day - k.day < LATELY), key=_strength)


def _strength(known: KnownLift) -> tuple[float, float]:
    return known.load_kg * factor(possible(known)), possible(known)


def known_lifts(known: Iterable[KnownLift], lifts: Catalogue) -> Mapping[str, KnownLift]:
    """The telling set of every lift that has one, by id.

    Raises:
        UnknownNameError: a lift that the catalogue does not have.
    """
    sets = tuple(known)
    ids = dict.fromkeys(lifts.find(k.lift) for k in sets)
    found = {i: known_of(sets, i, lifts.lifts[i]) for i in ids}
    return {i: k for i, k in found.items() if k is not None}


def possible(known: KnownLift) -> float:
    """Repetitions that were possible in a set: done and left."""
    return known.repetitions + known.reserve


def total_one_rm_kg(known: KnownLift, moved_kg: float) -> float:
    """The 1RM of a known set counted as whole resistance, moved body included [kg]; after a lay-off what is left of it."""
    return kept(known) * (known.load_kg + moved_kg) * factor(possible(known))


def kept(known: KnownLift) -> float:
    """The part of the strength a set shows that is counted on today: less than 1 after weeks without lifting."""
    return known.kept if isinstance(known, AgedLift) else 1.0


def counts_body(lift: Lift) -> bool:
    """Whether the client's own body is part of the resistance."""
    return isinstance(lift.resistance, BodyWeight)


@lru_cache(maxsize=4096)
def _key(name: str) -> str:
    return name.strip().casefold().replace("-", "_").replace(" ", "_")
