"""The same questions as JSON, under /api."""

from fastapi import APIRouter

from lengthwise.web.api import (
    body,
    choosing,
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

router = APIRouter(prefix="/api", responses=RESPONSES)
for part in (
    body,
    lifts,
    own_lifts,
    choosing,
    trials,
    evidence,
    pooling,
    people,
    log,
    week,
    prescriptions,
    progress,
    one_rm,
    store,
):
    router.include_router(part.router)
