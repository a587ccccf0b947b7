"""Studies of one's own; what they add up to are the questions `claims` and `pool`."""

from typing import Annotated

from fastapi import Path, Query, Request
from fastapi.responses import JSONResponse, Response

from lengthwise.actions import evidence as actions
from lengthwise.actions.known_studies import own_studies
from lengthwise.questions.answers import model_of
from lengthwise.web.api.evidence_models import (
    NewStudy,
    Stored,
    Studies,
    StudyRows,
)
from lengthwise.web.api.waiting import sent
from lengthwise.web.fault_answers import each_as_described
from lengthwise.web.kept_clients import noted
from lengthwise.web.routes import Role, Routes

router = Routes(tags=["evidence"])


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
    noted(request, "own studies kept", detail=",".join(stored.studies))
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
