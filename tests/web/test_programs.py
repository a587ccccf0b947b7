"""The interface for programs: nothing that its description allows makes it fail, and its answers are as described."""

import re
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

import pytest
import schemathesis
from here import at_home
from hypothesis import HealthCheck, settings
from schemathesis.checks import load_all_checks
from schemathesis.pytest.lazy import get_all_tests
from schemathesis.schemas import BaseSchema

from kept_gym import share_computed
from lengthwise.known.moving import MotionDrawn
from lengthwise.mechanics.long_half_beside import LiftOnBody
from lengthwise.questions.answers import model_of
from lengthwise.web import background
from lengthwise.web.api import waiting
from lengthwise.web.app import create_app
from lengthwise.web.routes import JudgedRoute, every_route

app = create_app({"testserver", "localhost", "127.0.0.1"})
OPERATIONS = sorted(
    (method, re.sub(r":\w+}", "}", path))
    for path, route in every_route(app.routes)
    if isinstance(route, JudgedRoute) and path.startswith("/api/") and route.include_in_schema
    for method in route.methods or ()
)
EXAMPLES = 12
"""Drawn questions for each address; every one may cost a profile."""
LONG = ("/api/trials", "/api/rank/{muscle}", "/api/split/{muscle}", "/api/tune/{lift}", "/api/compare")
"""What takes seconds for another body: how far it is may be told at once, since its answer is waited for once."""
AT_ONCE_S = 0.05


@pytest.fixture(scope="module")
def described() -> BaseSchema:
    """The description, made when the first question is asked: made when tests are collected, every process would make it."""
    paths = app.openapi()["paths"]  # made beforehand, since the next but one waits 10 s for it and no longer
    assert sorted((method.upper(), path) for path, methods in paths.items() for method in methods) == OPERATIONS
    schema = schemathesis.openapi.from_asgi("/api/openapi.json", at_home(app))
    load_all_checks()
    refused = schema.config.checks.negative_data_rejection
    refused.expected_statuses = [*refused.expected_statuses, "414"]  # what is too long for an address too (RFC 9110, 15.5.15)
    schema.config.request_timeout = 300.0  # never reached, however busy the machine is [s]
    return schema


@pytest.fixture(scope="module", autouse=True)
def _own_folder(tmp_path_factory: pytest.TempPathFactory, computed: Path) -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("LENGTHWISE_DATA", str(share_computed(tmp_path_factory.mktemp("programs"), computed)))
        yield


@pytest.fixture(autouse=True)
def _nobody_waits_for_more() -> Iterator[None]:
    """What is still being answered when a test ends is given up at its next step."""
    yield
    give_up()


def give_up() -> None:
    for job in list(background._all):
        job.given_up = True


def asked_and_checked() -> Callable[[schemathesis.Case], None]:
    """Asks, and holds what comes back against the description; of the answers that take their time, the first is waited for."""
    waited: list[schemathesis.Case] = []

    @settings(max_examples=EXAMPLES, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
    def as_described(case: schemathesis.Case) -> None:
        answer = case.call_and_validate()
        while answer.status_code == 202 and waited in ([], [case]):
            waited[:] = [case]
            answer = case.call_and_validate()
        give_up()

    return as_described


@pytest.mark.parametrize("asked", OPERATIONS, ids=" ".join)
def test_answers_are_as_described(asked: tuple[str, str], described: BaseSchema, monkeypatch: pytest.MonkeyPatch):
    """An operation's questions are made when its test runs: made when tests are collected, every process would make all of them."""
    method, path = asked
    if path in LONG:
        monkeypatch.setattr(waiting, "finished", partial(background.finished, wait_s=AT_ONCE_S))
    (found,) = get_all_tests(
        schema=described.include(method=method, path=path), test_func=asked_and_checked(), settings=None, given_kwargs=None
    )
    _, ask_and_check = found.ok()
    ask_and_check()


def test_every_model_refuses_what_it_does_not_describe():
    for model in (model_of(MotionDrawn), model_of(LiftOnBody)):
        assert model.model_config["extra"] == "forbid"
