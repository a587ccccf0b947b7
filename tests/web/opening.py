"""Fixtures about whatever a fixture serves: pages opened anew, and one page that is kept open for all tests that only look."""

from collections.abc import Iterator

import pytest
from browsing import Open, Walk, opened, walking
from playwright.sync_api import Browser


def opening(served: str):
    """A fixture that opens a path at a size; when the test ends, no page may have complained or asked anybody else."""

    @pytest.fixture
    def fixture(browser: Browser, request: pytest.FixtureRequest) -> Iterator[Open]:
        with opened(browser, request.getfixturevalue(served)) as found:
            yield found

    return fixture


def kept_open(served: str):
    """A fixture of a page that is kept open for all tests that only look."""

    @pytest.fixture(scope="session")
    def fixture(browser: Browser, request: pytest.FixtureRequest) -> Walk:
        return Walk(browser, request.getfixturevalue(served))

    return fixture


def looking(kept: str):
    """A fixture that goes to a path at a size without opening anything anew, for tests that look and change nothing."""

    @pytest.fixture
    def fixture(browser: Browser, request: pytest.FixtureRequest) -> Iterator[Walk]:
        with walking(request.getfixturevalue(kept)) as walk:
            yield walk

    return fixture
