"""The same questions as JSON, under /api."""

from lengthwise.web.api import (
    body,
    choosing,
    description,
    lifts_api,
    log_api,
    own_lifts_api,
    people_api,
    pool_api,
    proposals_api,
    question_addresses,
    studies_api,
    trials_api,
    week_api,
)
from lengthwise.web.fault_answers import RESPONSES
from lengthwise.web.routes import Routes

router = Routes(prefix="/api", responses=RESPONSES)
for part in (
    log_api,  # asked most, so that it is found first
    body,
    lifts_api,
    own_lifts_api,
    question_addresses,
    choosing,
    trials_api,
    studies_api,
    pool_api,
    people_api,
    week_api,
    proposals_api,
    description,
):
    router.include_router(part.router)
