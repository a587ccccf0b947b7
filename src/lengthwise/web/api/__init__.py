"""The same questions as JSON, under /api."""

from fastapi import APIRouter

from lengthwise.web.api import body, choosing, evidence, lifts, log, people, prescriptions, progress, strength, week
from lengthwise.web.faults import RESPONSES

router = APIRouter(prefix="/api", responses=RESPONSES)
for part in (body, lifts, choosing, evidence, people, log, week, prescriptions, progress, strength):
    router.include_router(part.router)
