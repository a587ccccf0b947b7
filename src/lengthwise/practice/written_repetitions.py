"""Which repetitions suit a lift, and how they are written down: in ranges that people write."""

from collections.abc import Mapping
from typing import Any

from lengthwise.contents import data_of
from lengthwise.known.lifts import all_lifts
from lengthwise.practice.week_lifts import practice
from lengthwise.quantities import BAND, RANGES
from lengthwise.training.bridge import repetitions_at
from lengthwise.training.client import Client, FreeLift, RelatedLift, ReturningLift
from lengthwise.training.defaults import FROM_FLOOR, is_novice
from lengthwise.training.known import known_of
from lengthwise.training.prescription import Prescription
from lengthwise.training.promise import NEARLY

Repetitions = tuple[int, int]
SPAN = 5
"""Repetitions between least and most of an easy set that is cut short (common practice, no source)."""
SORE_LEFT = 3.0
"""Repetitions left where a lift works a sore joint (common practice, no source)."""
GENTLE_LEFT = 3.0
"""An easy set leaves at least so many repetitions (own choice)."""


def practice_of_sets() -> Mapping[str, Any]:
    """Repetitions by kind of lift, and cautious shares (training/data/sets.toml)."""
    return data_of("training", "sets.toml")


def fitting(reps: Repetitions, expected: int, bounds: Repetitions, done: bool) -> Repetitions:
    """Repetitions as people write them that hold those which the load allows today, the ones asked for where they do; the nearest within
    what suits the lift where none of these do; from those that the load allows where these are fewer than suit it.

    Args:
        done: whether the lift was done: near the fewest that suit it is then near enough.
    """
    if reps[0] <= expected <= reps[1]:
        return reps
    if expected < (NEARLY if done else 1) * bounds[0]:
        return max(expected, 1), bounds[0]
    suit = [r for r in RANGES if bounds[0] <= r[0] and r[1] <= bounds[1]] or [reps]
    low, high = max((r for r in suit if r[0] <= expected), default=min(suit))
    return low, high


def trained_with(done: int, usual: Repetitions, bounds: Repetitions) -> Repetitions:
    """The range that people write about the repetitions of the last set, within what suits the lift; the usual one where they lie outside.
    Of two whose middles are as near the one that begins nearer: what its least asks for is nearer to the load that was done. A set of fewer
    than suit, a test single apart, is told as the fewest.
    """
    if 1 < done < bounds[0]:
        done = bounds[0]
    if not bounds[0] <= done <= bounds[1]:
        return usual
    suit = [usual, *(r for r in RANGES if bounds[0] <= r[0] and r[1] <= bounds[1])]
    return min((r for r in suit if r[0] <= done <= r[1]), key=lambda r: (abs(sum(r) / 2 - done), -r[0]), default=usual)


def bounded(client: Client, reps: Repetitions, lift_id: str, easy: bool) -> Repetitions:
    """Repetitions within what suits the lift, however far the next load is: a step too large is told beside it."""
    least, most = bounds_of(client, lift_id, easy)
    low, high = max(least, reps[0]), min(most, max(reps[1], least))
    return min(low, high), high


def bounds_of(client: Client, lift_id: str, easy: bool) -> Repetitions:
    """The fewest and the most repetitions that suit a lift; nobody who has hardly trained does sets of 25."""
    table, known = practice_of_sets()["bounds"], practice(lift_id)
    family = all_lifts().family[lift_id]
    several = "from_floor" if lift_id in FROM_FLOOR else "multi_joint"
    kind = several if known.multi else "long_sets" if family in table["long_families"] else "single_joint"
    least, most = table[kind]
    if known.multi and (easy or all_lifts().lifts[lift_id].gear not in ("barbell", "dumbbell", "kettlebell", "chains")):
        most = table["supported_most"]
    if is_novice(client):
        most = min(most, table["novice_most"])
    return (max(least, table["easy_least"]) if easy else least), most


def repetitions_for(client: Client, lift_id: str, easy: bool) -> Repetitions:
    """Least and most repetitions of a lift: those that the client trains it with, of a band those written last; else fewer for multi-joint lifts with a
    load, more for single-joint ones, body weight and bands.
    """
    table, lift = practice_of_sets()["repetitions"], all_lifts().lifts[lift_id]
    if easy:
        low, high = table["start_easy"]
        return low, high
    known = known_of(client.known_lifts, lift_id, lift)
    if lift.gear == BAND and isinstance(known, FreeLift) and known.written:
        return known.written
    usual = usual_repetitions(client, lift_id)
    return (
        usual
        if known is None or isinstance(known, RelatedLift)
        else trained_with(known.repetitions, usual, bounds_of(client, lift_id, easy))
    )


def usual_repetitions(client: Client, lift_id: str) -> Repetitions:
    """Those that nobody has said otherwise about."""
    table, lift = practice_of_sets()["repetitions"], all_lifts().lifts[lift_id]
    if not practice(lift_id).multi:
        low, high = table["single_joint"]
    elif lift.gear in ("body", "band") and known_of(client.known_lifts, lift_id, lift) is None:
        low, high = table["body_or_band"]
    else:
        low, high = table["beginner" if is_novice(client) else "from_floor" if lift_id in FROM_FLOOR else "multi_joint"]
    return low, high


def is_trained_heavy(client: Client, lift_id: str) -> bool:
    """Whether a squat or hinge with a bar is trained with few repetitions: many tire the back more than a load does (common practice, no source)."""
    how, known = practice(lift_id), known_of(client.known_lifts, lift_id, all_lifts().lifts[lift_id])
    if not how.costly or how.pattern not in ("squat", "hinge") or known is None or isinstance(known, RelatedLift):
        return False
    return known.repetitions <= int(practice_of_sets()["repetitions"]["heavy_most"])


def as_written(client: Client, lift_id: str, reps: Repetitions) -> Repetitions:
    """Repetitions as they were written last of a lift that comes back after pain: its steps are those of the load."""
    known = known_of(client.known_lifts, lift_id, all_lifts().lifts[lift_id])
    return known.written if isinstance(known, ReturningLift) and known.written else reps


def easily_again(client: Client, lift_id: str) -> Repetitions | None:
    """The repetitions of the easy sets of last time; none where those were not easy."""
    known = known_of(client.known_lifts, lift_id, all_lifts().lifts[lift_id])
    return known.written if isinstance(known, FreeLift) and known.easy and getattr(known, "done_kg", 0.0) is not None else None


def easily(found: Prescription, load: float | None, multi: bool) -> Repetitions:
    """Repetitions of an easy set: as many as usual for one, fewer where the load is so near the usual that some would be hard."""
    low, high = practice_of_sets()["repetitions"]["gentle_multi_joint" if multi else "gentle_single_joint"]
    if load is None or found.one_rm_kg is None:
        return low, high
    possible = repetitions_at(found.one_rm_kg + found.moved_kg, load, found.moved_kg, GENTLE_LEFT)
    most = max(min(high, possible), 1)
    return (low, high) if most == high else (min(low, max(most - SPAN, 1)), most)
