"""A client's progress on paper: strength, measurements against their error, figures, and what to talk about."""

from lengthwise.quantities import day, estimate, interval, name_of, percent
from lengthwise.report.sheet_week import file_name
from lengthwise.report.trend_figures import pictures
from lengthwise.report.typeset import Sheet
from lengthwise.training.client import MassUnit
from lengthwise.training.findings import LiftFinding
from lengthwise.training.growth import MeasuredGrowth
from lengthwise.training.measure_kinds import MEASURES
from lengthwise.training.record_words import LengthUnit
from lengthwise.training.review import Review

MOST_LIFTS, MOST_PICTURES = 14, 8


def progress_sheet(found: Review, names: dict[str, str], unit: MassUnit = "kg", length: LengthUnit = "cm") -> Sheet:
    """The report of a review.

    Args:
        names: of lifts, by id. unit, length: in which masses and girths are shown.
    """
    some = pictures(found, names, unit=unit, length=length)[:MOST_PICTURES]
    content = {
        "title": f"Progress of {found.name}",
        "client": found.name,
        "line": f"Up to {day(found.as_of)}. {_kept(found)}",
        "lifts": [_lift(f, names, unit) for f in found.lifts[:MOST_LIFTS]],
        "growth": [_growth(g, unit, length) for g in found.growth],
        "pictures": [{"file": f"{p.name}.svg", "alt": p.sentence} for p in some],
        "proposals": [{"what": p.what, "why": p.why} for p in found.proposals],
        "notes": [*(f"Pain: {j.told(names)}" for j in found.pain.joints), *found.notes],
        "cautions": ["An estimate is not a test: do not attempt an estimated 1RM without preparation and a spotter."],
    }
    return Sheet(f"progress_{file_name(found.name)}", "progress.typ", content, {f"{p.name}.svg": p.svg().encode() for p in some})


def _kept(found: Review) -> str:
    share = found.kept.share
    return "" if share is None else f"In the last {found.kept.weeks} weeks {percent(share)} of the planned sets were done."


def _lift(f: LiftFinding, names: dict[str, str], unit: MassUnit) -> dict[str, str]:
    lift, part = f.key
    name = names.get(lift, name_of(lift)) + ("" if part == "full" else f", {part} half")
    now, rise = f.trend.e1rm, f.trend.per_week
    return {
        "name": name,
        "now": f"{estimate(now.value, unit)} ({interval(now.low, now.high, unit)})",
        "rise": f"{rise.value:+.1f}%",
        "likely": percent(f.trend.p_rising),
        "state": name_of(f.state),
    }


def _growth(g: MeasuredGrowth, mass: MassUnit, length: LengthUnit) -> dict[str, str]:
    measure = MEASURES[g.kind]
    return {
        "name": " ".join(w for w in (g.side, name_of(g.site), name_of(g.kind)) if w).capitalize(),
        "change": f"{measure.said(g.change, mass, length, '+')} in {g.weeks:.0f} weeks",
        "verdict": f"{name_of(g.verdict).capitalize()}.",
        "error": f"Smallest change beyond error: {measure.said(g.smallest, mass, length)}.",
    }
