"""What goes in and out under /api where a client's loads and blocks are asked."""

from datetime import date
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from lengthwise.web.api.models import Out

Pair = Annotated[list[float], Field(min_length=2, max_length=2)]
Repetitions = Annotated[list[int], Field(min_length=2, max_length=2)]
LiftWord = Annotated[str, Field(max_length=100, description="LIFT, LIFT:SETS or LIFT:SETS:RANGE", examples=["push_up:3"])]


class LoadQuestion(BaseModel):
    """How a client is to do one lift; what is not said follows from the record and the lift."""

    model_config = ConfigDict(extra="forbid")

    place: Annotated[
        str, Field(max_length=40, description="one of the client's places; the first that has the gear where none is named")
    ] = ""
    repetitions: Annotated[str, Field(pattern=r"^(([1-9]|[1-3]\d)(-([1-9]|[1-3]\d))?)?$", description="such as 8-12 or 10")] = ""
    reserve: Annotated[float | None, Field(ge=0, le=10, description="repetitions left at the end of a set")] = None
    range: Annotated[Literal["full", "long", "short", "mixed"], Field(description="mixed: full, then the long half")] = "full"


class BlockQuestion(BaseModel):
    """A block of weeks for a client: of lifts that are named, else of the week that is kept, planned now where none is."""

    model_config = ConfigDict(extra="forbid")

    monday: Annotated[date | None, Field(description="a day of the kept week that is meant; today where none is named")] = None
    lift: Annotated[list[LiftWord], Field(default_factory=list, max_length=20)]
    weeks: Annotated[int, Field(ge=4, le=8, description="the last one is lighter")] = 6
    gain: Annotated[float, Field(ge=0, le=5, description="assumed weekly gain of strength [%]; 0 shows what today's allows")] = 0


class TempoOut(Out):
    """Seconds of lowering, of the pause at the bottom, and of lifting."""

    lower_s: float
    pause_s: float
    lift_s: float


class WarmUpOut(Out):
    """A set before the hard ones."""

    load_kg: float
    repetitions: int


class NextLoad(Out):
    """The step to the next load that exists, and the repetitions that bridge it."""

    load_kg: float
    next_kg: float
    step_percent: float
    repetitions: int
    reachable: bool


class PrescriptionOut(Out):
    """One lift as a client is to do it."""

    lift: str
    range: str
    load_kg: float | None
    guess: bool
    source: str
    likely_kg: Pair | None
    one_rm_kg: float | None
    moved_body_kg: float
    repetitions: Repetitions
    expected_repetitions: int | None
    reserve: float
    rest_s: float
    tempo: TempoOut
    warm_up: list[WarmUpOut]
    next_load: NextLoad | None
    cue: str
    notes: list[str]
    first_session: list[str]
    cautions: list[str]
    claims: dict[str, str]


class WeekOfLiftOut(Out):
    """A lift in one week of a block."""

    week: int
    sets: int
    load_kg: float | None
    repetitions: Repetitions
    reserve: float
    change: str


class LiftPlanOut(Out):
    """A lift across a block."""

    lift: str
    name: str
    way: str
    sessions: int
    guess: bool
    weeks: list[WeekOfLiftOut]
    prescription: PrescriptionOut


class RuleOut(Out):
    """A rule of progression that the block follows, and what it rests on."""

    id: str
    name: str
    words: str
    claim: str
    why: str


class BlockOut(Out):
    """A block of weeks laid out."""

    person: str
    weeks: int
    reserve: list[float]
    lighter_week: int
    assumed_weekly_gain: float
    lifts: list[LiftPlanOut]
    rules: list[RuleOut]
