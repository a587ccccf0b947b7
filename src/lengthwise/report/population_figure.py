"""Populations to look at: how far one lift is ahead in every person, what that depends on, and which lifts are best for how many."""

from collections.abc import Mapping, Sequence

import numpy as np

from lengthwise.body.muscle_names import plain
from lengthwise.populations.order_held import HeldOrder
from lengthwise.populations.proportion import Share
from lengthwise.populations.traits import TraitEffect, in_words
from lengthwise.report.grading_figures import WIDE
from lengthwise.report.picture import ACCENT, INK, MEMORY, MUTED, Picture, dress, finished
from lengthwise.report.plotting import Axes, Figure

MOST_EFFECTS, MOST_LIFTS = 6, 12
_WIDEST = (0.25, 4.0)


def order_in_people(found: HeldOrder, effects: Sequence[TraitEffect], names: Mapping[str, str], sentence: str) -> Picture:
    """How far the better lift is ahead in each person, and in how many it is in those low and high in what it depends on."""
    fig = Figure(figsize=WIDE, layout="constrained")
    ahead, parts = fig.subplots(1, 2, width_ratios=[1.3, 1])
    better, worse = (names[i] for i in found.order.lifts)
    dress(ahead, f"{better} against {worse}\nfor the {plain(found.order.target.name)}")
    edges = np.geomspace(*_WIDEST, 41)
    for side, colour in ((found.ratio > 1, ACCENT), (found.ratio <= 1, MEMORY)):
        ahead.hist(np.clip(found.ratio[side], *_WIDEST), edges, color=colour)
    ahead.axvline(1, color=INK, lw=0.8)
    ahead.set(xscale="log", xlabel=f"growth of a hard set over that with {worse} [ratio]", ylabel="people")
    ahead.set_xticks([0.25, 0.5, 1, 2, 4], ["¼ or less", "½", "1", "2", "4 or more"])
    ahead.minorticks_off()
    dress(parts, "In whom it holds")
    _fifths(parts, effects[:MOST_EFFECTS], found.share)
    return finished("population_order", fig, sentence)


def _fifths(ax: Axes, effects: Sequence[TraitEffect], share: Share) -> None:
    for y, e in enumerate(reversed(effects)):
        ax.plot([e.share_low, e.share_high], [y, y], color=MUTED, lw=2, zorder=1)
        ax.plot(e.share_low, y, "o", color="white", mec=ACCENT, ms=8, label="lowest fifth" if y == 0 else None)
        ax.plot(e.share_high, y, "o", color=ACCENT, ms=8, label="highest fifth" if y == 0 else None)
    ax.axvspan(share.low, share.high, color=MUTED, alpha=0.25, lw=0, label="all, 95%")
    ax.set_yticks(range(len(effects)), [in_words(e.trait) for e in reversed(effects)])
    ax.set(xlabel="share in whom it holds", xlim=(-0.03, 1.03), ylim=(-0.6, max(len(effects) - 0.4, 0.6)))
    ax.legend(fontsize=8, frameon=False, loc="upper center", bbox_to_anchor=(0.5, -0.16), ncols=3)
    if not effects:
        ax.text(0.5, 0, "nothing beyond chance", ha="center", color=MUTED)


def lifts_in_people(title: str, rows: Sequence[tuple[str, Share, Share]], sentence: str) -> Picture:
    """For how many people each lift is the best, and among the best three."""
    some = list(reversed(rows[:MOST_LIFTS]))
    fig = Figure(figsize=WIDE, layout="constrained")
    ax = fig.subplots()
    dress(ax, title)
    place = np.arange(len(some))
    for y, (_, first, three) in zip(place, some, strict=True):
        ax.barh(y, three.value, color=ACCENT, alpha=0.35, height=0.6, label="among the best three" if y == 0 else None)
        ax.barh(y, first.value, color=ACCENT, height=0.6, label="the best" if y == 0 else None)
        ax.plot([three.low, three.high], [y, y], color=INK, lw=1)
    ax.set_yticks(place, [name for name, _, _ in some])
    ax.set(xlabel="share of people (line: 95% interval)", xlim=(0, 1))
    ax.legend(fontsize=8, frameon=False, loc="lower right")
    return finished("population_lifts", fig, sentence)
