"""Between which loads the right one probably lies."""

from math import exp, hypot, inf

from lengthwise.training.ability import Ability
from lengthwise.training.known import possible
from lengthwise.training.one_rm import factor, repetitions_error, transfer

LIKELY = 1.2816
"""Normal quantile for "probably": eight of ten."""


def likely(able: Ability, repetitions: float, reserve: float) -> tuple[float, float] | None:
    """Between which loads the right one lies in eight of ten cases: spread of the equations, of repetitions and 1RM from day to day, of the model."""
    if able.one_rm_kg is None:
        return None
    wanted = repetitions + reserve
    share = 1 / factor(wanted)
    low = high = 1.0
    if able.known is not None:
        middle, least, most = transfer(possible(able.known), wanted)
        low, high = least / middle, most / middle
    counted = repetitions_error(100 * share) * share / 30
    spread = LIKELY * hypot(able.sd, counted)
    total = able.one_rm_kg * share
    least, most = total * low * exp(-spread), total * high * exp(spread)
    if able.known is not None and able.source != "a related lift":
        least, most = _within_known(able.one_rm_kg, possible(able.known), wanted, (least, most))
    return least - able.moved_kg, most - able.moved_kg


def middle_kg(one_rm_total_kg: float | None, moved_kg: float, wanted: float) -> float:
    """The middle of where the right load for so many possible repetitions lies [kg]; without end where no strength is known."""
    return inf if one_rm_total_kg is None else one_rm_total_kg / factor(wanted) - moved_kg


def _within_known(one_rm_kg: float, done: float, wanted: float, bounds: tuple[float, float]) -> tuple[float, float]:
    """No wider than a known set allows: more repetitions than it had want less than its load, fewer want more.

    The right load lies on its own side of half-way between the two, in repetitions (own choice).
    """
    least, most = bounds
    half_way = one_rm_kg / factor((done + wanted) / 2)
    if wanted > done:
        return least, min(most, half_way)
    return (max(least, half_way) if wanted < done else least), most
