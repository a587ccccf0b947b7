"""What goes in and out under /api about studies."""

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, field_validator

from lengthwise.evidence.exchange import COLUMNS, REQUIRED
from lengthwise.evidence.study import Study
from lengthwise.web.api.models import Out

Cell = Annotated[str, Field(max_length=600)]
Column = Annotated[str, Field(json_schema_extra={"enum": list(COLUMNS)})]


class StudyRows(BaseModel):
    """Rows of the CSV layout of studies, column to text, whatever they hold."""

    model_config = ConfigDict(extra="forbid")

    rows: Annotated[list[dict[Column, Cell]], Field(min_length=1, max_length=60)]

    @field_validator("rows")
    @classmethod
    def _known(cls, rows: list[dict[str, str]]) -> list[dict[str, str]]:
        strange = sorted({column for row in rows for column in row} - set(COLUMNS))
        if strange:
            raise ValueError(f"no column is called {', '.join(strange)}; allowed: {', '.join(COLUMNS)}")
        return rows


SEEN = r"[^\s\x1c-\x1f\x85]"
"""A character that is not blank: JSON Schema's \\s leaves out four separators and a line end that are blank here."""
FILLED = {"properties": {c: {"type": "string", "pattern": SEEN, "maxLength": 600} for c in REQUIRED}, "required": list(REQUIRED)}


class NewStudy(StudyRows):
    """Studies of one's own as rows of the CSV layout, column to text; some cells are filled in every row."""

    rows: Annotated[list[Annotated[dict[Column, Cell], Field(json_schema_extra=FILLED)]], Field(min_length=1, max_length=60)]

    @field_validator("rows")
    @classmethod
    def _filled(cls, rows: list[dict[str, str]]) -> list[dict[str, str]]:
        empty = [f"row {i}, {c}: is empty" for i, row in enumerate(rows, 1) for c in REQUIRED if not row.get(c, "").strip()]
        if empty:
            raise ValueError(f"{'; '.join(empty)}; allowed: {', '.join(REQUIRED)} filled in every row")
        return rows


class Stored(Out):
    """What was stored, and what is hard to believe in it."""

    studies: list[str]
    remarks: list[str]


class Studies(Out):
    """Studies in the JSON layout, which can be imported again."""

    studies: list[Study]
