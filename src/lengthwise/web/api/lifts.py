"""Questions about lifts."""

from typing import Annotated

from fastapi import Path, Query, Request
from fastapi.responses import Response

from lengthwise.actions import lifts as actions
from lengthwise.actions import solids as solids_actions
from lengthwise.actions.moving import motion_of
from lengthwise.actions.solids import solids_kept, thumbnail_kept
from lengthwise.questions.answers import encode
from lengthwise.web.answers import BINARY, answered, pictured, profiled, sent
from lengthwise.web.api.models import LiftQuestion, Lifts, Motion, Profile
from lengthwise.web.routes import Role, Routes, open_to
from lengthwise.web.turns import in_turn
from lengthwise.web.who import person_of

router = Routes(tags=["lifts"])
LiftName = Annotated[str, Path(max_length=80, description="id, name or alias of a lift", examples=["standing_calf_raise"])]


@router.get("/lifts", response_model=Lifts)
@open_to(Role.SIGNED_IN)
@in_turn
def lifts(request: Request) -> Response:
    """Every lift with what it is for and how it can be set up."""
    return answered(request, "lifts", Lifts, actions.list_lifts)


@router.get("/lifts/{lift}/profile", response_model=Profile)
@open_to(Role.SIGNED_IN)
@in_turn
def profile(request: Request, lift: LiftName, asked: Annotated[LiftQuestion, Query()]) -> Response:
    """What a lift asks of every head: capacity, what fails first, lengths, tension, the measures, and its long half."""
    question = asked.asked(person_of(request, asked), actions.all_lifts().find(lift))
    return answered(request, question, Profile, lambda: actions.profile_answer(profiled(question)))


@router.get("/lifts/{lift}/motion", response_model=Motion)
@open_to(Role.SIGNED_IN)
@in_turn
def motion(request: Request, lift: LiftName, asked: Annotated[LiftQuestion, Query()]) -> Response:
    """A lift's curves with its figure at every position, to be played in the browser."""
    question = asked.asked(person_of(request, asked), actions.all_lifts().find(lift))

    def make() -> dict[str, object]:
        found = profiled(question)
        return {"curves": encode(found), "figure": motion_of(found)}

    return answered(request, question, Motion, make)


@router.get("/lifts/{lift}/solids", response_class=Response, responses={200: {"content": {BINARY: {}}}})
@open_to(Role.SIGNED_IN)
@in_turn
def solids(request: Request, lift: LiftName, asked: Annotated[LiftQuestion, Query()]) -> Response:
    """Muscles, places of the bones, and gear at the key positions of a lift, as triangles; laid out as lengthwise.figure.packing says."""
    question = asked.asked(person_of(request, asked), actions.all_lifts().find(lift))
    looks = {"range": question.range, "setup": question.setup, "positions": question.n_pos}
    return sent(
        request, ("solids", question), lambda: solids_kept(question.person, question.lift, looks, lambda: profiled(question))
    )


@router.get("/lifts/{lift}/thumbnail.webp", response_class=Response, responses={200: {"content": {"image/webp": {}}}})
@open_to(Role.SIGNED_IN)
@in_turn
def stamp(request: Request, lift: LiftName) -> Response:
    """A lift as small as a stamp: its start and its end, its targets red, as the usual body does it."""
    lift_id = actions.all_lifts().find(lift)
    return pictured(request, ("thumbnail", lift_id), lambda: thumbnail_kept(lift_id))


@router.get("/bones", response_class=Response, responses={200: {"content": {BINARY: {}}}})
@open_to(Role.SIGNED_IN)
@in_turn
def bones(request: Request) -> Response:
    """Bones, head, hands and feet as triangles, which the places of a lift's solids put where they belong."""
    return sent(request, "bones", solids_actions.bones)
