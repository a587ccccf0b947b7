"""What goes in under /api where a client's loads and blocks are asked."""

from datetime import date
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

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
