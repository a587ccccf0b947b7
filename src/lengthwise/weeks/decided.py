"""What an accepted proposal changed: the record and the week, before and after, line by line."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from lengthwise.body.muscle_names import in_full
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.week import Week
from lengthwise.quantities import name_of, plain
from lengthwise.training.client import Client
from lengthwise.training.weekly_sets import weekly_band

SEEN = 0.25
"""Counted sets that differ by less are not told (own choice)."""


@dataclass(frozen=True)
class Changed:
    """One line: what, how it was, and how it is now."""

    what: str
    before: str
    after: str


def changed_lines(before: Client, after: Client, last: Week | None, week: Week | None) -> tuple[Changed, ...]:
    """Every difference between two records and two weeks of a client; the week's only where both are there."""
    lines = [*_bands(before, after), *_lifts(before, after), *_joints(before, after)]
    if last is not None and week is not None:
        lines += [*_sets(last, week), *_planned(last, week)]
    return tuple(lines)


def _bands(before: Client, after: Client) -> Iterator[Changed]:
    old, new = before.wishes.weekly_sets, after.wishes.weekly_sets
    for m in dict.fromkeys([*old, *new]):
        if old.get(m) != new.get(m):
            yield Changed(f"Sets a week for {in_full(m)}", _band(before, m), _band(after, m))


def _band(client: Client, muscle: str) -> str:
    band = weekly_band(client, muscle)
    usual = "" if muscle in client.wishes.weekly_sets else ", as usual"
    return f"{plain(band.low, 1)} to {plain(band.high, 1)}{usual}"


def _lifts(before: Client, after: Client) -> Iterator[Changed]:
    old, new = _wishes(before), _wishes(after)
    for i in dict.fromkeys([*old, *new]):
        if old.get(i) != new.get(i):
            yield Changed(_name(i), old.get(i, "neither liked nor refused"), new.get(i, "neither liked nor refused"))


def _wishes(client: Client) -> Mapping[str, str]:
    return {**dict.fromkeys(client.wishes.liked, "liked"), **dict.fromkeys(client.wishes.refused, "refused")}


def _name(word: str) -> str:
    known = all_lifts().lifts
    return known[word].name if word in known else name_of(word)


def _joints(before: Client, after: Client) -> Iterator[Changed]:
    for joint in dict.fromkeys([*before.sore_joints, *after.sore_joints]):
        if (joint in before.sore_joints) != (joint in after.sore_joints):
            was, now = (("sore, spared" if joint in c.sore_joints else "not named sore") for c in (before, after))
            yield Changed(name_of(joint).capitalize(), was, now)


def _sets(last: Week, week: Week) -> Iterator[Changed]:
    for m, now in week.muscle_sets.items():
        was = last.muscle_sets.get(m, 0.0)
        if abs(now - was) >= SEEN:
            yield Changed(f"Counted sets for {in_full(m)}", plain(was, 1), plain(now, 1))


def _planned(last: Week, week: Week) -> Iterator[Changed]:
    old, new = _by_lift(last), _by_lift(week)
    for name in dict.fromkeys([*old, *new]):
        if old.get(name, 0) != new.get(name, 0):
            yield Changed(f"Sets of {name}", str(old.get(name, 0)), str(new.get(name, 0)))


def _by_lift(week: Week) -> dict[str, int]:
    out: dict[str, int] = {}
    for d in week.days:
        for x in d.lifts:
            out[x.name] = out.get(x.name, 0) + x.sets
    return out
