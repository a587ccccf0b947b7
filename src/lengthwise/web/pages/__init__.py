"""The pages: one module each, every one a router."""

from fastapi import APIRouter

from lengthwise.web.pages import choose, home, lift, programs, settings

router = APIRouter(include_in_schema=False)
for part in (home, settings, choose, lift, programs):
    router.include_router(part.router)
