"""The same questions as JSON, under /api."""

from lengthwise.web.fault_answers import RESPONSES
from lengthwise.web.routes import Routes, parts_of

router = Routes(prefix="/api", responses=RESPONSES)
for part in parts_of(__name__, __path__):
    router.include_router(part)
