"""A served workbench and a browser; how to test a page of your own is said in docs/web.md."""

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from browsing import Open, opened
from playwright.sync_api import Browser, sync_playwright

START_S = 60


@pytest.fixture(scope="session")
def data_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the served workbench keeps what it keeps."""
    return tmp_path_factory.mktemp("data")


@pytest.fixture(scope="session")
def address(data_folder: Path) -> Iterator[str]:
    """Where the workbench is served, by the command that users give."""
    environment = {**os.environ, "LENGTHWISE_DATA": str(data_folder), "PYTHONUNBUFFERED": "1"}
    command = [sys.executable, "-m", "lengthwise.cli", "serve", "--port", "0"]
    with subprocess.Popen(command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as server:
        line = server.stdout.readline()
        if "http://127.0.0.1:" not in line:
            server.terminate()
            pytest.fail(f"the workbench does not start: {line}{server.communicate(timeout=START_S)[1]}")
        yield line.split(" at ")[1].split()[0]
        server.terminate()
        server.wait(START_S)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Debian's Chromium, drawing in software."""
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    if found is None:
        pytest.fail("the tests of the pages need chromium; run `make chromium` (as root), or install it by hand")
    with sync_playwright() as play:
        arguments = ["--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"]
        running = play.chromium.launch(executable_path=found, args=arguments)
        yield running
        running.close()


@pytest.fixture
def open_page(browser: Browser, address: str) -> Iterator[Open]:
    """Opens a path at a size; when the test ends, no page may have complained or asked anybody else."""
    with opened(browser, address) as opening:
        yield opening
