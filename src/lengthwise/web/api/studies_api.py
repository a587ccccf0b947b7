"""Studies of one's own; what they add up to are the questions `claims` and `pool`."""

from typing import Annotated

from fastapi import Path, Query, Request
from fastapi.responses import JSONResponse, Response
from pydantic import BaseModel, ConfigDict, Field, field_validator

from lengthwise.evidence.exchange import COLUMNS, REQUIRED
from lengthwise.evidence.study import Study
from lengthwise.known import evidence as actions
from lengthwise.known.known_studies import own_studies
from lengthwise.questions.answers import model_of
from lengthwise.web.api.waiting import Out, sent
from lengthwise.web.fault_answers import each_as_described
from lengthwise.web.kept_clients import noted
from lengthwise.web.routes import Role, Routes

router = Routes(tags=["evidence"])
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


@router.get("/studies", Role.COACH, in_turn=True, response_model=Studies)
def studies(
    everything: Annotated[bool, Query(description="the starter set too, and not one's own alone")] = False,
) -> Response:
    """The studies of one's own, or all that count."""
    return JSONResponse(Studies(studies=list(actions.chosen_studies(everything))).model_dump(mode="json"))


@router.post("/studies", Role.COACH, in_turn=True, response_model=Stored, status_code=201)
def add(request: Request, new: NewStudy) -> Response:
    """Store studies of one's own; one with a known id replaces it. All faults are told at once, and then nothing is stored."""
    with each_as_described():
        check = actions.store_studies(actions.check_rows(new.rows), "study")
    stored = Stored(studies=list(check.ids), remarks=list(check.remarks))
    noted(request, "own studies saved", detail=",".join(stored.studies))
    return JSONResponse(stored.model_dump(), 201)


@router.post("/studies/check", Role.COACH, in_turn=True, response_model=model_of(actions.StudyCheck))
def check(new: StudyRows) -> Response:
    """Every fault and every implausible value of such rows; nothing is stored."""
    return sent(model_of(actions.StudyCheck), actions.check_rows(new.rows))


@router.delete("/studies/{study}", Role.COACH, response_model=Stored)
def remove(request: Request, study: Annotated[str, Path(max_length=40, description="id of a study of one's own")]) -> Stored:
    """Take a study of one's own out; answers what is left."""
    gone = actions.remove_study(study).id
    noted(request, "own study removed", detail=gone)
    return Stored(studies=[s.id for s in own_studies()], remarks=[])
