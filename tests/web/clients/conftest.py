"""A workbench served with the demo gym, and pages opened in it as a user would."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from browsing import Number
from opening import kept_open, looking, opening
from playwright.sync_api import Browser
from served_copy import serving

from kept_gym import LITTLE_GEAR, copied, take_gear_away, using


@pytest.fixture(scope="session")
def gym_folder(tmp_path_factory: pytest.TempPathFactory, demo_gym: Path) -> Path:
    """Data with the demo gym, for all tests of a worker."""
    return copied(demo_gym, tmp_path_factory.mktemp("gym"))


@pytest.fixture(scope="session")
def gym(gym_folder: Path) -> Iterator[str]:
    """Address of a workbench with the demo gym."""
    with serving(gym_folder) as address:
        yield address


@pytest.fixture(scope="session")
def little_gym(tmp_path_factory: pytest.TempPathFactory, demo_gym: Path) -> Path:
    """Data with the demo gym where one client has little gear, to be copied and never changed."""
    folder = copied(demo_gym, tmp_path_factory.mktemp("little_gym"))
    with using(folder):
        take_gear_away()
    return folder


@pytest.fixture(scope="session")
def small_gym(tmp_path_factory: pytest.TempPathFactory, little_gym: Path) -> Iterator[str]:
    """Address of a workbench where one client has little gear, so that weeks are planned quickly."""
    with serving(copied(little_gym, tmp_path_factory.mktemp("small_gym"))) as address:
        yield address


open_gym = opening("gym")
open_small = opening("small_gym")
one_gym_page = kept_open("gym")
look_at_gym = looking("one_gym_page")


@pytest.fixture
def number_of(gym: str, browser: Browser) -> Number:
    """The number of the client whose name begins so."""
    return numbers(browser, gym)


@pytest.fixture
def small_number(small_gym: str, browser: Browser) -> int:
    """The number of the client with little gear."""
    return numbers(browser, small_gym)(LITTLE_GEAR)


def numbers(browser: Browser, address: str) -> Number:
    """The numbers of a server's clients by how their names begin."""
    context = browser.new_context()
    people = context.request.get(f"{address}/api/people").json()["people"]
    context.close()
    return lambda name: next(p["number"] for p in people if p["name"].startswith(name))
