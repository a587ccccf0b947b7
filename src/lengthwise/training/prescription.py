"""What a client does on one lift: load that exists, repetitions, reserve, rest, tempo, warm-up, and the cue of the range."""

from dataclasses import dataclass
from typing import Literal

from lengthwise.body.model import Body
from lengthwise.lifts.definition import Lift
from lengthwise.training.client import Client

Variant = Literal["full", "long", "short", "mixed"]


@dataclass(frozen=True)
class Target:
    """What a set is to be.

    Attributes:
        repetitions: least and most. reserve: repetitions left at its end. range: part of the lifting phase; mixed: full until the
            reserve is reached, then the long half alone. place: one of the client's places; usual gear where none is named.
    """

    repetitions: tuple[int, int] = (8, 12)
    reserve: float = 2
    range: Variant = "full"
    place: str | None = None


@dataclass(frozen=True)
class Tempo:
    """Seconds of lowering, of the pause at the bottom, and of lifting."""

    lower_s: float
    pause_s: float
    lift_s: float


@dataclass(frozen=True)
class WarmUpSet:
    """A set before the hard ones: a load that exists [kg] and repetitions."""

    load_kg: float
    repetitions: int


@dataclass(frozen=True)
class Prescription:
    """One lift as a client is to do it.

    Attributes:
        lift, range: which. load_kg: exists at the place; none where it cannot be told. guess: whether it rests on the model.
        likely_kg: between which loads the right one probably lies. repetitions: least and most: their range bridges the gear's
            load step. reserve, rest_s, tempo, warm_up: the set. cue: of the range. notes: what to tell; first_session: how to find
            the load, step by step; cautions: of joints, spotting. claims: what each default rests on.
    """

    lift: str
    range: Variant
    load_kg: float | None
    guess: bool
    repetitions: tuple[int, int]
    reserve: float
    rest_s: float
    tempo: Tempo
    warm_up: tuple[WarmUpSet, ...] = ()
    cue: str = ""
    likely_kg: tuple[float, float] | None = None
    notes: tuple[str, ...] = ()
    first_session: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    claims: tuple[tuple[str, str], ...] = ()


def prescribe(client: Client, lift_id: str, lift: Lift, target: Target, body: Body | None = None) -> Prescription:
    """The prescription of one lift for a client.

    Args:
        body: calibrated to the client's known lifts; without it, only known lifts have a load.
    """
    raise NotImplementedError
