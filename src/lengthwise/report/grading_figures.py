"""Choosing to look at: the order with its parts, how sure it is, curves of criteria, set-ups, trials, splits.

Every picture names its axes with units and says in one sentence what to see.
"""

from collections.abc import Mapping
from textwrap import fill
from typing import Any

import numpy as np

from lengthwise.body.muscle_names import plain
from lengthwise.grading.criteria import criteria, preferences
from lengthwise.grading.dividing import Split
from lengthwise.grading.ranking import RankedLift, Ranking
from lengthwise.report.picture import ACCENT, INK, MEMORY, Picture, dress, finished
from lengthwise.report.plotting import Figure, matplotlib, ticker

MOST = 14
WIDE = (9.6, 5.4)
"""Size of a 16:9 picture [inch]."""


def part_colour(name: str) -> Any:
    """The colour of a criterion wherever it is drawn."""
    return matplotlib.colormaps["tab20"](list(criteria()).index(name) / 19)


def _named(r: RankedLift) -> str:
    return r.facts.name + ("" if r.facts.range == "full" else f" ({r.facts.range} half)")


def order_picture(found: Ranking, size: tuple[float, float] = WIDE) -> Picture:
    """The growth of the first lifts with its interval, and their preferences beside it."""
    some = found.lifts[:MOST]
    fig = Figure(figsize=size, layout="constrained")
    growth, handy = fig.subplots(1, 2, sharey=True, width_ratios=[1.6, 1])
    place = np.arange(len(some))[::-1]
    dress(growth, f"Growth of the {plain(found.target.name)} for a hard {'set' if found.per == 'set' else found.per}")
    for y, r in zip(place, some, strict=True):
        growth.plot([r.growth.low, r.growth.high], [y, y], color=ACCENT, lw=3, alpha=0.45, solid_capstyle="round")
    growth.plot([r.growth.mean for r in some], place, "o", color=ACCENT, ms=6)
    growth.axvline(1, color=INK, lw=0.8)
    growth.set_yticks(place, [_named(r) for r in some])
    growth.set(xlabel=f"times that of {plain(found.reference)}\n[ratio; line: 90%]")
    growth.set_xlim(left=0)
    dress(handy, "Preferences")
    weight = {n: found.weights.value[n] for n in preferences()}
    total, left = sum(weight.values()), np.zeros(len(some))
    for name in preferences():
        add = np.array([weight[name] * r.fit[name] / total for r in some])
        handy.barh(place, add, left=left, color=part_colour(name), label=criteria()[name].title, height=0.6)
        left += add
    handy.set(xlabel="weighted mean\nof the preferences [0-1]", xlim=(0, 1))
    fig.legend(fontsize=8, frameon=False, loc="outside upper right", ncols=2)
    first = some[0]
    return finished(
        "order", fig,
        f"{first.facts.name} leads with {first.growth.mean:.1f} times the growth of {plain(found.reference)} ({first.growth.low:.1f} to "
        f"{first.growth.high:.1f}). Where growth is too close to call, preferences decide.",
    )  # fmt: skip


def sureness_picture(found: Ranking, size: tuple[float, float] = WIDE) -> Picture:
    """How often each lift is first and in the top three, and between which ranks it moves."""
    some = found.lifts[:MOST]
    fig = Figure(figsize=size, layout="constrained")
    shares, ranks = fig.subplots(1, 2, sharey=True, width_ratios=[1.2, 1])
    place = np.arange(len(some))[::-1]
    dress(shares, "Share of draws")
    shares.barh(place, [r.top3_share for r in some], color="#cfe3ea", height=0.7, label="among the first three")
    shares.barh(place, [r.first_share for r in some], color=ACCENT, height=0.4, label="first")
    shares.set_yticks(place, [_named(r) for r in some])
    shares.set(xlabel=f"share of {found.n_draw} draws", xlim=(0, 1))
    dress(ranks, "Rank")
    for y, r in zip(place, some, strict=True):
        ranks.plot(r.rank_interval, [y, y], color=ACCENT, lw=3, solid_capstyle="round")
    ranks.plot(np.arange(1, len(some) + 1), place, "o", color=MEMORY, ms=4, label="as ranked")
    last = max(len(some), *(r.rank_interval[1] for r in some))
    ranks.set(xlabel="rank\n(line: nine tenths of the draws)", xlim=(0.5, last + 0.5))
    ranks.xaxis.set_major_locator(ticker.MaxNLocator(integer=True, min_n_ticks=1))
    fig.legend(fontsize=8, frameon=False, loc="outside upper right", ncols=3)
    lead = some[0]
    return finished(
        "sureness", fig,
        f"{lead.facts.name} comes first in {lead.first_share:.0%} of the draws of what trials teach, body and technique; "
        "where lines overlap, the order of those lifts is open.",
    )  # fmt: skip


def curves_picture() -> Picture:
    """How every measure becomes a value."""
    fig = Figure(figsize=(11, 9), layout="constrained")
    axes = fig.subplots(3, 4).ravel()
    for ax, c in zip(axes, criteria().values(), strict=False):
        x, y = zip(*c.points, strict=True)
        pad = 0.15 * (x[-1] - x[0])
        ax.plot([x[0] - pad, *x, x[-1] + pad], [y[0], *y, y[-1]], color=ACCENT, lw=2)
        ax.plot(x, y, "o", color=MEMORY, ms=4)
        dress(ax, c.title)
        ax.set_xlabel(fill(f"{plain(c.measure)} [{c.unit}]", 32), fontsize=8)
        ax.set(ylim=(-0.05, 1.05), ylabel="value [0-1]")
    for ax in axes[len(criteria()) :]:
        ax.axis("off")
    return finished(
        "curves", fig, "Each measure becomes a value from 0 (bad) to 1 (good) along straight lines; dots are the stated points."
    )


def split_picture(found: Split, names: Mapping[str, str]) -> Picture:
    """The trade-off between serving the worst-served head and the largest mean."""
    fig = Figure(figsize=WIDE, layout="constrained")
    left, right = fig.subplots(1, 2)
    dress(left, "Growth that each head gets")
    heads = list(found.reached)
    left.barh([plain(h) for h in heads], [found.reached[h] for h in heads], color=ACCENT)
    left.set(xlabel="of what its best lift alone would give [0-1]", xlim=(0, 1.02))
    dress(right, "From the most even split to the highest average")
    x = np.arange(len(found.trade_off))
    bottom = np.zeros(len(x))
    for k, lift in enumerate(found.share):
        part = np.array([p.share[lift] for p in found.trade_off])
        right.bar(x, part, bottom=bottom, label=names[lift], color=matplotlib.colormaps["tab10"](k % 10), alpha=0.75)
        bottom += part
    right.plot(x, [p.least for p in found.trade_off], "o-", color=MEMORY, label="worst-served head gets")
    right.plot(x, [p.mean for p in found.trade_off], "s--", color=INK, label="heads get on average")
    right.set(xlabel="step", ylabel="share of the sets, and of the best possible [0-1]", ylim=(0, 1.02))
    right.legend(fontsize=8, frameon=True)
    sets = ", ".join(f"{n} × {names[k]}" for k, n in found.sets.items() if n)
    return finished(
        "split",
        fig,
        f"{sets}: the worst-served head gets {min(found.reached.values()):.0%} of what its best lift alone would give.",
    )
