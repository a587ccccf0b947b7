"""What goes in and out under /api about studies and claims."""

from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field

from lengthwise.evidence.exchange import COLUMNS
from lengthwise.web.api.models import Out

Column = Annotated[str, Field(json_schema_extra={"enum": list(COLUMNS)})]


class Claims(Out):
    """Every claim, weighed; keys as in `lengthwise claims --json`."""

    claims: list[dict[str, Any]]


class Claim(BaseModel):
    """One claim pooled; keys as in `lengthwise pool CLAIM --json`."""

    model_config = ConfigDict(extra="allow")

    id: str
    statement: str
    k: int
    estimate: float | None
    ci: list[float | None] | None
    convention: str


class NewStudy(BaseModel):
    """A study of one's own as rows of the CSV layout, column to text."""

    model_config = ConfigDict(extra="forbid")

    rows: Annotated[list[dict[Column, Annotated[str, Field(max_length=600)]]], Field(min_length=1, max_length=60)]


class Stored(Out):
    """What was stored, and what is hard to believe in it."""

    studies: list[str]
    remarks: list[str]
