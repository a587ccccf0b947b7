"""What takes more than a moment for a kept client: its lifts, its week, its review; each computed once for a record."""

import json
from collections.abc import Callable, Mapping
from typing import Any

from fastapi import Request
from fastapi.responses import HTMLResponse

from lengthwise.actions.week_choices import Offer, offer_of
from lengthwise.storage.clients import StoredClient
from lengthwise.web.answers import Kept
from lengthwise.web.jobs import Jobs, finished
from lengthwise.web.kept_clients import mark_of
from lengthwise.web.rendering import page

jobs: Jobs[Any] = Jobs()
offers = Kept(24)


def offer_for(found: StoredClient, tell: Callable[[int, int], None] = lambda done, total: None) -> Offer:
    """The lifts that a client's week may be made of, kept until its record changes."""
    offer: Offer = offers.get(mark_of(found), lambda: offer_of(found.client, tell))
    return offer


def when_done(
    request: Request, key: str, work: Callable[[Callable[[int, int], None]], Any], words: str, sent: Mapping[str, str] | None = None
) -> Any:
    """What the work gives, or a part of a page that tells how far it is and asks again.

    Args:
        sent: what a form sent; it is then sent again, and `key` makes the same thing of it.
    """
    job = jobs.ask(key, work)
    if finished(job):
        return job.future.result()
    asks = f"{request.url.path}?{request.url.query}"
    values = {"done": job.done, "total": job.total, "words": words, "asks": asks, "sent": json.dumps(sent) if sent else ""}
    return page(request, "parts/working.html", values)


def is_told(found: Any) -> bool:
    """Whether `when_done` gave only how far it is."""
    return isinstance(found, HTMLResponse)
