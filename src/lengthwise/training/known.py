"""What a client's known sets say about a lift."""

from collections.abc import Iterable, Mapping
from datetime import date
from functools import lru_cache

from lengthwise.lifts.catalogue import Catalogue
from lengthwise.lifts.definition import BodyWeight, Lift
from lengthwise.training.client import AgedLift, KnownLift
from lengthwise.training.one_rm import factor


def is_called(lift_id: str, lift: Lift, asked: str) -> bool:
    """Whether `asked` is this lift's id, name or alias, in any case."""
    key = _key(asked)
    return key in (_key(name) for name in (lift_id, lift.name, *lift.aliases))


def known_of(known: Iterable[KnownLift], lift_id: str, lift: Lift) -> KnownLift | None:
    """The set that says most about a lift: the latest day, undated ones before all; of one day the strongest."""
    sets = [k for k in known if is_called(lift_id, lift, k.lift)]
    return max(sets, key=lambda k: (k.day or date.min, k.load_kg * factor(possible(k)), possible(k)), default=None)


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
