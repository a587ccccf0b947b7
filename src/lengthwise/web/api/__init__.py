"""The same questions as JSON, under /api."""

from fastapi import APIRouter

from lengthwise.web.api import body, choosing, evidence, lifts, log, own_lifts, people, progress, store, week
from lengthwise.web.faults import RESPONSES

router = APIRouter(prefix="/api", responses=RESPONSES)
for part in (body, lifts, own_lifts, choosing, evidence, people, log, week, progress, store):
    router.include_router(part.router)
