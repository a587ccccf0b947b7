"""Questions about a table of ready-made effects: what it adds up to, what explains it, what makes it shaky, pictures of it."""

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

import numpy as np

from lengthwise.errors import DataFileError, InputError
from lengthwise.evidence.assessment import by_study
from lengthwise.evidence.bayes import BayesianPool, bayesian_pool
from lengthwise.evidence.effect_table import (
    EffectTable,
    TablePool,
    Trouble,
    look_for_trouble,
    parse_effects,
    pool_table,
    regress_table,
)
from lengthwise.evidence.heterogeneity import read_only
from lengthwise.evidence.moderators import MetaRegression
from lengthwise.evidence.pooling import PooledEffect
from lengthwise.evidence.table_cautions import cautions
from lengthwise.files.whole_files import read_text
from lengthwise.known.weighed_claims import weigh
from lengthwise.questions.pool import PoolAsk
from lengthwise.reading import harmless
from lengthwise.report.charts import Chart
from lengthwise.report.evidence_charts import DoseAxis, StudyTable, charts_of, dose_regression, forest, funnel


@dataclass(frozen=True, kw_only=True)
class Pooled:
    """What a table adds up to; what was not asked, or its rows do not allow, is None."""

    PUBLIC: ClassVar = """
        *=result.answer warnings p?~=one.p q_p?=one.q_p tau2_ci?~=one.tau2_ci prediction_hts?~=one.prediction_hts
        robust?~[se df ci p]=levels.robust.mean tau2_between?=levels.between tau2_within?=levels.within tau2_above?=levels.above
        *=trouble regression? bayesian?
    """

    table: EffectTable
    asked: PoolAsk
    result: TablePool
    trouble: Trouble | None
    regression: MetaRegression | None
    bayesian: BayesianPool | None

    @property
    def warnings(self) -> tuple[str, ...]:
        """What the reader must know about the table and its pool."""
        return (*self.table.warnings, *cautions(self.table, self.result, self.asked.correlation))

    @property
    def levels(self) -> TablePool | None:
        """What only a pool of rows that belong together tells."""
        return self.result if self.result.robust else None

    @property
    def one(self) -> PooledEffect | None:
        """What only a pool of one level tells."""
        return None if self.result.robust else self.result.single


def effects_of_text(name: str, text: str) -> EffectTable:
    """The effects in a CSV text with columns study, yi, vi (or means and spreads)[, cluster][, group].

    Raises:
        DataFileError: listing every fault of the table, each with `name`.
    """
    try:
        return parse_effects(text)
    except DataFileError as error:
        raise DataFileError([f"{name}: {f}" for f in error.faults], asked=name) from error


def read_effects(path: Path) -> EffectTable:
    """The effects in a CSV file with columns study, yi, vi (or means and spreads)[, cluster][, group].

    Raises:
        DataFileError: listing every fault of the file.
    """
    return effects_of_text(path.name, read_text(path))


def pool_effects(table: EffectTable, asked: PoolAsk) -> Pooled:
    """What the rows of a table add up to, with everything that is asked of it.

    Raises:
        InputError: too few rows; rows that belong together where one effect a study is taken; a prior of no width; numbers so unlike
            that rounding would decide.
        UnknownNameError: a moderator that is no numeric column.
    """
    try:
        return _pooled(table, asked)
    except np.linalg.LinAlgError as error:
        raise InputError(
            "the table's numbers differ so much in size that rounding decides the result; allowed a factor of about 1e6"
        ) from error


def _pooled(table: EffectTable, asked: PoolAsk) -> Pooled:
    how, together = asked.convention, asked.correlation
    return Pooled(
        table=table,
        asked=asked,
        result=pool_table(table, how, together),
        trouble=look_for_trouble(table, how),
        regression=regress_table(table, asked.moderators, how, together) if asked.moderators else None,
        bayesian=None if asked.prior_scale is None else _bayesian(table, asked.prior_scale),
    )


def _bayesian(table: EffectTable, prior_scale: float) -> BayesianPool:
    if table.nested:
        raise InputError("the Bayesian pool takes one effect per study; average each cluster's rows first")
    return bayesian_pool(table.y, table.v, prior_scale)


def table_of_claim(claim: str) -> str:
    """The studies that bear on a claim as such a table, one effect a study, with year and weeks; to be pooled another way.

    Raises:
        UnknownNameError: no such claim. InputError: none of its studies has an effect size.
    """
    y, v, studies = by_study(weigh(claim).findings)
    if not studies:
        raise InputError(f"no study bearing on {claim!r} has an effect size with a standard error", asked=claim)
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(("yi", "vi", "study", "year", "weeks"))
    writer.writerows((f"{a:.4f}", f"{b:.5f}", harmless(s.id), s.year, s.weeks or "") for a, b, s in zip(y, v, studies, strict=True))
    return out.getvalue()


def table_charts(title: str, found: Pooled) -> tuple[Chart, ...]:
    """Charts of a pooled table; a column `year` orders the cumulative one, a single moderator adds its own."""
    table, answer = found.table, found.result.answer
    years = tuple(int(year) for year in table.moderators.get("year", ()))
    shown = StudyTable(
        title=title, axis="Effect [unit of the table]", toward="an effect above 0", labels=table.study, y=table.y, v=table.v, weight=read_only(answer.weight),
        remembered=(False,) * table.y.size, estimate=answer.estimate, ci=answer.ci, prediction=answer.prediction, years=years,
    )  # fmt: skip
    # Rows of one cluster cannot be left out one by one, nor added one by one.
    drawn = (forest(shown), funnel(shown)) if table.nested else charts_of(shown, found.asked.convention)
    return (*drawn, *_dose_charts(title, found))


def _dose_charts(title: str, found: Pooled) -> Iterable[Chart]:
    """Effects against the column they were regressed on, where it was one."""
    fit, names = found.regression, found.asked.moderators
    if fit is None or len(names) != 1:
        return
    dose = found.table.moderators[names[0]]
    grid = np.linspace(dose.min(), dose.max(), 60)
    axis = DoseAxis(f"{names[0]} [unit of the table]", "Effect [unit of the table]", f"unit of {names[0]}", grid)
    yield dose_regression(title, axis, fit, dose, (found.table.y, found.table.v), found.table.study)
