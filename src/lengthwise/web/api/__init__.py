"""The same questions as JSON, under /api."""

from fastapi import APIRouter

from lengthwise.web.api import (
    body,
    choosing,
    evidence,
    lifts,
    log,
    people,
    pooling,
    prescriptions,
    progress,
    strength,
    trials,
    week,
)
from lengthwise.web.faults import RESPONSES

router = APIRouter(prefix="/api", responses=RESPONSES)
for part in (body, lifts, choosing, trials, evidence, pooling, people, log, week, prescriptions, progress, strength):
    router.include_router(part.router)
