"""A served workbench and a browser; how to test a page of your own is said in docs/web.md."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from browsing import Open, Walk, opened, walking
from gym_server import serving
from playwright.sync_api import Browser, sync_playwright


@pytest.fixture(scope="session")
def data_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the served workbench keeps what it keeps."""
    return tmp_path_factory.mktemp("data")


@pytest.fixture(scope="session")
def address(data_folder: Path) -> Iterator[str]:
    """Where the workbench is served, by the command that users give."""
    with serving(data_folder) as found:
        yield found


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Debian's Chromium, drawing in software: figures as a graphics card would, pages without one, which is quicker."""
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    if found is None:
        pytest.fail("the tests of the pages need chromium; run `make chromium` (as root), or install it by hand")
    with sync_playwright() as play:
        arguments = ["--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--disable-gpu-compositing"]
        running = play.chromium.launch(executable_path=found, args=arguments)
        yield running
        running.close()


@pytest.fixture
def open_page(browser: Browser, address: str) -> Iterator[Open]:
    """Opens a path at a size; when the test ends, no page may have complained or asked anybody else."""
    with opened(browser, address) as opening:
        yield opening


@pytest.fixture(scope="session")
def one_page(browser: Browser, address: str) -> Walk:
    """A page that is kept open for all tests that only look."""
    return Walk(browser, address)


@pytest.fixture
def look(one_page: Walk) -> Iterator[Walk]:
    """Goes to a path at a size without opening anything anew, for tests that look and change nothing."""
    with walking(one_page) as walk:
        yield walk
