"""The page that orders the lifts for a muscle; the order itself comes from /api/rank."""

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from lengthwise.actions import body as body_actions
from lengthwise.actions import grading as actions
from lengthwise.errors import InputError
from lengthwise.grading.criteria import target_named
from lengthwise.grading.joint_load import references
from lengthwise.lifts.catalogue import gear
from lengthwise.web.rendering import page

router = APIRouter()


@router.get("/choose")
def choose(request: Request) -> HTMLResponse:
    """Weights, filters and the list that follows them."""
    asked = request.query_params
    found = body_actions.heads()
    words = [word for text in asked.getlist("gear") for word in text.split(",") if word in gear()]
    values = {
        "here": "choose",
        "muscle": target_named(asked.get("muscle") or "triceps").name,
        "muscles": list(found["muscles"]),
        "heads": [row["head"] for row in found["heads"] if row["head"] not in found["muscles"]],
        "gear": gear(),
        "joints": references(),
        "criteria": actions.weights_answer(actions.weights_named("default"))["criteria"],
        "asked_gear": words,
        "asked_minutes": _number(asked.get("minutes")),
        "asked_spare": [w.partition("=")[0] for w in asked.getlist("spare")],
        "asked_steady": asked.get("steady") == "true",
        "asked_range": asked.getlist("range") or ["full"],
        "asked_weights": _weights(asked.getlist("weight")),
    }
    return page(request, "choose.html", values)


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
