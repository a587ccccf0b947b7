"""What goes in and out under /api about kept clients."""

from datetime import date, datetime
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from lengthwise.mechanics.profile import RangeName
from lengthwise.training.client import JointName
from lengthwise.training.log import LoggedSet, MeasureKind, Measurement, Session
from lengthwise.web.api.models import Out

Key = Annotated[str, Field(pattern=r"^[0-9A-Za-z-]{8,64}$", description="chosen by the sender; the same key is kept once")]
LiftWord = Annotated[str, Field(min_length=1, max_length=80)]


class In(BaseModel):
    """A question: nothing in it that is not described."""

    model_config = ConfigDict(extra="forbid", allow_inf_nan=False)


class SetIn(In):
    """One set as it was done; loads in kilograms, in the lift's own terms."""

    lift: LiftWord
    load_kg: Annotated[float, Field(ge=-200, le=1000)]
    repetitions: Annotated[int, Field(ge=1, le=100)]
    reserve: Annotated[float | None, Field(ge=0, le=10)] = None
    range: RangeName = "full"
    pain: Annotated[list[JointName], Field(max_length=8)] = []
    note: Annotated[str, Field(max_length=300)] = ""
    warm_up: bool = False


class SetsIn(In):
    """Sets of one day."""

    key: Key
    day: date
    sets: Annotated[list[SetIn], Field(min_length=1, max_length=30)]

    @property
    def session(self) -> Session:
        """As the log keeps them."""
        sets = (
            LoggedSet(s.lift, s.load_kg, s.repetitions, s.reserve, s.range, tuple(s.pain), s.note, s.warm_up) for s in self.sets
        )
        return Session(self.day, tuple(sets))


class LineIn(In):
    """Sets of one lift as a line such as `3x8 @ 60 r2`."""

    key: Key
    day: date
    lift: LiftWord
    line: Annotated[str, Field(min_length=1, max_length=300)]


class MeasurementIn(In):
    """A measurement; readings in the kind's unit (kg, cm or mm); of a photo none, but where it lies."""

    key: Key
    day: date
    kind: MeasureKind
    site: Annotated[str, Field(max_length=40)] = ""
    side: Literal["right", "left", ""] = ""
    values: Annotated[list[float], Field(max_length=10)] = []
    reference: Annotated[str, Field(max_length=300)] = ""
    note: Annotated[str, Field(max_length=300)] = ""

    @property
    def measured(self) -> Measurement:
        """As the log keeps it."""
        return Measurement(self.day, self.kind, self.site, self.side, tuple(self.values), self.reference, self.note)


class KeptOut(Out):
    """Something was kept: the entry that takes it back, and whether it had been kept before."""

    entry: int
    known: bool


class SetOut(Out):
    """One set of the log."""

    lift: str
    name: str
    load_kg: float
    repetitions: int
    reserve: float | None
    range: RangeName
    pain: list[str]
    note: str
    warm_up: bool


class SessionOut(Out):
    """One visit; readiness 1 (poor) to 5 (very good), where it was asked."""

    number: int | None
    day: date
    minutes: float | None
    readiness: int | None
    note: str
    sets: list[SetOut]


class EntryOut(Out):
    """Something entered, that can be taken back."""

    number: int
    what: str
    kind: str


class EntryLine(EntryOut):
    """Something entered: by whom and when, and since when it is taken back."""

    by: str
    at: datetime
    undone_at: datetime | None


class EntriesOut(Out):
    """The last things entered, newest first, those taken back included."""

    entries: list[EntryLine]


class MeasurementOut(Out):
    """A measurement; readings in its unit, of a photo none."""

    number: int | None
    day: date
    kind: MeasureKind
    site: str
    side: Literal["right", "left", ""]
    values: list[float]
    unit: str
    reference: str
    note: str


class MeasurementsOut(Out):
    """A client's measurements by day."""

    measurements: list[MeasurementOut]


class LogOut(Out):
    """A client's log between two days, and the last entries that still stand."""

    sessions: list[SessionOut]
    entries: list[EntryOut]


class PersonOut(Out):
    """A kept client in short."""

    number: int
    name: str
    days: list[str]
    screening: Literal["not answered", "go", "start easy", "see a clinician first"]
    gaps: list[str]


class PeopleOut(Out):
    """The clients that whoever asks may see."""

    people: list[PersonOut]


class RecordOut(Out):
    """A client's record as its file would hold it."""

    number: int
    record: dict[str, Any]


class QuestionsOut(Out):
    """The questions before training starts, by key, and what each word that may answer three of them means."""

    question: dict[str, str]
    known_disease: dict[str, str]
    symptoms: dict[str, str]
    conditions: dict[str, str]


class DayOut(Out):
    """A training day; `holds` says of what part of the body, where the template of the week does not."""

    day: str
    place: str
    minutes: float
    holds: str | None


class GearOut(Out):
    """The loads of one kind of gear at a place; none of them where any load exists."""

    loads: int
    assumed: bool
    lightest_kg: float | None
    heaviest_kg: float | None
    smallest_step_kg: float | None


class ScreeningOut(Out):
    """What the answers to the screening lead to."""

    answer: Literal["go", "start easy", "see a clinician first"]
    vigorous: bool
    reasons: list[str]
    care: list[str]


class FitOut(Out):
    """A known lift against the model, as 1RM [kg]; residual: what is left over, as a share."""

    lift: str
    known_kg: float
    before_kg: float
    after_kg: float
    residual: float
    limited_by: dict[str, float]


class CalibrationOut(Out):
    """How the body was fitted to known lifts; strength: factor of each muscle group, informed: how much of it the lifts tell."""

    lifts: list[FitOut]
    strength: dict[str, float]
    informed: dict[str, float]
    skipped: list[str]
    notes: list[str]


class BandOut(Out):
    """A soft band of hard sets a week; own: a wish of the client's, else from the claim."""

    low: float
    high: float
    own: bool
    claim: str


class ClientOut(Out):
    """A client: record in short, screening, loads there are, body fitted to known lifts, weekly sets, and what is missing."""

    name: str
    body: dict[str, Any]
    training_years: float
    days: list[DayOut]
    places: dict[str, dict[str, GearOut]]
    sore_joints: dict[str, float | None]
    wishes: dict[str, Any]
    screening: ScreeningOut | None
    calibration: CalibrationOut
    weekly_sets: dict[str, BandOut]
    gaps: list[str]
