"""The pages: one module each, every one a router."""

from fastapi import APIRouter

from lengthwise.web.pages import (
    choose,
    evidence,
    home,
    importing,
    lift,
    lift_audit,
    log,
    own_lifts,
    people,
    person_files,
    posture,
    programs,
    progress,
    records,
    settings,
    side_by_side,
    sign_in,
    week,
    written,
)

router = APIRouter(include_in_schema=False)
for part in (
    home,
    settings,
    choose,
    lift,
    lift_audit,
    own_lifts,
    side_by_side,
    posture,
    evidence,
    people,
    person_files,
    week,
    log,
    written,
    importing,
    progress,
    sign_in,
    records,
    programs,
):
    router.include_router(part.router)
