"""A mixed-integer linear programme under construction: named columns, rows that may belong to a wish, and how to relax wishes."""

from collections.abc import Collection, Hashable, Mapping
from dataclasses import dataclass, field, replace

from lengthwise.planning.wording import Wish

INFINITE = float("inf")


@dataclass(frozen=True)
class Column:
    """One unknown: its bounds, what a unit of it is worth, and whether it must be whole."""

    lower: float
    upper: float
    worth: float
    whole: bool


@dataclass(frozen=True)
class Row:
    """lower ≤ Σ factor × unknown ≤ upper; `wish` names the wish it stands for, none where it only defines something."""

    lower: float
    upper: float
    factors: Mapping[int, float]
    wish: Wish | None = None


@dataclass
class Programme:
    """Maximise the worth of the columns within the rows.

    Attributes:
        columns, rows: in order. place: where a column stands, by its name.
    """

    columns: list[Column] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)
    place: dict[Hashable, int] = field(default_factory=dict)

    def add(self, name: Hashable, upper: float, worth: float = 0.0, whole: bool = False) -> int:
        """A new column from 0 to `upper`; returns where it stands."""
        self.place[name] = len(self.columns)
        self.columns.append(Column(0.0, upper, worth, whole))
        return self.place[name]

    def pay(self, column: int, worth: float) -> None:
        """Add to what a unit of a column is worth."""
        self.columns[column] = replace(self.columns[column], worth=self.columns[column].worth + worth)

    def fixing(self, values: Mapping[int, float]) -> "Programme":
        """The same programme with some columns held."""
        columns = [replace(c, lower=values[k], upper=values[k]) if k in values else c for k, c in enumerate(self.columns)]
        return Programme(columns, self.rows, self.place)

    def capping(self, values: Mapping[int, float]) -> "Programme":
        """The same programme with some columns at most so large."""
        columns = [replace(c, upper=min(c.upper, values[k])) if k in values else c for k, c in enumerate(self.columns)]
        return Programme(columns, self.rows, self.place)

    def flooring(self, values: Mapping[int, float]) -> "Programme":
        """The same programme with some columns at least so large."""
        columns = [replace(c, lower=max(c.lower, values[k])) if k in values else c for k, c in enumerate(self.columns)]
        return Programme(columns, self.rows, self.place)

    def paying(self, prices: Mapping[int, float]) -> "Programme":
        """The same programme with some columns worth so much more."""
        columns = [replace(c, worth=c.worth + prices.get(k, 0.0)) for k, c in enumerate(self.columns)]
        return Programme(columns, self.rows, self.place)

    def without(self, kind: str) -> "Programme":
        """The same programme without the wishes of one kind."""
        return Programme(self.columns, [r for r in self.rows if r.wish is None or r.wish.kind != kind], self.place)

    def loosening(self, whole: Collection[int]) -> "Programme":
        """The same programme with some columns alone whole."""
        return Programme([replace(c, whole=k in whole) for k, c in enumerate(self.columns)], self.rows, self.place)

    def keep(
        self, factors: Mapping[int, float], lower: float = -INFINITE, upper: float = INFINITE, wish: Wish | None = None
    ) -> None:
        """A new row."""
        self.rows.append(Row(lower, upper, {k: v for k, v in factors.items() if v}, wish))

    def wishes(self) -> tuple[Wish, ...]:
        """Every wish that a row stands for, in order."""
        return tuple(dict.fromkeys(r.wish for r in self.rows if r.wish is not None))

    def holding(self, kept: frozenset[Wish]) -> "Programme":
        """The same question whether anything at all satisfies some wishes: other wishes are dropped, nothing is worth anything."""
        rows = [r for r in self.rows if r.wish is None or r.wish in kept]
        return Programme([replace(c, worth=0.0) for c in self.columns], rows, self.place)

    def raising(self, factor: float) -> "Programme":
        """The same programme with the lower bounds of wishes raised."""
        rows = [replace(r, lower=r.lower * factor) if r.wish is not None and r.lower > 0 else r for r in self.rows]
        return Programme(list(self.columns), rows, self.place)

    def relaxing(self, prices: Mapping[Wish, float], worth: float = 1.0) -> "Programme":
        """The same programme with some wishes missed at a price a unit; everything else counts `worth` times."""
        out = Programme([replace(c, worth=c.worth * worth) for c in self.columns], [], dict(self.place))
        for i, row in enumerate(self.rows):
            if row.wish is None or row.wish not in prices:
                out.rows.append(row)
                continue
            factors = dict(row.factors)
            if row.lower > -INFINITE:
                factors[out.add(("short", row.wish, i), INFINITE, -prices[row.wish])] = 1.0
            if row.upper < INFINITE:
                factors[out.add(("beyond", row.wish, i), INFINITE, -prices[row.wish])] = -1.0
            out.rows.append(replace(row, factors=factors))
        return out
