"""Why a day stays short of its minutes, in plain words: which muscles lost their lifts, and to what; and what would fill it."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import ceil, floor

from lengthwise.body.anatomy import muscles
from lengthwise.body.muscle_names import in_full
from lengthwise.known.lifts import all_lifts
from lengthwise.lifts.catalogue import gear
from lengthwise.planning.question import DayOffer, Muscle, WeekQuestion
from lengthwise.planning.shape import belongs
from lengthwise.planning.steps import held_back
from lengthwise.planning.week import PlannedDay, Week
from lengthwise.planning.week_model import READABLE, direct, may_stand
from lengthwise.practice.hard_sets import TOO_LIGHT_FOR
from lengthwise.practice.week_lifts import practice
from lengthwise.training.client import Client
from lengthwise.training.record_words import joint_named, joint_told
from lengthwise.training.sore import spoiled
from lengthwise.training.stations import needed, stations
from lengthwise.weeks.week_candidates import NOT_THERE
from lengthwise.weeks.week_choices import Offer

MOST_TOLD = 3
"""So many muscles are named for a day, those that lost most first (own choice)."""
HALF = 0.5
"""A muscle is of a day that takes so much of its usual lifts, and is told where it lost so much of them (own choice)."""
FULL = 0.85
"""A sore joint that carries so much of what a day allows has no room for another set or two (own choice)."""
ENOUGH = 3
"""Equipment is named where it would bring back so many usual lifts (own choice)."""
SLACK_MIN = 1.0
"""Minutes short that do not matter."""
STEP_MIN = 5
"""Minutes of a day are told in steps of so many."""


def short_days(client: Client, question: WeekQuestion, offer: Offer, week: Week) -> Iterator[str]:
    """One sentence or two for each day that uses clearly less than its minutes, and fewer days where what is left would fill them."""
    fill, short = question.rules.fill, 0
    if any(held_back(question, week, m) for m in question.muscles):
        return  # the week grows in steps, which is told for all days at once
    for day, there in zip(week.days, question.days, strict=True):
        if day.minutes < fill * there.minutes - SLACK_MIN:
            short += 1
            yield f"{_why(client, question, offer, day, there)} To fill it: {'; or '.join(_fills(client, question, offer, day, there))}."

    if short > 1 and (number := _days_filled(question, week)) < len(question.days):
        yield f"All that is left would fill {number} of your {len(question.days)} days: {'one is' if number == 1 else 'so many are'} enough for now."


def _days_filled(question: WeekQuestion, week: Week) -> int:
    """How many days of the usual length the lifts of a week would fill, each with its own warm-up."""
    warm, days = question.rules.warm_up_min, question.days
    work = sum(d.minutes - warm for d in week.days)
    usual = question.rules.fill * sum(d.minutes for d in days) / len(days) - warm
    return max(1, ceil(work / max(usual, 1.0)))


def _why(client: Client, question: WeekQuestion, offer: Offer, day: PlannedDay, there: DayOffer) -> str:
    """What the day holds, and what its muscles lost."""
    lost = [(m, causes) for m in question.muscles if (causes := _lost(client, question, offer, m, there))]
    worst = sorted(lost, key=lambda pair: (-sum(pair[1].values()), pair[0].name))[:MOST_TOLD]
    said = [*_doses(question, day), *(_in_words(question, m, causes, there) for m, causes in worst)]
    short = f"{day.day.capitalize()} holds {day.minutes:.0f} of {there.minutes:.0f} minutes. "
    return short + (". ".join(x[:1].upper() + x[1:] for x in said) or "Its muscles have the sets that they can use in a week") + "."


def _doses(question: WeekQuestion, day: PlannedDay) -> Iterator[str]:
    """Sore joints that have all they may carry on the day."""
    known = {c.key: c for c in question.choices}
    for joint, most in question.joint_nm.items():
        carried = sum(x.sets * known[x.lift, x.range].joint_nm.get(joint, 0.0) / most for x in day.lifts)
        if carried > FULL * question.rules.joint_dose:
            yield f"the sore {joint_told(joint)} has all the sets that should load it on one day"


def _lost(client: Client, question: WeekQuestion, offer: Offer, muscle: Muscle, there: DayOffer) -> Counter[str]:
    """How many usual lifts a muscle of the day lost to what; empty where it is none of the day's, or lost few."""
    usual = _of_day(question, muscle, there)
    causes = Counter(c for i in usual if (c := _cause(client, offer, i)))
    everywhere = _of_day(question, muscle, replace(there, shape="whole"))
    mine = len(usual) >= HALF * len(everywhere)
    return causes if mine and sum(causes.values()) >= HALF * len(usual) else Counter()


def _in_words(question: WeekQuestion, muscle: Muscle, causes: Counter[str], there: DayOffer) -> str:
    """What a muscle lost, and what is left for it."""
    left = [
        c.name
        for c in question.choices
        if c.lift not in question.refused and direct(c, muscle) and may_stand(question, c, there, False)
    ]
    lost = ", ".join(f"{n} {cause}" for cause, n in sorted(causes.items(), key=lambda kv: (-kv[1], kv[0])))
    return f"{in_full(muscle.name)}: of the usual lifts {lost}; left are {' / '.join(left[:MOST_TOLD]) or 'none'}"


def _of_day(question: WeekQuestion, muscle: Muscle, there: DayOffer) -> list[str]:
    """Lifts for a muscle that any coach would write down for such a day."""
    lifts, heads = all_lifts().lifts, set(muscles()[muscle.name])
    return [
        i
        for i in sorted(lifts)
        if heads & set(lifts[i].targets) and practice(i).staple and belongs(practice(i), there.shape, question.muscles)
    ]


def _cause(client: Client, offer: Offer, lift_id: str) -> str:
    """To what a usual lift is lost; empty where it is not lost, or left out because another does the same."""
    why = offer.out.get(lift_id, "")
    joint = joint_named(why.partition(":")[0])
    if joint in client.sore_joints or "sore joint" in why:
        named = [joint] if joint in client.sore_joints else list(client.sore_joints)
        return f"lost to the sore {' and '.join(map(joint_told, named))}"
    if why.startswith(NOT_THERE):
        return "need equipment that is not there"
    return "need heavier loads" if TOO_LIGHT_FOR in why else ""


def _fills(client: Client, question: WeekQuestion, offer: Offer, day: PlannedDay, there: DayOffer) -> Iterator[str]:
    """What would fill the day, likeliest first."""
    if wanted := _wanted(client, question, offer, there):
        yield f"{' or '.join(wanted)} would bring most lifts back"
    if there.shape != "whole":
        yield "train the whole body that day"
    minutes = (
        floor(day.minutes / question.rules.fill / STEP_MIN) * STEP_MIN
    )  # less than the day has, since the day stays short of it
    yield f"plan {minutes:.0f} minutes for {day.day.capitalize()}"


def _wanted(client: Client, question: WeekQuestion, offer: Offer, there: DayOffer) -> Sequence[str]:
    """The equipment whose lack costs the day most usual lifts, by name; two kinds at most, and each brings back ENOUGH of them."""
    lacking = Counter[str]()
    lifts, family = all_lifts().lifts, all_lifts().family
    needless = {"band"} if there.gear >= READABLE else set[str]()
    lost = {
        i
        for m in question.muscles
        for i in _of_day(question, m, there)
        if offer.out.get(i, "").startswith(NOT_THERE) and lifts[i].gear not in needless
    }
    for i in sorted(i for i in lost if not spoiled(client, i, lifts[i], family[i])):
        kind = lifts[i].gear
        missing = [gear()[kind].name] if kind not in there.gear else [stations()[k].name for k in needed(i) - there.stations]
        lacking.update(missing if len(missing) == 1 else [])
    worth = [(name, n) for name, n in lacking.items() if n >= ENOUGH]
    return [name for name, _ in sorted(worth, key=lambda kv: (-kv[1], kv[0]))[:2]]
