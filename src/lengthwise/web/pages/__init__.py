"""The pages: one module each, every one a router."""

from lengthwise.web.routes import Routes, parts_of

router = Routes(include_in_schema=False)
for part in parts_of(__name__, __path__):
    router.include_router(part)
