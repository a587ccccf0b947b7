"""What goes in and out under /api, besides the body that a question is about."""

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from lengthwise.body.in_posture import HeadInPosture
from lengthwise.mechanics.profile import LiftProfile
from lengthwise.questions.answers import model_of

Curve = list[float]
Vector = Annotated[list[float], Field(min_length=3, max_length=3)]
Millimetres = list[int]
Part = Literal["full", "long", "short"]


class Out(BaseModel):
    """An answer: nothing in it that is not described."""

    model_config = ConfigDict(extra="forbid")


class CapsuleDrawn(Out):
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


class LoadDrawn(Out):
    """Where the resistance acts and which way, at every position."""

    mark: str
    points_mm: list[Millimetres]
    direction: list[Vector]
    size: Curve
    handle: list[Vector]
    from_mm: Millimetres | None


class Arrow(Out):
    """An arrow of the load at every position: it begins at a place, or ends there where the load pushes on the skin."""

    points_mm: list[Millimetres]
    direction: list[Vector]
    size: Curve
    pushes: bool


class SupportDrawn(Out):
    """What holds the body at one landmark."""

    mark: str
    push: Vector | None
    moves: bool
    points_mm: list[Millimetres]


class Figure(Out):
    """A figure at every position; where `mirrored`, the left side repeats the right."""

    mirrored: bool
    capsules: list[CapsuleDrawn]
    ends_mm: list[Millimetres]
    lines: list[MuscleLine]
    points_mm: list[list[Millimetres]]
    strength_n: dict[str, float]
    loads: list[LoadDrawn]
    arrows: list[Arrow]
    supports: list[SupportDrawn]
    bar: bool
    resistance: str
    gear: str


class MotionDrawn(Out):
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
