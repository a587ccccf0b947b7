"""A workbench served with the demo gym, and pages opened in it as a user would."""

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from browsing import SIZES, Number, Open, Watch
from gym_server import serving
from playwright.sync_api import Browser, Page


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


@pytest.fixture
def open_gym(browser: Browser, gym: str) -> Iterator[Open]:
    """Opens a path of the demo gym; when the test ends, no page may have complained or asked anybody else."""
    contexts, watches = [], []

    def opening(path: str, size: str = "laptop", expects: str = "", **options: object) -> Page:
        width, height = SIZES[size]
        context = browser.new_context(viewport={"width": width, "height": height}, **{"reduced_motion": "reduce", **options})
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(60_000)
        watches.append(Watch(page, gym, expects))
        page.goto(gym + path)
        return page

    yield opening
    found = [(w.errors, w.foreign) for w in watches]
    for context in contexts:
        context.close()
    for errors, foreign in found:
        assert errors == [], "the console of a page is quiet"
        assert foreign == [], "a page asks nobody but its own server"


@pytest.fixture
def number_of(gym: str, browser: Browser) -> Number:
    """The number of the client whose name begins so."""
    context = browser.new_context()
    people = context.request.get(f"{gym}/api/people").json()["people"]
    context.close()
    return lambda name: next(p["number"] for p in people if p["name"].startswith(name))
