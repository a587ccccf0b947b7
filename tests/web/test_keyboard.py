"""From the top of a page to what it was opened for, by keyboard alone: few presses; and its forms speak to people."""

import pytest
from browsing import Open, names_of_programs, settled
from playwright.sync_api import Page

MOST = 6
RESULTS = {
    "/": "main a, main button, main select",
    "/choose?muscle=tibialis": "#choose-list a, #choose-list button, #choose-list input",
    "/lift": "main li a",
    "/lift/standing_calf_raise": "#lift-answer a, #lift-answer button, .lift-figure button, main a.button",
    "/posture": "main input, main select",
    "/evidence": "main a, main button, main select",
}
"""A page, and any of what it was opened for."""

NEAREST_SKIP = """(here, wanted) => {
  const leads = [...document.querySelectorAll('.skip')].filter((e) => document.querySelector(e.hash)?.querySelector(wanted));
  return leads.at(-1) === here;
}"""
"""Whether a link skips to what holds something wanted, and no later one does."""


def presses_to(page: Page, wanted: str) -> int:
    """Presses of Tab, and of Enter on links that skip to what holds something wanted, until that has the focus."""
    for n in range(1, 40):
        page.keyboard.press("Tab")
        here = page.evaluate_handle("document.activeElement")
        if here.evaluate("(e, wanted) => e.matches(wanted)", wanted):
            return n
        if here.evaluate(NEAREST_SKIP, wanted):
            page.keyboard.press("Enter")
    return 99


@pytest.mark.parametrize(("path", "wanted"), RESULTS.items())
def test_a_result_is_few_presses_away(open_page: Open, path: str, wanted: str):
    page = open_page(path)
    settled(page)
    page.wait_for_selector(wanted.split(",")[0], state="attached", timeout=120_000)
    assert presses_to(page, wanted) <= MOST
    assert names_of_programs(page) == []
