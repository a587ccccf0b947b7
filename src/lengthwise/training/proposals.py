"""What to change, and why: each proposal with its numbers and the claim behind it. Nothing here changes a plan by itself."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Literal

from lengthwise.mechanics.profile import RangeName
from lengthwise.training.findings import Alternative, Catalogue, Lately, LiftFinding
from lengthwise.training.growth import Growth
from lengthwise.training.pain import JointPain, Pain
from lengthwise.training.response import PersonalResponse
from lengthwise.training.review_rules import ReviewRules
from lengthwise.training.volume import Adherence, LiftKey, mean_muscle_sets

Kind = Literal["see_clinician", "swap_lift", "range", "reserve", "more_sets", "fewer_sets", "lighter_week", "measure"]
REST_WEEKS = 4
"""For so long a proposal that was answered is not made again (common practice, no source)."""
MUSCLES_AT: Mapping[str, tuple[str, ...]] = {
    "upper_arm": ("biceps", "triceps"),
    "upper_arm_front": ("biceps",),
    "upper_arm_back": ("triceps",),
    "biceps": ("biceps",),
    "triceps": ("triceps",),
    "thigh": ("quadriceps",),
    "thigh_front": ("quadriceps",),
    "quadriceps": ("quadriceps",),
    "thigh_back": ("hamstrings",),
    "hamstrings": ("hamstrings",),
    "calf": ("calves",),
    "chest": ("chest",),
}
"""Which muscles a site of measurement speaks of."""


@dataclass(frozen=True)
class Change:
    """What an accepted proposal asks of the next week; only the fields of its kind are set.

    Attributes:
        muscle, sets: counted sets a week more (or fewer, below 0). lift: that is changed or leaves. to: lift and range in its place.
        reserve: to aim for. share: of all sets that stays, in a lighter week. joint: to spare.
    """

    muscle: str = ""
    sets: float = 0.0
    lift: LiftKey | None = None
    to: tuple[str, RangeName] | None = None
    reserve: float | None = None
    share: float = 1.0
    joint: str = ""


@dataclass(frozen=True)
class Proposal:
    """One thing to change.

    Attributes:
        kind: what sort. subject: lift, muscle, joint or site. what, why: in words. numbers: behind it. claim: id of the evidence
            claim it rests on; empty for common practice, which `why` then says. change: for the next week; none asks only for attention.
    """

    kind: Kind
    subject: str
    what: str
    why: str
    numbers: Mapping[str, float] = field(default_factory=dict)
    claim: str = ""
    change: Change | None = None

    @property
    def key(self) -> str:
        """Stays the same from review to review, so that an answer is remembered."""
        return f"{self.kind}:{self.subject}"


@dataclass(frozen=True)
class Evidence:
    """Everything proposals are made from.

    Attributes:
        lifts, growth, pain, kept: found by the review. last: the last weeks. catalogue: of lifts. rules: bounds.
        answered: day on which a proposal of this key was last accepted or refused. response: what was learned about this client.
    """

    lifts: tuple[LiftFinding, ...]
    growth: tuple[Growth, ...]
    pain: Pain
    kept: Adherence
    last: Lately
    catalogue: Catalogue
    rules: ReviewRules
    answered: Mapping[str, date] = field(default_factory=dict)
    response: PersonalResponse | None = None

    @property
    def readiness(self) -> float | None:
        """Mean readiness of the last weeks, 1 poor to 5 very good."""
        scores = [s.readiness for s in self.last.sessions if s.readiness is not None]
        return sum(scores) / len(scores) if scores else None

    @property
    def muscle_sets(self) -> dict[str, float]:
        """Counted sets a week of each muscle in the last weeks."""
        return mean_muscle_sets(self.last.weeks)

    @property
    def sore_muscles(self) -> frozenset[str]:
        """Muscles of lifts that hurt lately."""
        main = self.catalogue.counting.main_muscle
        return frozenset(main(key) for joint in self.pain.joints for key, _, _ in joint.lifts)

    def rested(self, proposal: Proposal) -> bool:
        """Whether it was not answered lately."""
        day = self.answered.get(proposal.key)
        return day is None or self.last.as_of - day >= timedelta(weeks=REST_WEEKS)


def proposals(found: Evidence) -> tuple[Proposal, ...]:
    """What to change, most urgent first; at most one for each lift and each muscle, none that was answered lately."""
    rules: tuple[Callable[[Evidence], Iterator[Proposal]], ...] = (_warnings, _lasting_pain, _painful_lifts, _tired, _skipped)
    out = [p for rule in rules for p in rule(found)]
    tired = any(p.kind == "lighter_week" for p in out)
    low = found.kept.share is not None and found.kept.share < found.rules.kept_below
    if not tired and not low:
        out += [*_stalled(found), *_not_growing(found)]
    out += _measuring(found)
    return _one_each([p for p in out if found.rested(p)])


def _one_each(listed: Sequence[Proposal]) -> tuple[Proposal, ...]:
    kept: dict[str, Proposal] = {}
    for one in listed:
        change = one.change or Change()
        about = change.muscle or (f"{change.lift[0]} {change.lift[1]}" if change.lift else one.key)
        kept.setdefault(about, one)
    return tuple(kept.values())


def _warnings(found: Evidence) -> Iterator[Proposal]:
    for sign in found.pain.warnings[-1:]:
        yield Proposal(
            "see_clinician",
            "warning sign",
            f"Ask for a clinician's opinion soon: the note of {sign.day:%d %b} speaks of “{sign.word}”.",
            f"“{sign.note}” can be a sign that should not be trained through. This is no diagnosis; until it is looked at, leave out what brings it on.",
        )


def _lasting_pain(found: Evidence) -> Iterator[Proposal]:
    for joint in found.pain.joints:
        if joint.persists:
            yield Proposal(
                "see_clinician",
                joint.joint,
                f"Have the {joint.joint} looked at by a clinician; spare it meanwhile.",
                f"It hurt on {joint.visits} of {joint.of_visits} visits between {joint.first:%d %b} and {joint.last:%d %b}"
                f"{_worst(joint, found.catalogue)}. Pain that comes back is for licensed practice (common practice, no source).",
                {"visits": joint.visits, "of_visits": joint.of_visits, "days": (joint.last - joint.first).days},
                "joint_caution",
                Change(joint=joint.joint),
            )


def _worst(joint: JointPain, catalogue: Catalogue) -> str:
    (lift, _), hurt, n = joint.lifts[0]
    return f", most in {catalogue.name(lift)} ({hurt} of {n} sets)"


def _painful_lifts(found: Evidence) -> Iterator[Proposal]:
    """Swaps for a joint that hurt now and then; one that keeps hurting is spared as a whole until a clinician has seen it."""
    for joint in (j for j in found.pain.joints if not j.persists):
        for key, hurt, n in joint.lifts:
            if hurt / n >= found.rules.pain_share and hurt >= 2:
                other = _next_in_rank(key, found)
                if other is not None:
                    yield Proposal(
                        "swap_lift",
                        f"{key[0]} {key[1]}",
                        f"Swap {found.catalogue.name(key[0])} for {other.name}.",
                        f"{found.catalogue.name(key[0])} hurt the {joint.joint} in {hurt} of {n} sets of the last {found.rules.look_back_weeks:g} "
                        f"weeks; {other.name} is the next in rank for the {_words(found.catalogue.counting.main_muscle(key))}. If it hurts too, leave it out.",
                        {"painful_sets": hurt, "sets": n, "value": other.value},
                        "joint_caution",
                        Change(lift=key, to=(other.lift, other.range)),
                    )


def _words(name: str) -> str:
    return name.replace("_", " ")


def _next_in_rank(key: LiftKey, found: Evidence) -> Alternative | None:
    """The best lift for the muscle that is not done already and has not hurt lately."""
    muscle = found.catalogue.counting.main_muscle(key)
    hurt = {k[0] for j in found.pain.joints for k, _, _ in j.lifts}
    done = {one.lift for s in found.last.sessions for one in s.sets}
    free = (a for a in found.catalogue.ranked.get(muscle, ()) if a.lift != key[0] and a.lift not in hurt | done)
    return next(free, None)


def _tired(found: Evidence) -> Iterator[Proposal]:
    judged = [f for f in found.lifts if f.state not in ("too few visits", "not done lately")]
    falling = [f for f in judged if f.state == "falling"]
    share = len(falling) / len(judged) if judged else 0.0
    ready = found.readiness
    low = ready is not None and ready <= found.rules.low_readiness
    if falling and (low or (share >= found.rules.falling_share and len(falling) >= 2)):
        said = f" and readiness was {ready:.1f} of 5 on average" if ready is not None else ""
        yield Proposal(
            "lighter_week",
            "week",
            "Make next week lighter: half the sets, the same loads.",
            f"{len(falling)} of {len(judged)} lifts are falling{said}. A lighter week is common practice; no study of the starter set tests it.",
            {"falling": len(falling), "of": len(judged)} | ({"readiness": ready} if ready is not None else {}),
            "",
            Change(share=0.5),
        )


def _skipped(found: Evidence) -> Iterator[Proposal]:
    for finding in found.lifts:
        planned, done = found.kept.lifts.get(finding.key, (0.0, 0.0))
        if finding.muscle and planned and found.kept.weeks >= 2 and done / planned < found.rules.skipped_below:
            fewer = (planned - done) / found.kept.weeks
            yield Proposal(
                "fewer_sets",
                finding.muscle,
                f"Plan {fewer:.0f} sets fewer a week for the {_words(finding.muscle)}, or ask why {found.catalogue.name(finding.key[0])} is left out.",
                f"{done:g} of {planned:g} planned sets were done in {found.kept.weeks} weeks. A week that gets done is worth more than one that does not.",
                {"planned": planned, "done": done, "weeks": found.kept.weeks},
                "preference",
                Change(muscle=finding.muscle, sets=-round(fewer)),
            )


def _stalled(found: Evidence) -> Iterator[Proposal]:
    """Lifts that hurt are left to what is proposed for the pain: nothing is added to them."""
    for finding in found.lifts:
        if finding.state in ("stalled", "falling") and finding.muscle not in found.sore_muscles:
            options = (_closer_to_failure, _more_sets, _fewer_sets, _long_half, _swap)
            made = (p for option in options if (p := option(finding, found)) is not None)
            fresh = next((p for p in made if found.rested(p)), None)
            if fresh is not None:
                yield fresh


def _said(finding: LiftFinding, found: Evidence) -> str:
    since = f" since {finding.since:%d %b}" if finding.since else ""
    rise = finding.trend.per_week
    return (
        f"{found.catalogue.name(finding.key[0])} {'has stalled' if finding.state == 'stalled' else 'is falling'}{since}: "
        f"{rise.value:+.1f} % a week (95 % {rise.low:+.1f} to {rise.high:+.1f}), {finding.trend.p_worthwhile:.0%} likely to rise by "
        f"{100 * found.rules.rise_per_week:g} % a week or more"
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
        "reserve",
        f"{finding.key[0]} {finding.key[1]}",
        f"End sets of {found.catalogue.name(finding.key[0])} closer to failure: 1-2 repetitions in reserve.",
        f"{_said(finding, found)}, and its sets ended with {finding.reserve:.1f} repetitions in reserve on average.",
        {**_numbers(finding, found), "reserve": finding.reserve},
        "close_to_failure",
        Change(lift=finding.key, reserve=1.5),
    )


def _more_sets(finding: LiftFinding, found: Evidence) -> Proposal | None:
    sets, step = found.muscle_sets.get(finding.muscle, 0.0), found.rules.sets_step
    answers = found.response is None or found.response.answers_to_sets is not False
    if not finding.muscle or sets + step > found.rules.most_weekly_sets or not answers:
        return None
    own = f" {found.response.sentence}" if found.response else ""
    return Proposal(
        "more_sets",
        finding.muscle,
        f"Plan {step:g} sets more a week for the {_words(finding.muscle)}: from {sets:.0f} to {sets + step:.0f}.",
        f"{_said(finding, found)}. Over groups of people a further weekly set went with 0.24-0.37 % more growth, up to about "
        f"{found.rules.most_weekly_sets:g} sets.{own}",
        _numbers(finding, found),
        "weekly_sets",
        Change(muscle=finding.muscle, sets=step),
    )


def _fewer_sets(finding: LiftFinding, found: Evidence) -> Proposal | None:
    sets, most = found.muscle_sets.get(finding.muscle, 0.0), found.rules.most_weekly_sets
    if sets <= most + found.rules.sets_step:
        return None
    return Proposal(
        "fewer_sets",
        finding.muscle,
        f"Plan {sets - most:.0f} sets fewer a week for the {_words(finding.muscle)}: from {sets:.0f} to {most:g}.",
        f"{_said(finding, found)} at {sets:.0f} sets a week; beyond about {most:g} two of three muscles showed no clear further gain.",
        _numbers(finding, found),
        "weekly_sets",
        Change(muscle=finding.muscle, sets=-round(sets - most)),
    )


def _long_half(finding: LiftFinding, found: Evidence) -> Proposal | None:
    lift, part = finding.key
    longer = (a for a in found.catalogue.ranked.get(finding.muscle, ()) if a.lift == lift and a.range == "long")
    other = next(longer, None)
    if part != "full" or other is None:
        return None
    return Proposal(
        "range",
        f"{lift} {part}",
        f"Do {found.catalogue.name(lift)} in the half of the range where the {_words(finding.muscle)} is long.",
        f"{_said(finding, found)}, with sets and reserve as they should be. A new range needs its own start: loads are not comparable.",
        {**_numbers(finding, found), "value": other.value},
        "long_half",
        Change(lift=finding.key, to=(lift, "long")),
    )


def _swap(finding: LiftFinding, found: Evidence) -> Proposal | None:
    other = _next_in_rank(finding.key, found)
    if other is None:
        return None
    return Proposal(
        "swap_lift",
        f"{finding.key[0]} {finding.key[1]}",
        f"Swap {found.catalogue.name(finding.key[0])} for {other.name}.",
        f"{_said(finding, found)}. {other.name} is the next in rank for the {_words(finding.muscle)} (value {other.value:.2f}); that a swap ends a stall is "
        "common practice, no source.",
        {**_numbers(finding, found), "value": other.value},
        "long_length",
        Change(lift=finding.key, to=(other.lift, other.range)),
    )


def _not_growing(found: Evidence) -> Iterator[Proposal]:
    for one in found.growth:
        if one.verdict != "no change seen" or one.expected is None:
            continue
        for muscle in MUSCLES_AT.get(one.site, ()):
            sets, step = found.muscle_sets.get(muscle, 0.0), found.rules.sets_step
            if muscle not in found.sore_muscles and 0 < sets <= found.rules.most_weekly_sets - step:
                yield Proposal(
                    "more_sets",
                    muscle,
                    f"Plan {step:g} sets more a week for the {_words(muscle)}: from {sets:.0f} to {sets + step:.0f}.",
                    f"{_words(one.site)} ({_words(one.kind)}) changed by {one.change:+.1f} in {one.weeks:.0f} weeks; error alone reaches {one.smallest:.1f}, "
                    f"and {one.expected:+.1f} was to be expected on average. People differ as much as that, so this is a try, not a fault.",
                    {"change": one.change, "smallest": one.smallest, "expected": one.expected, "weekly_sets": sets},
                    "weekly_sets",
                    Change(muscle=muscle, sets=step),
                )


def _measuring(found: Evidence) -> Iterator[Proposal]:
    for one in found.growth:
        if one.verdict == "too early to tell" and one.weeks_to_tell is not None and one.kind == "girth" and one.weeks_to_tell > 26:
            better = next((g for g in found.growth if g.kind == "ultrasound_thickness" and g.site == one.site), None)
            if better is None:
                yield Proposal(
                    "measure",
                    one.site,
                    f"Measure the {_words(one.site)} more often, or by ultrasound, to see growth earlier.",
                    f"At the average rate a tape needs about {one.weeks_to_tell:.0f} weeks to show growth beyond its error ({one.smallest:.1f} cm); more readings "
                    "and more visits shorten that.",
                    {"smallest": one.smallest, "weeks_to_tell": one.weeks_to_tell},
                    "training_grows",
                )
