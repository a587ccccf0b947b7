"""In which order lifts come back after pain: those that hurt first, what is harder on the joint after them; what stood in goes (common practice, no
source).
"""

from collections.abc import Collection
from dataclasses import replace
from datetime import timedelta

from lengthwise.days import monday_of
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.week import Choice
from lengthwise.records.past import Past
from lengthwise.training.client import Client, FreeLift, KnownLift, PainfulLift, ReturningLift
from lengthwise.training.record_words import joint_told
from lengthwise.training.sore import hurts_many, is_harder
from lengthwise.weeks.week_choices import Offer

WAITS = "it is harder on the {}, so it waits until {} has its load of before again"
IN_PLACE = "{}, for which it stood in, comes back"


def in_turn(client: Client, offer: Offer, past: Past, fixed: Collection[str]) -> Offer:
    """The offer of a week in which joints are on their way back.

    Args:
        fixed: lifts that stand whatever is said here.
    """
    known, here = {k.lift: k for k in client.known_lifts}, {c.lift for c in offer.choices}
    behind = {j: i for i, j in sorted(past.pained.items()) if j in past.back and _is_behind(known.get(i))}
    out = {}
    for c in (c for c in offer.choices if c.lift not in {*fixed, *past.pained}):
        if waits := next((j for j in sorted(behind) if _waits(c, known.get(c.lift), j, behind[j], past)), None):
            out[c.lift] = WAITS.format(joint_told(waits), all_lifts().lifts[behind[waits]].name)
        elif stood := next((i for i in sorted({*behind.values()} & here) if _stood_in(c, known.get(c.lift), i)), None):
            out[c.lift] = IN_PLACE.format(all_lifts().lifts[stood].name)
    return replace(offer, choices=tuple(c for c in offer.choices if c.lift not in out), out={**offer.out, **out})


def _is_behind(known: KnownLift | None) -> bool:
    """Whether a lift that hurt has not its load of before again."""
    return isinstance(known, PainfulLift) or (isinstance(known, ReturningLift) and known.load_kg < known.before_kg)


def _waits(choice: Choice, known: KnownLift | None, joint: str, hurt: str, past: Past) -> bool:
    """Whether a lift was done before a joint hurt and not since, and is harder on it than what stayed: a bench press is not, where the press overhead
    hurt that such a joint is spared by name.
    """
    if not isinstance(known, FreeLift) or known.day is None or known.day >= monday_of(past.back[joint]) + timedelta(weeks=1):  # type: ignore[index]
        return False
    if hurts_many(joint, hurt) and not hurts_many(joint, choice.lift):
        return False
    return is_harder(joint, choice.lift, all_lifts().lifts[choice.lift], choice.practice.family)


def _stood_in(choice: Choice, known: KnownLift | None, lift_id: str) -> bool:
    """Whether a lift was begun in easy sets for the same heads as another that hurt."""
    targets = {*all_lifts().lifts[lift_id].targets} & {*choice.practice.targets}
    return isinstance(known, ReturningLift) and known.stands_in and bool(targets)
