"""Cookies: read by no script, sent to this site alone, over an encrypted connection where there is one."""

from fastapi import Request
from starlette.responses import Response

A_YEAR_S = 365 * 86400


def keep_cookie(request: Request, response: Response, name: str, value: str, lasts_s: int) -> None:
    """Let a browser keep a value for so long [s]."""
    response.set_cookie(name, value, max_age=lasts_s, httponly=True, samesite="lax", secure=request.url.scheme == "https")


def drop_cookie(response: Response, name: str) -> None:
    """Let a browser forget a value."""
    response.delete_cookie(name, httponly=True, samesite="lax")
