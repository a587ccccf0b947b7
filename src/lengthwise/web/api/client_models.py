"""What goes in and out under /api about kept clients."""

from datetime import date
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from lengthwise.mechanics.profile import RangeName
from lengthwise.training.log import LoggedSet, Measurement, Session
from lengthwise.training.measure_kinds import MeasureKind
from lengthwise.training.record_words import JointName
from lengthwise.web.api.waiting import Out

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
        sets = (LoggedSet(**{**dict(s), "pain": tuple(s.pain)}) for s in self.sets)
        return Session(day=self.day, sets=tuple(sets))


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
        return Measurement(**{**self.model_dump(exclude={"key"}), "values": tuple(self.values)})


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
