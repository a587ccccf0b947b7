"""How to divide a muscle's weekly sets among chosen lifts so that every head grows its share."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import ClassVar

import numpy as np

from lengthwise.arrays import Array
from lengthwise.errors import InputError, NoSolutionError
from lengthwise.grading.target import Target

BARE = 0.01
"""A head whose best lift grows it less than this for a hard set is not trained by any of them."""
N_TRADE = 6
ROUNDING = 1e-7


@dataclass(frozen=True)
class Point:
    """One way to divide, on the way from the evenest to the largest total.

    Attributes:
        share: of the sets, by lift. least, mean: of what the heads reach, each relative to its best lift alone, 0-1.
    """

    PUBLIC: ClassVar = "shares=share least mean"
    share: Mapping[str, float]
    least: float
    mean: float


@dataclass(frozen=True)
class HeadShare:
    """What a head gets: of its best lift alone (0-1), and growth for a hard set of each lift."""

    reached: float
    per_set: Mapping[str, float]


@dataclass(frozen=True, kw_only=True)
class Split:
    """Weekly sets divided among lifts.

    Attributes:
        target, weekly_sets: what was asked.
        share, sets: of each lift; sets are whole and add up.
        reached: growth of each head, relative to spending every set in its best lift, 0-1.
        per_set: growth of each head for a hard set of each lift (growth_value.py), over that of the head's reference lift where it has one.
        reference: reference lift of each head that has one.
        bare: heads that none of the lifts trains.
        trade_off: from the evenest division to the one with the largest mean.
    """

    PUBLIC: ClassVar = "muscle=target.name weekly_sets shares=share sets heads not_loaded_at_length=bare trade_off reference"
    target: Target
    weekly_sets: int
    share: Mapping[str, float]
    sets: Mapping[str, int]
    reached: Mapping[str, float]
    per_set: Mapping[str, Mapping[str, float]]
    bare: tuple[str, ...]
    trade_off: tuple[Point, ...]
    reference: Mapping[str, str] = field(default_factory=dict)

    def beside(self, references: Mapping[str, tuple[str, float]]) -> "Split":
        """The same with growth told as a multiple of that of reference lifts: lift and growth, by head."""
        told = {h: {i: g / references.get(h, ("", 1.0))[1] for i, g in own.items()} for h, own in self.per_set.items()}
        return replace(self, per_set=told, reference={h: lift for h, (lift, _) in references.items() if h in told})

    @property
    def heads(self) -> Mapping[str, HeadShare]:
        """What each head that is trained gets."""
        return {h: HeadShare(got, self.per_set[h]) for h, got in self.reached.items()}

    @property
    def trade_off_sentence(self) -> str:
        """What an even division costs on average, and what the largest mean costs the worst-served head, in words."""
        even, total = self.trade_off[0], self.trade_off[-1]
        return (
            f"Trade-off: the most even split gives the worst head {even.least:.0%} and all heads {even.mean:.0%} on average; "
            f"the split with the largest average gives {total.mean:.0%}, the worst head {total.least:.0%}."
        )


def divide(
    lifts: Sequence[str], target: Target, weekly_sets: int, bounds: Mapping[str, tuple[float, float]], growth: Array
) -> Split:
    """The division whose worst-served head is served best; of equals the one with the largest mean.

    A linear programme over the shares x of the lifts: maximise t with Σ x·growth/best ≥ t for every head, Σ x = 1, bounds on x.

    Args:
        lifts: their ids. bounds: least and most share of some of them, 0-1.
        growth: of each head of the target for a hard set of each lift, (n_head, n_lift).

    Raises:
        InputError: no lifts, or fewer than one set. NoSolutionError: bounds that contradict each other, or no head trained.
    """
    if not lifts or not 1 <= weekly_sets <= 60:
        raise InputError(f"{len(lifts)} lifts and {weekly_sets} weekly sets; allowed at least one lift and 1 to 60 sets")
    best = growth.max(1)
    loaded = [k for k, b in enumerate(best) if b >= BARE]
    if not loaded:
        raise NoSolutionError(f"none of these lifts trains any head of {target.name}", asked=list(lifts))
    served = growth[loaded] / best[loaded][:, None]
    limits = [bounds.get(i, (0.0, 1.0)) for i in lifts]
    top = _solve(served, limits, None)
    least = float((served @ top).min())
    even = _solve(served, limits, least)
    share = {i: float(x) for i, x in zip(lifts, even, strict=True)}
    reached = dict(zip([target.heads[k] for k in loaded], (served @ even).tolist(), strict=True))
    per_set = {h: {i: float(g) for i, g in zip(lifts, row, strict=True)} for h, row in zip(target.heads, growth, strict=True)}
    bare = tuple(h for k, h in enumerate(target.heads) if k not in loaded)
    trade = tuple(_point(lifts, served, _solve(served, limits, least * (1 - s))) for s in np.linspace(0, 1, N_TRADE))
    return Split(
        target=target,
        weekly_sets=weekly_sets,
        share=share,
        sets=whole_sets(share, weekly_sets),
        reached=reached,
        per_set=per_set,
        bare=bare,
        trade_off=trade,
    )


def _point(lifts: Sequence[str], served: Array, x: Array) -> Point:
    got = served @ x
    return Point({i: float(v) for i, v in zip(lifts, x, strict=True)}, float(got.min()), float(got.mean()))


def _solve(served: Array, limits: Sequence[tuple[float, float]], least: float | None) -> Array:
    """Shares that serve the worst head best, or with a least for every head those with the largest mean, (n_lift,)."""
    from scipy.optimize import linprog  # only here: slow to load

    n_head, n_lift = served.shape
    if least is None:
        cost = np.append(np.zeros(n_lift), -1.0)
        matrix, bound = np.hstack([-served, np.ones((n_head, 1))]), np.zeros(n_head)
        extra: list[tuple[float, float | None]] = [(0.0, None)]
    else:
        cost, matrix, bound, extra = -served.mean(0), -served, np.full(n_head, -least + ROUNDING), []
    total = np.append(np.ones(n_lift), np.zeros(len(extra)))[None]
    found = linprog(cost, matrix, bound, total, [1.0], [*limits, *extra], method="highs")
    if found.status != 0:
        low, high = sum(a for a, _ in limits), sum(b for _, b in limits)
        raise NoSolutionError(
            f"shares cannot add up to 100%: the limits allow {low:.0%} to {high:.0%}", asked=[list(b) for b in limits]
        )
    return np.asarray(found.x[:n_lift])


def whole_sets(share: Mapping[str, float], weekly_sets: int) -> dict[str, int]:
    """Whole sets that add up to the total, by largest remainder; ties go to the name that comes first."""
    exact = {k: v * weekly_sets for k, v in share.items()}
    out = {k: int(v + ROUNDING) for k, v in exact.items()}
    left = sorted(exact, key=lambda k: (-round(exact[k] - out[k], 9), k))
    for k in left[: weekly_sets - sum(out.values())]:
        out[k] += 1
    return out
