"""Bands, which have no kilograms: which one was taken last, and when a thicker one follows."""

from lengthwise.known.lifts import all_lifts
from lengthwise.practice.loading import Loading, is_spared, near_pain
from lengthwise.quantities import BAND
from lengthwise.training.client import Client, PromisedLift
from lengthwise.training.known import known_of
from lengthwise.training.log import LoggedSet
from lengthwise.training.prescription import Prescription
from lengthwise.training.promise import ENOUGH

LAST, NOW = "Last time: {}.", "Every set reached {} with {:g} left: take the next thicker band."
LATER = "Once every set reaches {} with {:g} left, take the next thicker band."


def may_go_up(how: Loading, found: Prescription) -> bool:
    """Whether a thicker band follows in a lift with a band: not for the sake of a joint."""
    lift = all_lifts().lifts[found.lift]
    return lift.gear == BAND and not (found.gentle or is_spared(how, found.lift) or near_pain(how, found.lift))


def band_told(how: Loading, found: Prescription) -> tuple[str, ...]:
    """The band of the last visit, where one was named, and whether the next thicker one follows now or later (common practice, no source);
    nothing for other gear.
    """
    if all_lifts().lifts[found.lift].gear != BAND:
        return ()
    sets = last_sets(how.client, found.lift)
    name = next((s.band for s in reversed(sets) if s.band), "")
    told = (LAST.format(name),) if name else ()
    if not may_go_up(how, found):
        return told
    most = found.repetitions[1]
    done = len(sets) >= ENOUGH and all(s.repetitions >= most and (s.reserve is None or s.reserve >= found.reserve) for s in sets)
    return (*told, (NOW if done else LATER).format(most, found.reserve))


def last_sets(client: Client, lift_id: str) -> tuple[LoggedSet, ...]:
    """The sets of a lift on its last visit, by the log; none where it has none."""
    known = known_of(client.known_lifts, lift_id, all_lifts().lifts[lift_id])
    if not isinstance(known, PromisedLift):
        return ()
    return known.trail.bad or next(reversed(known.trail.days), known.trail.before)
