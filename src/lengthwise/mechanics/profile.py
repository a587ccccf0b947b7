"""What a lift asks of every head of a person's body: the door to the mechanics."""

from collections.abc import Sequence
from typing import TypeVar

from lengthwise.body.model import Body
from lengthwise.core import door
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics import together
from lengthwise.mechanics.equilibrium import set_up
from lengthwise.mechanics.lift_profile import (
    N_POS,
    NOWHERE,
    ROUNDING,
    HeadProfile,
    LiftProfile,
    RangeName,
    Request,
    Start,
    long_half,
    part_of,
    phase_of,
    share_used,
    within_reach,
)
from lengthwise.mechanics.outline import Outline
from lengthwise.mechanics.staged import solved
from lengthwise.mechanics.together import FAILS
from lengthwise.mechanics.working_load import load_fraction

__all__ = [
    "FAILS", "NOWHERE", "N_POS", "ROUNDING", "Asked", "HeadProfile", "LiftProfile", "Outline", "RangeName", "Request",
    "Start", "finished", "long_half", "outlines", "part_of", "phase_of", "profile", "profiles", "share_used", "solved", "within_reach",
]  # fmt: skip
Asked = tuple[str, Lift, Request]
Found = TypeVar("Found")


def profile(body: Body, lift_id: str, lift: Lift, request: Request | None = None) -> LiftProfile:
    """What a lift asks of each head of this body.

    Raises:
        NoSolutionError: the person cannot take the lift's positions, or cannot hold them even without load.
        InputError: set-up, repetitions or reserve out of bounds.
    """
    found = profiles(body, [(lift_id, lift, request or Request())])[0]
    if isinstance(found, Exception):
        raise found
    return found


def profiles(body: Body, asked: Sequence[Asked], threads: int = 1) -> list[LiftProfile | Exception]:
    """The same of many lifts, in the order asked; of FAILS what a lift fails with. Threads change no bit."""
    return finished(body, asked, together.solve(body, asked, threads) if door.available() else [None] * len(asked))


def outlines(body: Body, asked: Sequence[Asked], threads: int = 1) -> list[LiftProfile | Outline | Exception]:
    """The same in outline, but for lifts that other solvers than the core's had to solve."""
    return finished(body, asked, together.outlined(body, asked, threads) if door.available() else [None] * len(asked))


def finished(
    body: Body, asked: Sequence[Asked], found: Sequence[Found | Exception | None]
) -> list[Found | LiftProfile | Exception]:
    """What was found, in the order asked, and what other solvers find where nothing was."""
    return [_or_staged(one, body, *own) for one, own in zip(found, asked, strict=True)]


def _or_staged(
    found: Found | Exception | None, body: Body, lift_id: str, lift: Lift, request: Request
) -> Found | LiftProfile | Exception:
    """What was found, or what is found stage by stage where nothing was."""
    if found is not None:
        return found
    try:
        load_fraction(request.repetitions, request.reserve)
        shorter = within_reach(body, lift, request)
        if shorter is not request:
            return profiles(body, [(lift_id, lift, shorter)])[0]
        return solved(set_up(body, lift, phase_of(lift, request), request.setup, part_of(lift, request)), lift_id, request)
    except FAILS as error:
        return error
