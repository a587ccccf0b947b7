"""A posture as the pages draw it."""

from typing import Annotated

from fastapi import Query, Request
from fastapi.responses import Response
from pydantic import Field

from lengthwise.body.model import body_of
from lengthwise.known.moving import PostureAnswer, posture_figure
from lengthwise.known.solids import posture_solids
from lengthwise.questions.answers import encode, model_of
from lengthwise.questions.fields import POSTURE, PostureWords
from lengthwise.web.kept_answers import BINARY, answered, sent
from lengthwise.web.routes import Role, Routes
from lengthwise.web.who import Who, person_of

router = Routes(tags=["body"])


class PostureQuestion(Who):
    """A posture of a body; the neutral one where none is given."""

    angles: Annotated[PostureWords, Field(pattern=POSTURE)] = ""


@router.get("/posture", Role.SIGNED_IN, in_turn=True, response_model=model_of(PostureAnswer))
def posture(request: Request, asked: Annotated[PostureQuestion, Query()]) -> Response:
    """How long every head is in a posture, its moment arms, and the figure."""
    person = person_of(request, asked)
    return answered(request, asked, model_of(PostureAnswer), lambda: encode(posture_figure(body_of(person), asked.angles)))


@router.get("/posture/solids", Role.SIGNED_IN, in_turn=True, response_class=Response, responses={200: {"content": {BINARY: {}}}})
def solids(request: Request, asked: Annotated[PostureQuestion, Query()]) -> Response:
    """Muscles and places of the bones in a posture, as triangles; laid out as lengthwise.figure.packing says."""
    person = person_of(request, asked)
    return sent(request, ("posture solids", person, asked.angles), lambda: posture_solids(body_of(person), asked.angles))
