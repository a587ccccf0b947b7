"""A client's course to look at: strength of a lift, volume against plan, pain by joint and week, growth against its error.

Every picture names its axes with units and says in one sentence what to see.
"""

from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from textwrap import fill

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body.muscle_names import plain
from lengthwise.quantities import LengthUnit, MassUnit, estimate, interval, name_of, percent
from lengthwise.report.picture import ACCENT, BAND, INK, MEMORY, MUTED, Picture, dress, finished
from lengthwise.report.plotting import Axes, Figure, dates
from lengthwise.training.findings import LiftFinding
from lengthwise.training.growth import MeasuredGrowth
from lengthwise.training.measure_kinds import MEASURES
from lengthwise.training.review import Review
from lengthwise.training.trend import AHEAD_DAYS
from lengthwise.units import LB

MOST_MUSCLES = 8
WIDE_IN, NARROW_IN = 8.0, 3.6
"""As wide as on paper, and as on a phone, where letters of a wide picture would be a third of their size."""
DOWN_WEIGHTED = 0.3
"""Visits that count less than this are drawn open."""


def pictures(
    found: Review,
    names: Mapping[str, str] | None = None,
    wide_in: float = WIDE_IN,
    unit: MassUnit = "kg",
    length: LengthUnit = "cm",
) -> tuple[Picture, ...]:
    """All figures of a review that there is something to draw for.

    Args:
        names: of lifts, by id. wide_in: WIDE_IN or NARROW_IN [inches]. unit, length: in which masses and girths are shown.
    """
    out = [strength(f, found.as_of, names or {}, wide_in, unit) for f in found.lifts if len(f.trend.history.days) > 1]
    if any(w.done.muscles for w in found.weeks):
        out.append(volume(found, wide_in))
    if found.pain.weeks:
        out.append(pain_map(found, wide_in))
    out += [growth(g, wide_in, unit, length) for g in found.growth if len(g.days) > 1]
    return tuple(out)


def _canvas(title: str, wide_in: float, height: float = 3.6) -> tuple[Figure, Axes]:
    figure = Figure(figsize=(wide_in, height), layout="constrained")
    ax = figure.subplots()
    dress(ax, fill(title, int(10 * wide_in)))
    return figure, ax


def _legend(ax: Axes, wide_in: float) -> None:
    """What the marks mean: where it hides least, or above a narrow picture, where there is no room beside them."""
    if wide_in == WIDE_IN:
        ax.legend(frameon=False, fontsize=8, loc="best")
    else:
        ax.figure.legend(frameon=False, fontsize=8.5, loc="outside upper left")


def _dates(ax: Axes, wide_in: float = WIDE_IN) -> None:
    ax.xaxis_date()
    locator = dates.AutoDateLocator(maxticks=8 if wide_in == WIDE_IN else 5)
    ax.xaxis.set_major_locator(locator)
    ax.xaxis.set_major_formatter(dates.ConciseDateFormatter(locator))


def _at(days: Iterable[date]) -> Array:
    """Days as numbers of the time axis (n)."""
    return np.array([dates.date2num(d) for d in days])


def strength(finding: LiftFinding, as_of: date, names: Mapping[str, str], wide_in: float, unit: MassUnit = "kg") -> Picture:
    """Estimated 1RM visit by visit, the line with its band, and four weeks ahead."""
    t, (lift, part) = finding.trend, finding.key
    name = names.get(lift, name_of(lift).capitalize())
    figure, ax = _canvas(f"{name}{'' if part == 'full' else f', {part} half'}: estimated 1RM", wide_in)
    days, one = _at(d.day for d in t.history.days), LB if unit == "lb" else 1.0
    low, line, high = (np.array([getattr(e, x) for e in t.level_kg]) / one for x in ("low", "value", "high"))
    ax.fill_between(days, low, high, color=BAND, lw=0, label="95% band of the line")
    ax.plot(days, line, color=ACCENT, lw=1.8, label="line through all sessions")
    whole = np.array(t.counts) >= DOWN_WEIGHTED
    visits, ahead = np.array([d.kg for d in t.history.days]) / one, np.array([t.ahead.low, t.ahead.value, t.ahead.high]) / one
    ax.scatter(days[whole], visits[whole], s=14, color=INK, zorder=3, label="one session")
    if not whole.all():
        ax.scatter(
            days[~whole],
            visits[~whole],
            s=22,
            facecolors="none",
            edgecolors=MEMORY,
            zorder=3,
            label="far from the line, counts less",
        )
    later = _at([as_of + timedelta(days=AHEAD_DAYS)])
    ax.errorbar(
        later,
        ahead[1:2],
        np.diff(ahead)[:, None],
        fmt="o",
        ms=4,
        color=ACCENT,
        capsize=3,
        label="in four weeks",
    )
    ax.set_ylabel(f"estimated 1RM [{unit}]", color=INK, fontsize=9)
    _dates(ax, wide_in)
    _legend(ax, wide_in)
    rise = t.per_week
    sentence = (
        f"{finding.state.capitalize()}: {rise.value:+.1f}% a week (95% {rise.low:+.1f} to {rise.high:+.1f}), {percent(t.p_rising)} likely to rise; "
        f"in four weeks about {estimate(t.ahead.value, unit)} ({interval(t.ahead.low, t.ahead.high, unit)})."
    )
    return finished(f"strength_{lift}_{part}", figure, sentence)


def volume(found: Review, wide_in: float) -> Picture:
    """Counted sets a week of the most trained muscles: done as bars, planned as steps."""
    total: dict[str, float] = {}
    for week in found.weeks:
        for muscle, n in week.done.muscles.items():
            total[muscle] = total.get(muscle, 0.0) + n
    chosen = sorted((m for m in total if total[m] > 0), key=lambda m: -total[m])[:MOST_MUSCLES]
    rows = (len(chosen) + 1) // 2
    figure = Figure(figsize=(wide_in, 0.9 + 1.25 * rows), layout="constrained")
    panels = figure.subplots(rows, 2, sharex=True, sharey=True, squeeze=False).ravel()
    for ax, muscle in zip(panels, chosen, strict=False):
        _muscle_panel(ax, found, muscle, wide_in)
    for ax in panels[len(chosen) :]:
        ax.set_visible(False)
    figure.suptitle("Counted sets a week by muscle", x=0.02, ha="left", fontsize=11, color=INK)
    figure.supylabel("counted sets", fontsize=9, color=INK)
    kept = found.kept.share
    said = "" if kept is None else f" In the last {found.kept.weeks} weeks {percent(kept)} of the planned sets were done."
    return finished("volume", figure, f"Bars: done; line: planned.{said}")


def _muscle_panel(ax: Axes, found: Review, muscle: str, wide_in: float) -> None:
    mondays = _at(w.monday for w in found.weeks)
    ax.bar(mondays, [w.done.muscles.get(muscle, 0.0) for w in found.weeks], width=5.5, color=ACCENT, align="edge")
    planned = [(w.monday, w.planned.muscles.get(muscle, 0.0)) for w in found.weeks if w.planned]
    planned += [(m + timedelta(days=7), n) for m, n in planned[-1:]]
    if planned:
        ax.step(_at(m for m, _ in planned), [n for _, n in planned], where="post", color=MEMORY, lw=1.2)
    ax.set_title(plain(muscle).capitalize(), loc="left", fontsize=9, color=INK)
    ax.spines[["top", "right"]].set_visible(False)
    ax.tick_params(colors=INK, labelsize=8)
    _dates(ax, wide_in)


def pain_map(found: Review, wide_in: float) -> Picture:
    """Share of sets that hurt, by joint and week."""
    joints = sorted({w.joint for w in found.pain.weeks})
    mondays = [w.monday for w in found.weeks]
    shares = np.zeros((len(joints), len(mondays)))
    for w in found.pain.weeks:
        shares[joints.index(w.joint), mondays.index(w.monday)] = w.painful_sets / w.sets
    figure, ax = _canvas("Where it hurt", wide_in, 1.6 + 0.4 * len(joints))
    edges = _at([*mondays, mondays[-1] + timedelta(days=7)])
    mesh = ax.pcolormesh(edges, np.arange(len(joints) + 1), shares, cmap="OrRd", vmin=0, vmax=1, edgecolors="white", lw=0.6)
    ax.set_yticks(np.arange(len(joints)) + 0.5, joints)
    _dates(ax, wide_in)
    figure.colorbar(mesh, ax=ax, label="share of sets", pad=0.01)
    return finished("pain", figure, "Share of a week's working sets in which the joint hurt. A map, not a diagnosis.")


def growth(one: MeasuredGrowth, wide_in: float, mass: MassUnit = "kg", length: LengthUnit = "cm") -> Picture:
    """Each visit's mean with its error, and how far a change must go to be more than error."""
    measure = MEASURES[one.kind]
    unit, size = measure.shown(mass, length)
    figure, ax = _canvas(" ".join(plain(x) for x in (one.site, one.side, one.kind) if x).capitalize(), wide_in)
    error = 1.96 * float(np.hypot(one.typical.day, one.typical.repeat)) / size
    means, smallest = np.array(one.means) / size, one.smallest / size
    ax.errorbar(
        _at(one.days),
        means,
        error,
        fmt="o",
        ms=4,
        color=INK,
        ecolor=MUTED,
        elinewidth=0.8,
        capsize=2,
        label="one day, with the error of one reading",
    )
    if np.isfinite(smallest):
        ax.axhspan(
            means[0] - smallest,
            means[0] + smallest,
            color=BAND,
            lw=0,
            zorder=0,
            label="change that error alone can cause",
        )
    ax.set_ylabel(f"[{unit}]", color=INK, fontsize=9)
    _dates(ax, wide_in)
    _legend(ax, wide_in)
    expected = "" if one.expected is None else f"; {measure.said(one.expected, mass, length, '+')} was expected on average"
    change, most = measure.said(one.change, mass, length, "+"), measure.said(one.smallest, mass, length)
    sentence = (
        f"{one.verdict.capitalize()}: {change} in {one.weeks:.0f} weeks ({one.method}), error alone can reach {most}{expected}."
    )
    return finished(f"growth_{one.kind}_{one.site or 'body'}{'_' + one.side if one.side else ''}", figure, sentence)
