"""The criteria: how each measure of a lift becomes a value from 0 to 1, and what stands behind it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from functools import cache
from itertools import pairwise
from typing import Literal

import numpy as np
from pydantic import Field, model_validator

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.contents import data_of
from lengthwise.errors import DataFileError, unknown
from lengthwise.evidence.claims import starter_library
from lengthwise.grading.facts import HeadFacts, LiftFacts
from lengthwise.grading.target import Target

ENGAGED = 0.4
"""Peak activation from which a head's length counts in full; estimate: two fifths of its strength is a working head."""
PRACTICE = "common practice"
_NUMBERS = (float, int, bool)
_OF_HEAD = {"safe_long_half_load", *(f.name for f in fields(HeadFacts))}
MEASURES = {"head": _OF_HEAD, "muscle": _OF_HEAD, "lift": {"nearness", *(f.name for f in fields(LiftFacts) if f.type in _NUMBERS)}}
"""What a criterion can take, by whose measure it is."""


class Criterion(anatomy.Strict):
    """One criterion (data/criteria.toml).

    Attributes:
        title: as people read it. short: the same over a narrow column; its title where empty. of: whose measure it is. measure, unit: what goes in.
        engaged: whether it counts only as far as the head works.
        points: (measure, value) between which straight lines run.
        claim: id of the evidence claim, or "common practice". why: what it stands for. reason: where the points come from.
    """

    title: str
    short: str = ""
    of: Literal["head", "muscle", "lift"]
    engaged: bool = False
    measure: str
    unit: str
    points: tuple[tuple[float, float], ...] = Field(min_length=2)
    claim: str
    why: str
    reason: str

    @model_validator(mode="after")
    def _rising(self) -> "Criterion":
        x, y = zip(*self.points, strict=True)
        if any(b <= a for a, b in pairwise(x)):
            raise ValueError(f"measures of the points must rise; found {x}")
        if not {0.0, 1.0} <= set(y) or min(y) < 0 or max(y) > 1:
            raise ValueError(f"values must run from 0 to 1; found {y}")
        if len({a < b for a, b in pairwise(y) if a != b}) > 1:
            raise ValueError(f"values must rise or fall all the way; found {y}")
        return self

    @property
    def rises(self) -> bool:
        """Whether more of the measure is better."""
        return self.points[-1][1] > self.points[0][1]

    def value(self, measure: Array | float) -> Array:
        """The value of a measure, 0-1, in the measure's shape."""
        x, y = zip(*self.points, strict=True)
        return np.asarray(np.interp(measure, x, y))


@cache
def criteria() -> dict[str, Criterion]:
    """Every criterion, by name.

    Raises:
        DataFileError: the package's file is damaged, or a claim does not exist.
    """
    out = {
        k: anatomy.read_table(f"criteria.toml: {k}", Criterion, v)
        for k, v in data_of("grading", "criteria.toml")["criterion"].items()
    }
    known = starter_library().claims
    faults = [
        f"criteria.toml: {k}.{key}: {unknown(what, name, valid)}"
        for k, c in out.items()
        for key, what, name, valid in (
            ("claim", "claim", c.claim, (*known, PRACTICE)),
            ("measure", f"measure of a {'lift' if c.of == 'lift' else 'head'}", c.measure, MEASURES[c.of]),
        )
        if name not in valid
    ]
    if faults:
        raise DataFileError(faults)
    return out


def names() -> tuple[str, ...]:
    """Names of the criteria, in the order of every array."""
    return tuple(criteria())


def preferences() -> tuple[str, ...]:
    """Names of the criteria of a lift itself (steadiness, time, load step, joints): they order lifts whose growth cannot be told apart."""
    return tuple(n for n, c in criteria().items() if c.of == "lift")


@dataclass(frozen=True)
class Measured:
    """The measures of one lift for the heads of a target, as the curves take them.

    Attributes:
        x: (n_criterion, n_head); the same in every column for criteria of the whole muscle or lift.
        engagement: how far each head works, 0-1, (n_head,).
        strength_n: maximal force of each head [N], (n_head,).
    """

    x: Array
    engagement: Array
    strength_n: Array


def measured(facts: LiftFacts, target: Target) -> Measured:
    """The measures of a lift for a target."""
    heads = [facts.heads[h] for h in target.heads]
    rows = [_row(c, facts, heads) for c in criteria().values()]
    peak = np.array([h.peak_activation for h in heads])
    return Measured(np.array(rows), engagement(peak), np.array([h.strength_n for h in heads]))


def engagement(peak_activation: Array) -> Array:
    """How far a head works, 0-1: its peak activation over ENGAGED, at most 1."""
    return np.asarray(np.clip(peak_activation / ENGAGED, 0, 1))


def _row(criterion: Criterion, facts: LiftFacts, heads: Sequence[HeadFacts]) -> list[float]:
    if criterion.of == "lift":
        return [_of_lift(criterion.measure, facts)] * len(heads)
    each = [_of_head(criterion.measure, facts, h) for h in heads]
    return [sum(each)] * len(heads) if criterion.of == "muscle" else each


def _of_lift(measure: str, facts: LiftFacts) -> float:
    if measure == "nearness":
        return max((j.nearness for j in facts.joints.values()), default=0.0)
    return float(getattr(facts, measure))


def _of_head(measure: str, facts: LiftFacts, head: HeadFacts) -> float:
    if measure == "safe_long_half_load":
        return head.long_half_load if facts.long_safe else 0.0
    return float(getattr(head, measure))


def head_values(x: Array, engaged: Array) -> Array:
    """The value of every criterion for every head.

    Args:
        x: measures, (…, n_criterion, n_head). engaged: how far each head works, (…, n_head).

    Returns:
        0-1, (…, n_criterion, n_head).
    """
    out = np.empty(x.shape)
    for i, criterion in enumerate(criteria().values()):
        out[..., i, :] = criterion.value(x[..., i, :]) * (engaged if criterion.engaged else 1.0)
    return out


def muscle_values(values: Array, strength_n: Array) -> Array:
    """The value of every criterion for a whole muscle: the mean over its heads weighted by their strength, (…, n_criterion)."""
    return np.asarray(values @ (strength_n / strength_n.sum()))


def values_of(facts: LiftFacts, target: Target) -> dict[str, float]:
    """The value of every criterion of a lift for a target, 0-1, by name."""
    m = measured(facts, target)
    found = muscle_values(head_values(m.x, m.engagement), m.strength_n)
    return {n: float(v) for n, v in zip(names(), found, strict=True)}


def coverage(facts: LiftFacts, target: Target) -> dict[str, float]:
    """How far a lift works each head of a target: the value of `joint_action` for each, 0-1."""
    action = criteria()["joint_action"]
    return {h: float(action.value(facts.heads[h].shortening)) for h in target.heads}


def score(values: Mapping[str, float], weights: Mapping[str, float]) -> float:
    """The weighted mean of criterion values, 0-1."""
    return sum(weights[n] * values[n] for n in values) / sum(weights[n] for n in values)
