"""The same questions as JSON, under /api."""

from importlib import import_module

from lengthwise.web.fault_answers import RESPONSES
from lengthwise.web.routes import Routes

router = Routes(prefix="/api", responses=RESPONSES)
PARTS = """
    log_api body lifts_api own_lifts_api question_addresses choosing trials_api studies_api pool_api people_api
    week_api proposals_api description
"""
"""Files in the order in which they are looked through: the log is asked most; a written-out address goes before one with a parameter."""
for part in PARTS.split():
    router.include_router(import_module(f"{__name__}.{part}").router)
