"""What takes the place of lifts whose equipment is gone, or that a joint no longer bears since it hurt: lifts of the same job, then what else `swap`
names for that, nearest first.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from lengthwise.known.lifts import all_lifts
from lengthwise.planning.instead import Instead, Line
from lengthwise.planning.week import Choice, Week
from lengthwise.practice.hard_sets import ALLOWS_FEW
from lengthwise.practice.week_lifts import fits
from lengthwise.training.client import Client, hurting
from lengthwise.weeks.bare_muscles import by_joint
from lengthwise.weeks.swap_fit import Why, does_the_same, found_instead
from lengthwise.weeks.swapping import computed
from lengthwise.weeks.week_choices import Offer

MOST = 8
"""So many lifts are tried in place of one (own choice): the nearest may stand on the day, or on as many as it may."""


def lost_lines(week: Week, offer: Offer) -> dict[Line, str]:
    """Lines of a week whose day is where it was, and has no longer what the lift needs: each with its lift."""
    days = {d.day: d for d in offer.days}
    return {
        (d.day, (x.lift, x.range)): x.lift
        for d in week.days
        for x in d.lifts
        if d.day in days and days[d.day].place == d.place and not fits(x.lift, days[d.day])
    }


def _pained_lines(week: Week, offer: Offer) -> dict[Line, str]:
    """Lines of a week that a joint leaves out, though the day has what the lift needs: each with its lift."""
    days, able = {d.day: d for d in offer.days}, {c.lift for c in offer.choices}
    return {
        (d.day, (x.lift, x.range)): x.lift
        for d in week.days
        for x in d.lifts
        if x.lift not in able and by_joint(offer.out.get(x.lift, "")) and d.day in days and fits(x.lift, days[d.day])
    }


def heads_of(lost: Mapping[Line, str]) -> set[str]:
    """The heads that lost lines are meant for."""
    return {h for i in lost.values() for h in all_lifts().lifts[i].targets}


def with_instead_offered(
    client: Client, lost: Mapping[Line, str], week: Week, offer: Offer, wide: Offer, joint: str = ""
) -> tuple[Offer, Instead]:
    """The offer with lifts that may take the place of lost ones, and which may for which line of a week: none of another job where a lift that stays
    on the day does the same, and none that nobody can do for the fewest repetitions that suit it.

    Args:
        wide: what the client can do for the same heads, whatever any list says. joint: for whose sake lines are lost; else their gear is gone.
    """
    why = Why("pain" if joint else "gear", joint, client)
    near = {i: _near(why, i, wide) for i in sorted({*lost.values()})}
    stay: dict[str, set[str]] = {d.day: {x.lift for x in d.lifts if (d.day, (x.lift, x.range)) not in lost} for d in week.days}
    offered = {line: same if {*same} & stay[line[0]] else [*same, *other] for line, i in lost.items() for same, other in [near[i]]}
    able = {line: [n for n in names if ALLOWS_FEW not in offer.out.get(n, "")] for line, names in offered.items()}
    instead = {line: names[:MOST] for line, names in able.items()}
    named = {n for names in instead.values() for n in names} - {c.lift for c in offer.choices}
    more = tuple(c for c in wide.choices if c.lift in named)
    return _with(offer, more, wide.lighter), instead


def with_pained_offered(client: Client, week: Week, offer: Offer, instead: Instead, joints: Sequence[str]) -> tuple[Offer, Instead]:
    """The offer with lifts that may take the place of lines that a joint leaves out since it hurt in the log, and which may for which line.

    Args:
        instead: what may for lines that are lost for other reasons. joints: that hurt in the log.
    """
    for joint in joints:
        if hurt := {line: i for line, i in _pained_lines(week, offer).items() if line not in instead}:
            offer, more = with_instead_offered(client, hurt, week, offer, offer, joint)
            instead = {**instead, **more}
    return offer, instead


def _near(why: Why, lift_id: str, wide: Offer) -> tuple[list[str], list[str]]:
    """Lifts in place of one, nearest first: those that do the same job, and others that `swap` names."""
    heads = frozenset(all_lifts().lifts[lift_id].targets)
    old = next((c for c in wide.choices if c.lift == lift_id), None) or computed(why.client, lift_id, wide)
    found = found_instead(why, old, wide, heads)
    same = [c.lift for c in found.ranked if does_the_same(old, c) and not _waits(why.client, c)]
    return same, [c.lift for c in found.best if c.lift not in same and not _waits(why.client, c)]


def _waits(client: Client, choice: Choice) -> bool:
    """Whether a lift for one joint strains one that hurt in the log, and was never done: nobody begins it now."""
    hurt = {*hurting(client.known_lifts).values()} & {*choice.strains}
    return bool(hurt) and not choice.familiar and not choice.practice.multi


def _with(offer: Offer, more: tuple[Choice, ...], lighter: Mapping[str, float]) -> Offer:
    names = {c.lift for c in more}
    return replace(
        offer,
        choices=tuple(sorted((*offer.choices, *more), key=lambda c: c.key)),
        lighter={**{i: part for i, part in lighter.items() if i in names}, **offer.lighter},
        out={i: why for i, why in offer.out.items() if i not in names},
    )
