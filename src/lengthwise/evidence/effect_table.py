"""A table of ready-made effects (columns yi, vi, study[, cluster]) and what it adds up to."""

import csv
import io
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from lengthwise.distributions import t
from lengthwise.errors import DataFileError, InputError, unknown
from lengthwise.evidence.bias import Asymmetry, Filled, egger, trim_and_fill
from lengthwise.evidence.heterogeneity import Array, Effects, read_only, tau_squared
from lengthwise.evidence.influence import LeftOut, leave_one_out
from lengthwise.evidence.moderators import MetaRegression, regress
from lengthwise.evidence.multilevel import three_level
from lengthwise.evidence.pooling import NAMES, Convention, PooledEffect, pool
from lengthwise.evidence.robust import RobustFit, robust_fit
from lengthwise.evidence.synthesis import Answer, shares

REQUIRED = ("yi", "vi", "study")
LARGEST, SMALLEST_VARIANCE = 1e9, 1e-9
"""Bounds on the numbers of a table: beyond them rounding decides what comes out (own choice, far outside any unit in use)."""


@dataclass(frozen=True)
class EffectTable:
    """Effects read from a table.

    Attributes:
        study: name of each row (n).
        y, v: effects and sampling variances (n).
        cluster: which rows belong together (n); empty when no such column was given.
        moderators: further columns that hold numbers only, by name (n each).
    """

    study: tuple[str, ...]
    y: Array
    v: Array
    cluster: tuple[str, ...]
    moderators: Mapping[str, Array]

    @property
    def nested(self) -> bool:
        """Whether some cluster holds several rows, and there are at least two clusters."""
        return 2 <= len(set(self.cluster)) < len(self.cluster)

    @property
    def warnings(self) -> tuple[str, ...]:
        """What the reader of a pool must know about the table."""
        repeated = [name for name, times in Counter(self.study).items() if times > 1]
        found = []
        if repeated and not self.cluster:
            names = ", ".join(repeated[:3])
            found.append(f"{len(repeated)} studies have several rows ({names} …), pooled as if independent; add a cluster column")
        if self.cluster and not self.nested:
            found.append("the cluster column groups nothing, so it was not used")
        return tuple(found)


def _number(text: str) -> float | None:
    try:
        value = float(text)
    except ValueError:
        return None
    return value if abs(value) <= LARGEST else None


def _row_faults(row: Mapping[str, str], number: int) -> list[str]:
    found = [f"row {number}, {c}: is empty, but every row needs it" for c in REQUIRED if not row[c].strip()]
    for column in ("yi", "vi"):
        if row[column].strip() and _number(row[column]) is None:
            found.append(f"row {number}, {column}: found {row[column]!r}; allowed: a number within ±{LARGEST:g}")
    variance = _number(row["vi"])
    if variance is not None and variance < SMALLEST_VARIANCE:
        allowed = f"above 0, and at least {SMALLEST_VARIANCE:g} (a variance, not a standard error or a weight)"
        found.append(f"row {number}, vi: found {variance:g}; allowed: {allowed}")
    return found


def _moderators(rows: Sequence[Mapping[str, str]]) -> dict[str, Array]:
    """Columns beside the known ones in which every cell is a number."""
    found = {}
    for column in rows[0]:
        numbers = [_number(row[column]) for row in rows]
        if column not in (*REQUIRED, "cluster") and all(n is not None for n in numbers):
            found[column] = read_only([n for n in numbers if n is not None])
    return found


def parse_effects(text: str) -> EffectTable:
    """The effects in a CSV text with columns yi, vi, study[, cluster] and, if wanted, moderators.

    Raises:
        DataFileError: listing every fault of the table.
    """
    reader = csv.DictReader(io.StringIO(text.lstrip("\ufeff")))
    header = [name or "" for name in reader.fieldnames or ()]
    missing = [c for c in REQUIRED if c not in header]
    if missing:
        raise DataFileError([f"header: column {c!r} is missing; allowed: {', '.join(REQUIRED)}[, cluster]" for c in missing])
    rows = [{k: v or "" for k, v in row.items() if k is not None} for row in reader]
    faults = [fault for number, row in enumerate(rows, start=2) for fault in _row_faults(row, number)]
    if not rows:
        faults = ["the table has no rows"]
    if faults:
        raise DataFileError(faults)
    cells = [(row["study"], float(row["yi"]), float(row["vi"]), row.get("cluster", "")) for row in rows]
    return table_of(cells, _moderators(rows))


def table_of(cells: Sequence[tuple[str, float, float, str]], columns: Mapping[str, Sequence[float] | Array]) -> EffectTable:
    """A table of rows (study, effect, variance, cluster) and further columns; where no row names a cluster there are none."""
    study, y, v, cluster = zip(*cells, strict=True)
    own = tuple(c.strip() or f"row {i}" for i, c in enumerate(cluster)) if any(c.strip() for c in cluster) else ()
    moderators = {name: read_only(values) for name, values in columns.items()}
    return EffectTable(tuple(s.strip() for s in study), read_only(y), read_only(v), own, MappingProxyType(moderators))


@dataclass(frozen=True)
class TablePool:
    """What a table adds up to: the answer, the one-level pool, and with clusters the robust fit and both variances."""

    answer: Answer
    single: PooledEffect
    robust: RobustFit | None
    between: float | None
    within: float | None


def _plain(table: EffectTable, how: Convention, single: PooledEffect) -> Answer:
    return Answer(
        "studies", "as given", single.k, len(set(table.study)), single.estimate, single.se, single.df, single.ci,
        single.tau2, single.i2, single.q, single.prediction, how.sentence(single.k), table.study,
        tuple(single.weight.tolist()),
    )  # fmt: skip


def _around(centre: float, half: float) -> tuple[float, float]:
    return centre - half, centre + half


@dataclass(frozen=True)
class _Levels:
    """A model of effects within clusters, before the test is chosen."""

    name: str
    estimate: float
    model_se: float
    tau2: float
    i2: float
    omega: Array
    between: float | None = None
    within: float | None = None


def _levels(table: EffectTable, how: Convention, single: PooledEffect) -> _Levels:
    if how.method == "reml":
        m = three_level(table.y, table.v, table.cluster)
        tau2 = m.between + m.within
        return _Levels("three-level REML", float(m.beta[0]), float(m.se[0]), tau2, m.i2[0], m.omega, m.between, m.within)
    omega = np.diag(table.v + float(tau_squared(Effects(table.y, table.v), how.method)))
    name = f"{NAMES[how.method]} weights"
    return _Levels(name, single.estimate, float("nan"), single.tau2, single.i2, omega)


def _nested(table: EffectTable, how: Convention, single: PooledEffect) -> TablePool:
    """Effects within clusters. REML fits three levels with its own errors under z and t; all else takes CR2 errors."""
    levels = _levels(table, how, single)
    robust = robust_fit(table.y, levels.omega, table.cluster)
    if how.method == "reml" and how.test != "hk":
        se, df = levels.model_se, float("inf") if how.test == "z" else table.y.size - 1
        error, quantile = "model standard error", how.quantile(table.y.size - 1)
    else:
        se, df = float(robust.se[0]), float(robust.df[0])
        error, quantile = "CR2 cluster-robust standard error", float(t.ppf((1 + how.level) / 2, df))
    freedom = "normal quantile" if np.isinf(df) else f"t quantile on {df:.1f} df"
    words = (
        f"{levels.name} over {robust.n_cluster} clusters, {error}, {freedom}; tau2 is the sum over levels; prediction "
        "interval estimate ± the same quantile·√(se² + τ²); i2 in percent"
    )
    answer = Answer(
        "studies", "as given", table.y.size, robust.n_cluster, levels.estimate, se, df,
        _around(levels.estimate, quantile * se), levels.tau2, levels.i2, single.q,
        _around(levels.estimate, quantile * float(np.hypot(se, np.sqrt(levels.tau2)))), words, table.study,
        shares(levels.omega),
    )  # fmt: skip
    return TablePool(answer, single, robust, levels.between, levels.within)


def pool_table(table: EffectTable, how: Convention) -> TablePool:
    """What the rows of a table add up to; rows of one cluster are not treated as independent.

    Raises:
        InputError: too few rows for the test.
    """
    if table.nested:
        return _nested(table, how, pool(table.y, table.v, Convention(how.method, "z", how.level)))
    single = pool(table.y, table.v, how)
    return TablePool(_plain(table, how, single), single, None, None, None)


def regress_table(table: EffectTable, names: Sequence[str], how: Convention) -> MetaRegression:
    """How the effects of a table depend on the named columns.

    Raises:
        UnknownNameError: a column is missing or holds something other than numbers.
    """
    for name in names:
        if name not in table.moderators:
            raise unknown("numeric column", name, table.moderators)
    if table.nested:
        raise InputError("a moderator cannot be combined with clustered rows here; average the rows of each cluster first")
    return regress(table.y, table.v, {name: table.moderators[name] for name in names}, how)


@dataclass(frozen=True)
class Trouble:
    """What makes a pool shaky: asymmetry and trim-and-fill (None when all rows are equally precise), and leave-one-out."""

    asymmetry: Asymmetry | None
    filled: Filled | None
    left_out: LeftOut


def look_for_trouble(table: EffectTable, how: Convention) -> Trouble | None:
    """Asymmetry, missing studies and single rows that decide; None for clustered rows or fewer than three."""
    if table.nested or table.y.size < 3:
        return None
    left_out = leave_one_out(table.y, table.v, how)
    if np.ptp(table.v) == 0:
        return Trouble(None, None, left_out)
    return Trouble(egger(table.y, table.v), trim_and_fill(table.y, table.v, how), left_out)
