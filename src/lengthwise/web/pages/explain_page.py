"""A muscle explained for clients and audiences: made beside the page, then looked at and taken along as paper, pictures or one zip."""

from typing import Annotated, Any

from fastapi import Path, Query, Request
from fastapi.responses import HTMLResponse, Response

from lengthwise.errors import unknown
from lengthwise.grading.target import target_named
from lengthwise.questions.rank import RankAsk
from lengthwise.web.api.choosing_jobs import explainer_job, package_of
from lengthwise.web.api.question_addresses import asked_of, query_of
from lengthwise.web.client_jobs import when_done
from lengthwise.web.pictures import kept_file
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes
from lengthwise.web.who import person_shown

router = Routes()
Muscle = Annotated[str, Path(max_length=60)]
Asked = Annotated[query_of("rank"), Query()]  # type: ignore[valid-type]
WORDS = "Lifts are computed for this body, then pictures are drawn…"


@router.get("/explain/{muscle}", Role.SIGNED_IN)
def explain(request: Request, muscle: Muscle) -> HTMLResponse:
    """The frame; what is made comes when it is made."""
    values = {"here": "choose", "muscle": target_named(muscle).name, "query": request.url.query}
    return page(request, "explain.html", values)


@router.get("/explain/{muscle}/made", Role.SIGNED_IN)
def made(request: Request, muscle: Muscle, asked: Asked) -> HTMLResponse:  # type: ignore[valid-type]
    """Every file that was made, or how far it is."""
    told = when_done(request, *explainer_job(_of(request, muscle, asked)), WORDS)
    values = {"muscle": target_named(muscle).name, "found": told, "query": request.url.query}
    return page(request, "parts/explained.html", values)


def _of(request: Request, muscle: str, asked: Any) -> RankAsk:
    found: RankAsk = asked_of("rank", asked, person_shown(request), muscle)
    return found


@router.get("/explain/{muscle}/files/{name}", Role.SIGNED_IN, in_turn=True)
def file(request: Request, muscle: Muscle, name: Annotated[str, Path(max_length=120)], asked: Asked) -> Response:  # type: ignore[valid-type]
    """One file of the explainer, or all of it as a zip.

    Raises:
        UnknownNameError: it has no such file.
    """
    question = _of(request, muscle, asked)
    found = package_of(explainer_job(question)[0], question)
    files = {**found.files, f"{found.muscle}_explained.zip": found.zip}
    if name not in files or name.endswith(".html"):
        raise unknown("file", name, [n for n in files if not n.endswith(".html")])
    return kept_file(files[name], name)
