"""A table of effects pooled."""

from copy import copy
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field, create_model

from lengthwise.errors import DataFileError
from lengthwise.evidence.effect_table import LARGEST, SMALLEST_VARIANCE, EffectTable, table_of
from lengthwise.questions.answering import effect_tables as tables
from lengthwise.questions.answers import encode, model_of
from lengthwise.questions.ask import silent
from lengthwise.questions.pool import QUESTION, Column
from lengthwise.web.api.question_addresses import sent_as
from lengthwise.web.fault_answers import each_as_described
from lengthwise.web.routes import Role, Routes

router = Routes(tags=["evidence"])
MOST_ROWS, MOST_COLUMNS = 200, 20
Bounded = Annotated[float, Field(ge=-LARGEST, le=LARGEST)]


USUAL = {"method": "reml", "test": "z"}
STRICT = ConfigDict(extra="forbid", strict=True)


class EffectRow(BaseModel):
    """One effect: its size, sampling variance and study; which rows belong together; further numbers by name."""

    model_config = STRICT

    yi: Annotated[Bounded, Field(description="the effect, in any unit")]
    vi: Annotated[float, Field(ge=SMALLEST_VARIANCE, le=LARGEST, description="its sampling variance, not a standard error")]
    study: Annotated[Column, Field(description="name of the row")]
    cluster: Annotated[str, Field(max_length=120, description="rows that belong together; empty where none do")] = ""
    group: Annotated[str, Field(max_length=120, description="clusters that belong together; empty where none do")] = ""
    moderators: Annotated[
        dict[Column, Bounded],
        Field(
            max_length=MOST_COLUMNS,
            description="numbers that may explain differences",
            json_schema_extra={"propertyNames": {"minLength": 1, "maxLength": 120, "pattern": r"\S"}},
        ),
    ] = {}


def _sent() -> dict[str, Any]:
    """How a table may be pooled, as of the question: what is asked beside a file, and method and test, of which the usual ones are named."""
    fields = {name: (copy(field), said) for name, field, said in QUESTION.fields() if said.with_file or name in USUAL}
    for name, usual in USUAL.items():
        fields[name][0].default = usual
    return {name: sent_as(field, said) for name, (field, said) in fields.items()}


Rows = Annotated[list[EffectRow], Field(min_length=1, max_length=MOST_ROWS)]
TableQuestion: Any = create_model(
    "TableQuestion", __config__=STRICT, __doc__="A table of effects and how it is to be pooled.", rows=(Rows, ...), **_sent()
)


def _table(rows: list[EffectRow]) -> EffectTable:
    """The rows as a table.

    Raises:
        DataFileError: a number that only some rows have.
    """
    names = dict.fromkeys(name for row in rows for name in row.moderators)
    faults = [
        f"row {i}, moderators: {name!r} is missing, but other rows have it"
        for i, row in enumerate(rows, 1)
        for name in names
        if name not in row.moderators
    ]
    if faults:
        raise DataFileError(faults, asked="rows")
    columns = {name: [row.moderators[name] for row in rows] for name in names}
    return table_of([(row.study, row.yi, row.vi, row.cluster, row.group) for row in rows], columns)


TableAnswer = model_of(tables.Pooled)


@router.post("/pool", Role.COACH, in_turn=True, response_model=TableAnswer)
def pool(asked: TableQuestion) -> BaseModel:
    """What a table of effects adds up to: mean, spread, a new study, what explains differences, what makes it shaky. Nothing is kept."""
    with each_as_described():
        found = QUESTION.run(QUESTION.asked(table=_table(asked.rows), **asked.model_dump(exclude={"rows"})), silent)
    return TableAnswer.model_validate(encode(found))
