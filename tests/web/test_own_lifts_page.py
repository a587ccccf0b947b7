"""A lift of one's own: begun, checked with every fault at once, drawn, kept, asked for, changed and removed; and the library looked over."""

from collections.abc import Iterator
from pathlib import Path

import pypdfium2
import pytest
from browsing import SIZES, Open, overflow, serious_faults, shoot
from opening import opening
from playwright.sync_api import Page
from served_copy import serving

from kept_gym import share_computed


@pytest.fixture(scope="module")
def own_folder(tmp_path_factory: pytest.TempPathFactory, computed: Path) -> Path:
    return share_computed(tmp_path_factory.mktemp("own_lifts"), computed)


@pytest.fixture(scope="module")
def own_address(own_folder: Path) -> Iterator[str]:
    with serving(own_folder) as address:
        yield address


open_own = opening("own_address")


def write(page: Page, text: str) -> None:
    page.fill("#text", text)
    page.click("button:has-text('Check')")


def test_a_lift_like_another_is_drawn_kept_asked_for_and_removed(open_own: Open, own_address: str, own_folder: Path):
    page = open_own("/own-lifts", expects="422")
    page.fill("#o-name", "My incline curl")
    page.fill("#o-like", "Incline dumbbell curl")
    page.click("text=Write it")
    text = page.input_value("#text")
    assert "[lift.my_incline_curl]" in text
    write(page, text.replace('gear = "dumbbell"', 'gear = "anvil"').replace('"brachioradialis"', '"brachioradiales"'))
    page.wait_for_selector("#checked [role=alert]")
    told = page.inner_text("#checked")
    assert "found 'anvil'" in told
    assert "brachioradiales" in told
    assert page.locator("text=Save this lift").count() == 0
    write(page, text)
    page.wait_for_selector("text=Save this lift")
    assert "a set of 10 with 2 in reserve takes about" in page.inner_text("#checked")
    assert page.eval_on_selector("#checked img", "i => i.complete && i.naturalWidth") > 900
    assert not list((own_folder / "lifts").glob("my_incline*")), "nothing is kept by checking"
    page.click("text=Save this lift")
    page.wait_for_selector("text=Look at My incline curl")
    assert (own_folder / "lifts" / "my_incline_curl.toml").read_text(encoding="utf-8") == text
    assert page.request.get(f"{own_address}/api/lifts/my_incline_curl/profile").json()["name"] == "My incline curl"
    assert "my_incline_curl" in {r["id"] for r in page.request.get(f"{own_address}/api/lifts").json()["lifts"]}
    page.click("text=Look at My incline curl")
    assert page.inner_text("h1") == "My incline curl"
    page.goto(f"{own_address}/own-lifts")
    page.click("[aria-label='Remove my incline curl']")
    page.click("text=Yes: remove my incline curl")
    page.wait_for_selector("text=Removed: my_incline_curl")
    assert page.request.get(f"{own_address}/api/lifts/my_incline_curl/profile").status == 404
    assert "my_incline_curl" not in {r["id"] for r in page.request.get(f"{own_address}/api/lifts").json()["lifts"]}


def test_a_changed_lift_is_computed_anew(open_own: Open, own_address: str):
    page = open_own("/own-lifts/write?name=Heavy+curl")
    write(page, page.input_value("#text"))
    page.click("text=Save this lift")
    page.wait_for_selector("text=Look at Heavy curl")
    ask = f"{own_address}/api/lifts/heavy_curl/profile"
    before = page.request.get(ask).json()
    page.click("[aria-label='Edit heavy curl']")
    write(page, page.input_value("#text").replace("elbow_flexion = 135", "elbow_flexion = 100"))
    page.click("text=Save this lift")
    page.wait_for_selector("text=Saved.")
    after = page.request.get(ask).json()
    assert before["angles_deg"]["elbow_flexion"][-1] == pytest.approx(135, abs=1)
    assert after["angles_deg"]["elbow_flexion"][-1] == pytest.approx(100, abs=1)


def test_a_wrong_file_takes_nothing_with_it_and_is_mended_here(open_own: Open, own_address: str, own_folder: Path):
    (own_folder / "lifts").mkdir(exist_ok=True)
    (own_folder / "lifts" / "broken.toml").write_text('[lift.broken]\nname = "Broken"\n', encoding="utf-8")
    page = open_own("/lift")
    assert "are skipped until you fix them" in page.inner_text("main .caution")
    assert page.request.get(f"{own_address}/lift/back_squat").status == 200
    page.click("text=fix them")
    assert "broken.toml: broken: gear" in page.inner_text(".kept-list")
    assert serious_faults(page) == []
    shoot(page, "own_lifts_broken_laptop")
    page.goto(f"{own_address}/own-lifts")
    page.click("[aria-label='Remove broken']")
    page.click("text=Yes: remove broken")
    page.wait_for_selector("text=Removed: broken")
    page.goto(f"{own_address}/lift")
    assert page.locator("main .caution").count() == 0


def test_a_file_is_opened_and_one_that_is_no_text_is_told(open_own: Open, tmp_path: Path):
    page = open_own("/own-lifts", expects="422")
    (tmp_path / "picture.toml").write_bytes(b"\x89PNG\xff\x00")
    page.set_input_files("#o-file", tmp_path / "picture.toml")
    page.click("text=Open it")
    assert "picture.toml: not UTF-8 text" in page.inner_text("#faults")
    (tmp_path / "mine.toml").write_text("[lift.mine]\n", encoding="utf-8")
    page.set_input_files("#o-file", tmp_path / "mine.toml")
    page.click("text=Open it")
    assert page.input_value("#text") == "[lift.mine]\n"


def test_a_name_that_gives_no_lift_is_told_beside_the_form(open_own: Open):
    page = open_own("/own-lifts/write?name=Back+squat", expects="422")
    assert "is a built-in lift" in page.inner_text("#faults")
    assert page.input_value("#o-name") == "Back squat"


@pytest.mark.parametrize("size", SIZES)
def test_a_checked_lift_is_whole(open_own: Open, size: str):
    page = open_own("/own-lifts/write?name=Whole+curl", size)
    page.click("button:has-text('Check')")
    page.wait_for_selector("text=Save this lift")
    assert overflow(page) == 0
    page.evaluate("scrollTo(0, 0)")
    assert serious_faults(page) == []
    shoot(page, f"own_lift_checked_{size}")


def test_the_library_is_looked_over_for_a_muscle(open_own: Open, own_address: str):
    page = open_own("/lift")
    page.click("text=What an anatomist would question")
    page.select_option("#which", "tibialis")
    page.click("text=Check them")
    page.wait_for_selector("tbody tr")
    heads = page.request.get(f"{own_address}/api/heads").json()["muscles"]["tibialis"]
    ids = [r["id"] for r in page.request.get(f"{own_address}/api/lifts").json()["lifts"] if r["targets"][0] in heads]
    assert {a.split("/")[-1] for a in page.eval_on_selector_all("tbody th a", "all => all.map(a => a.href)")} == set(ids)
    assert "known to lead" in page.inner_text("[role=status]")
    assert overflow(page) == 0
    assert serious_faults(page) == []
    shoot(page, "lift_audit_laptop")
    page.click("text=Draw them as a PDF")
    page.wait_for_selector("text=Download the drawings")
    with page.expect_download() as saving:
        page.click("text=Download the drawings")
    assert len(pypdfium2.PdfDocument(Path(saving.value.path()).read_bytes())) >= 1
