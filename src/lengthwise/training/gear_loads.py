"""Which loads exist with the gear at a place: plates in pairs on a bar, a rack, a stack, and small weights added to them."""

from bisect import bisect_right
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import pairwise
from typing import ClassVar

from lengthwise.body import anatomy
from lengthwise.contents import data_of
from lengthwise.errors import InputError, unknown
from lengthwise.lifts.catalogue import gear
from lengthwise.quantities import MassUnit
from lengthwise.training.client import GearAtPlace, Place
from lengthwise.training.places import in_kilograms, presets
from lengthwise.training.progression import size

GRAM = 1000
SAME_KG = 0.02
"""Loads nearer than this are one: pounds are written to a tenth, and plates are added up in whole grams."""


@dataclass(frozen=True)
class Loads:
    """The loads that exist with one kind of gear at one place.

    Attributes:
        kind: of gear. exist: loads as used for one lift [kg], rising: bar with plates, one dumbbell, pin of a stack, weight hung on the
            body (negative: taken off by a machine). Empty where the load cannot be read in kilograms (bands).
        assumed: whether they are a usual set, because the place does not say.
    """

    PUBLIC: ClassVar = "loads=count assumed lightest_kg heaviest_kg smallest_step_kg"
    kind: str
    exist: tuple[float, ...]
    assumed: bool = False

    @property
    def readable(self) -> bool:
        """Whether loads can be told in kilograms."""
        return bool(self.exist)

    @property
    def count(self) -> int:
        """How many there are."""
        return len(self.exist)

    @property
    def lightest_kg(self) -> float | None:
        """The first; none where none can be read."""
        return self.exist[0] if self.exist else None

    @property
    def heaviest_kg(self) -> float | None:
        """The last; none where none can be read."""
        return self.exist[-1] if self.exist else None

    @property
    def smallest_step_kg(self) -> float | None:
        """Between neighbours, 0 where there is one load; none where none can be read."""
        return min((round(b - a, 6) for a, b in pairwise(self.exist)), default=0.0) if self.exist else None

    def below(self, load_kg: float) -> float | None:
        """The heaviest load that exists and is not above `load_kg` by SAME_KG or more; none where even the lightest is."""
        at = bisect_right(self.exist, load_kg + SAME_KG)
        return self.exist[at - 1] if at else None

    def above(self, load_kg: float) -> float | None:
        """The lightest load that exists and is heavier than `load_kg`; none above the heaviest."""
        at = bisect_right(self.exist, load_kg + SAME_KG)
        return self.exist[at] if at < len(self.exist) else None

    def step_up(self, load_kg: float, moved_kg: float) -> float | None:
        """The next load to go on with: the next heavier one, or where steps are finer the one nearest to a small step of the whole resistance,
        the lighter of two equally near; none above the heaviest.

        Args:
            moved_kg: body mass in the resistance.
        """
        small = (load_kg + moved_kg) * (1 + size("small_step_percent") / 100) - moved_kg
        return min(self.exist[bisect_right(self.exist, load_kg + SAME_KG) :], key=lambda kg: (abs(kg - small), kg), default=None)

    def step_down(self, load_kg: float, moved_kg: float) -> float | None:
        """The load to go back to: as `step_up`, downwards; none below the lightest."""
        small = (load_kg + moved_kg) * (1 - size("small_step_percent") / 100) - moved_kg
        return min((kg for kg in self.exist if kg < load_kg - SAME_KG), key=lambda kg: (abs(kg - small), kg), default=None)

    def nearest(self, load_kg: float) -> float | None:
        """The load that exists nearest to `load_kg`, the lighter of two equally near; none where none can be read."""
        return min(self.exist, key=lambda kg: (abs(kg - load_kg), kg), default=None)

    def step_kg(self, load_kg: float) -> float | None:
        """How much the next heavier load adds to `load_kg` [kg]; none above the heaviest."""
        heavier = self.above(load_kg)
        return None if heavier is None else round(heavier - load_kg, 6)


def loads(at_place: Mapping[str, GearAtPlace] | Place | None, kind: str, unit: MassUnit = "kg") -> Loads:
    """The loads that exist for a kind of gear; a usual set where the place is not known or lists the kind without loads.

    The body itself is at every place.

    Args:
        unit: in which whoever trains there reads loads: a usual set has plates and stacks in it.

    Raises:
        UnknownNameError: no such kind of gear.
        InputError: the place does not have this kind.
    """
    if kind not in gear():
        raise unknown("kind of gear", kind, gear())
    here = at_place.gear if isinstance(at_place, Place) else at_place
    if here is not None and kind not in here and kind != "body":
        raise InputError(
            f"no {gear()[kind].name} at this place; it has {', '.join(here) or 'the body alone'}", asked=kind, allowed=list(here)
        )
    described = here.get(kind, GearAtPlace()) if here is not None else GearAtPlace()
    assumed = described == GearAtPlace() and kind not in ("body", "band")
    return Loads(kind, _exist(usual(unit)[kind] if assumed else described, kind), assumed)


def with_shown(exist: Loads, load_kg: float, unit: MassUnit) -> Loads:
    """The loads with one that the log shows, which no list of usual loads gainsays: with the usual set up to it where it is beyond the heaviest."""
    if not exist.readable or exist.kind == "body" or any(abs(kg - load_kg) < SAME_KG for kg in exist.exist):
        return exist
    beyond = load_kg > exist.exist[-1]
    more = loads(None, exist.kind, unit).exist if beyond else ()
    return Loads(exist.kind, tuple(sorted({*exist.exist, load_kg, *more})), exist.assumed or beyond)


def is_usual(kind: str, described: GearAtPlace | None) -> bool:
    """Whether loads are those that a usual place is taken to have, so that nobody listed them one by one."""
    tables = (
        t
        for p in presets().values()
        for t in (p["gear"].get(kind), in_kilograms(p.get("pounds", {}).get(kind, {})))
        if t is not None
    )
    return described is not None and any(described == GearAtPlace.model_validate(t) for t in ({}, *tables))


@cache
def usual(unit: MassUnit = "kg") -> Mapping[str, GearAtPlace]:
    """A usual set of loads for each kind of gear, in a unit (data/gear_loads.toml)."""
    table = dict(data_of("training", "gear_loads.toml"))
    pounds = table.pop("pounds")
    found = table if unit == "kg" else {k: in_kilograms(v) for k, v in pounds.items()}
    return {k: anatomy.read_table(f"gear_loads.toml: {k}", GearAtPlace, v) for k, v in found.items()}


@lru_cache(maxsize=512)
def _exist(described: GearAtPlace, kind: str) -> tuple[float, ...]:
    if described.stack_kg is not None:
        low, high, step = (_grams(v) for v in described.stack_kg)
        grams = set(range(low, high + 1, step))
    elif described.rack_kg:
        grams = {_grams(v) for v in described.rack_kg}
    elif described.plates_kg or described.bar_kg is not None:
        grams = _on_bar(described, kind)
    else:
        grams = set()
    if kind == "body":
        grams |= {0}
    if grams:
        grams = {g + a for g in grams for a in _sums(_grams(v) for v in described.add_on_kg)}
    return tuple(g / GRAM for g in sorted(grams))


def _on_bar(described: GearAtPlace, kind: str) -> set[int]:
    """Bar and plates: the same on both ends of a bar; one by one where they hang from the body."""
    plates = [_grams(v) for v in described.plates_kg]
    hung = [p for p in plates for _ in range(2)] if kind == "body" else [2 * p for p in plates]
    return {_grams(described.bar_kg or 0) + s for s in _sums(hung)}


def _sums(pieces: Iterable[int]) -> set[int]:
    """Every sum of some of the pieces, none included."""
    sums = {0}
    for piece in pieces:
        sums |= {s + piece for s in sums}
    return sums


def _grams(kg: float) -> int:
    return round(kg * GRAM)
