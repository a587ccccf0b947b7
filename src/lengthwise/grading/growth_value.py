"""How much a lift grows a head or a muscle for each hard set: the law of growth on the facts of a lift, draw by draw."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Literal

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.contents import data_of
from lengthwise.errors import DataFileError
from lengthwise.grading.criteria import criteria
from lengthwise.grading.draws import Streams, stream_name
from lengthwise.grading.facts import HeadFacts, LiftFacts
from lengthwise.grading.studied_lift import Studied
from lengthwise.grading.target import Target
from lengthwise.growth.features import Features, muscle_of, volume_cm3
from lengthwise.growth.law import NAMES, SILENT, columns, per_set

Per = Literal["set", "minute", "effort"]

ENDS = (0.05, 0.95)
"""Ends of the 90 % interval."""
LEVEL, MISFIT, SETS = NAMES.index("level"), NAMES.index("log_misfit"), NAMES.index("log_sets")
GATE = "joint_action"
"""The one gate beside growth: a head shortens against a load that can be raised. Named after the criterion of the old grade."""
FULL_WAY = 0.3
"""Way of a working head from which the gate stands wholly open [optimal fibre lengths]: between a fifth and two fifths, the two
readings of the old criterion's point (whole activation through a fifth, half through two fifths)."""


@dataclass(frozen=True)
class Growth:
    """A quantity with its 90 % interval."""

    mean: float
    low: float
    high: float


def summed_up(mean: float, drawn: Array) -> Growth:
    """A mean with the interval of some draws."""
    low, high = np.quantile(drawn, ENDS)
    return Growth(mean, min(float(low), mean), max(float(high), mean))


def features_in(heads: Mapping[str, HeadFacts], head: str) -> Features:
    """The features of a head from the facts of a lift."""
    own, mine = heads[head], [h for h in muscle_of(head) if h in heads]
    volume = volumes(heads, mine)
    group = float(volume @ [heads[h].drive for h in mine] / volume.sum())
    return Features(own.drive, group, own.loaded_span, own.loaded_length, own.joint_conflict, volume_cm3(head, own.volume_nm))


def volumes(facts: Mapping[str, HeadFacts], heads: Sequence[str]) -> Array:
    """The volumes of heads [cm³], (n_head,)."""
    return np.array([volume_cm3(h, facts[h].volume_nm) for h in heads])


def head_growth(facts: LiftFacts, heads: Sequence[str], x: Array) -> Array:
    """Growth of heads for a hard set under draws of the coefficients, (n_draw, n_head).

    1 is a head driven at half its strength, at 0.9 of its optimal length, whose joints agree; 0 a head that does nothing.
    """
    none = np.zeros(len(heads))
    return per_set(x, columns([features_in(facts.heads, h) for h in heads], none, none))


def usual_growth(facts: LiftFacts, heads: Sequence[str], x: Array) -> Array:
    """Growth of heads together, by volume, for a hard set under draws of the coefficients, without the gate, (n_draw,)."""
    volume = volumes(facts.heads, heads)
    return np.asarray(head_growth(facts, heads, x) @ volume / volume.sum())


def growth_per_set(facts: LiftFacts, heads: Sequence[str], x: Array) -> dict[str, Growth]:
    """What one hard set of a lift is worth to each head: `head_growth` times the gate, with 90 % intervals over draws of the coefficients.

    A head that only holds, or is silent, gets 0; so an indirect set counts what it is worth beside a direct one.
    """
    found = head_growth(facts, heads, x) * gates(facts, heads)
    return {h: summed_up(float(found[:, i].mean()), found[:, i]) for i, h in enumerate(heads)}


def expected_growth(facts: LiftFacts, heads: Sequence[str], x: Array) -> float:
    """What lifts and set-ups are ordered by before anything is drawn: expected growth times the gate, heads by volume."""
    volume = volumes(facts.heads, heads)
    return float(head_growth(facts, heads, x).mean(0) * gates(facts, heads) @ volume / volume.sum())


def sets_and_growth(facts: LiftFacts, heads: Sequence[str], x: Array) -> tuple[dict[str, float], dict[str, float]]:
    """Direct sets that one set is worth to each head (0-1), and `mean_growth`, of a lift for which the law is worked out once.

    Silent heads grow nothing, and are most of them: nothing is drawn for those.
    """
    none = dict.fromkeys(heads, 0.0)
    heads = [h for h in heads if facts.heads[h].drive > SILENT]
    grown = head_growth(facts, heads, x)
    direct = np.minimum(grown, 1.0) ** np.exp(-x[:, SETS])[:, None]
    worked = criteria()[GATE].value(np.array([facts.heads[h].shortening for h in heads]))
    sets, mean = direct.mean(0) * worked, (grown * gates(facts, heads)).mean(0)
    return none | dict(zip(heads, sets.tolist(), strict=True)), none | dict(zip(heads, mean.tolist(), strict=True))


def mean_growth(facts: LiftFacts, heads: Sequence[str], x: Array) -> dict[str, float]:
    """The means of `growth_per_set` alone, which many lifts are asked for."""
    found = (head_growth(facts, heads, x) * gates(facts, heads)).mean(0)
    return dict(zip(heads, map(float, found), strict=True))


def gates(facts: LiftFacts, heads: Sequence[str]) -> Array:
    """How far each head shortens against the load, 0-1, (n_head,)."""
    some = [facts.heads[h] for h in heads]
    return gate_of(np.array([f.drive for f in some]), np.array([f.shortening for f in some]))


def gate_of(drive: Array, shortening: Array) -> Array:
    """The gate of heads with some drive, 0-1, in the shape of both; how hard a head works counts in growth and not here again.

    Args:
        drive: mean activation, 0-1. shortening: activation-weighted shortening [optimal fibre lengths].
    """
    way = np.where(drive > SILENT, shortening / np.maximum(drive, SILENT), 0.0)
    return np.asarray(np.interp(way, (0.0, FULL_WAY), (0.0, 1.0)))


@dataclass(frozen=True)
class DrawnGrowth:
    """Growth of a target for a hard set of one lift, in every draw of coefficients, body and technique.

    Attributes:
        usual: as the law has it on the body and technique as they are, (n_draw,); its mean times the gate is `expected_growth`.
        law: with body and technique drawn too, (n_draw,). seen: with what any comparison may miss, (n_draw,). gate: 0-1.
    """

    usual: Array
    law: Array
    seen: Array
    gate: float

    @property
    def value(self) -> Array:
        """What lifts are ordered by, (n_draw,)."""
        return self.seen * self.gate


def drawn_growth(studied: Studied, target: Target, x: Array, source: Streams) -> DrawnGrowth:
    """The growth of a target, its heads by volume. Features move straight along each direction of body and technique."""
    facts, heads = studied.facts, target.heads
    base = np.array([_moving(facts.heads[h]) for h in heads]).T
    moved = np.broadcast_to(base, (source.n_draw, *base.shape)).copy()
    for shift in studied.shifts:
        if shift.sign:
            z = source.normal(stream_name(shift.direction, facts.key)) * shift.sign
            there, here = (np.array([_moving(s[h]) for h in heads]).T for s in (shift.heads, studied.coarse))
            moved += z[:, None, None] * (there - here)
    own = [features_in(facts.heads, h) for h in heads]
    volume = np.array([f.volume for f in own])
    g = np.stack([_drawn_head(f, moved[:, :, i], x) for i, f in enumerate(own)], 1)
    law = g @ volume / volume.sum()
    miss = np.exp(x[:, MISFIT]) / np.sqrt(2) / x[:, LEVEL] * source.normal(f"misfit of {facts.key}")
    plain = head_growth(facts, heads, x)
    each = plain.mean(0) * volume
    gate = float(gates(facts, heads) @ each / each.sum()) if each.sum() > 0 else 0.0
    return DrawnGrowth(plain @ volume / volume.sum(), law, np.where(law > 0, np.maximum(law + miss, 0.0), 0.0), gate)


def _moving(f: HeadFacts) -> tuple[float, float, float]:
    return f.drive, f.loaded_length, f.joint_conflict


def _drawn_head(own: Features, moved: Array, x: Array) -> Array:
    """Growth of one head in every draw, its drive, length and conflict given, (n_draw,); its muscle's drive moves with its own."""
    if own.drive <= SILENT:
        return np.zeros(len(x))
    drive = np.maximum(moved[:, 0], 2 * SILENT)
    mixed = (drive + own.group * drive / own.drive) / 2
    none = np.zeros(len(x))
    table = np.array([mixed, moved[:, 1], np.clip(moved[:, 2], 0, 1), none, none])
    return per_set(x, table[:, :, None])[:, 0]


def cost_of(facts: LiftFacts, per: Per) -> float:
    """What a hard set costs: nothing but itself, its seconds, or the share of the whole body's strength in use."""
    return {"set": 1.0, "minute": facts.seconds_per_set, "effort": systemic(facts)}[per]


def systemic(facts: LiftFacts) -> float:
    """Peak force of all muscles in a lift over their strength, 0-1."""
    return sum(h.peak_activation * h.strength_n for h in facts.heads.values()) / sum(h.strength_n for h in facts.heads.values())


@cache
def reference_lifts() -> dict[str, str]:
    """The lift that growth is told as a multiple of, by muscle or head (data/references.toml)."""
    found: dict[str, str] = data_of("grading", "references.toml")["reference"]
    strange = [k for k in found if k not in anatomy.muscles() and k not in anatomy.heads()]
    if strange:
        raise DataFileError([f"references.toml: no muscle or head is called {k}" for k in strange])
    return found


def reference_of(target: Target) -> str:
    """The reference lift of a muscle, or of the smallest muscle that holds a head; empty where none is named."""
    known = reference_lifts()
    if target.name in known:
        return known[target.name]
    holding = [m for m, heads in anatomy.muscles().items() if m in known and set(target.heads) <= set(heads)]
    return known[min(holding, key=lambda m: (len(anatomy.muscles()[m]), m))] if holding else ""
