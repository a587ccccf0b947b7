"""What programs can ask: the interface under /api, read from its own description."""

from typing import Any

from fastapi import Request
from fastapi.responses import HTMLResponse

from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes

router = Routes()


@router.get("/programs", Role.SIGNED_IN)
def programs(request: Request) -> HTMLResponse:
    """Every question under /api with what it takes."""
    return page(request, "programs.html", {"here": "", "questions": questions(request.app.openapi())})


def questions(description: dict[str, Any]) -> list[dict[str, Any]]:
    """The questions of an OpenAPI description, in order."""
    return [
        {
            "method": method.upper(),
            "path": path,
            "summary": told["summary"],
            "about": told.get("description", ""),
            "takes": [
                {"name": p["name"], "about": p.get("description") or p["schema"].get("description", ""), "needed": p["required"]}
                for p in told.get("parameters", ())
            ],
        }
        for path, methods in description["paths"].items()
        for method, told in methods.items()
    ]
