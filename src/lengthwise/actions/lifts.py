"""Questions about lifts: the catalogue, and what one asks of a body."""

from collections.abc import Iterator, Sequence
from typing import Any

from lengthwise.actions.library import all_lifts as all_lifts
from lengthwise.actions.studies import Progress, no_progress
from lengthwise.body.model import Body, body_of
from lengthwise.body.person import Person
from lengthwise.errors import InputError, NoSolutionError
from lengthwise.lifts.catalogue import gear
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.profile import LiftProfile, Request, profile
from lengthwise.questions.answers import encode


def list_lifts() -> dict[str, Any]:
    """Every lift with what it is for and how it can be set up."""
    found = all_lifts()
    return {
        "lifts": [
            {
                "id": lift_id,
                "name": lift.name,
                "aliases": lift.aliases,
                "family": found.family[lift_id],
                "gear": gear()[lift.gear].name,
                "posture": lift.posture,
                "sides": lift.sides,
                "targets": lift.targets,
                "prime_movers": lift.prime_movers,
                "setup": {n: {"default": s.default, "min": s.min, "max": s.max, "unit": s.unit} for n, s in lift.setup.items()},
                "ranges": ["full", *lift.ranges],
            }
            for lift_id, lift in found.lifts.items()
        ]
    }


def parse_setup(settings: list[str]) -> dict[str, float]:
    """Set-up values written as `name=value`.

    Raises:
        InputError: a part that is not `name=number`.
    """
    out = {}
    for part in settings:
        name, _, value = part.partition("=")
        try:
            out[name.strip()] = float(value)
        except ValueError:
            raise InputError(f"cannot read {part!r}; write name=number, such as pulley_cm=40", asked=part) from None
    return out


def profile_lift(body: Body, asked: str, request: Request) -> LiftProfile:
    """What a lift, found by id, name or alias, asks of a body."""
    found = all_lifts()
    lift_id = found.find(asked)
    return profile(body, lift_id, found.lifts[lift_id], request)


def profiled(person: Person, ids: Sequence[str], request: Request, tell: Progress = no_progress) -> Iterator[LiftProfile]:
    """Several lifts on one body, one after another; a failure says which of them it was.

    Raises:
        NoSolutionError: this person cannot take or hold the positions of one.
    """
    body, lifts = body_of(person), all_lifts().lifts
    for done, lift_id in enumerate(ids, 1):
        yield _profile_named(body, lift_id, lifts[lift_id], request)
        tell(done, len(ids))


def _profile_named(body: Body, lift_id: str, lift: Lift, request: Request) -> LiftProfile:
    try:
        return profile(body, lift_id, lift, request)
    except NoSolutionError as error:
        said = str(error)
        message = said if said.startswith(lift.name) else f"{lift.name}: {said}"
        raise NoSolutionError(message, asked=lift_id, allowed=error.allowed) from error


def profile_answer(found: LiftProfile) -> dict[str, Any]:
    """A profile as the machine-readable answer, with its long half beside it."""
    answer = encode(found)
    return {**answer, "lift_measures": {**answer["lift_measures"], "partial": partial_answer(found)}}


def partial_answer(found: LiftProfile) -> dict[str, Any]:
    """The long half of the same lift: its cue, whether it can be ended safely, and the targets' measures over it."""
    part = found.lift.ranges["long"]
    request = Request("long", found.request.setup, found.request.repetitions, found.request.reserve, found.request.power, 21)
    half = found if found.request.range == "long" else profile(found.body, found.lift_id, found.lift, request)
    return {
        "range": "long",
        "start": part.start,
        "end": part.end,
        "cue": part.cue,
        "safe": part.safe,
        "load_kg": half.working_kg,
        "heads": {h: dict(vars(half.heads[h].measures)) for h in found.lift.targets},
    }
