"""The same questions as JSON, under /api."""

from lengthwise.web.api import (
    body,
    choosing,
    description,
    evidence,
    lifts,
    log,
    one_rm,
    own_lifts,
    people,
    pooling,
    prescriptions,
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
    choosing,
    trials,
    evidence,
    pooling,
    people,
    week,
    prescriptions,
    progress,
    one_rm,
    store,
    description,
):
    router.include_router(part.router)
