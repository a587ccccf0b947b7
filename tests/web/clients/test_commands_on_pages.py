"""Everything the commands can do is there on a page: which one, for each command, and that it is there and linked."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from browsing import Number
from playwright.sync_api import APIRequestContext, Browser

from lengthwise import questions
from lengthwise.cli.commands import COMMANDS, load

PAGES = {  # of commands that are no question; a question names its own (`Question.page`)
    "claim new": "/evidence/own-claims",
    "claim add": "/evidence/own-claims",
    "claim remove": "/evidence/own-claims",
    "demo": "/records",
    "lifts": "/lift",
    "lifts audit": "/lift-audit",
    "lift new": "/own-lifts",
    "lift check": "/own-lifts",
    "person new": "/people/new",
    "person check": "/people/{}",
    "study check": "/evidence/add-study",
    "study effect": "/evidence/add-study",
    "study import": "/evidence/add-study",
    "study export": "/evidence/studies",
    "study remove": "/evidence/studies",
    "study add": "/evidence/add-study",
    "log undo": "/log/{}/sessions",
    "store keep": "/people/new",
    "store people": "/people",
    "store backup": "/records",
    "store restore": "/records",
    "store export": "/people/{}",
    "store erase": "/people/{}",
    "account add": "/accounts",
    "account password": "/accounts",
    "account remove": "/accounts",
    "account factor": "/accounts",
    "account give": "/people/{}",
}
WITHOUT = {"serve", "population make", "population summary"}
"""Serving the pages is not done on a page, and pages open no population's folder: what it says stands in explainers."""
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


def commands(name: str, command: Any) -> Iterator[tuple[str, str]]:
    """Names of a command and of those in it, with the question each asks; of a group that answers by itself, its own name too."""
    if not hasattr(command, "commands") or command.invoke_without_command:
        yield name, command.callback.__name__
    for inner, part in getattr(command, "commands", {}).items():
        yield from commands(f"{name} {inner}", part)


@pytest.fixture
def request_of(browser: Browser) -> Iterator[APIRequestContext]:
    context = browser.new_context()
    yield context.request
    context.close()


def test_every_command_has_a_page_that_is_there_and_linked(gym: str, number_of: Number, request_of: APIRequestContext):
    asked = dict(own for name in COMMANDS for own in commands(name, load(name)))
    own_pages = {command: questions.named(name).page for command, name in asked.items() if name in questions.says()}
    assert set(asked) - set(own_pages) == set(PAGES) | WITHOUT, (
        "say in PAGES which page shows a new command, or in WITHOUT why none does"
    )
    pages = {**PAGES, **{command: page for command, page in own_pages.items() if page.startswith("/")}}
    assert all(len(page.split()) > 3 for command, page in own_pages.items() if command not in pages), (
        "say in words why no page shows it"
    )
    number = number_of("Mara")
    linked: set[str] = set()
    for path in FROM:
        linked |= {
            link.partition("?")[0] for link in re.findall(r'href="(/[^"#]*)"', request_of.get(gym + path.format(number)).text())
        }
    for command, path in pages.items():
        answer = request_of.get(gym + path.format(number))
        assert answer.ok, (command, path, answer.status)
        assert "<h1>" in answer.text(), (command, path)
        assert path.format(number).partition("?")[0] in linked or path.partition("?")[0] in CHOSEN_FIRST, (
            command,
            path,
            "is not linked from a page of FROM",
        )
