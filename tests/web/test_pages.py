"""Every page, on a laptop and on a phone, light and dark: quiet, as wide as its window, open to everybody."""

import pytest
from browsing import SIZES, Walk, hidden_figures, overflow, serious_faults, settled, shoot
from web_pages import PAGES


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_whole(look: Walk, name: str, size: str):
    page = look(PAGES[name], size)
    settled(page)
    assert page.locator("h1").count() == 1
    assert page.title().strip()
    assert overflow(page) == 0
    assert hidden_figures(page) == []
    assert serious_faults(page) == []
    shoot(page, f"{name}_{size}")


@pytest.mark.parametrize("name", PAGES)
def test_dark_is_as_legible(look: Walk, name: str):
    page = look(PAGES[name], color_scheme="dark")
    settled(page)
    assert serious_faults(page) == []
    shoot(page, f"{name}_dark")
