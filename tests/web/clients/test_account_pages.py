"""Pages of whoever is signed in, in a browser: as wide as their window, signing out within reach, a restored store signed in to anew."""

from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from browsing import SIZES, Open, overflow, serious_faults, shoot
from opening import opening
from playwright.sync_api import Page
from served_copy import serving

from kept_gym import copied, using
from lengthwise.records.accounts import add_account

PASSWORD = "a long enough word"


@pytest.fixture(scope="module")
def signed_gym(tmp_path_factory: pytest.TempPathFactory, demo_gym: Path) -> Iterator[str]:
    folder = copied(demo_gym, tmp_path_factory.mktemp("signed"))
    with using(folder):
        add_account("Coach of the demo", PASSWORD)
        add_account("Pupil of the demo", PASSWORD, "client", "Mara")
    with serving(folder) as address:
        yield address


open_signed = opening("signed_gym")


def sign_in(page: Page, name: str = "Coach of the demo") -> None:
    page.fill("#name", name)
    page.fill("#password", PASSWORD)
    page.click("button:has-text('Sign in')")
    page.wait_for_load_state("networkidle")


@pytest.mark.parametrize("size", SIZES)
def test_accounts_are_whole_with_every_part_open(open_signed: Open, size: str):
    page = open_signed("/accounts", size)
    page.locator("label:has-text('show it') input").check()
    assert page.get_attribute("#password", "type") == "text"
    sign_in(page)
    page.click("[aria-label='One-time password for Pupil of the demo']")
    page.click("[aria-label='Remove Coach of the demo']")
    assert page.locator("text=Yes: remove Coach of the demo").is_visible()
    assert overflow(page) == 0
    assert serious_faults(page) == []
    shoot(page, f"accounts_open_{size}")


@pytest.mark.parametrize("size", SIZES)
def test_signing_out_is_within_reach(open_signed: Open, size: str):
    page = open_signed("/people", size)
    sign_in(page, "Pupil of the demo")
    assert page.locator("footer a[href='/records']").count() == 0
    if size == "phone":
        page.click(".pages-menu summary")
    page.locator("button:has-text('Sign out'):visible").click()
    page.wait_for_url("**/sign-in**")
    assert overflow(page) == 0


def test_whoever_restores_a_store_signs_in_to_it_anew(open_signed: Open, tmp_path: Path):
    page = open_signed("/records", expects="401")
    sign_in(page)
    page.click("text=Make a backup")
    with page.expect_download() as saving:
        page.click("text=Download the backup")
    file = tmp_path / "all.zip"
    saving.value.save_as(file)
    page.set_input_files("#r-file", file)
    page.click("text=Check the file")
    page.check("input[name=replace]")
    page.fill("#r-word", "replace")
    page.click("text=Restore it")
    page.wait_for_url("**/sign-in**")
    sign_in(page)
    page.wait_for_url(lambda url: urlsplit(url).path == "/records")
    page.click("a:has-text('Audit')")
    rows = [row.split("\t")[1:3] for row in page.inner_text("tbody").splitlines()]
    assert ["Coach of the demo", "backup restored"] in rows
