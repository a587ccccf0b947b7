"""What the reader of a pooled table must know before leaning on its interval."""

from collections import Counter
from collections.abc import Iterator

import numpy as np

from lengthwise.evidence.effect_table import EffectTable, TablePool
from lengthwise.evidence.pooling import Convention, pool

FEW_CLUSTERS = 5
"""Clusters below which how much they differ is hardly known (own choice)."""
FEW_DF = 4.0
"""Degrees of freedom below which CR2 errors do not keep their level (Tipton 2015, Psychol Methods 20:375-393)."""

TOO_ALIKE = 0.001
"""Chance of effects so much alike, given their errors, below which the errors are doubted (own choice)."""
FAR_OFF = 5.0
"""Errors between a row and what the others say from which the row is doubted (own choice)."""


def cautions(table: EffectTable, result: TablePool, correlation: float = 0.0) -> tuple[str, ...]:
    """What a pool of these rows cannot be trusted for, most serious first; nothing where nothing stands out."""
    return (*_of_clusters(table, result, correlation), *_of_likeness(table, result), *_of_rows(table, result))


def _of_clusters(table: EffectTable, result: TablePool, correlation: float) -> Iterator[str]:
    if not table.nested:
        return
    counts = Counter(table.cluster)
    name, most = counts.most_common(1)[0]
    if np.isfinite(result.answer.df) and result.robust is not None and result.answer.df < FEW_DF:
        yield (
            f"these errors rest on {result.answer.df:.1f} degrees of freedom: below {FEW_DF:g} they and the interval can be far too small"
        )
    if len(counts) < FEW_CLUSTERS:
        yield f"only {len(counts)} clusters: how much they differ is hardly known, so read the mean as a description"
    if most > table.y.size / 2 and not correlation:
        yield (
            f"{most} of {table.y.size} rows are of {name}, and their errors are taken as independent: "
            "see what --correlation 0.5 does to the interval"
        )


def _of_likeness(table: EffectTable, result: TablePool) -> Iterator[str]:
    if table.y.size < 2 or np.ptp(table.y) > 0:
        return
    if result.answer.se == 0:
        yield "all effects are the same, so Hartung-Knapp's error is 0, which is no certainty: take --test z"
    if table.y.size > 2:
        yield "all effects are the same: nothing is tested for asymmetry"


def _of_rows(table: EffectTable, result: TablePool) -> Iterator[str]:
    """What typing does to a table: a row entered twice, errors as variances, another unit."""
    y, v = table.y, table.v
    if y.size == 1:
        yield "one row: how much studies differ cannot be told from one, so the true effect of a new study is not known"
        return
    rows = list(zip(table.study, y.tolist(), v.tolist(), strict=True))
    again = next((i for i, row in enumerate(rows) if row in rows[:i]), None) if len(set(rows)) < len(rows) else None
    if again is not None:
        yield f"rows {rows.index(rows[again]) + 2} and {again + 2} are the same ({table.study[again]}): take one out if it was entered twice"
    if not table.nested and np.ptp(y) > 0 and result.single.q_p > 1 - TOO_ALIKE:
        yield "the effects differ less than their variances allow: vi must be a variance (a standard error squared)"
    yield from _far_off(table)


def _far_off(table: EffectTable) -> Iterator[str]:
    """The row furthest from the middle, where the others leave no room for it."""
    y, v = table.y, table.v
    if y.size < 3:
        return
    far = int(np.argmax(np.abs(y - np.median(y)) / np.sqrt(v)))
    others = pool(np.delete(y, far), np.delete(v, far), Convention("dl"))
    errors = abs(y[far] - others.estimate) / np.sqrt(v[far] + others.tau2 + others.se**2)
    if errors >= FAR_OFF:
        yield (
            f"row {far + 2} ({table.study[far]}): {y[far]:g} lies {errors:.0f} errors from what the others say ({others.estimate:.3g}): "
            "is it in another unit, or typed wrongly?"
        )
