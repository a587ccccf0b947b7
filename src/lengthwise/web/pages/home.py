"""The first page: three steps to a first answer, and what every page shows."""

from fastapi import Request
from fastapi.responses import HTMLResponse, Response

from lengthwise.known import lifts as lift_actions
from lengthwise.web.muscle_options import muscle_options
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes

router = Routes()
SHOWN = "incline_dumbbell_curl"
"""The lift that moves on the first page."""
MARK = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32"><rect width="32" height="32" rx="7" fill="#6b2a63"/>'
    '<path d="M4 16c6-8 9-8 12 0s8 8 12 0" fill="none" stroke="#fff" stroke-width="3" stroke-linecap="round"/>'
    '<path d="M4 16c6 8 9 8 12 0s8-8 12 0" fill="none" stroke="#fff" stroke-width="3" stroke-linecap="round" opacity=".45"/></svg>'
)


@router.get("/", Role.SIGNED_IN)
def home(request: Request) -> HTMLResponse:
    """The first page."""
    lifts = lift_actions.all_lifts().lifts
    values = {
        "here": "home",
        "muscle": "triceps",
        **muscle_options(),
        "n_lift": len(lifts),
        "shown_id": SHOWN,
        "shown": lifts[SHOWN],
    }
    return page(request, "home.html", values)


@router.get("/mark.svg")
@router.get("/favicon.ico", Role.ANYBODY)
def mark() -> Response:
    """The sign of the workbench."""
    return Response(MARK, media_type="image/svg+xml", headers={"cache-control": "public, max-age=86400"})
