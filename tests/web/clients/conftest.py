"""A workbench served with the demo gym, and pages opened in it as a user would."""

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from browsing import Number, Open, Walk, opened, walking
from gym_server import serving
from playwright.sync_api import Browser
from small_gym import NAME, keep_small_gym


@pytest.fixture(scope="session")
def gym_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Data with the demo gym, kept once for all tests."""
    folder = tmp_path_factory.mktemp("gym")
    keep = "from lengthwise.actions.demo import seed_demo; seed_demo()"
    subprocess.run([sys.executable, "-c", keep], env={**os.environ, "LENGTHWISE_DATA": str(folder)}, check=True, timeout=300)
    return folder


@pytest.fixture(scope="session")
def gym(gym_folder: Path) -> Iterator[str]:
    """Address of a workbench with the demo gym."""
    with serving(gym_folder) as address:
        yield address


@pytest.fixture(scope="session")
def small_gym(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Address of a workbench where one client has little gear, so that weeks are planned quickly."""
    folder = tmp_path_factory.mktemp("small_gym")
    keep_small_gym(folder)
    with serving(folder) as address:
        yield address


@pytest.fixture
def open_gym(browser: Browser, gym: str) -> Iterator[Open]:
    """Opens a path of the demo gym; when the test ends, no page may have complained or asked anybody else."""
    with opened(browser, gym) as opening:
        yield opening


@pytest.fixture
def open_small(browser: Browser, small_gym: str) -> Iterator[Open]:
    """The same of the gym with little gear."""
    with opened(browser, small_gym) as opening:
        yield opening


@pytest.fixture(scope="session")
def one_gym_page(browser: Browser, gym: str) -> Walk:
    """A page of the demo gym that is kept open for all tests that only look."""
    return Walk(browser, gym)


@pytest.fixture
def look_at_gym(one_gym_page: Walk) -> Iterator[Walk]:
    """Goes to a path of the demo gym without opening anything anew, for tests that look and change nothing."""
    with walking(one_gym_page) as walk:
        yield walk


@pytest.fixture
def number_of(gym: str, browser: Browser) -> Number:
    """The number of the client whose name begins so."""
    return numbers(browser, gym)


@pytest.fixture
def small_number(small_gym: str, browser: Browser) -> int:
    """The number of the client with little gear."""
    return numbers(browser, small_gym)(NAME)


def numbers(browser: Browser, address: str) -> Number:
    """The numbers of a server's clients by how their names begin."""
    context = browser.new_context()
    people = context.request.get(f"{address}/api/people").json()["people"]
    context.close()
    return lambda name: next(p["number"] for p in people if p["name"].startswith(name))
