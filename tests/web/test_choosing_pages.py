"""Beside choosing: best set-up, weekly sets divided, a muscle explained, weights kept by name, 1RM from a set; as a user would ask them."""

import io
import re
import zipfile
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest
from browsing import SIZES, Open, Walk, legible_in_light_and_dark, of_its_body, settled, until

from lengthwise.quantities import percent

FOUND = "/lift/standing_calf_raise/best-set-up?head=soleus&measure=loaded_length"
TWO = "/lift/overhead_cable_extension_one_arm/best-set-up?head=triceps_long&measure=long_range_load&vary=pulley_height_cm&vary=lean_deg"


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(
    ("name", "path", "there"), [("best_set_up", TWO, ".landscape"), ("explained", "/explain/tibialis?gear=body", ".prints img")]
)
def test_what_is_computed_is_whole_too(look: Walk, name: str, path: str, there: str, size: str):
    page = look(path, size)
    page.wait_for_selector(there)
    settled(page)
    legible_in_light_and_dark(page, f"{name}_{size}")


def test_the_best_set_up_is_found_from_the_lift_s_page_and_opened_there(open_page: Open):
    page = open_page("/lift/standing_calf_raise")
    page.click(".lift-next summary")
    page.click("text=Best set-up for a head")
    assert page.locator("#head option").first.get_attribute("value") in page.locator("#head optgroup").first.inner_html()
    page.select_option("#head", "soleus")
    page.select_option("#measure", "loaded_length")
    page.click("text=Find the best set-up")
    page.wait_for_selector(".landscape")
    told = page.locator("#answer").inner_text()
    answer = of_its_body(page, "/api/tune/standing_calf_raise?head=soleus&measure=loaded_length")
    assert f"{answer['best']['value']:.2f} × optimal" in told
    assert f"{answer['default']['value']:.2f} × optimal" in told
    assert f"{answer['tried']} set-ups were tried" in told
    assert page.locator(".landscape title").count() == 7
    page.click("text=Open the lift with this set-up")
    shown = float(page.input_value("#set-depth_deg"))
    assert shown == pytest.approx(answer["best"]["setup"]["depth_deg"], abs=0.06)


def test_a_set_up_between_the_steps_of_a_slider_is_kept(open_page: Open):
    page = open_page("/lift/overhead_cable_extension_one_arm?setup=pulley_height_cm%3D25.3")
    assert page.input_value("#set-pulley_height_cm") == "25.3"
    assert page.input_value("#set-lean_deg") == "4"


def test_a_lift_without_set_up_says_so_and_a_strange_parameter_what_is_known(open_page: Open):
    page = open_page("/lift/concentration_curl/best-set-up")
    assert "Nothing to set up" in page.locator(".empty").inner_text()
    page = open_page(f"{FOUND}&vary=bench_deg", expects="404")
    page.wait_for_selector("#answer [role=alert]")
    assert "depth_deg" in page.locator("#answer").inner_text()


def test_weekly_sets_are_divided_among_the_lifts_that_were_ticked(open_page: Open):
    page = open_page("/choose?muscle=triceps")
    page.wait_for_selector("#choose-list li")
    for i in range(2):
        page.locator("[data-part=pick]").nth(i).check()
    picked = page.eval_on_selector_all("[data-part=pick]:checked", "all => all.map(i => i.value)")
    page.click("text=Split the weekly sets")
    assert parse_qs(urlsplit(page.url).query)["lift"] == picked
    page.fill("#sets", "11")
    page.fill(f'[name="least.{picked[1]}"]', "40")
    page.click("button:has-text('Divide')")
    page.wait_for_selector("#answer .set-bars")
    query = "&".join([f"lift={i}" for i in picked] + ["sets=11", f"bound={picked[1]}=40-100"])
    answer = of_its_body(page, f"/api/split/triceps?{query}")
    sets = [int(re.match(r"\d+", t)[0]) for t in page.locator(".set-bars .num").all_inner_texts()]
    assert sets == [answer["sets"][i] for i in picked]
    assert sum(sets) == 11
    assert answer["shares"][picked[1]] >= 0.4 - 1e-9
    for got in answer["heads"].values():
        assert percent(got["reached"]) in page.locator("#answer").inner_text()
    assert "Trade-off: the most even split" in page.locator("#answer").inner_text()


def test_heads_that_no_lift_trains_are_told_and_bounds_that_contradict_too(open_page: Open):
    """The short head of the biceps femoris does not cross the hip, so a Romanian deadlift leaves it bare."""
    page = open_page("/split?muscle=hamstrings&lift=romanian_deadlift")
    page.wait_for_selector("#answer .caution")
    assert "short head of biceps femoris" in page.locator("#answer .caution").inner_text()
    page = open_page(
        "/split?muscle=triceps&lift=cable_push_down&lift=push_up&most.cable_push_down=30&most.push_up=30", expects="409"
    )
    page.wait_for_selector("#answer [role=alert]")
    assert "0% to 60%" in page.locator("#answer").inner_text()


def test_an_explainer_is_taken_along_whole(open_page: Open):
    page = open_page("/choose?muscle=tibialis&gear=body")
    page.wait_for_selector("#choose-list li")
    page.click("#choose-explain")
    page.wait_for_selector(".prints img")
    with page.expect_download() as got:
        page.click("text=Everything as a zip")
    assert got.value.suggested_filename == "tibialis_explained.zip"
    archive = zipfile.ZipFile(io.BytesIO(Path(got.value.path()).read_bytes()))
    assert archive.testzip() is None
    names = {n.partition("/")[2] for n in archive.namelist()}
    assert {"tibialis.html", "tibialis_a4.pdf", "tibialis_letter.pdf", "order_16x9.svg", "order_4x5.png"} <= names
    assert len(names) == 3 + 4 * page.locator(".prints img").count()
    assert archive.read("tibialis_explained/tibialis_a4.pdf").startswith(b"%PDF")
    with page.expect_download() as single:
        page.click("[aria-label='order, 4x5, SVG']")
    assert Path(single.value.path()).read_bytes() == archive.read("tibialis_explained/order_4x5.svg")


def test_weights_are_kept_by_name_and_chosen_again(open_page: Open):
    page = open_page("/choose?muscle=tibialis&gear=body&gear=cable", expects="422")
    page.wait_for_selector("#choose-list li")
    page.evaluate(
        "const s = document.querySelector('[data-criterion=time]'); s.value = 4.5; s.dispatchEvent(new Event('input', {bubbles: true}))"
    )
    page.click("text=Save these weights")
    page.fill("#weights-name", "default")
    page.click("text=Save weights")
    page.wait_for_selector("[role=alert]:has-text('not')")
    assert page.input_value("#weights-name") == "default"
    page.fill("#weights-name", "hurry")
    page.click("text=Save weights")
    until(page, lambda: "weights=hurry" in page.url)
    page.wait_for_selector("#choose-list li")
    assert page.input_value("[data-criterion=time]") == "4.5"
    assert set(parse_qs(urlsplit(page.url).query)["gear"]) == {"body", "cable"}
    shown = page.locator("#choose-list [data-part=value]").first.inner_text()
    answer = of_its_body(page, "/api/rank/tibialis?gear=body&gear=cable&weights=hurry")
    assert answer["weights"]["name"] == "hurry"
    assert shown == f"{answer['ranking'][0]['growth']['mean']:.1f} ×"
    kept = page.request.get(f"{'/'.join(page.url.split('/')[:3])}/api/weights/hurry").json()
    assert kept["criteria"]["time"]["weight"] == 4.5
    assert "hurry" in kept["saved"]
    page.select_option("#weights", "default")
    until(page, lambda: "weights=" not in page.url)
    assert page.input_value("[data-criterion=time]") != "4.5"


def test_the_1rm_of_a_set_by_every_equation_in_the_units_shown(open_page: Open, address: str):
    page = open_page("/lift/standing_calf_raise")
    page.click(".lift-next > details > summary")
    page.click("text=1RM from a set")
    page.fill("#set-load", "100")
    page.fill("#set-repetitions", "5")
    page.fill("#set-reserve", "1")
    page.click("button:has-text('Estimate')")
    page.wait_for_selector("#answer")
    answer = page.request.get(f"{address}/api/one-rm?load=100&repetitions=5&reserve=1").json()
    assert f"{answer['one_rm']:.1f} kg" in page.locator(".big-numbers").inner_text()
    assert f"{answer['low']:.1f} to {answer['high']:.1f} kg" in page.locator(".big-numbers").inner_text()
    rows = page.locator("table").first.locator("tbody td.n").all_inner_texts()
    assert rows == [f"{v:.1f}" for v in answer["by"].values()]
    page.context.add_cookies([{"name": "units", "value": "imperial", "url": address}])
    page.reload()
    assert page.input_value("#set-load") == "220.46"
    assert " lb" in page.locator(".big-numbers").inner_text()


def test_lifts_side_by_side_follow_the_repetitions(open_page: Open):
    page = open_page("/side-by-side?lift=standing_calf_raise&lift=seated_calf_raise&repetitions=5&reserve=0")
    page.wait_for_selector("text=Head by head")
    answer = of_its_body(page, "/api/compare?lift=standing_calf_raise&lift=seated_calf_raise&repetitions=5&reserve=0")
    usual = of_its_body(page, "/api/compare?lift=standing_calf_raise&lift=seated_calf_raise")
    assert answer["lifts"][0]["load_kg"] > usual["lifts"][0]["load_kg"]
    told = page.locator("thead").first.inner_text()
    for own in answer["lifts"]:
        assert f"{own['seconds_per_set']:.0f} s" in told
        assert f"{own['load_kg']:.0f} kg" in told
    with page.expect_download() as got:
        page.click("text=Picture (SVG)")
    assert "<svg" in Path(got.value.path()).read_text(encoding="utf-8")
