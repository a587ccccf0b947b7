"""Pages made from questions: the answer's part, worked out beside the page, and its picture as a file."""

from collections.abc import Callable
from typing import Annotated, Any

from fastapi import Query, Request
from fastapi.responses import HTMLResponse, Response
from pydantic import create_model

from lengthwise import questions
from lengthwise.questions.answering.grading_pictures import Kind
from lengthwise.questions.fields import bounds_of
from lengthwise.web.api.question_addresses import asked_of, job_of, query_of
from lengthwise.web.client_jobs import jobs, when_done
from lengthwise.web.kept_answers import drawing
from lengthwise.web.pictures import picture_file
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes
from lengthwise.web.who import person_shown

Values = Callable[[Request, Any, Any], dict[str, Any]]


def add_answer(router: Routes, name: str, path: str, values: Values) -> None:
    """Give a router the answer of a question under the address of its page: as a part of it, and as a picture.

    Args:
        path: its page, with the subject in braces where that stands in it. values: what the template needs, from request, answer and `Ask`.
    """
    question, query = questions.named(name), _query(name, path)

    def asked_in(request: Request, sent: Any) -> Any:
        return asked_of(name, sent, person_shown(request), request.path_params.get(question.subject))

    def answer(request: Request, sent: Annotated[Any, Query()]) -> HTMLResponse:
        asked = asked_in(request, sent)
        found = when_done(request, *job_of(name, asked), question.waiting)
        return page(request, f"parts/{name}.html", {"found": found, "asked": asked, **values(request, found, asked)})

    def picture(request: Request, kind: Kind, sent: Annotated[Any, Query()]) -> Response:
        asked = asked_in(request, sent)
        found = jobs.answer(*job_of(name, asked))
        with drawing:
            return picture_file(question.draw(found), kind, f"{getattr(asked, question.subject)}_{name}")

    for endpoint in (answer, picture):
        endpoint.__annotations__["sent"] = Annotated[query, Query()]
    router.get(f"{path}/answer", Role.SIGNED_IN)(answer)
    router.get(f"{path}/picture.{{kind}}", Role.SIGNED_IN, in_turn=True)(picture)


def _query(name: str, path: str) -> Any:
    """What a page's address sends: the question's fields, and its subject where that does not stand in the path."""
    question, query = questions.named(name), query_of(name)
    if f"{{{question.subject}}}" in path or question.subject in query.model_fields:
        return query
    longest = bounds_of(question.ask.model_fields[question.subject]).get("max_length", 80)
    own: Any = (Annotated[str, Query(max_length=longest)], ...)
    return create_model(f"Page{query.__name__}", __base__=query, **{question.subject: own})
