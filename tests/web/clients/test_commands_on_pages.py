"""Everything the commands can do is there on a page: which one, for each command, and that it is there and linked."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from browsing import Number
from playwright.sync_api import APIRequestContext, Browser

from lengthwise.cli.commands import COMMANDS, load

PAGES = {
    "heads": "/posture/heads",
    "posture": "/posture",
    "strength": "/posture",
    "profile": "/lift/bench_press",
    "load": "/people/{}/load",
    "one-rm": "/one-rm",
    "block": "/week/{}/block",
    "rank": "/choose",
    "compare": "/side-by-side?lift=bench_press&lift=push_up",
    "tune": "/lift/bench_press/best-set-up",
    "split": "/split?muscle=triceps&lift=push_up&lift=cable_push_down",
    "trials": "/evidence/trials",
    "explain": "/explain/triceps",
    "weights": "/choose",
    "pool": "/evidence/pool",
    "claims": "/evidence",
    "claim new": "/evidence/own-claims",
    "claim add": "/evidence/own-claims",
    "claim remove": "/evidence/own-claims",
    "review": "/progress/{}",
    "progress": "/progress/{}",
    "demo": "/records",
    "sheet": "/week/{}",
    "card": "/lift/bench_press",
    "film": "/lift/bench_press",
    "week": "/week/{}",
    "year": "/week/{}/year",
    "swap": "/week/{}/swap?lift=bench_press",
    "lifts": "/lift",
    "lifts audit": "/lift-audit",
    "lift new": "/own-lifts",
    "lift check": "/own-lifts",
    "person new": "/people/new",
    "person check": "/people/{}",
    "person show": "/people/{}/follows",
    "person questions": "/people/questions",
    "study check": "/evidence/add-study",
    "study effect": "/evidence/add-study",
    "study import": "/evidence/add-study",
    "study export": "/evidence/studies",
    "study remove": "/evidence/studies",
    "study add": "/evidence/add-study",
    "log add": "/log/{}",
    "log show": "/log/{}/sessions",
    "log undo": "/log/{}/sessions",
    "log import": "/log/{}/import",
    "measure add": "/log/{}/measurements",
    "measure show": "/log/{}/measurements",
    "store keep": "/people/new",
    "store people": "/people",
    "store info": "/records",
    "store backup": "/records",
    "store restore": "/records",
    "store export": "/people/{}",
    "store erase": "/people/{}",
    "account add": "/accounts",
    "account password": "/accounts",
    "account list": "/accounts",
    "account remove": "/accounts",
    "account factor": "/accounts",
    "account give": "/people/{}",
}
WITHOUT = {"serve", "population make", "population ask", "population table", "population summary"}
"""Serving the pages is not done on a page. A population is a folder of thousands of bodies on the maker's disk, and pages open no
folders: what it says stands in explainers."""
FROM = (
    "/",
    "/choose",
    "/lift",
    "/lift/bench_press",
    "/evidence",
    "/posture",
    "/people",
    "/people/{}",
    "/week/{}",
    "/log/{}",
    "/progress/{}",
)
"""Pages from which the others are to be reached."""
CHOSEN_FIRST = {"/split", "/explain/triceps", "/week/{}/block"}
"""Linked once lifts are ticked, a muscle is picked (tests/web/test_choosing_pages.py) or a week is kept (test_whole_flow.py)."""


def commands(name: str, command: Any) -> Iterator[str]:
    """Names of a command and of those in it; of a group that answers by itself, its own name too."""
    if not hasattr(command, "commands") or command.invoke_without_command:
        yield name
    for inner, part in getattr(command, "commands", {}).items():
        yield from commands(f"{name} {inner}", part)


@pytest.fixture
def request_of(browser: Browser) -> Iterator[APIRequestContext]:
    context = browser.new_context()
    yield context.request
    context.close()


def test_every_command_has_a_page_that_is_there_and_linked(gym: str, number_of: Number, request_of: APIRequestContext):
    known = {whole for name in COMMANDS for whole in commands(name, load(name))}
    assert known == set(PAGES) | WITHOUT, "say in PAGES which page shows a new command, or in WITHOUT why none does"
    number = number_of("Mara")
    linked: set[str] = set()
    for path in FROM:
        linked |= {
            link.partition("?")[0] for link in re.findall(r'href="(/[^"#]*)"', request_of.get(gym + path.format(number)).text())
        }
    for command, path in PAGES.items():
        answer = request_of.get(gym + path.format(number))
        assert answer.ok, (command, path, answer.status)
        assert "<h1>" in answer.text(), (command, path)
        assert path.format(number).partition("?")[0] in linked or path.partition("?")[0] in CHOSEN_FIRST, (
            command,
            path,
            "is not linked from a page of FROM",
        )
