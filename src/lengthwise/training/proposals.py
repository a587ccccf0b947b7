"""What to change, and why: each proposal with its numbers and the claim behind it. Nothing here changes a plan by itself."""

from collections.abc import Callable, Iterator, Mapping, Sequence

from lengthwise.body.muscle_names import plain
from lengthwise.quantities import percent
from lengthwise.training.day_down import last_down
from lengthwise.training.findings import FollowedLifts
from lengthwise.training.pain import JointPain
from lengthwise.training.proposal import Change, Evidence, Proposal
from lengthwise.training.record_words import joint_named, joint_told
from lengthwise.training.stalled import for_stalled

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


def proposals(found: Evidence) -> tuple[Proposal, ...]:
    """What to change, most urgent first; at most one for each lift and each muscle, none that was answered lately."""
    rules: tuple[Callable[[Evidence], Iterator[Proposal]], ...] = (
        _warnings,
        _lasting_pain,
        _painful_lifts,
        _ask_where,
        _ask_day,
        _tired,
        _skipped,
    )
    out = [p for rule in rules for p in rule(found)]
    tired = any(p.kind == "lighter_week" for p in out)
    low = found.kept.share is not None and found.kept.share < found.rules.kept_below
    if not tired and not low:
        out += [*for_stalled(found), *_not_growing(found)]
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
            kind="see_clinician",
            subject="warning sign",
            what=f"Ask a clinician soon: the note of {sign.day:%d %b} speaks of “{sign.word}”.",
            why=f"“{sign.note}” can be a warning sign; do not train through it. This is not a diagnosis; until it has been checked, "
            "leave out what brings it on.",
        )


def _lasting_pain(found: Evidence) -> Iterator[Proposal]:
    for joint in found.pain.joints:
        if joint.persists:
            yield Proposal(
                kind="see_clinician",
                subject=joint.joint,
                what=f"Have the {joint_told(joint.joint)} checked by a clinician; protect it until then.",
                why=f"It hurt on {joint.visits} of {joint.of_visits} visits between {joint.first:%d %b} and {joint.last:%d %b}"
                f"{_worst(joint, found.catalogue)}. See a licensed professional about pain that keeps coming back (common practice, no source).",
                numbers={"visits": joint.visits, "of_visits": joint.of_visits, "days": (joint.last - joint.first).days},
                claim="joint_caution",
                change=Change(joint=joint.joint),
            )


def _worst(joint: JointPain, catalogue: FollowedLifts, lead: str = ", most in ") -> str:
    (lift, _), hurt, n = joint.lifts[0]
    return f"{lead}{catalogue.name(lift)} ({hurt} of {n} sets)"


def _painful_lifts(found: Evidence) -> Iterator[Proposal]:
    """Swaps for a joint that hurt now and then, for what a coach turns to and the next week may hold; one that keeps hurting is spared as a whole
    until a clinician has seen it.
    """
    for joint in (j for j in found.pain.joints if not j.persists):
        for key, hurt, n in joint.lifts:
            often = hurt / n >= found.rules.pain_share and hurt >= 2
            other = found.held.instead.get((key[0], joint_named(joint.joint)))
            if often and other is not None:
                yield Proposal(
                    kind="swap_lift",
                    subject=f"{key[0]} {key[1]}",
                    what=f"Swap {found.catalogue.name(key[0])} for {other.name}.",
                    why=f"{found.catalogue.name(key[0])} hurt the {joint_told(joint.joint)} in {hurt} of {n} sets of the last {found.rules.look_back_weeks:g} "
                    f"weeks; {other.name} spares it and does most of the same. If that hurts too, leave it out.",
                    numbers={"painful_sets": hurt, "sets": n, "value": other.value},
                    claim="joint_caution",
                    change=Change(lift=key, to=(other.lift, other.range), rests=True),
                )


def _ask_where(found: Evidence) -> Iterator[Proposal]:
    """A question about each joint that hurt in the last weeks, once or twice though it be; lasting pain is for a clinician."""
    for joint in (j for j in found.pain.joints if not j.persists):
        yield Proposal(
            kind="ask_about_pain",
            subject=joint.joint,
            what=f"Ask about the {joint_told(joint.joint)}: where it hurts, since when, and in which part of the movement.",
            why=f"It hurt on {joint.last:%d %b}{_worst(joint, found.catalogue, lead=' in ')}. Until you know: no "
            f"more load than has gone without pain since, half the load if none has, and stop at the first pain; {_else(joint, found)}. "
            "See a clinician if it lasts, wakes the client or gets worse. This is not a diagnosis.",
            numbers={"visits": joint.visits, "of_visits": joint.of_visits},
            claim="joint_caution",
        )


def _else(joint: JointPain, found: Evidence) -> str:
    """What else a coach does: another lift, or, where none is left that spares the joint, to wait and ask."""
    (lift, _), _, _ = joint.lifts[0]
    if found.held.instead.get((lift, joint_named(joint.joint)), joint) is not None:
        return "or use another lift that protects the joint"
    return (
        f"nothing here does what {found.catalogue.name(lift)} does and spares it, so leave that out for two weeks, keep what does not hurt, "
        "and ask which part of its range is free of pain"
    )


def _ask_day(found: Evidence) -> Iterator[Proposal]:
    """A question about the last day on which most lifts fell short together."""
    if (day := last_down(found.down, found.last.as_of)) is not None:
        short, of = found.down[day]
        yield Proposal(
            kind="ask_about_day",
            subject=f"{day}",
            what=f"Ask what went wrong on {day:%d %b}: sleep, food, stress, an illness coming on?",
            why=f"{short} of {of} lifts fell short together, so it was the day, not the loads: no load drops because of it. If the next visit is "
            "as bad, both count for the loads (common practice, no source).",
            numbers={"short": short, "of": of},
        )


def _tired(found: Evidence) -> Iterator[Proposal]:
    judged = [f for f in found.lifts if f.state not in ("too few visits", "not done lately")]
    falling = [f for f in judged if f.state == "falling"]
    share = len(falling) / len(judged) if judged else 0.0
    ready = found.readiness
    low = ready is not None and ready <= found.rules.low_readiness
    if falling and (low or (share >= found.rules.falling_share and len(falling) >= 2)):
        said = f" and readiness was {ready:.1f} of 5 on average" if ready is not None else ""
        yield Proposal(
            kind="lighter_week",
            subject="week",
            what="Make next week lighter: half the sets, the same loads.",
            why=f"{len(falling)} of {len(judged)} lifts are falling{said}. A lighter week is common practice; no study in the starter set tests it.",
            numbers={"falling": len(falling), "of": len(judged)} | ({"readiness": ready} if ready is not None else {}),
            claim="",
            change=Change(share=0.5),
        )


def _skipped(found: Evidence) -> Iterator[Proposal]:
    for finding in found.lifts:
        planned, done = found.kept.lifts.get(finding.key, (0.0, 0.0))
        if finding.muscle and planned and found.kept.weeks >= 2 and done / planned < found.rules.skipped_below:
            fewer = (planned - done) / found.kept.weeks
            yield Proposal(
                kind="fewer_sets",
                subject=finding.muscle,
                what=f"Plan {fewer:.0f} sets fewer a week for the {plain(finding.muscle)}, or ask why {found.catalogue.name(finding.key[0])} is left out.",
                why=f"{done:g} of {planned:g} planned sets were done in {found.kept.weeks} weeks. A plan that gets done is worth more than one that does not.",
                numbers={"planned": planned, "done": done, "weeks": found.kept.weeks},
                claim="preference",
                change=Change(muscle=finding.muscle, sets=-round(fewer)),
            )


def _not_growing(found: Evidence) -> Iterator[Proposal]:
    """More sets for a muscle below its band that should have grown by now; one that has its sets is not given more for an error of the tape, and
    a plan that holds more than is done is done first.
    """
    for one in found.growth:
        if one.verdict != "no change seen" or one.expected is None:
            continue
        for muscle in MUSCLES_AT.get(one.site, ()):
            sets, step = found.muscle_sets.get(muscle, 0.0), found.rules.sets_step
            lacks = 0 < round(sets) < min(found.band(muscle).low, found.rules.most_weekly_sets - step + 1)
            if muscle not in found.sore_muscles and lacks and found.undone(muscle) is None:
                yield Proposal(
                    kind="more_sets",
                    subject=muscle,
                    what=f"Plan {step:g} sets more a week for the {plain(muscle)}: from {sets:.0f} to {sets + step:.0f}.",
                    why=f"{plain(one.site)} ({plain(one.kind)}) changed by {one.change:+.1f} in {one.weeks:.0f} weeks; error alone can reach {one.smallest:.1f}, "
                    f"and {one.expected:+.1f} was expected on average. People differ by that much, so this is worth a try and not a failure.",
                    numbers={"change": one.change, "smallest": one.smallest, "expected": one.expected, "weekly_sets": sets},
                    claim="weekly_sets",
                    change=Change(muscle=muscle, sets=step),
                )


def _measuring(found: Evidence) -> Iterator[Proposal]:
    for one in found.growth:
        if one.verdict == "too early to tell" and one.weeks_to_tell is not None and one.kind == "girth" and one.weeks_to_tell > 26:
            better = next((g for g in found.growth if g.kind == "ultrasound_thickness" and g.site == one.site), None)
            if better is None:
                yield Proposal(
                    kind="measure",
                    subject=one.site,
                    what=f"Measure the {plain(one.site)} more often, or by ultrasound, to see growth earlier.",
                    why=f"At the average rate a tape measure needs about {one.weeks_to_tell:.0f} weeks to show growth beyond its error ({percent(one.smallest / one.means[0])} of the girth); more readings "
                    "and more visits shorten that.",
                    numbers={"smallest": one.smallest, "weeks_to_tell": one.weeks_to_tell},
                    claim="training_grows",
                )
