"""The page that orders the lifts for a muscle; the order itself comes from /api/rank."""

from typing import Annotated
from urllib.parse import parse_qsl, urlencode

from fastapi import Form, Request
from fastapi.responses import HTMLResponse, Response
from pydantic import BaseModel, ConfigDict, Field

from lengthwise.errors import InputError
from lengthwise.grading.joint_load import references
from lengthwise.grading.target import target_named
from lengthwise.lifts.catalogue import gear
from lengthwise.questions.answering import grading as actions
from lengthwise.questions.answers import encode
from lengthwise.web.kept_clients import is_coach, noted, picked_of
from lengthwise.web.muscle_options import muscle_options
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes
from lengthwise.weeks.week_candidates import absent_for

router = Routes()


@router.get("/choose", Role.SIGNED_IN)
def choose(request: Request) -> HTMLResponse:
    """Weights, filters and the list that follows them."""
    asked = request.query_params
    name = asked.get("weights") or "default"
    picked = picked_of(request)
    words = [word for text in asked.getlist("gear") for word in text.split(",") if word in gear()]
    values = {
        "here": "choose",
        "absent": absent_for(picked.client) if picked else {},
        "muscle": target_named(asked.get("muscle") or "triceps").name,
        **muscle_options(),
        "gear": gear(),
        "joints": references(),
        "criteria": encode(actions.WeightsTold(actions.weights_named(name)))["criteria"],
        "weights_name": name,
        "saved": actions.saved_weights(),
        "may_save": is_coach(request),
        "asked_gear": words,
        "asked_minutes": _number(asked.get("minutes")),
        "asked_spare": [w.partition("=")[0] for w in asked.getlist("spare")],
        "asked_steady": asked.get("steady") == "true",
        "asked_range": asked.getlist("range") or ["full"],
        "asked_weights": _weights(asked.getlist("weight")),
    }
    return page(request, "choose.html", values)


class SavedWeights(BaseModel):
    """The form that keeps the weights as they stand; `base` names the set that they started from."""

    model_config = ConfigDict(extra="ignore")

    name: Annotated[str, Field(max_length=120)]
    base: Annotated[str, Field(max_length=60)] = "default"
    changed: Annotated[str, Field(max_length=2000)] = ""
    muscle: Annotated[str, Field(max_length=60)] = "triceps"
    rest: Annotated[str, Field(max_length=2000)] = ""


@router.post("/choose/weights", Role.COACH)
def save_weights(request: Request, form: Annotated[SavedWeights, Form()]) -> Response:
    """Keep the weights under a name, then go on with them.

    Raises:
        InputError: a name that cannot be one, or a weight that is not allowed.
    """
    made = actions.save_weights(form.name.strip(), form.base, actions.parse_weights(form.changed.split()))
    noted(request, "weights saved", detail=made.name)
    kept = [(k, v) for k, v in parse_qsl(form.rest) if k not in ("muscle", "weights", "weight")]
    where = urlencode([("muscle", form.muscle), ("weights", made.name), *kept])
    return Response(status_code=204, headers={"hx-redirect": f"/choose?{where}"})


def _number(text: str | None) -> float | None:
    try:
        return float(text) if text else None
    except ValueError:
        return None


def _weights(words: list[str]) -> dict[str, float]:
    """Weights of an address; ones that cannot be read are the usual ones."""
    try:
        return actions.parse_weights(words)
    except InputError:
        return {}
