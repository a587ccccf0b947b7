"""The pages: one module each, every one a router."""

from fastapi import APIRouter

from lengthwise.web.pages import (
    best_set_up,
    choose,
    evidence,
    explain,
    home,
    importing,
    lift,
    log,
    one_rm,
    people,
    plan,
    pooling,
    posture,
    programs,
    progress,
    settings,
    side_by_side,
    sign_in,
    split,
    studies,
    trials,
    week,
)

router = APIRouter(include_in_schema=False)
for part in (
    home,
    settings,
    choose,
    split,
    explain,
    lift,
    best_set_up,
    one_rm,
    side_by_side,
    posture,
    trials,
    pooling,
    studies,
    evidence,
    people,
    week,
    plan,
    log,
    importing,
    progress,
    sign_in,
    programs,
):
    router.include_router(part.router)
