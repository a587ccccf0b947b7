"""Predictions on record: comparisons of registered trials whose results are not out."""

import tomllib
from importlib.resources import files
from typing import Annotated, Literal

from pydantic import Field, ValidationError, model_validator

from lengthwise.body import anatomy
from lengthwise.body.anatomy import Strict, describe_faults
from lengthwise.errors import DataFileError
from lengthwise.evidence.study import Contrast, Outcome, Study, StudyArm
from lengthwise.growth.programme import programme


class UpcomingArm(Strict):
    """One arm: its name, what is done as lifts of the library, and its weekly sets where they are known."""

    name: str = Field(min_length=1)
    done: str = ""
    sets_per_week: Annotated[float, Field(gt=0, le=200)] | None = None


class OnRecord(Strict):
    """What was expected on a day, kept as it was said: a less b [percentage points], 90 % interval of what the trial would print."""

    dated: str = Field(pattern=r"^\d{4}-\d{2}-\d{2}$")
    mean: Annotated[float, Field(allow_inf_nan=False)]
    low: Annotated[float, Field(allow_inf_nan=False)]
    high: Annotated[float, Field(allow_inf_nan=False)]
    a_grows_more: Annotated[float, Field(ge=0, le=1)]

    @model_validator(mode="after")
    def _in_order(self) -> "OnRecord":
        if not self.low <= self.mean <= self.high:
            raise ValueError(f"low, mean and high must rise; found {self.low:g}, {self.mean:g}, {self.high:g}")
        return self


class Upcoming(Strict):
    """One comparison of a registered trial; a trial of three arms has several.

    Attributes:
        registry: its number. title: what is compared. obtained, read_on, read_at: how it became known.
        status: as the registry said then. design, weeks, training: people and time. n: people in each arm. heads: measured together.
        measure: what with. a, b: the arms. reason: why it cannot be predicted; empty when it can. note: what a reader must know.
        on_record: what was expected on earlier days; a line is added when the estimate has moved, and none is changed.
    """

    registry: str = Field(pattern=r"^[A-Z][A-Za-z0-9/_-]{5,40}$")
    title: str
    obtained: Literal["read", "memory"]
    read_on: str = ""
    read_at: str = ""
    status: str = ""
    design: Literal["parallel", "within_person"] = "parallel"
    n: Annotated[int, Field(ge=2)] | None = None
    weeks: Annotated[float, Field(gt=0)] | None = None
    training: Literal["", "untrained", "trained"] = ""
    heads: tuple[str, ...] = ()
    measure: str = ""
    a: UpcomingArm
    b: UpcomingArm
    reason: str = ""
    note: str = ""
    on_record: tuple[OnRecord, ...] = ()

    @model_validator(mode="after")
    def _can_be_predicted_or_says_why(self) -> "Upcoming":
        strange = [h for h in self.heads if h not in anatomy.heads()]
        if strange:
            raise ValueError(f"heads: the body has none called {', '.join(strange)}")
        if not self.reason and not (self.heads and programme(self.a.done) and programme(self.b.done)):
            raise ValueError("an entry needs heads and what both arms do, or the reason why it cannot be predicted")
        return self

    def study(self) -> Study:
        """The trial as a record without results, for what is expected of it."""
        arms = tuple(StudyArm(name=x.name, done=x.done, sets_per_week=x.sets_per_week) for x in (self.a, self.b))
        outcomes = tuple(
            Outcome(
                arm=x.name, muscle="muscle", heads=self.heads, measure=self.measure or "size", unit="%", n=self.n, obtained="read"
            )
            for x in arms
        )
        open_yet = Contrast(arm=self.a.name, versus=self.b.name, muscle="muscle", verdict="no_difference", obtained="read")
        return Study(
            id=self.registry, year=2100, source=self.registry, title=self.title, design=self.design, weeks=self.weeks,
            training=self.training, arms=arms, outcomes=outcomes, contrasts=(open_yet,),
        )  # fmt: skip


class UpcomingFile(Strict):
    """A file of registered trials."""

    trial: tuple[Upcoming, ...] = Field(min_length=1)


def read_upcoming(name: str, text: str) -> tuple[Upcoming, ...]:
    """The registered trials of a file.

    Raises:
        DataFileError: every fault of the file.
    """
    try:
        return UpcomingFile.model_validate(tomllib.loads(text)).trial
    except ValidationError as error:
        raise DataFileError(describe_faults(name, error), asked=name) from error
    except ValueError as error:  # tomllib.TOMLDecodeError
        raise DataFileError([f"{name}: not TOML: {error}"], asked=name) from error


def known_upcoming() -> tuple[Upcoming, ...]:
    """The registered trials that come with Lengthwise (data/upcoming.toml)."""
    text = files("lengthwise.growth").joinpath("data", "upcoming.toml").read_text(encoding="utf-8")
    return read_upcoming("upcoming.toml", text)
