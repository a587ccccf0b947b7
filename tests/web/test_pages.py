"""Every page, on a laptop and on a phone, light and dark: quiet, as wide as its window, open to everybody."""

import pytest
from browsing import SIZES, Walk, hidden_figures, legible_in_light_and_dark, settled
from web_pages import PAGES


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_whole(look: Walk, name: str, size: str):
    page = look(PAGES[name], size)
    settled(page)
    assert page.locator("h1").count() == 1
    assert page.title().strip()
    assert hidden_figures(page) == []
    legible_in_light_and_dark(page, f"{name}_{size}")
