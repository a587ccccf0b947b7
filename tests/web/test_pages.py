"""Every page, on a laptop and on a phone, light and dark: quiet, as wide as its window, open to everybody."""

import pytest
from browsing import SIZES, Open, overflow, serious_faults, settled, shoot
from web_pages import PAGES


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_whole(open_page: Open, name: str, size: str):
    page = open_page(PAGES[name], size)
    settled(page)
    assert page.locator("h1").count() == 1
    assert page.title().strip()
    assert overflow(page) == 0
    assert serious_faults(page) == []
    shoot(page, f"{name}_{size}")


@pytest.mark.parametrize("name", PAGES)
def test_dark_is_as_legible(open_page: Open, name: str):
    page = open_page(PAGES[name], "laptop", color_scheme="dark")
    settled(page)
    assert serious_faults(page) == []
    shoot(page, f"{name}_dark")
