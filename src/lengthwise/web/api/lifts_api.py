"""Questions about lifts."""

from typing import Annotated

from fastapi import Path, Query, Request
from fastapi.responses import Response

from lengthwise.known import lifts as actions
from lengthwise.known import solids as solids_actions
from lengthwise.known.moving import MotionDrawn, motion_of
from lengthwise.known.solids import first_solids_of, solids_are_kept, solids_kept, thumbnail_kept
from lengthwise.questions.answers import encode, model_of
from lengthwise.questions.profile import QUESTION, ProfileAsk
from lengthwise.web.api.question_addresses import asked_of, query_of
from lengthwise.web.kept_answers import BINARY, answered, pictured, profiled, sent
from lengthwise.web.routes import Role, Routes
from lengthwise.web.who import person_of

router = Routes(tags=["lifts"])
Lifts = model_of(actions.Lifts)
LiftSent = Annotated[query_of("profile"), Query()]  # type: ignore[valid-type]
LiftName = Annotated[str, Path(max_length=80, description="id, name or alias of a lift", examples=["standing_calf_raise"])]


@router.get("/lifts", Role.SIGNED_IN, in_turn=True, response_model=Lifts)
def lifts(request: Request) -> Response:
    """Every lift with what it is for and how it can be set up."""
    return answered(request, "lifts", Lifts, lambda: encode(actions.list_lifts()))


@router.get("/lifts/{lift}/motion", Role.SIGNED_IN, in_turn=True, response_model=model_of(MotionDrawn))
def motion(request: Request, lift: LiftName, asked: LiftSent) -> Response:  # type: ignore[valid-type]
    """A lift's curves with its figure at every position, to be played in the browser."""
    question = asked_of("profile", asked, person_of(request, asked), lift)
    return answered(request, QUESTION.key(question), model_of(MotionDrawn), lambda: encode(motion_of(profiled(question))))


@router.get(
    "/lifts/{lift}/solids", Role.SIGNED_IN, in_turn=True, response_class=Response, responses={200: {"content": {BINARY: {}}}}
)
def solids(request: Request, lift: LiftName, asked: LiftSent) -> Response:  # type: ignore[valid-type]
    """Muscles, places of the bones, and gear at the key positions of a lift, as triangles; laid out as lengthwise.figure.packing says."""
    return _whole(request, asked_of("profile", asked, person_of(request, asked), lift))


@router.get(
    "/lifts/{lift}/solids/first", Role.SIGNED_IN, in_turn=True, response_class=Response, responses={200: {"content": {BINARY: {}}}}
)
def first_solids(request: Request, lift: LiftName, asked: LiftSent) -> Response:  # type: ignore[valid-type]
    """The same at the first position alone, which is worked out sooner; at all of them where those are kept from before."""
    question = asked_of("profile", asked, person_of(request, asked), lift)
    if solids_are_kept(question.person, question.lift, _looks(question)):
        return _whole(request, question)
    return sent(request, ("first solids", QUESTION.key(question)), lambda: first_solids_of(profiled(question)))


def _whole(request: Request, question: ProfileAsk) -> Response:
    return sent(
        request,
        ("solids", QUESTION.key(question)),
        lambda: solids_kept(question.person, question.lift, _looks(question), lambda: profiled(question)),
    )


def _looks(question: ProfileAsk) -> dict[str, object]:
    """What decides how a lift looks on one body."""
    return {"range": question.range, "setup": tuple(sorted(question.setup.items())), "positions": question.positions}


@router.get(
    "/lifts/{lift}/thumbnail.webp",
    Role.SIGNED_IN,
    in_turn=True,
    response_class=Response,
    responses={200: {"content": {"image/webp": {}}}},
)
def stamp(request: Request, lift: LiftName) -> Response:
    """A lift as small as a stamp: its start and its end, its targets red, as the usual body does it."""
    lift_id = actions.all_lifts().find(lift)
    return pictured(request, ("thumbnail", lift_id), lambda: thumbnail_kept(lift_id))


@router.get("/bones", Role.SIGNED_IN, in_turn=True, response_class=Response, responses={200: {"content": {BINARY: {}}}})
def bones(request: Request) -> Response:
    """Bones, head, hands and feet as triangles, which the places of a lift's solids put where they belong."""
    return sent(request, "bones", solids_actions.bones)
