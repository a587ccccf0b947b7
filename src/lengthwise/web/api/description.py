"""What programs can ask, as an OpenAPI description."""

from fastapi import Request
from fastapi.responses import JSONResponse

from lengthwise.web.routes import Role, Routes, open_to
from lengthwise.web.turns import in_turn

router = Routes()


@router.get("/openapi.json", include_in_schema=False)
@open_to(Role.SIGNED_IN)
@in_turn
def description(request: Request) -> JSONResponse:
    """Every question with what it takes and answers."""
    return JSONResponse(request.app.openapi())
