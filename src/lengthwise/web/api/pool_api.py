"""A table of effects pooled."""

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from lengthwise.actions import effect_tables as tables
from lengthwise.errors import DataFileError
from lengthwise.evidence.effect_table import LARGEST, SMALLEST_VARIANCE, EffectTable, table_of
from lengthwise.evidence.pooling import NAMES, TESTS, Convention
from lengthwise.questions.answers import encode, model_of
from lengthwise.web.fault_answers import each_as_described
from lengthwise.web.routes import Role, Routes

router = Routes(tags=["evidence"])
MOST_ROWS, MOST_COLUMNS = 200, 20
Name = Annotated[str, Field(min_length=1, max_length=120, pattern=r"\S")]
Bounded = Annotated[float, Field(ge=-LARGEST, le=LARGEST)]


class EffectRow(BaseModel):
    """One effect: its size, sampling variance and study; which rows belong together; further numbers by name."""

    model_config = ConfigDict(extra="forbid", strict=True)

    yi: Annotated[Bounded, Field(description="the effect, in any unit")]
    vi: Annotated[float, Field(ge=SMALLEST_VARIANCE, le=LARGEST, description="its sampling variance, not a standard error")]
    study: Annotated[Name, Field(description="name of the row")]
    cluster: Annotated[str, Field(max_length=120, description="rows that belong together; empty where none do")] = ""
    group: Annotated[str, Field(max_length=120, description="clusters that belong together; empty where none do")] = ""
    moderators: Annotated[
        dict[Name, Bounded],
        Field(
            max_length=MOST_COLUMNS,
            description="numbers that may explain differences",
            json_schema_extra={"propertyNames": {"minLength": 1, "maxLength": 120, "pattern": r"\S"}},
        ),
    ] = {}


class TableQuestion(BaseModel):
    """A table of effects and how it is to be pooled."""

    model_config = ConfigDict(extra="forbid", strict=True)

    rows: Annotated[list[EffectRow], Field(min_length=1, max_length=MOST_ROWS)]
    method: Annotated[Literal[tuple(NAMES)], Field(description="estimator of τ², the spread between studies")] = "reml"  # type: ignore[valid-type]
    test: Annotated[Literal[TESTS], Field(description="normal, Student's t, or Hartung–Knapp")] = "z"  # type: ignore[valid-type]
    moderators: Annotated[list[Name], Field(max_length=10, description="which of the rows' numbers to regress on")] = []
    prior_scale: Annotated[
        float | None, Field(ge=1e-6, le=1e6, description="of a half-normal prior of τ, for a Bayesian pool too")
    ] = None
    correlation: Annotated[float, Field(ge=0, le=0.99, description="of the sampling errors within a cluster")] = 0.0

    def table(self) -> EffectTable:
        """The rows as a table.

        Raises:
            DataFileError: a number that only some rows have.
        """
        names = dict.fromkeys(name for row in self.rows for name in row.moderators)
        faults = [
            f"row {i}, moderators: {name!r} is missing, but other rows have it"
            for i, row in enumerate(self.rows, 1)
            for name in names
            if name not in row.moderators
        ]
        if faults:
            raise DataFileError(faults, asked="rows")
        columns = {name: [row.moderators[name] for row in self.rows] for name in names}
        cells = [(row.study, row.yi, row.vi, row.cluster, row.group) for row in self.rows]
        return table_of(cells, columns)


TableAnswer = model_of(tables.Pooled)


@router.post("/pool", Role.COACH, in_turn=True, response_model=TableAnswer)
def pool(asked: TableQuestion) -> BaseModel:
    """What a table of effects adds up to: mean, spread, a new study, what explains differences, what makes it shaky. Nothing is kept."""
    how, moderators = Convention(asked.method, asked.test), tuple(dict.fromkeys(asked.moderators))
    wishes = tables.PoolWishes(how, moderators, asked.prior_scale, asked.correlation)
    with each_as_described():
        found = tables.pool_effects(asked.table(), wishes)
    return TableAnswer.model_validate(encode(found))
