"""Questions about the body alone."""

from typing import Annotated

from fastapi import Query, Request
from fastapi.responses import Response
from pydantic import Field

from lengthwise.actions import body as actions
from lengthwise.actions import heads as head_actions
from lengthwise.actions.moving import posture_figure
from lengthwise.body.model import body_of
from lengthwise.web.answers import answered
from lengthwise.web.api.models import Heads, PostureAnswer, StrengthAnswer
from lengthwise.web.routes import Role, Routes, open_to
from lengthwise.web.who import Who, person_of

router = Routes(tags=["body"])
WORDS = r"^([a-z][a-z_]{2,40}=-?[0-9]{1,3}(\.[0-9]{1,4})?( |$))*$"


class PostureQuestion(Who):
    """A posture of a body."""

    angles: Annotated[
        str,
        Field(
            max_length=600,
            pattern=WORDS,
            examples=["shoulder_flexion=160 elbow_flexion=90"],
            description="clinical angles [deg], such as shoulder_flexion=160 elbow_flexion=90",
        ),
    ] = ""


@router.get("/heads", response_model=Heads)
@open_to(Role.SIGNED_IN)
def heads(request: Request) -> Response:
    """Every head, its lines and the muscles that it counts to."""
    return answered(request, "heads", Heads, head_actions.heads)


@router.get("/posture", response_model=PostureAnswer)
@open_to(Role.SIGNED_IN)
def posture(request: Request, asked: Annotated[PostureQuestion, Query()]) -> Response:
    """How long every head is in a posture, its moment arms, and the figure."""
    person = person_of(request, asked)
    return answered(request, asked, PostureAnswer, lambda: posture_figure(body_of(person), asked.angles))


class StrengthQuestion(Who):
    """A joint moment of a body in a posture."""

    angle: Annotated[
        str,
        Field(
            max_length=40, examples=["elbow_flexion"], description="the clinical angle that the moment turns, such as elbow_flexion"
        ),
    ]
    at: Annotated[
        str,
        Field(max_length=600, pattern=WORDS, examples=["hip_flexion=80 knee_flexion=60"], description="clinical angles [deg]"),
    ] = ""
    lower: Annotated[bool, Field(description="the moment that lowers the angle instead")] = False


@router.get("/strength", response_model=StrengthAnswer)
@open_to(Role.SIGNED_IN)
def strength(request: Request, asked: Annotated[StrengthQuestion, Query()]) -> Response:
    """The largest isometric joint moment that raises (or lowers) an angle in a posture, and each head's share of it."""
    person = person_of(request, asked)
    return answered(request, asked, StrengthAnswer, lambda: actions.strength(body_of(person), asked.angle, asked.at, asked.lower))
