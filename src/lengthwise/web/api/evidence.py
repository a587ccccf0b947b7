"""Questions about the evidence."""

from typing import Annotated

from fastapi import APIRouter, Path, Request
from fastapi.responses import JSONResponse, Response

from lengthwise.actions import evidence as actions
from lengthwise.actions.evidence_answers import assessment_object, claim_object
from lengthwise.web.answers import answered
from lengthwise.web.api.evidence_models import Claim, Claims, NewStudy, Stored

router = APIRouter(tags=["evidence"])


def kept_by() -> str:
    """What changes when studies of one's own do."""
    return "\n".join(study.model_dump_json() for study in actions.own_studies())


@router.get("/claims", response_model=Claims)
def claims(request: Request) -> Response:
    """Every claim behind the numbers: verdict, headline number, which way the studies lean."""
    return answered(request, kept_by(), Claims, lambda: {"claims": [claim_object(a) for a in actions.weigh_all()]})


@router.get("/claims/{claim}", response_model=Claim)
def claim(
    request: Request, claim: Annotated[str, Path(max_length=80, description="id of a claim", examples=["long_length"])]
) -> Response:
    """One claim pooled: the headline's numbers, every finding, what others have pooled."""
    found = actions.weigh(claim)
    return answered(request, (claim, kept_by()), Claim, lambda: assessment_object(found))


@router.post("/studies", response_model=Stored, status_code=201)
def add(new: NewStudy) -> Response:
    """Store a study of one's own; one with a known id replaces it. All faults are told at once, and then nothing is stored."""
    check = actions.add_study(new.rows)
    stored = Stored(studies=[s.id for s in check.sound], remarks=list(check.remarks))
    return JSONResponse(stored.model_dump(), 201)
