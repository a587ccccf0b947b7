"""The pages: one module each, every one a router."""

from fastapi import APIRouter

from lengthwise.web.pages import (
    choose,
    evidence,
    home,
    importing,
    lift,
    log,
    people,
    pooling,
    posture,
    programs,
    progress,
    settings,
    side_by_side,
    sign_in,
    studies,
    trials,
    week,
)

router = APIRouter(include_in_schema=False)
for part in (
    home,
    settings,
    choose,
    lift,
    side_by_side,
    posture,
    trials,
    pooling,
    studies,
    evidence,
    people,
    week,
    log,
    importing,
    progress,
    sign_in,
    programs,
):
    router.include_router(part.router)
