"""A served workbench and a browser; how to test a page of your own is said in docs/web.md."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from opening import kept_open, looking, opening
from playwright.sync_api import Browser, sync_playwright
from served_copy import serving

from kept_gym import share_computed

BROWSERS = ("chromium-headless-shell", "chromium", "chromium-browser")
DRAWING = [
    "--no-sandbox",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
    "--disable-gpu-compositing",
    "--webgl-antialiasing-mode=none",
]
"""In software: figures as a graphics card would, without smoothed edges, pages without one, which is quicker."""
ONE_RENDERER = [
    "--renderer-process-limit=1",
    "--disable-site-isolation-trials",
    "--disable-features=IsolateOrigins,site-per-process",
]
"""All pages are of one site that is our own: a process for each page that is opened would be started and warmed for nothing."""


BRIEF = ["--js-flags=--no-opt --no-maglev"]
"""Pages live for seconds here: code that is compiled a third and a fourth time to be quicker later has no later."""


@pytest.fixture(scope="session")
def data_folder(tmp_path_factory: pytest.TempPathFactory, computed: Path) -> Path:
    """Where the served workbench keeps what it keeps."""
    return share_computed(tmp_path_factory.mktemp("data"), computed)


@pytest.fixture(scope="session")
def address(data_folder: Path) -> Iterator[str]:
    """Where the workbench is served, by the command that users give."""
    with serving(data_folder) as found:
        yield found


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Debian's Chromium, its kind without windows where there is one, which opens a page in a quarter of the processor time."""
    found = next(filter(None, map(shutil.which, BROWSERS)), None)
    if found is None:
        pytest.fail("the tests of the pages need chromium; run `make chromium` (as root), or install it by hand")
    with sync_playwright() as play:
        running = play.chromium.launch(executable_path=found, args=[*DRAWING, *ONE_RENDERER, *BRIEF])
        yield running
        running.close()


open_page = opening("address")
one_page = kept_open("address")
look = looking("one_page")
