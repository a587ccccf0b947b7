"""Why a day stays short of its minutes, in plain words: which muscles lost their lifts, and to what; and what would fill it."""

from collections import Counter
from collections.abc import Iterator, Sequence
from math import ceil

from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.week_choices import TOO_LIGHT_FOR, Offer
from lengthwise.actions.week_lifts import NOT_THERE, practice
from lengthwise.body.anatomy import muscles
from lengthwise.lifts.catalogue import gear
from lengthwise.planning.model import direct, may_stand
from lengthwise.planning.question import DayOffer, Muscle, Question
from lengthwise.planning.shape import belongs
from lengthwise.planning.week import PlannedDay, Week
from lengthwise.planning.wording import plain
from lengthwise.training.client import Client
from lengthwise.training.stations import needed, stations

MOST_TOLD = 3
"""So many muscles are named for a day, those that lost most first (own choice)."""
SLACK_MIN = 1.0
"""Minutes short that do not matter."""
STEP_MIN = 5
"""Minutes of a day are told in steps of so many."""


def short_days(client: Client, question: Question, offer: Offer, week: Week) -> Iterator[str]:
    """One sentence or two for each day that uses clearly less than its minutes."""
    fill = question.rules.fill
    for day, there in zip(week.days, question.days, strict=True):
        if day.minutes < fill * there.minutes - SLACK_MIN:
            yield f"{_why(client, question, offer, day, there)} To fill it: {'; or '.join(_fills(question, offer, day, there))}."


def _why(client: Client, question: Question, offer: Offer, day: PlannedDay, there: DayOffer) -> str:
    """What the day holds, and what its muscles lost."""
    said = [text for m in question.muscles if (text := _lost(client, question, offer, m, there))]
    short = f"{day.day.capitalize()} holds {day.minutes:.0f} of {there.minutes:.0f} minutes: "
    if said:
        return short + "; ".join(said[:MOST_TOLD]) + "."
    return short + "its muscles have the sets that they can use in a week."


def _lost(client: Client, question: Question, offer: Offer, muscle: Muscle, there: DayOffer) -> str:
    """What a muscle of the day lost; empty where it is none of the day's, or lost little."""
    causes = Counter(c for i in _of_day(question, muscle, there) if (c := _cause(client, offer, i)))
    left = [
        c.name
        for c in question.choices
        if c.lift not in question.refused and direct(c, muscle) and may_stand(question, c, there, False)
    ]
    if not causes or sum(causes.values()) < len(left):
        return ""
    lost = " and ".join(f"{n} {cause}" for cause, n in sorted(causes.items(), key=lambda kv: (-kv[1], kv[0])))
    return f"{plain(muscle.name)} loses {lost}, which leaves {', '.join(left[:MOST_TOLD]) or 'nothing'}"


def _of_day(question: Question, muscle: Muscle, there: DayOffer) -> list[str]:
    """Lifts for a muscle that any coach would write down for such a day."""
    lifts, heads = all_lifts().lifts, set(muscles()[muscle.name])
    return [
        i
        for i in sorted(lifts)
        if practice(i).staple and heads & set(lifts[i].targets) and belongs(practice(i), there.shape, question.muscles)
    ]


def _cause(client: Client, offer: Offer, lift_id: str) -> str:
    """To what a usual lift is lost; empty where it is not lost, or left out because another does the same."""
    why = offer.out.get(lift_id, "")
    joint = why.partition(":")[0]
    if joint in client.sore_joints or "sore joint" in why:
        named = [joint] if joint in client.sore_joints else list(client.sore_joints)
        return f"to the sore {' and '.join(named)}"
    if why.startswith(NOT_THERE):
        return "for want of equipment"
    return "for want of heavier loads" if TOO_LIGHT_FOR in why else ""


def _fills(question: Question, offer: Offer, day: PlannedDay, there: DayOffer) -> Iterator[str]:
    """What would fill the day, likeliest first."""
    if wanted := _wanted(question, offer, there):
        yield f"{' or '.join(wanted)} would bring most lifts back"
    if there.shape != "whole":
        yield "train the whole body that day"
    minutes = ceil(day.minutes / question.rules.fill / STEP_MIN) * STEP_MIN
    yield f"plan {minutes:.0f} minutes for {day.day.capitalize()}"


def _wanted(question: Question, offer: Offer, there: DayOffer) -> Sequence[str]:
    """The equipment whose lack costs the day most usual lifts, by name; two kinds at most."""
    lacking = Counter[str]()
    lost = {i for m in question.muscles for i in _of_day(question, m, there) if offer.out.get(i, "").startswith(NOT_THERE)}
    for i in sorted(lost):
        kind = all_lifts().lifts[i].gear
        missing = (
            [gear()[kind].name.lower()] if kind not in there.gear else [stations()[k].name for k in needed(i) - there.stations]
        )
        lacking.update(missing if len(missing) == 1 else [])
    return [name for name, _ in sorted(lacking.items(), key=lambda kv: (-kv[1], kv[0]))[:2]]
