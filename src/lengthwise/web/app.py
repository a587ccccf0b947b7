"""The application: guard, errors, built files, pages and the interface for programs."""

from collections.abc import Iterable
from importlib.metadata import version

from fastapi import FastAPI
from starlette.middleware.gzip import GZipMiddleware
from starlette.responses import Response
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from lengthwise.web import api, handlers, pages
from lengthwise.web.assets import BUILT
from lengthwise.web.gate import BUILT as BUILT_AT
from lengthwise.web.gate import Gate
from lengthwise.web.routes import check_declared
from lengthwise.web.security import LOOPBACK, Guard

FOREVER = "public, max-age=31536000, immutable"


class BuiltFiles(StaticFiles):
    """Files whose names change with their content: kept by the browser for good."""

    async def get_response(self, path: str, scope: Scope) -> Response:
        """One file."""
        found = await super().get_response(path, scope)
        if path.startswith("assets/"):
            found.headers["cache-control"] = FOREVER
        return found


def create_app(hosts: Iterable[str] = LOOPBACK) -> FastAPI:
    """The whole workbench, answering to some host names."""
    app = FastAPI(
        title="Lengthwise",
        version=version("lengthwise"),
        summary="Which lifts, how, how much and why: the same questions that the pages and the commands ask.",
        openapi_url=None,
        docs_url=None,
        redoc_url=None,
        redirect_slashes=False,  # would tell a stranger which addresses there are
    )
    handlers.add_to(app)
    app.include_router(api.router)
    app.include_router(pages.router)
    app.mount(BUILT_AT, BuiltFiles(directory=BUILT, check_dir=False), name="built")
    check_declared(app.routes, BUILT_AT)
    app.add_middleware(Gate)
    app.add_middleware(GZipMiddleware, minimum_size=1000, compresslevel=4)
    app.add_middleware(Guard, hosts=frozenset(hosts))
    return app
