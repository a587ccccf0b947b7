"""What to propose for a lift that has stalled or falls: reserve, sets, range, another lift, in this order."""

from collections.abc import Iterator

from lengthwise.body.muscle_names import plain
from lengthwise.quantities import percent
from lengthwise.training.findings import LiftFinding
from lengthwise.training.proposal import Change, Evidence, Proposal, next_in_rank


def for_stalled(found: Evidence) -> Iterator[Proposal]:
    """Lifts that hurt are left to what is proposed for the pain: nothing is added to them; nor is a plan changed that holds more sets than are done."""
    for finding in found.lifts:
        if finding.state in ("stalled", "falling") and finding.muscle not in found.sore_muscles:
            untried = found.undone(finding.muscle) is not None
            options = (_closer_to_failure,) if untried else (_closer_to_failure, _more_sets, _fewer_sets, _long_half, _swap)
            made = (p for option in options if (p := option(finding, found)) is not None)
            fresh = next((p for p in made if found.rested(p)), None)
            if fresh is not None:
                yield fresh


def _said(finding: LiftFinding, found: Evidence) -> str:
    since = f" since {finding.since:%d %b}" if finding.since else ""
    rise = finding.trend.per_week
    return (
        f"{found.catalogue.name(finding.key[0])} {'has stalled' if finding.state == 'stalled' else 'is falling'}{since}: "
        f"{rise.value:+.1f}% a week (95% {rise.low:+.1f} to {rise.high:+.1f}), {percent(finding.trend.p_worthwhile)} likely to rise by "
        f"{100 * found.rules.rise_per_week:g}% a week or more"
    )


def _numbers(finding: LiftFinding, found: Evidence) -> dict[str, float]:
    sets = found.muscle_sets.get(finding.muscle, 0.0)
    return {
        "per_week_percent": finding.trend.per_week.value,
        "p_rising": finding.trend.p_rising,
        "p_worthwhile": finding.trend.p_worthwhile,
        "weekly_sets": sets,
    }


def _closer_to_failure(finding: LiftFinding, found: Evidence) -> Proposal | None:
    if finding.reserve is None or finding.reserve < found.rules.high_reserve:
        return None
    return Proposal(
        kind="reserve",
        subject=f"{finding.key[0]} {finding.key[1]}",
        what=f"End sets of {found.catalogue.name(finding.key[0])} closer to failure: 1-2 repetitions in reserve.",
        why=f"{_said(finding, found)}, and its sets ended with {finding.reserve:.1f} repetitions in reserve on average.",
        numbers={**_numbers(finding, found), "reserve": finding.reserve},
        claim="close_to_failure",
        change=Change(lift=finding.key, reserve=1.5),
    )


def _more_sets(finding: LiftFinding, found: Evidence) -> Proposal | None:
    sets, step = found.muscle_sets.get(finding.muscle, 0.0), found.rules.sets_step
    answers = found.response is None or found.response.answers_to_sets is not False
    if not finding.muscle or round(sets + step) > min(found.rules.most_weekly_sets, found.band(finding.muscle).high) or not answers:
        return None
    own = f" {found.response.sentence}" if found.response else ""
    return Proposal(
        kind="more_sets",
        subject=finding.muscle,
        what=f"Plan {step:g} sets more a week for the {plain(finding.muscle)}: from {sets:.0f} to {sets + step:.0f}.",
        why=f"{_said(finding, found)}. Over groups of people a further weekly set went with 0.24-0.37% more growth, up to about "
        f"{found.rules.most_weekly_sets:g} sets.{own}",
        numbers=_numbers(finding, found),
        claim="weekly_sets",
        change=Change(muscle=finding.muscle, sets=step),
    )


def _fewer_sets(finding: LiftFinding, found: Evidence) -> Proposal | None:
    sets, most = found.muscle_sets.get(finding.muscle, 0.0), found.rules.most_weekly_sets
    if sets <= most + found.rules.sets_step:
        return None
    return Proposal(
        kind="fewer_sets",
        subject=finding.muscle,
        what=f"Plan {sets - most:.0f} sets fewer a week for the {plain(finding.muscle)}: from {sets:.0f} to {most:g}.",
        why=f"{_said(finding, found)} at {sets:.0f} sets a week; beyond about {most:g} two of three muscles showed no clear further gain.",
        numbers=_numbers(finding, found),
        claim="weekly_sets",
        change=Change(muscle=finding.muscle, sets=-round(sets - most)),
    )


def _long_half(finding: LiftFinding, found: Evidence) -> Proposal | None:
    lift, part = finding.key
    longer = (a for a in found.catalogue.ranked.get(finding.muscle, ()) if a.lift == lift and a.range == "long")
    other = next(longer, None)
    if part != "full" or other is None:
        return None
    return Proposal(
        kind="range",
        subject=f"{lift} {part}",
        what=f"Do {found.catalogue.name(lift)} in the half of the range where the {plain(finding.muscle)} is long.",
        why=f"{_said(finding, found)}, with sets and reserve as they should be. A new range needs its own starting load: loads are not comparable.",
        numbers={**_numbers(finding, found), "value": other.value},
        claim="long_half",
        change=Change(lift=finding.key, to=(lift, "long")),
    )


def _swap(finding: LiftFinding, found: Evidence) -> Proposal | None:
    other = next_in_rank(finding.key, found)
    if other is None:
        return None
    return Proposal(
        kind="swap_lift",
        subject=f"{finding.key[0]} {finding.key[1]}",
        what=f"Swap {found.catalogue.name(finding.key[0])} for {other.name}.",
        why=f"{_said(finding, found)}. {other.name} is the next in rank for the {plain(finding.muscle)} (a set is expected to grow "
        f"it {other.value:.2f} times as much as one of its reference lift); that a swap ends a stall is common practice, no source.",
        numbers={**_numbers(finding, found), "value": other.value},
        claim="long_length",
        change=Change(lift=finding.key, to=(other.lift, other.range)),
    )
