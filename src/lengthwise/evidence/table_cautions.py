"""What the reader of a pooled table must know before leaning on its interval."""

from collections import Counter
from collections.abc import Iterator

import numpy as np

from lengthwise.evidence.effect_table import EffectTable, TablePool

FEW_CLUSTERS = 5
"""Clusters below which how much they differ is hardly known (own choice)."""
FEW_DF = 4.0
"""Degrees of freedom below which CR2 errors do not keep their level (Tipton 2015, Psychol Methods 20:375-393)."""


def cautions(table: EffectTable, result: TablePool, correlation: float = 0.0) -> tuple[str, ...]:
    """What a pool of these rows cannot be trusted for, most serious first; nothing where nothing stands out."""
    return (*_of_clusters(table, result, correlation), *_of_likeness(table, result))


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
