"""Studies as numbers for the estimate: what each arm did to each head, and what was seen."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from types import MappingProxyType

import numpy as np

from lengthwise.arrays import Array
from lengthwise.errors import InputError, nearest
from lengthwise.evidence.study import Study, StudyArm
from lengthwise.growth.features import Features, Table
from lengthwise.growth.observed import SIZES, Seen, seen_in
from lengthwise.growth.programme import programme

USUAL_SETS = 10.0
"""Hard sets a week of a lift where a study does not say: common practice, no source."""
LIGHT_PERCENT = 30.0
"""Load below which a set grows less however far it is taken [% of 1RM]: Lasevicius 2018 (T22) beside Schoenfeld 2017
(J Strength Cond Res 31:3508, from memory), which find none from 30-40 % up."""
USUAL_WEEKS = 10.0
CLEAR = 1.96
"""A difference is clear when it lies further from 0 than so many standard errors."""


@dataclass(frozen=True)
class DesignEntry:
    """One head in one lift of one arm: features and what was done with it.

    Attributes:
        features: of the head. sets: hard sets a week. reserve: repetitions left. light: tens of per cent below LIGHT_PERCENT.
    """

    features: Features
    sets: float
    reserve: float
    light: float


@dataclass(frozen=True)
class DesignRow:
    """Growth of some heads in one arm, which the estimate predicts: entries of each head, and the head's volume."""

    arm: str
    heads: tuple[str, ...]
    entries: tuple[tuple[DesignEntry, ...], ...]

    @property
    def volume(self) -> Array:
        """Weights of the heads, summing to 1, (n_head,)."""
        found = np.array([each[0].features.volume for each in self.entries])
        return np.asarray(found / found.sum())


@dataclass(frozen=True, kw_only=True)
class Pair:
    """Two rows of a trial and the difference that was seen between them.

    Attributes:
        a, b: places of the rows. value, se: a less b [percentage points]; a side (+1 or -1) where `side`.
        weight: so that the pairs of one outcome count as one. tested: whether the trial tested the difference that a side rests on.
    """

    a: int
    b: int
    value: float
    se: float
    weight: float
    side: bool
    tested: bool = True

    @property
    def clear(self) -> bool:
        """Whether the trial says which arm grew more."""
        return self.tested if self.side else abs(self.value) > CLEAR * self.se


@dataclass(frozen=True)
class Trial:
    """One study as rows and what was seen of them.

    Attributes:
        study: it. rows: what is predicted. sizes: (row, value, se). pairs: every comparison.
        differences: the pairs that are data of their own, since their rows have no sizes.
    """

    study: Study
    rows: tuple[DesignRow, ...]
    sizes: tuple[tuple[int, float, float], ...]
    pairs: tuple[Pair, ...]
    differences: tuple[Pair, ...]

    @property
    def source(self) -> str:
        """Where it was published."""
        return self.study.cite

    @property
    def trained(self) -> float:
        """1 for people who trained before, else 0."""
        return float(self.study.training == "trained")

    @property
    def weeks(self) -> float:
        """How long it took."""
        return self.study.weeks or USUAL_WEEKS


def trial_of(study: Study, table: Table, known_seen: Iterable[Seen] | None = None) -> Trial | None:
    """A study as numbers; None where no arm that was measured is known as lifts.

    Args:
        known_seen: what it saw, where that is known already.

    Raises:
        InputError: it names a head that the body does not have.
    """
    arms = {a.name: a for a in study.arms}
    known = {n for n, a in arms.items() if a.done and all(d.text in table for d in programme(a.done))}
    seen = [s for s in (seen_in(study) if known_seen is None else known_seen) if known.issuperset(s.arms)]
    place: dict[tuple[str, tuple[str, ...]], int] = {}
    for s in seen:
        for arm in s.arms:
            place.setdefault((arm, s.heads), len(place))
    if not place:
        return None
    _check_heads(study, {h: d.text for arm, heads in place for d in programme(arms[arm].done) for h in heads}, table)
    rows = tuple(DesignRow(arm, heads, _entries(arms[arm], heads, table)) for arm, heads in place)
    sizes = tuple((place[s.arms[0], s.heads], s.value, s.se) for s in seen if s.kind in SIZES)
    bare = {place[s.arms[0], s.heads] for s in seen if s.kind == "none"}
    own = tuple(
        Pair(
            a=place[s.arms[0], s.heads],
            b=place[s.arms[1], s.heads],
            value=s.value,
            se=s.se,
            weight=1.0,
            side=s.kind in ("side", "lean"),
            tested=s.kind != "lean",
        )
        for s in seen
        if s.kind not in SIZES
    )
    return Trial(study, rows, sizes, (*_pairs_of_sizes(rows, sizes, bare), *own), own)


def _check_heads(study: Study, named: Mapping[str, str], table: Table) -> None:
    """Whether the body knows every head that was measured, by head the lift that its arm did."""
    strange = next((h for h, done in named.items() if h not in table[done]), None)
    if strange is not None:
        known = tuple(table[named[strange]])
        near = ", ".join(nearest(strange, known) or known[:5])
        raise InputError(
            f"study {study.id}, heads: the body has no {strange!r}; allowed such as {near}. Correct it, or take it out: "
            f"lengthwise study remove {study.id}",
            asked=strange, allowed=list(known),
        )  # fmt: skip


def _entries(arm: StudyArm, heads: Sequence[str], table: Table) -> tuple[tuple[DesignEntry, ...], ...]:
    light = max(0.0, LIGHT_PERCENT - (arm.load_percent or 100.0)) / 10
    done = [(table[d.text], d.sets or arm.sets_per_week or USUAL_SETS) for d in programme(arm.done)]
    return tuple(tuple(DesignEntry(found[h], sets, arm.reserve or 0.0, light) for found, sets in done) for h in heads)


def _pairs_of_sizes(rows: Sequence[DesignRow], sizes: Sequence[tuple[int, float, float]], bare: set[int]) -> list[Pair]:
    """Every two sizes of the same heads, but two that are not printed (`bare`)."""
    out = []
    for heads in dict.fromkeys(rows[i].heads for i, _, _ in sizes):
        mine = [s for s in sizes if rows[s[0]].heads == heads]
        both = [(a, b) for a, b in combinations(mine, 2) if not {a[0], b[0]} <= bare]
        out += [
            Pair(a=a[0], b=b[0], value=a[1] - b[1], se=float(np.hypot(a[2], b[2])), weight=1 / len(both), side=False)
            for a, b in both
        ]
    return out


def trials_of(
    studies: Iterable[Study], table: Table, seen: Mapping[str, Iterable[Seen]] = MappingProxyType({})
) -> tuple[Trial, ...]:
    """Every study that can be expressed and is not set aside, as numbers.

    Args:
        seen: what studies saw, by id, where that is known already.
    """
    found = (trial_of(s, table, seen.get(s.id)) for s in studies)
    return tuple(t for t in found if t is not None)
