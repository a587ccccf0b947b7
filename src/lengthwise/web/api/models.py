"""What goes in and out under /api, besides the body that a question is about."""

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from lengthwise.body.in_posture import HeadInPosture
from lengthwise.body.person import Person
from lengthwise.mechanics.measures import HeadMeasures
from lengthwise.mechanics.profile import N_POS, LiftProfile
from lengthwise.questions.answers import model_of
from lengthwise.web.answers import LiftAsked
from lengthwise.web.who import Who

Curve = list[float]
Vector = Annotated[list[float], Field(min_length=3, max_length=3)]
Millimetres = list[int]
Part = Literal["full", "long", "short"]
SetupWord = Annotated[str, Field(pattern=r"^[a-z][a-z0-9_]*=-?\d{1,4}(\.\d{1,6})?$", description="set-up value, name=value")]


class Out(BaseModel):
    """An answer: nothing in it that is not described."""

    model_config = ConfigDict(extra="forbid")


class LiftQuestion(Who):
    """A lift on a body: which part of it, with which set-up, for which set."""

    range: Annotated[Part, Field(description="the whole lifting phase, or its longer or shorter half")] = "full"
    setup: Annotated[
        list[SetupWord], Field(default_factory=list, max_length=12, description="set-up values that differ, name=value")
    ]
    repetitions: Annotated[int, Field(ge=1, le=40, description="repetitions of a set")] = 10
    reserve: Annotated[float, Field(ge=0, le=10, description="repetitions left in reserve at its end")] = 2
    positions: Annotated[int, Field(ge=9, le=61, description="positions along the lifting phase")] = N_POS

    def asked(self, person: Person, lift: str) -> LiftAsked:
        """The question about one lift of one person."""
        pairs = (word.partition("=") for word in self.setup)
        setup = tuple(sorted((name, float(value)) for name, _, value in pairs))
        return LiftAsked(person, lift, self.range, setup, self.repetitions, self.reserve, self.positions)


class SetupRange(Out):
    """A set-up parameter of a lift."""

    default: float
    min: float
    max: float
    unit: str


class LiftEntry(Out):
    """A lift of the library."""

    id: str
    name: str
    aliases: list[str]
    family: str
    gear: str
    posture: str
    sides: str
    targets: list[str]
    prime_movers: list[str]
    setup: dict[str, SetupRange]
    ranges: list[str]


class Lifts(Out):
    """The library of lifts."""

    lifts: list[LiftEntry]


class LiftMeasures(Out):
    """Measures of the lift as a whole."""

    economy: dict[str, float]
    balance_demand: float
    seconds_per_set: float
    load_step_fraction: float


class LongHalf(Out):
    """The long half of the same lift."""

    range: Literal["long"]
    start: float
    end: float
    cue: str
    safe: bool
    load_kg: float
    heads: dict[str, model_of(HeadMeasures)]  # type: ignore[valid-type]


class LiftMeasuresWithPartial(LiftMeasures):
    """Measures of the lift as a whole and of its long half."""

    partial: LongHalf


Curves: Any = model_of(LiftProfile)


class Profile(Curves):  # type: ignore[misc]
    """A lift on a body, with its long half beside it."""

    lift_measures: LiftMeasuresWithPartial


class Capsule(Out):
    """Two balls and what lies between, on one segment."""

    segment: str
    radii_mm: Annotated[Millimetres, Field(min_length=2, max_length=2)]


class MuscleLine(Out):
    """A muscle line as it is drawn."""

    name: str
    head: str
    side: str
    radius_mm: float
    fibre_share: float


class Load(Out):
    """Where the resistance acts and which way, at every position."""

    mark: str
    points_mm: list[Millimetres]
    direction: list[Vector]
    size: Curve
    handle: list[Vector]
    from_mm: Millimetres | None


class Support(Out):
    """What holds the body at one landmark."""

    mark: str
    push: Vector | None
    moves: bool
    points_mm: list[Millimetres]


class Figure(Out):
    """A figure at every position; where `mirrored`, the left side repeats the right."""

    mirrored: bool
    capsules: list[Capsule]
    ends_mm: list[Millimetres]
    lines: list[MuscleLine]
    points_mm: list[list[Millimetres]]
    strength_n: dict[str, float]
    loads: list[Load]
    supports: list[Support]
    bar: bool
    resistance: str
    gear: str


class Motion(Out):
    """A lift's curves and its figure."""

    curves: model_of(LiftProfile)  # type: ignore[valid-type]
    figure: Figure


class PostureAnswer(Out):
    """A posture: every head, and the figure."""

    posture: dict[str, float]
    heads: dict[str, model_of(HeadInPosture)]  # type: ignore[valid-type]
    figure: Figure


class Progress(Out):
    """A question that is being computed: ask again, within 20 s; one that nobody asks for longer is dropped while it waits for its turn."""

    done: int
    total: int
