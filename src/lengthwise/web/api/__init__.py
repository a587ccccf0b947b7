"""The same questions as JSON, under /api."""

from fastapi import APIRouter

from lengthwise.web.faults import RESPONSES

router = APIRouter(prefix="/api", responses=RESPONSES)
