"""The interface for programs: nothing that its description allows makes it fail, and its answers are as described."""

import pytest
import schemathesis
from here import at_home
from hypothesis import HealthCheck, settings
from schemathesis.checks import load_all_checks
from schemathesis.pytest.lazy import get_all_tests

from lengthwise.mechanics.long_half_beside import LiftOnBody
from lengthwise.questions.answers import model_of
from lengthwise.web import client_jobs
from lengthwise.web.api.models import Motion
from lengthwise.web.app import create_app
from lengthwise.web.jobs import finished

app = create_app({"testserver", "localhost", "127.0.0.1"})
described = app.openapi()  # made beforehand, since the next line waits 10 s for it and no longer
schema = schemathesis.openapi.from_asgi("/api/openapi.json", at_home(app))
load_all_checks()
schema.config.checks.negative_data_rejection.expected_statuses = [
    *schema.config.checks.negative_data_rejection.expected_statuses,
    "414",
]
"""What is too long for an address is refused as well (RFC 9110, 15.5.15)."""
OPERATIONS = [(method.upper(), path) for path, methods in described["paths"].items() for method in methods]
EXAMPLES = 12
"""Drawn questions for each address; every one may cost a profile."""


@pytest.fixture(autouse=True)
def _own_folder(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path_factory.getbasetemp()))


@pytest.fixture(scope="module", autouse=True)
def _answered_to_the_end():
    """Questions that were only begun are answered before the processes that answer them go; one after another, so the last is last."""
    yield
    assert finished(client_jobs.jobs.ask("the last one", lambda tell: None), 300)


@settings(max_examples=EXAMPLES, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
def _as_described(case: schemathesis.Case) -> None:
    case.call_and_validate()


@pytest.mark.parametrize("asked", OPERATIONS, ids=" ".join)
def test_answers_are_as_described(asked: tuple[str, str]):
    """An operation's questions are made when its test runs: made when tests are collected, every process would make all of them."""
    method, path = asked
    (found,) = get_all_tests(
        schema=schema.include(method=method, path=path), test_func=_as_described, settings=None, given_kwargs=None
    )
    _, ask_and_check = found.ok()
    ask_and_check()


def test_every_model_refuses_what_it_does_not_describe():
    for model in (Motion, model_of(LiftOnBody)):
        assert model.model_config["extra"] == "forbid"
