"""Cookies: read by no script, sent to this site alone; over an encrypted connection by it alone, under a name that no other host can set."""

from fastapi import Request
from starlette.responses import Response

A_YEAR_S = 365 * 86400
NEWS_COOKIE = "news"
"""Says that something was done to the account that was not seen yet."""


def cookie_name(request: Request, name: str) -> str:
    """The name of a cookie as a browser has it: with __Host- where the connection is encrypted (RFC 6265bis, 4.1.3.2)."""
    return f"__Host-{name}" if _is_encrypted(request) else name


def read_cookie(request: Request, name: str) -> str:
    """The value that a browser keeps; empty where it keeps none."""
    return request.cookies.get(cookie_name(request, name), "")


def keep_cookie(request: Request, response: Response, name: str, value: str, lasts_s: int) -> None:
    """Let a browser keep a value for so long [s]."""
    secure = _is_encrypted(request)
    response.set_cookie(cookie_name(request, name), value, max_age=lasts_s, httponly=True, samesite="lax", secure=secure)


def drop_cookie(request: Request, response: Response, name: str) -> None:
    """Let a browser forget a value."""
    response.delete_cookie(cookie_name(request, name), httponly=True, samesite="lax", secure=_is_encrypted(request))


def _is_encrypted(request: Request) -> bool:
    return bool(request.scope["scheme"] == "https")
