"""Answers that are computed once: kept as text with a tag of their content, one computation at a time."""

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from hashlib import sha256
from typing import Any

from fastapi import Request
from fastapi.responses import Response
from pydantic import BaseModel

from lengthwise.body.model import body_of
from lengthwise.known.lifts import profile_lift
from lengthwise.mechanics.profile import LiftProfile
from lengthwise.questions.profile import QUESTION, ProfileAsk
from lengthwise.web.background import step
from lengthwise.web.board import shared

computing = threading.RLock()
"""Held while the body is asked, so that requests do not get in each other's way on few processors."""
drawing = threading.Lock()
"""Figures are drawn one at a time."""


class Kept:
    """The latest things that were made, by what was asked.

    Args:
        most: how many are kept.
    """

    def __init__(self, most: int) -> None:
        self._most, self._found, self._lock = most, OrderedDict[Hashable, Any](), threading.Lock()
        self._generation = shared().generation

    def get(self, key: Hashable, make: Callable[[], Any]) -> Any:
        """What was made for `key`, made now if it was not."""
        with self._lock:
            if self._generation != shared().generation:
                self._generation = shared().generation
                self._found.clear()
            if key in self._found:
                self._found.move_to_end(key)
                return self._found[key]
        made = make()
        with self._lock:
            self._found[key] = made
            while len(self._found) > self._most:
                self._found.popitem(last=False)
        return made

    def forget(self) -> None:
        """Forget all of it, since what it rests on has changed; other processes do so too."""
        with self._lock:
            self._found.clear()
        shared().bump()


profiles, texts, files = Kept(48), Kept(256), Kept(16)
BINARY = "application/octet-stream"


def profiled(asked: ProfileAsk) -> LiftProfile:
    """The profile, kept from before or computed now."""
    with computing:
        step()  # who waited for the lock may be waited for no more
        found: LiftProfile = profiles.get(
            QUESTION.key(asked), lambda: profile_lift(body_of(asked.person), asked.lift, asked.request)
        )
    return found


def answered(request: Request, key: Hashable, model: type[BaseModel], make: Callable[[], Any]) -> Response:
    """An answer as JSON, checked against its model, kept, and not sent again to a browser that has it."""

    def text() -> bytes:
        return model.model_validate(make()).model_dump_json().encode()

    return _kept(request, texts, (model.__name__, key), text, "application/json")


def sent(request: Request, key: Hashable, make: Callable[[], bytes]) -> Response:
    """An answer in bytes, kept, and not sent again to a browser that has it."""
    return _kept(request, files, key, make, BINARY)


def pictured(request: Request, key: Hashable, make: Callable[[], bytes]) -> Response:
    """As `sent`, for a picture (WebP)."""
    return _kept(request, files, key, make, "image/webp")


def _kept(request: Request, where: Kept, key: Hashable, make: Callable[[], bytes], kind: str) -> Response:
    def made() -> tuple[bytes, str]:
        with computing:
            step()
            body = make()
        return body, f'"{sha256(body).hexdigest()[:24]}"'

    body, tag = where.get(key, made)
    about_client = bool(request.query_params.get("client"))
    headers = {"etag": tag, "cache-control": "no-store" if about_client else "private, no-cache"}
    if tag in request.headers.get("if-none-match", ""):
        return Response(status_code=304, headers=headers)
    return Response(body, media_type=kind, headers=headers)
