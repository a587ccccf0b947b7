"""A muscle explained to an audience: pictures in two shapes, and a page of text with every term explained."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from html import escape
from itertools import takewhile
from textwrap import fill
from typing import ClassVar

import numpy as np

from lengthwise.body import anatomy
from lengthwise.body.muscle_names import plain
from lengthwise.evidence.assessment import Assessment
from lengthwise.evidence.verdict import many
from lengthwise.figure.views import best_view
from lengthwise.grading.criteria import criteria
from lengthwise.grading.posture_map import Action, SpanMap, longest_corner
from lengthwise.grading.ranking import Ranking, turn_sentence
from lengthwise.grading.sentences import REFERENCE
from lengthwise.growth.beside import SeenDifference
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.profile import LiftProfile
from lengthwise.populations.order_words import adults_sentences
from lengthwise.report.drawing import draw_position
from lengthwise.report.grading_figures import order_picture, sureness_picture
from lengthwise.report.grading_page import halves_list, page, shown
from lengthwise.report.headline import headline_picture
from lengthwise.report.picture import ACCENT, INK, MEMORY, Picture, dress, finished
from lengthwise.report.plotting import Axes, Figure
from lengthwise.report.profile_figure import COLORS, DASHES, draw_curve, working_lines

SHAPES = {"16x9": (9.6, 5.4), "4x5": (7.2, 9.0)}
"""Sizes of the pictures [inch]."""
WIDE = "16x9"
"""The shape that page and paper show."""
LABEL, LINE = 40, 0.24
"""Letters of a line beside a bar, and its height against a pooled result's."""
LEAST_ARM_MM = 2.0
"""A head with a smaller moment arm does too little to be named (own choice)."""
TERMS = {
    "head": "a part of a muscle with its own origin; the heads of one muscle can be long in different postures",
    "moment arm": "how far from the joint's axis a muscle pulls: the larger it is, the harder the same force turns the joint",
    "optimal length": "the fibre length at which a muscle can pull hardest; lengths are given as multiples of it",
    "span position": "where a head's length lies between the shortest (0) and longest (1) that this person's joints allow",
    "long-range load": "the share of a head's work in a lift that it does in the upper third of that span",
    "fails first": "the muscle whose strength sets the largest load at the weakest position of the lift",
    "hard set": "a set that ends with few repetitions left",
    "draw": "one run with slightly different weights, body and technique; many draws show how sure a ranking is",
}


@dataclass(frozen=True, kw_only=True, eq=False)
class Explained:
    """What an explainer is made of.

    Attributes:
        ranking: of the lifts. actions: of the heads about the main angles. maps: span maps of heads over two angles.
        best: profile of the first lift. lifts: definitions of the ranked lifts, in order.
        evidence: the claims behind the criteria, weighed. trials: published comparisons of two arms.
    """

    PUBLIC: ClassVar = "muscle=ranking.target.name"
    ranking: Ranking
    actions: tuple[Action, ...]
    maps: tuple[SpanMap, ...]
    best: LiftProfile
    lifts: tuple[Lift, ...]
    evidence: tuple[Assessment, ...]
    trials: tuple[SeenDifference, ...] = ()

    @cached_property
    def pictures(self) -> dict[str, tuple[Picture, ...]]:
        """All pictures, the headline first, by their shape: drawn once, as page, paper and files show them."""
        return {shape: (headline_of(self, size), *argument_pictures(self, size)) for shape, size in SHAPES.items()}


def argument_pictures(found: Explained, size: tuple[float, float]) -> tuple[Picture, ...]:
    """The pictures that follow the headline, in one size [inch]."""
    makers: list[Callable[[], Picture]] = [lambda: _actions(found, size)]
    if found.maps:
        makers.append(lambda: _maps(found, size))
    makers += [
        lambda: _best(found, size),
        lambda: order_picture(found.ranking, size),
        lambda: sureness_picture(found.ranking, size),
    ]
    if any(a.headline for a in found.evidence):
        makers.append(lambda: _studies(found, size))
    return tuple(make() for make in makers)


def headline_of(found: Explained, size: tuple[float, float]) -> Picture:
    """What opens the argument: the first lift of the order with the muscle in red."""
    target = found.ranking.target
    return headline_picture(
        found.best.setting, best_view(found.best.lift_id, found.best.lift), plain(target.name), target.heads, size
    )


def _grid(n: int, size: tuple[float, float]) -> tuple[Figure, list[object]]:
    fig = Figure(figsize=size, layout="constrained")
    across = n if size[0] > size[1] else 1
    rows = -(-n // across)
    return fig, list(fig.subplots(rows, across, squeeze=False).ravel())


def _actions(found: Explained, size: tuple[float, float]) -> Picture:
    fig, axes = _grid(len(found.actions), size)
    heads = found.ranking.target.heads
    for ax, act in zip(axes, found.actions, strict=True):
        for k, (color, head, arm) in enumerate(zip(_colors(heads), heads, act.arm_mm, strict=True)):
            ax.plot(act.angle_deg, arm, color=color, ls=DASHES[k % len(DASHES)], lw=2, label=plain(head))  # type: ignore[attr-defined]
        ax.axhline(0, color=INK, lw=0.8)  # type: ignore[attr-defined]
        spec = anatomy.angles()[act.angle]
        dress(ax, fill(f"{plain(act.angle)}: above 0 {spec.raises}, below 0 {spec.lowers}", 44))  # type: ignore[arg-type]
        ax.set(xlabel=f"{plain(act.angle)} [°]", ylabel="moment arm [mm]")  # type: ignore[attr-defined]
    axes[0].legend(fontsize=8, edgecolor="none", framealpha=1)  # type: ignore[attr-defined]
    return finished("what_it_does", fig, action_sentence(found))


def _colors(heads: Sequence[str]) -> list[str]:
    return [COLORS[k % len(COLORS)] for k in range(len(heads))]


def action_sentence(found: Explained) -> str:
    """What the heads do about the main angle, in words."""
    act = found.actions[0]
    mean = act.arm_mm.mean(1)
    strongest = int(np.argmax(np.abs(mean)))
    spec = anatomy.angles()[act.angle]
    does = spec.raises if mean[strongest] > 0 else spec.lowers
    return (
        f"Further from 0 means more turning effect for the same pull: {plain(found.ranking.target.heads[strongest])} works on "
        f"{does} with {abs(mean[strongest]):.0f} mm on average."
    )


def _maps(found: Explained, size: tuple[float, float]) -> Picture:
    fig, axes = _grid(len(found.maps), size)
    for ax, m in zip(axes, found.maps, strict=True):
        drawn = ax.contourf(m.x_deg, m.y_deg, m.span, np.linspace(0, 1, 11), cmap="viridis")  # type: ignore[attr-defined]
        x, y = longest_corner(m)
        ax.plot(x, y, "*", ms=15, color=MEMORY, mec="white", clip_on=False)  # type: ignore[attr-defined]
        dress(ax, plain(m.head))  # type: ignore[arg-type]
        ax.set(xlabel=f"{plain(m.angles[0])} [°]", ylabel=f"{plain(m.angles[1])} [°]")  # type: ignore[attr-defined]
    fig.colorbar(drawn, ax=axes, label="span position [0 shortest, 1 longest]", shrink=0.8)  # type: ignore[arg-type]
    return finished("where_it_is_long", fig, long_sentence(found))


def long_sentence(found: Explained) -> str:
    """In which posture each head is long, in words."""
    return "Yellow is long; the star marks the longest: " + "; ".join(long_postures(found)) + "."


def long_postures(found: Explained) -> list[str]:
    """The posture in which each mapped head is longest, in words."""
    out = []
    for m in found.maps:
        x, y = longest_corner(m)
        out.append(f"{plain(m.head)} at {plain(m.angles[0])} {x:.0f}° and {plain(m.angles[1])} {y:.0f}°")
    return out


def _best(found: Explained, size: tuple[float, float]) -> Picture:
    p, heads = found.best, found.ranking.target.heads
    fig = Figure(figsize=size, layout="constrained")
    across = size[0] > size[1]
    axes = fig.subplots(1, 3, width_ratios=[0.9, 1, 1]) if across else fig.subplots(3, 1, height_ratios=[1.4, 1, 1])
    draw_position(axes[0], p.setting, 0, working_lines(p, 0), best_view(p.lift_id, p.lift))
    axes[0].set_title(f"{p.lift.name}: start", fontsize=10, color=INK)
    for ax, name in zip(axes[1:], ("span", "tension"), strict=True):
        draw_curve(ax, name, p, heads)
    axes[1].legend(fontsize=8, frameon=False)
    return finished("best_lift", fig, f"{p.lift.name}: {found.ranking.lifts[0].why}")


def _studies(found: Explained, size: tuple[float, float]) -> Picture:
    some = [a for a in found.evidence if a.headline is not None]
    rows = sized_trials(found, 6 if size[1] > size[0] else 3)
    fig = Figure(figsize=size, layout="constrained")
    n = len(some) + bool(rows)
    ratios = [*[1.0] * len(some), *([max(1.0, LINE * sum(label.count("\n") + 1 for label in map(_trial, rows)))] if rows else [])]
    axes = fig.subplots(n, 1, squeeze=False, height_ratios=ratios).ravel()
    for ax, a in zip(axes, some, strict=False):
        h = a.headline
        assert h is not None
        ax.plot(h.ci, [0, 0], color=INK, lw=3, solid_capstyle="round")
        ax.plot(h.estimate, 0, "o", color=MEMORY, ms=9)
        ax.axvline(0, color=INK, lw=0.8)
        dress(ax, fill(f"{a.claim.statement} ({a.verdict.word}, {a.certainty.grade} certainty)", int(size[0] * 8)))
        ax.set(
            yticks=[],
            xlabel=f"{h.scale}, {many(h.n_study)} (right of 0 supports it)",
            ylim=(-1, 1),
        )
    if rows:
        _trial_bars(axes[-1], rows)
    return finished("what_studies_say", fig, _studies_sentence(rows))


def _studies_sentence(rows: Sequence[SeenDifference]) -> str:
    pooled = "Dot: pooled result; line: 95% interval; if the line crosses 0, the question is open."
    if not rows:
        return pooled
    top = max(rows, key=lambda c: abs(c.value) / c.se)
    more, less = (top.a, top.b) if top.value > 0 else (top.b, top.a)
    return f"{pooled} In a trial ({top.cited}) {heads_together(top.heads)} grew {abs(top.value):.1f} points more with “{more}” than with “{less}”."


def _trial_bars(ax: Axes, rows: Sequence[SeenDifference]) -> None:
    place = np.arange(len(rows))[::-1]
    ax.barh(place, [c.value for c in rows], color=ACCENT, height=0.55)
    ax.set_yticks(place, [_trial(c) for c in rows], fontsize=7.5)
    for y, c in zip(place, rows, strict=True):
        if c.value == 0:
            ax.text(0, y, " no difference found", va="center", fontsize=8, color=INK)
    ax.axvline(0, color=INK, lw=0.8)
    dress(ax, "Single trials")
    ax.tick_params(axis="y", labelsize=7.5)
    ax.set_xlabel("growth of the first minus growth of the second [%]")


def _trial(c: SeenDifference) -> str:
    """What a trial compared, in lines."""
    return fill(f"{heads_together(c.heads)} ({c.cited}):", LABEL) + "\n" + fill(f"{c.a} against {c.b}", LABEL)


def heads_together(heads: Sequence[str]) -> str:
    """Heads of one muscle by what our names for them begin with and how many they are; else each as people write it."""
    words = zip(*(h.split("_") for h in heads), strict=False)
    same = " ".join(w[0] for w in takewhile(lambda w: len(set(w)) == 1, words))
    return f"{same}, {len(heads)} heads" if same and len(heads) > 1 else ", ".join(map(plain, heads))


def sized_trials(found: Explained, most: int = 6) -> list[SeenDifference]:
    """Published comparisons of the target's heads that print a size, the clearest first."""
    heads = set(found.ranking.target.heads)
    mine = [c for c in found.trials if heads.issuperset(c.heads)]
    return sorted(mine, key=lambda c: -abs(c.value) / c.se)[:most]


def explainer_page(found: Explained) -> str:
    """The text with its pictures, self-contained."""
    name = plain(found.ranking.target.name)
    pictures = {p.name: p for p in found.pictures[WIDE]}
    parts = [
        f"{shown(pictures['headline'], close=True)}<p>{escape(pictures['headline'].sentence)}</p>",
        f"<h2>What it does</h2><p>{escape(does_sentence(found))}</p>{shown(pictures['what_it_does'])}",
        _long_section(found, pictures),
        f"<h2>The best lifts, and why</h2>{_lift_list(found)}{halves_list(found.ranking)}{shown(pictures['best_lift'])}{shown(pictures['order'])}"
        f"<p>{escape(' '.join([turn_sentence(found.ranking), *adults_sentences(found.ranking)]))}</p>{shown(pictures['sureness'])}",
        f"<h2>What the studies say</h2>{_claims(found)}"
        + (shown(pictures["what_studies_say"]) if "what_studies_say" in pictures else ""),
        f"<h2>Cautions</h2>{_cautions(found)}",
        "<h2>Words</h2><dl>" + "".join(f"<dt><b>{escape(t)}</b></dt><dd>{escape(d)}</dd>" for t, d in TERMS.items()) + "</dl>",
    ]
    return page(f"{name.capitalize()}, explained", "".join(parts))


def does_sentence(found: Explained) -> str:
    """What each head does, with its mean moment arms, in words."""
    return f"{'. '.join(does_points(found))}. Numbers are mean moment arms."


def does_points(found: Explained) -> list[str]:
    """How many heads the muscle has, where there are several, and what each does [mm of mean moment arm]."""
    heads = found.ranking.target.heads
    name = plain(found.ranking.target.name).capitalize()
    counted = [f"{name}: {len(heads)} heads here"] if len(heads) > 1 else []
    return [*counted, *(f"{plain(h).capitalize()}: {_acts(found, k)}" for k, h in enumerate(heads))]


def _acts(found: Explained, k: int) -> str:
    """What one head does about the main angles, small effects left out."""
    acts = []
    for act in found.actions:
        mean = float(act.arm_mm[k].mean())
        if abs(mean) >= LEAST_ARM_MM:
            spec = anatomy.angles()[act.angle]
            acts.append(f"{spec.raises if mean > 0 else spec.lowers} ({abs(mean):.0f} mm)")
    return ", ".join(acts) or "small effects about these angles"


def _long_section(found: Explained, pictures: dict[str, Picture]) -> str:
    if not found.maps:
        act = found.actions[0]
        where = ", ".join(
            f"{plain(h)} at {act.angle_deg[int(np.argmax(s))]:.0f}°"
            for h, s in zip(found.ranking.target.heads, act.span, strict=True)
        )
        return f"<h2>Where it is long</h2><p>Over {plain(act.angle)}: {escape(where)}.</p>"
    items = "".join(f"<li>{escape(t)}</li>" for t in long_postures(found))
    return f"<h2>Where it is long</h2><p>Each head is longest in this position, with every other joint neutral:</p><ul>{items}</ul>{shown(pictures['where_it_is_long'])}"


def _lift_list(found: Explained) -> str:
    rows = "".join(f"<li><b>{escape(n)}</b>: {escape(why)} <i>{escape(how)}</i></li>" for n, why, how in best_lifts(found))
    return f"<ol>{rows}</ol>"


def best_lifts(found: Explained, most: int = 6) -> list[tuple[str, str, str]]:
    """The first lifts: name, growth and why, and how it is done."""
    some = list(zip(found.ranking.lifts, found.lifts, strict=True))[:most]
    return [(r.facts.name, f"{r.says or REFERENCE} {r.why}", lift.how) for r, lift in some]


def _claims(found: Explained) -> str:
    rows = [f"<li><b>{escape(head)}</b>: {escape(text)} <i>{escape(note)}</i></li>" for head, text, note in study_texts(found)]
    return f"<ul>{''.join(rows)}</ul>"


def study_texts(found: Explained) -> list[tuple[str, str, str]]:
    """What the studies say: the claim or trial, what was found, and what it feeds or its source."""
    rows = []
    for a in found.evidence:
        h = a.headline
        number = (
            "" if h is None else f" Pooled: {h.estimate:+.2f} ({h.ci[0]:+.2f} to {h.ci[1]:+.2f}), {h.scale}, {many(h.n_study)}."
        )
        feeds = ", ".join(c.title for c in criteria().values() if c.claim == a.claim.id)
        rows.append(
            (
                a.claim.statement,
                f"{a.verdict.word.capitalize()}, {a.certainty.grade} certainty.{number} {a.claim.caution}".rstrip(),
                f"Used for: {feeds}.",
            )
        )
    for c in sized_trials(found):
        size = f"{c.value:+.1f} percentage points (standard error {c.se:.1f})" if c.value else "no difference found"
        rows.append((f"{c.cited}, {heads_together(c.heads)}", f"{c.a} against {c.b}: {size}.", c.source))
    return rows


def _cautions(found: Explained) -> str:
    items = "".join(f"<li>{escape(t)}</li>" for t in caution_texts(found))
    return f"<ul class='caution'>{items}</ul>" if items else "<p>The lifts above need no special cautions.</p>"


def caution_texts(found: Explained, most: int = 6) -> list[str]:
    """Cautions and spotting of the first lifts, each once."""
    joints = dict.fromkeys(f"{c.joint.capitalize()}: {c.text}" for lift in found.lifts[:most] for c in lift.cautions)
    spotting = dict.fromkeys(f"{lift.name}: {lift.spotting}" for lift in found.lifts[:most] if lift.spotting)
    return [*joints, *spotting]
