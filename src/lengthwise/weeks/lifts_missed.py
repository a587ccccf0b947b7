"""Why a week holds no lift that a client would look for: own and known lifts that are not in it, and work that a sore joint leaves no lift for."""

from collections import Counter
from collections.abc import Collection, Iterable, Iterator

from lengthwise.body.muscle_names import in_full
from lengthwise.errors import InputError
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.pairing import main_muscle
from lengthwise.planning.question import WeekQuestion
from lengthwise.planning.week import Conflict, Week
from lengthwise.planning.week_rows import hamstring_jobs
from lengthwise.practice.week_lifts import is_same_sort, practice
from lengthwise.quantities import set_count
from lengthwise.training.client import Client
from lengthwise.weeks.week_choices import Offer

ROOM_MIN = 8.0
"""A day with so many minutes left has room for a lift of two sets (own choice)."""


def known_alone(offer: Offer) -> set[str]:
    """What the planner calls lifts that are known and not liked: nobody asked for them."""
    return {f"{all_lifts().lifts[i].name} in the week" for i in offer.own.kept if i not in offer.own.liked}


def left_out(question: WeekQuestion, offer: Offer, week: Week) -> list[tuple[str, str, str]]:
    """Liked and known lifts that are not in the week: id, name and reason. A known lift is what loads rest on, and no wish; of a refused one nobody asks
    why it is out.
    """
    here = {x.lift for d in week.days for x in d.lifts}
    told = " ".join(c.wish for c in week.conflicts)
    out = []
    for i in dict.fromkeys((*offer.own.kept, *offer.own.known)):
        name = all_lifts().lifts[i].name
        if i not in here and name not in told and i not in question.refused:
            out.append((i, name, offer.out.get(i) or instead_told(i, week, question)))
    return out


def instead_told(lift_id: str, week: Week, question: WeekQuestion) -> str:
    """Why a lift that could stand does not: what of its sort stands there, with its sets; else the rest took the minutes, or came first."""
    sets = Counter[str]()
    for x in (x for d in week.days for x in d.lifts if is_same_sort(practice(x.lift), practice(lift_id))):
        sets[x.name] += x.sets
    if not sets:
        full = all(d.minutes > o.minutes - ROOM_MIN for d, o in zip(week.days, question.days, strict=True))
        if full:
            return "the week has no room for it beside the rest"
        choice = next((c for c in question.choices if c.lift == lift_id), None)
        muscle = next((m for m in question.muscles if choice and m.name == main_muscle(question, choice)), None)
        has = week.muscle_sets[muscle.name] if muscle else 0.0
        return (
            f"{in_full(muscle.name)} has its {has:.0f} sets without it"
            if muscle and has >= muscle.low
            else "the week does without it"
        )
    return f"{' and '.join(f'{set_count(n)} of {name}' for name, n in sets.most_common(2))} do its work"


def jobs_lost(client: Client, offer: Offer) -> Iterator[Conflict]:
    """Jobs of the hamstrings for which a sore joint leaves no lift at all."""
    here = {c.practice.family for c in offer.choices}
    spoiled = {
        all_lifts().family[i] for i, why in offer.out.items() if ("hurt" in why or "sore joint" in why) and i in all_lifts().lifts
    }
    for words, families in hamstring_jobs(client.sore_joints):
        if families & spoiled and not families & here:
            yield Conflict(f"a lift for the hamstrings {words}", "every one available loads a sore joint too much")


def refuse_what_cannot_stand(
    fixed: Iterable[tuple[str, str]], as_before: Iterable[tuple[str, tuple[str, str]]], without: Collection[str], offer: Offer
) -> None:
    """Tell of a lift fixed by hand that the client cannot do on that day, and why.

    Raises:
        InputError: there is one.
    """
    days = {d.day: d for d in offer.days}
    able = {c.lift: c for c in offer.choices}
    for day, name in fixed:
        lift = all_lifts().find(name)
        if day not in days:
            why = "no training that day"
        elif lift not in able:
            why = offer.out.get(lift, "it is none of the lifts that this client can do")
        elif able[lift].gear not in days[day].gear or not able[lift].practice.stations <= days[day].stations:
            why = "its equipment is not there that day"
        else:
            continue
        raise InputError(f"{all_lifts().lifts[lift].name} cannot stand on {day.capitalize()}: {why}", asked=lift)
    for day, (lift, _) in as_before:
        if all_lifts().lifts[lift].gear in without:
            why = "its equipment is not there this week, and the day is to stay as it was"
            raise InputError(f"{all_lifts().lifts[lift].name} cannot stand on {day.capitalize()}: {why}", asked=lift)
