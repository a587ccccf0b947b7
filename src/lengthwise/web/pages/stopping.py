"""Stopping a question of one's own on the way."""

from typing import Annotated

from fastapi import Form, Request
from fastapi.responses import HTMLResponse

from lengthwise.web.background import stop_one
from lengthwise.web.kept_clients import account_of
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes

router = Routes()


@router.post("/stop", Role.SIGNED_IN)
def stop(request: Request, mark: Annotated[str, Form(pattern="^[0-9a-f]{32}$")]) -> HTMLResponse:
    """End one's own question at its next step."""
    account = account_of(request)
    stopped = stop_one(mark, account.number if account else None)
    return page(request, "parts/stopped.html", {"stopped": stopped})
