"""The figure of bones and muscles on its page: it comes, every muscle can be pointed at, and words say the same as colours."""

import pytest
from browsing import Open, settled
from playwright.sync_api import Page

from lengthwise.figure.shapes import parts

LARGEST_SENT = 400_000


def dressed(page: Page) -> Page:
    """The page once its figure has bones and muscles."""
    settled(page)
    page.wait_for_selector("lw-figure[data-dressed=yes]")
    return page


def said(page: Page) -> str:
    return page.locator(".figure-pointing output").inner_text()


@pytest.fixture
def calf_raise(open_page: Open) -> Page:
    return dressed(open_page("/lift/standing_calf_raise"))


def test_every_muscle_can_be_pointed_at_from_the_keyboard(calf_raise: Page):
    options = calf_raise.locator(".figure-pointing option")
    offered = {v for v in options.evaluate_all("all => all.map((o) => o.value)") if v}
    assert offered == {p.head for p in parts()}
    calf_raise.select_option(".figure-pointing select", "soleus")
    assert said(calf_raise).startswith("Soleus: fibres ")
    assert "× optimal, tension" in said(calf_raise) and "drive" in said(calf_raise)


def test_the_words_follow_the_position(calf_raise: Page):
    calf_raise.select_option(".figure-pointing select", "gastrocnemius_medial")
    first = said(calf_raise)
    calf_raise.locator("lw-figure input[type=range]").fill("100")
    assert said(calf_raise) != first


def test_a_tap_on_the_figure_names_what_is_there(calf_raise: Page):
    """From behind, the middle of the view shows the back of the body; one of nine taps there meets a muscle."""
    calf_raise.click("[data-view=back]")
    box = calf_raise.locator(".figure-view").bounding_box()
    assert box is not None
    for k in range(9):
        x, y = box["x"] + box["width"] * (0.47 + 0.03 * (k % 3)), box["y"] + box["height"] * (0.45 + 0.08 * (k // 3))
        calf_raise.mouse.click(x, y)
        if said(calf_raise):
            break
    assert calf_raise.locator(".figure-pointing select").input_value() in {p.head for p in parts()}


def test_what_is_sent_of_a_lift_is_small(calf_raise: Page):
    sizes = calf_raise.evaluate(
        "performance.getEntriesByType('resource').filter((r) => /api.*(solids|bones)/.test(r.name)).map((r) => r.encodedBodySize)"
    )
    assert len(sizes) == 2 and all(0 < s < LARGEST_SENT for s in sizes)


def test_the_first_page_shows_bones_and_muscles_too(open_page: Open):
    page = dressed(open_page("/"))
    assert page.locator(".figure-pointing").is_visible()
