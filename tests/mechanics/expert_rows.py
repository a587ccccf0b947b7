"""What an anatomist and coach expects of single lifts, and what the model says: tests/reference/expectations.csv.

The rows were written without asking the model; common practice, no source. `lead`: every muscle named has a head among the eight with the
highest mean activation. `limit`: the named ones are at least half of what limits; `not_limit`: together at most a tenth. `silent`: peak
activation under 0.25. `stretch`: a fibre at or beyond optimal length while it works. Loads: 10 repetitions with 2 in reserve.
"""

import csv
from collections import defaultdict
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from lengthwise.body import anatomy
from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.errors import LengthwiseError
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import LiftProfile, profile

TABLE = Path(__file__).parents[1] / "reference" / "expectations.csv"
MAN = Person(sex="man", stature_m=1.80, mass_kg=80, age_y=30, training="trained")
WOMAN = Person(sex="woman", stature_m=1.66, mass_kg=62, age_y=30, training="trained")
LEADERS, LEAST_WORK = 8, 0.05


@dataclass(frozen=True)
class Row:
    """One expectation of one lift."""

    lift: str
    part: str
    names: tuple[str, ...]
    low: float
    high: float
    reason: str

    @property
    def id(self) -> str:
        """Lift and part; the muscles where a lift has more than one row of that part."""
        return " ".join([self.lift, self.part, *(n.replace(" ", "_") for n in self.names)])


@cache
def rows() -> tuple[Row, ...]:
    """Every row of the table."""
    out = []
    for r in csv.DictReader(TABLE.open(encoding="utf-8")):
        names = tuple(n.strip() for n in r["heads_or_muscles"].split(";") if n.strip())
        out.append(Row(r["lift_id"], r["part"], names, float(r["low"] or 0), float(r["high"] or 0), r["reason"]))
    return tuple(out)


@cache
def asked(lift: str, person: Person) -> LiftProfile | None:
    """The profile of a lift as a user gets it; None where the person cannot do it."""
    try:
        return profile(body_of(person), lift, built_in().lifts[lift])
    except LengthwiseError:
        return None


def heads_of(name: str) -> set[str]:
    """The heads that a row's name stands for: a muscle's or the head itself."""
    return set(anatomy.muscles().get(name, (name,)))


def says(row: Row) -> tuple[bool, float]:
    """Whether a row holds, and the number that decides it: load, share, activation, length, or how many of the named lead."""
    found = asked(row.lift, WOMAN if row.part == "load_woman" else MAN)
    if found is None:
        return False, float("nan")
    return _PARTS[row.part](row, found)


def _right(found: LiftProfile) -> dict[str, object]:
    return {h: p for h, p in found.heads.items() if not h.endswith("_left")}


def _lead(row: Row, found: LiftProfile) -> tuple[bool, float]:
    mean = {h: p.activation.mean() for h, p in found.heads.items() if not h.endswith("_left")}
    top = set(sorted(mean, key=lambda h: -mean[h])[:LEADERS])
    missing = [n for n in row.names if not heads_of(n) & top]
    return not missing, float(len(row.names) - len(missing))


def _limiting(row: Row, found: LiftProfile) -> float:
    shares: dict[str, float] = defaultdict(float)
    for head, part in found.limiting.items():
        shares[head.removesuffix("_left")] += part
    total = sum(v for v in shares.values() if v > 0) or 1.0
    heads = set().union(*(heads_of(n) for n in row.names))
    named = [max(shares.get(h, 0.0), 0.0) if row.part == "not_limit" else shares.get(h, 0.0) for h in heads]
    return sum(named) / total


def _limit(row: Row, found: LiftProfile) -> tuple[bool, float]:
    share = _limiting(row, found)
    return share >= 0.5, share


def _not_limit(row: Row, found: LiftProfile) -> tuple[bool, float]:
    share = _limiting(row, found)
    return share <= 0.10, share


def _silent(row: Row, found: LiftProfile) -> tuple[bool, float]:
    heads = set().union(*(heads_of(n) for n in row.names))
    most = max(float(found.heads[h].activation.max()) for h in heads if h in found.heads)
    return most < 0.25, most


def _stretch(row: Row, found: LiftProfile) -> tuple[bool, float]:
    longest = 0.0
    for head in set().union(*(heads_of(n) for n in row.names)):
        p = found.heads.get(head)
        works = p is not None and p.activation > LEAST_WORK
        if p is not None and works.any():
            longest = max(longest, float(p.fibre_length[works].max()))
    return longest >= 1.0, longest


def _load(row: Row, found: LiftProfile) -> tuple[bool, float]:
    return row.low <= found.working_kg <= row.high, found.working_kg


_PARTS = {
    "lead": _lead, "limit": _limit, "not_limit": _not_limit, "silent": _silent, "stretch": _stretch, "load_man": _load, "load_woman": _load,
}  # fmt: skip
