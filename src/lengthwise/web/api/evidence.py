"""Questions about the evidence."""

from typing import Annotated

from fastapi import Path, Query, Request
from fastapi.responses import JSONResponse, Response

from lengthwise.actions import evidence as actions
from lengthwise.actions.known_studies import kept_by
from lengthwise.evidence.pooling import Convention
from lengthwise.questions.answers import encode, model_of
from lengthwise.web.answers import answered
from lengthwise.web.api.evidence_models import (
    Checked,
    ClaimQuestion,
    NewStudy,
    Stored,
    Studies,
    StudyRows,
)
from lengthwise.web.faults import each_as_described
from lengthwise.web.routes import Role, Routes, open_to
from lengthwise.web.turns import in_turn

router = Routes(tags=["evidence"])
Claim = model_of(actions.PooledClaim)


@router.get("/claims/{claim}", response_model=Claim)
@open_to(Role.SIGNED_IN)
@in_turn
def claim(
    request: Request,
    claim: Annotated[str, Path(max_length=80, description="id of a claim", examples=["long_length"])],
    asked: Annotated[ClaimQuestion, Query()],
) -> Response:
    """One claim pooled: the headline's numbers, or those of its studies pooled anew; every finding, what others have pooled."""
    anew = Convention(asked.method or "reml", asked.test or "z") if asked.method or asked.test else None
    return answered(request, (claim, asked, kept_by()), Claim, lambda: encode(actions.pool_claim(claim, anew, asked.memory)))


@router.get("/studies", response_model=Studies)
@open_to(Role.COACH)
@in_turn
def studies(
    everything: Annotated[bool, Query(description="the starter set too, and not one's own alone")] = False,
) -> Response:
    """The studies of one's own, or all that count."""
    return JSONResponse(Studies(studies=list(actions.chosen_studies(everything))).model_dump(mode="json"))


@router.post("/studies", response_model=Stored, status_code=201)
@open_to(Role.COACH)
@in_turn
def add(new: NewStudy) -> Response:
    """Store studies of one's own; one with a known id replaces it. All faults are told at once, and then nothing is stored."""
    with each_as_described():
        check = actions.add_study(new.rows)
    stored = Stored(studies=[s.id for s in check.sound], remarks=list(check.remarks))
    return JSONResponse(stored.model_dump(), 201)


@router.post("/studies/check", response_model=Checked)
@open_to(Role.COACH)
@in_turn
def check(new: StudyRows) -> Checked:
    """Every fault and every implausible value of such rows; nothing is stored."""
    found = actions.check_rows(new.rows)
    return Checked(studies=[s.id for s in found.sound], faults=list(found.faults), remarks=list(found.remarks))


@router.delete("/studies/{study}", response_model=Stored)
@open_to(Role.COACH)
def remove(study: Annotated[str, Path(max_length=40, description="id of a study of one's own")]) -> Stored:
    """Take a study of one's own out; answers what is left."""
    actions.remove_study(study)
    return Stored(studies=[s.id for s in actions.own_studies()], remarks=[])
