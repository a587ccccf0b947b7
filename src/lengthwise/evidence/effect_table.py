"""A table of effects (columns study and yi, vi, or means and standard deviations of two groups) and what it adds up to."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import ClassVar

import numpy as np

from lengthwise.arrays import Array
from lengthwise.distributions import t
from lengthwise.errors import DataFileError, InputError, unknown
from lengthwise.evidence.bias import Asymmetry, Filled, PreciseEffect, egger, precise_effect, rank_correlation, trim_and_fill
from lengthwise.evidence.covariance import Covariance
from lengthwise.evidence.effect import Group, standardised_difference
from lengthwise.evidence.heterogeneity import Effects, read_only, tau_squared
from lengthwise.evidence.influence import LeftOut, leave_one_out
from lengthwise.evidence.moderators import MetaRegression, ResidualSpread, of_fit, regress
from lengthwise.evidence.multilevel import three_level
from lengthwise.evidence.pooling import NAMES, Convention, PooledEffect, pool
from lengthwise.evidence.robust import RobustFit, robust_fit
from lengthwise.evidence.synthesis import PooledAnswer, shares
from lengthwise.reading import named_rows, rows_of_csv

READY = ("yi", "vi")
MEANS = ("n_a", "mean_a", "sd_a", "n_b", "mean_b", "sd_b")
DERIVED = "effects are Hedges' g of group a over group b, worked out from means and standard deviations"
LARGEST, SMALLEST_VARIANCE = 1e9, 1e-9
"""Bounds on the numbers of a table: beyond them rounding decides what comes out (own choice, far outside any unit in use)."""

WIDEST = 1e12
"""Most that the largest variance of a table may be of its smallest: beyond it one row's weight is all that rounding leaves."""

MOST_LEFT_OUT = 1000
"""Most rows that are left out one by one: the work grows with their square, and among more no single one decides (own choice)."""


@dataclass(frozen=True, kw_only=True)
class EffectTable:
    """Effects read from a table.

    Attributes:
        study: name of each row (n).
        y, v: effects and sampling variances (n).
        cluster: which rows belong together (n): the column of that name, else the studies where they repeat; empty where none do.
        group: which clusters belong together (n), such as those of one laboratory; empty when no such column was given.
        moderators: further columns that hold numbers only, by name (n each).
        unfit: further columns that do not, by name, each with its first cell that is no number.
        derived: how effects were worked out where the table gives means; empty for ready-made ones.
    """

    study: tuple[str, ...]
    y: Array
    v: Array
    cluster: tuple[str, ...]
    group: tuple[str, ...]
    moderators: Mapping[str, Array]
    unfit: Mapping[str, str]
    derived: str = ""

    @property
    def nested(self) -> bool:
        """Whether some cluster holds several rows."""
        return len(set(self.cluster)) < len(self.cluster)

    @property
    def warnings(self) -> tuple[str, ...]:
        """What the reader of a pool must know about the table."""
        found = [self.derived] if self.derived else []
        if self.nested and self.cluster == self.study:
            repeated = [name for name, times in Counter(self.study).items() if times > 1]
            names = ", ".join(repeated[:3]) + (" …" if len(repeated) > 3 else "")
            who = "1 study has" if len(repeated) == 1 else f"{len(repeated)} studies have"
            found.append(f"{who} several rows ({names}): the rows of a study count as one cluster")
        if self.cluster and not self.nested:
            found.append("the cluster column groups nothing, so it was not used")
        return tuple(found)


def _number(text: str) -> float | None:
    try:
        value = float(text)
    except ValueError:
        return None
    return value if abs(value) <= LARGEST else None


def _cell_fault(row: Mapping[str, str], column: str) -> str:
    """What is wrong with a cell that has to be a number; empty when nothing is."""
    if not row[column].strip():
        return f"{column}: is empty, but every row needs it"
    if _number(row[column]) is None:
        return f"{column}: found {row[column]!r}; allowed: a number within ±{LARGEST:g}"
    return ""


def _row_faults(row: Mapping[str, str], columns: Sequence[str]) -> list[str]:
    found = [] if row["study"].strip() else ["study: is empty, but every row needs it"]
    found += [fault for column in columns if (fault := _cell_fault(row, column))]
    variance = _number(row.get("vi", ""))
    if not found and variance is not None and variance < SMALLEST_VARIANCE:
        allowed = f"above 0, and at least {SMALLEST_VARIANCE:g} (a variance, not a standard error or a weight)"
        found.append(f"vi: found {variance:g}; allowed: {allowed}")
    return found


def _unfit(rows: Sequence[Mapping[str, str]], column: str) -> str:
    """The first cell of a column that is no number, with its row; empty when all are."""
    for number, row in enumerate(rows, start=2):
        if _number(row[column]) is None:
            return f"row {number}, {column}: {f'found {row[column]!r}' if row[column].strip() else 'is empty'}; allowed: a number"
    return ""


def _effect(row: Mapping[str, str], columns: Sequence[str]) -> tuple[float, float]:
    """Effect and variance of a row: as given, or Hedges' g of its two groups.

    Raises:
        InputError: fewer than two people in a group, or no spread.
    """
    if columns == READY:
        return float(row["yi"]), float(row["vi"])
    groups = []
    for tail in ("a", "b"):
        n = float(row[f"n_{tail}"])
        if n != int(n):
            raise InputError(f"n_{tail}: found {n:g}; allowed: a whole number", asked=n)
        groups.append(Group(int(n), float(row[f"mean_{tail}"]), float(row[f"sd_{tail}"])))
    effect = standardised_difference(*groups)
    return effect.estimate, effect.variance


def parse_effects(text: str) -> EffectTable:
    """The effects in a CSV text: columns study and yi, vi (or n_a, mean_a, sd_a, n_b, mean_b, sd_b), and if wanted cluster, group, moderators.

    Raises:
        DataFileError: listing every fault of the table.
    """
    header, *cells_of = list(rows_of_csv("table", text)) or [[]]
    columns = MEANS if "yi" not in header and any(c in header for c in MEANS) else READY
    missing = [c for c in ("study", *columns) if c not in header]
    if missing:
        allowed = f"study, {', '.join(READY)} (or {', '.join(MEANS)})[, cluster][, group]"
        raise DataFileError([f"header: column {c!r} is missing; allowed: {allowed}" for c in missing])
    rows = list(named_rows(header, cells_of))
    faults, cells = [] if rows else ["the table has no rows"], []
    for number, row in enumerate(rows, start=2):
        found = _row_faults(row, columns)
        if not found:
            try:
                cells.append((row["study"], *_effect(row, columns), row.get("cluster", ""), row.get("group", "")))
            except InputError as error:
                found = [str(error)]
        faults += [f"row {number}, {fault}" for fault in found]
    if faults:
        raise DataFileError(faults)
    further = [c for c in header if c not in (*READY, *MEANS, "study", "cluster", "group")]
    unfit = {c: fault for c in further if (fault := _unfit(rows, c))}
    numbers = {c: [float(row[c]) for row in rows] for c in further if c not in unfit}
    return replace(table_of(cells, numbers), unfit=MappingProxyType(unfit), derived=DERIVED if columns == MEANS else "")


def table_of(cells: Sequence[tuple[str, float, float, str, str]], columns: Mapping[str, Sequence[float] | Array]) -> EffectTable:
    """A table of rows (study, effect, variance, cluster, group) and further columns; where no row names a cluster, studies that repeat are."""
    study, y, v, cluster, group = zip(*cells, strict=True)
    names = tuple(s.strip() for s in study)
    own = tuple(c.strip() or f"row {i}" for i, c in enumerate(cluster)) if any(c.strip() for c in cluster) else ()
    together = own or (names if len(set(names)) < len(names) else ())
    wider = (
        tuple(g.strip() or f"alone {c}" for g, c in zip(group, together or names, strict=True))
        if any(g.strip() for g in group)
        else ()
    )
    moderators = MappingProxyType({name: read_only(values) for name, values in columns.items()})
    return EffectTable(
        study=names,
        y=read_only(y),
        v=read_only(v),
        cluster=together,
        group=wider,
        moderators=moderators,
        unfit=MappingProxyType({}),
    )


@dataclass(frozen=True, kw_only=True)
class TablePool:
    """What a table adds up to.

    Attributes:
        answer: the mean and its spread. single: the one-level pool.
        robust: with clusters, the mean with cluster-robust errors.
        between, within, above: variances between clusters, within them and between groups of them; None where not estimated.
    """

    answer: PooledAnswer
    single: PooledEffect
    robust: RobustFit | None = None
    between: float | None = None
    within: float | None = None
    above: float | None = None


def _plain(table: EffectTable, how: Convention, single: PooledEffect) -> PooledAnswer:
    return PooledAnswer(
        basis="studies", scale="as given", k=single.k, n_study=len(set(table.study)), estimate=single.estimate, se=single.se, df=single.df, ci=single.ci,
        tau2=single.tau2, i2=single.i2, q=single.q, prediction=single.prediction, convention=how.sentence(single.k), sources=table.study,
        weight=tuple(single.weight.tolist()),
    )  # fmt: skip


def _around(centre: float, half: float) -> tuple[float, float]:
    return centre - half, centre + half


@dataclass(frozen=True, kw_only=True)
class _Levels:
    """A model of effects within clusters, before the test is chosen."""

    name: str
    estimate: float
    model_se: float
    tau2: float
    i2: float
    omega: Covariance
    between: float | None = None
    within: float | None = None
    above: float | None = None


def _levels(table: EffectTable, how: Convention, single: PooledEffect, correlation: float) -> _Levels:
    if how.method == "reml":
        m = three_level(table.y, table.v, table.cluster, correlation=correlation, group=table.group or None)
        name = "four-level REML (groups of clusters)" if table.group else "three-level REML"
        above = m.above if table.group else None
        return _Levels(
            name=name,
            estimate=float(m.beta[0]),
            model_se=float(m.se[0]),
            tau2=m.tau2,
            i2=m.i2[0],
            omega=m.omega,
            between=m.between,
            within=m.within,
            above=above,
        )
    if table.group or correlation:
        asked = "a group column" if table.group else f"correlation {correlation:g}"
        raise InputError(f"{asked} needs method reml, found {how.method}", asked=how.method, allowed=["reml"])
    omega = Covariance.independent(table.v + float(tau_squared(Effects(table.y, table.v), how.method)))
    return _Levels(
        name=f"{NAMES[how.method]} weights",
        estimate=single.estimate,
        model_se=float("nan"),
        tau2=single.tau2,
        i2=single.i2,
        omega=omega,
    )


FEW_CLUSTERS = 3
"""With fewer clusters an interval takes t on clusters − 1 whatever test was asked for: so few say little of how clusters differ (own choice)."""


def _nested(table: EffectTable, how: Convention, single: PooledEffect, correlation: float) -> TablePool:
    """Effects within clusters. REML fits levels with its own errors under z and t; all else takes CR2 errors."""
    levels = _levels(table, how, single, correlation)
    robust = robust_fit(table.y, levels.omega, table.group or table.cluster)
    n_cluster = len(set(table.cluster))
    if how.method == "reml" and how.test != "hk":
        se, df = levels.model_se, float("inf") if how.test == "z" else table.y.size - 1
        error, quantile = "model standard error", how.quantile(table.y.size - 1)
        if n_cluster < FEW_CLUSTERS:
            df = n_cluster - 1
            error, quantile = f"model standard error, {n_cluster} clusters only", float(t.ppf((1 + how.level) / 2, df))
    else:
        se, df = float(robust.se[0]), float(robust.df[0])
        error, quantile = "CR2 cluster-robust standard error", float(t.ppf((1 + how.level) / 2, df))
    freedom = "normal quantile" if np.isinf(df) else f"t quantile on {df:.1f} df"
    errors = f", sampling errors of one cluster correlated by {correlation:g}" if correlation else ""
    words = (
        f"{levels.name} over {n_cluster} clusters{errors}, {error}, {freedom}; tau2 is the sum over levels; prediction "
        "interval estimate ± the same quantile·√(se² + τ²); i2 in percent"
    )
    answer = PooledAnswer(
        basis="studies", scale="as given", k=table.y.size, n_study=n_cluster, estimate=levels.estimate, se=se, df=df,
        ci=_around(levels.estimate, quantile * se), tau2=levels.tau2, i2=levels.i2, q=single.q,
        prediction=_around(levels.estimate, quantile * float(np.hypot(se, np.sqrt(levels.tau2)))), convention=words, sources=table.study,
        weight=shares(levels.omega),
    )  # fmt: skip
    return TablePool(answer=answer, single=single, robust=robust, between=levels.between, within=levels.within, above=levels.above)


def pool_table(table: EffectTable, how: Convention, correlation: float = 0.0) -> TablePool:
    """What the rows of a table add up to; rows of one cluster are not treated as independent.

    Args:
        correlation: of the sampling errors within a cluster.

    Raises:
        InputError: rows of one study only, too few rows for the test, levels that the method has no place for, or variances too unlike.
    """
    if table.v.max() > WIDEST * table.v.min():
        found = f"variances from {table.v.min():g} to {table.v.max():g}"
        raise InputError(f"{found}; allowed the largest at most {WIDEST:g} times the smallest; are they in one unit?", asked=found)
    if table.nested:
        if len(set(table.cluster)) == 1:
            raise InputError(
                f"all {table.y.size} rows belong to one study ({table.cluster[0]}): how much studies differ cannot be told from one",
                asked=table.cluster[0],
                allowed=["one row", "rows of two studies or more"],
            )
        return _nested(table, how, pool(table.y, table.v, Convention(how.method, "z", how.level)), correlation)
    if table.group or correlation:
        asked = "a group column" if table.group else f"correlation {correlation:g}"
        raise InputError(f"{asked} needs clusters with several rows, found one row a cluster", asked=asked)
    single = pool(table.y, table.v, how)
    return TablePool(answer=_plain(table, how, single), single=single)


def regress_table(table: EffectTable, names: Sequence[str], how: Convention, correlation: float = 0.0) -> MetaRegression:
    """How the effects of a table depend on the named columns; with clusters by REML over levels.

    Raises:
        DataFileError: a cell of a column is no number; the message names it. UnknownNameError: no such column.
        InputError: another method or test than clusters allow.
    """
    unfit = [table.unfit[name] for name in names if name in table.unfit]
    if unfit:
        raise DataFileError(unfit, asked=list(names))
    for name in names:
        if name not in table.moderators:
            raise unknown("numeric column", name, table.moderators)
    moderators = {name: table.moderators[name] for name in names}
    if not table.nested:
        return regress(table.y, table.v, moderators, how)
    if how.method != "reml" or how.test == "hk":
        raise InputError(
            f"moderators of clustered rows are weighed by REML with test z or t, found {how.method} with {how.test}",
            asked=[how.method, how.test],
            allowed=["reml with z", "reml with t"],
        )
    return _regress_nested(table, moderators, how, correlation)


def _regress_nested(table: EffectTable, moderators: Mapping[str, Array], how: Convention, correlation: float) -> MetaRegression:
    x = Effects(table.y, table.v, np.column_stack([np.ones(table.y.size), *moderators.values()])).x
    group = table.group or None
    with_them = three_level(table.y, table.v, table.cluster, x, correlation, group)
    alone = three_level(table.y, table.v, table.cluster, None, correlation, group).tau2
    return of_fit(
        tuple(moderators),
        with_them.beta,
        with_them.cov,
        ResidualSpread(with_them.tau2, with_them.i2[0], with_them.q, alone),
        table.y.size,
        how,
    )


@dataclass(frozen=True)
class Trouble:
    """What makes a pool shaky; a part that its rows do not allow is None.

    Attributes:
        asymmetry, filled, precise: Egger's test, trim-and-fill, PET-PEESE: for rows that differ in effect and precision.
        rank: Begg's rank correlation and its probability.
        left_out: the mean without each row, up to MOST_LEFT_OUT rows.
    """

    PUBLIC: ClassVar = """
        asymmetry? trim_and_fill?=filled pet_peese?=precise rank_test?~[tau p]=rank
        leave_one_out?=left_out
    """
    asymmetry: Asymmetry | None
    filled: Filled | None
    precise: PreciseEffect | None
    rank: tuple[float, float] | None
    left_out: LeftOut | None


def look_for_trouble(table: EffectTable, how: Convention) -> Trouble | None:
    """Asymmetry, missing studies and single rows that decide; None for clustered rows or fewer than three."""
    if table.nested or table.y.size < 3:
        return None
    left_out = leave_one_out(table.y, table.v, how) if table.y.size <= MOST_LEFT_OUT else None
    if np.ptp(table.v) == 0 or np.ptp(table.y) == 0:
        return Trouble(None, None, None, None, left_out)
    y, v = table.y, table.v
    return Trouble(egger(y, v), trim_and_fill(y, v, how), precise_effect(y, v), rank_correlation(y, v), left_out)
