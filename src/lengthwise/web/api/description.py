"""What programs can ask, as an OpenAPI description."""

from fastapi import Request
from fastapi.responses import JSONResponse

from lengthwise.web.routes import Role, Routes

router = Routes()


@router.get("/openapi.json", Role.SIGNED_IN, in_turn=True, include_in_schema=False)
def description(request: Request) -> JSONResponse:
    """Every question with what it takes and answers."""
    return JSONResponse(request.app.openapi())
