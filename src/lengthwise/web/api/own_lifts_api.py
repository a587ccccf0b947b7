"""Questions about lifts of one's own, and about what an anatomist would question."""

from typing import Annotated, Any

from fastapi import Query, Request
from fastapi.responses import Response
from pydantic import Field

from lengthwise.known.lift_audits import Audited, audit_one
from lengthwise.known.lifts import all_lifts
from lengthwise.questions.answers import encode, model_of
from lengthwise.records import own_lifts as actions
from lengthwise.web.api.waiting import sent
from lengthwise.web.background import step
from lengthwise.web.kept_answers import answered
from lengthwise.web.routes import Role, Routes
from lengthwise.web.who import Who, person_of

router = Routes(tags=["lifts"])
POSITIONS = 21


class AuditQuestion(Who):
    """Lifts looked over on one body."""

    lift: Annotated[list[str], Field(min_length=1, max_length=12, description="ids or names of lifts", examples=[["back_squat"]])]


AuditOut, OwnFilesOut = model_of(Audited), model_of(actions.OwnFiles)


@router.get("/own-lifts", Role.SIGNED_IN, response_model=OwnFilesOut)
def own_lifts() -> Response:
    """The files of own lifts, those that are left out of the library included."""
    return sent(OwnFilesOut, actions.OwnFiles(tuple(actions.list_own())))


@router.get("/lift-audit", Role.SIGNED_IN, in_turn=True, response_model=AuditOut)
def lift_audit(request: Request, asked: Annotated[AuditQuestion, Query()]) -> Response:
    """Lifts profiled on a body, six repetitions to the limit, and what an anatomist would question about each."""
    lifts = all_lifts()
    ids = tuple(dict.fromkeys(lifts.find(name) for name in asked.lift))
    person = person_of(request, asked)

    def make() -> Any:
        rows = []
        for i in ids:
            step()
            rows.append(audit_one(person, i, lifts.lifts[i], POSITIONS))
        return encode(Audited(tuple(rows)))

    return answered(request, ("audit", person, ids), AuditOut, make)
