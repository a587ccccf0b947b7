"""The same questions as JSON, under /api."""

from lengthwise.web.api import (
    asked,
    body,
    choosing,
    description,
    evidence,
    lifts,
    log,
    own_lifts,
    people,
    pooling,
    progress,
    store,
    trials,
    week,
)
from lengthwise.web.faults import RESPONSES
from lengthwise.web.routes import Routes

router = Routes(prefix="/api", responses=RESPONSES)
for part in (
    log,  # asked most, so that it is found first
    body,
    lifts,
    own_lifts,
    asked,
    choosing,
    trials,
    evidence,
    pooling,
    people,
    week,
    progress,
    store,
    description,
):
    router.include_router(part.router)
