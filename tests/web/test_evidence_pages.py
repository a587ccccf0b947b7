"""Trials, pools, studies and strength as a coach asks for them in the browser."""

import json
from pathlib import Path

from browsing import Open, arrived, overflow, serious_faults, shoot, until

from lengthwise.web.pages.trials_page import EXAMPLE

ROWS = "yi,vi,study,year,sets\n0.2,0.04,A,2015,6\n0.5,0.05,B,2016,10\n0.1,0.03,C,2018,4\n0.9,0.08,D,2021,16\n"
MISS = EXAMPLE.replace("observed = 6.0", "observed = -6.0").replace("Own 1", "Own 2")


def test_published_trials_stand_beside_the_model_misses_included(open_page: Open, address: str):
    page = open_page("/evidence")
    page.click("text=Trials against the model")
    page.wait_for_selector("#trials")
    answer = page.request.get(f"{address}/api/trials?{page.locator('body').get_attribute('data-who')}").json()
    rows = page.locator("#every-comparison tbody tr")
    assert rows.count() == len(answer["comparisons"]) > 30
    sides = page.locator("#trials td[data-label=Side]").all_inner_texts()
    assert sides == [{True: "right", False: "wrong", None: "not clear"}[c["side_right"]] for c in answer["comparisons"]]
    assert {"right", "wrong"} < set(sides)
    told = page.locator(".shares").inner_text()
    for key in ("sides", "sizes", "where_trials_find_none"):
        assert f"{answer[key]['agree']} of {answer[key]['of']}" in told
    bars = page.locator(".forest g text:nth-child(2)").all_text_contents()
    assert sum("wrong side" in b for b in bars) == answer["sides"]["of"] - answer["sides"]["agree"]
    assert "not independent" in page.locator("#trials .caution").first.inner_text()
    assert "J Strength Cond Res 2020, calf raise" in page.locator("text=not used as a test >> xpath=..").inner_text()
    assert "the longer arm wins" in page.locator("text=Compared with the simplest rules >> xpath=..").inner_text()
    for size in ({"width": 1400, "height": 900}, {"width": 390, "height": 844}):
        page.set_viewport_size(size)
        until(page, lambda: overflow(page) == 0)
        assert serious_faults(page) == []
        shoot(page, f"trials_answer_{size['width']}")


def test_comparisons_of_one_s_own_are_taken_or_every_fault_is_told(open_page: Open, tmp_path: Path):
    page = open_page("/evidence/trials", expects="422")
    file = tmp_path / "mine.toml"
    file.write_text(EXAMPLE.replace("vastus_lateralis", "vastus_laterali").replace('"long"', '"longest"'), encoding="utf-8")
    page.set_input_files("#t-file", file)
    page.click("text=Compare with the model")
    assert "longest" in page.locator("[role=alert]").first.inner_text()
    file.write_text(EXAMPLE + MISS, encoding="utf-8")
    page.set_input_files("#t-file", file)
    page.click("text=Compare with the model")
    page.wait_for_selector("#trials")
    assert "mine.toml" in page.locator(".note").first.inner_text()
    assert page.locator("#trials td[data-label=Side]").all_inner_texts() == ["right", "wrong"]


def test_a_pasted_table_is_pooled_as_programs_pool_it(open_page: Open, address: str):
    page = open_page("/evidence/pool", expects="422")
    page.fill("#p-text", ROWS.replace("0.04", "-1").replace("0.5,", "half,"))
    page.click("main button.main")
    faults = page.locator("#faults").inner_text()
    assert "row 2, vi: found -1" in faults
    assert "row 3, yi: found 'half'" in faults
    assert "half" in page.input_value("#p-text")
    page.fill("#p-text", ROWS)
    page.select_option("#p-method", "dl")
    page.select_option("#p-test", "hk")
    page.fill("#p-prior", "0.5")
    page.click("main button.main")
    page.check("input[name=moderator][value=sets]")
    page.click("main button.main")
    cells = [line.split(",") for line in ROWS.splitlines()[1:]]
    rows = [
        {"yi": float(y), "vi": float(v), "study": s, "moderators": {"year": float(a), "sets": float(n)}} for y, v, s, a, n in cells
    ]
    asked = {"rows": rows, "method": "dl", "test": "hk", "moderators": ["sets"], "prior_scale": 0.5}
    found = page.request.post(f"{address}/api/pool", data=json.dumps(asked), headers={"content-type": "application/json"}).json()
    shown = page.locator("main").inner_text().replace("−", "-")
    for value in (found["estimate"], *found["ci"], *found["prediction"], found["bayesian"]["mean"]):
        assert f"{value:.2f}" in shown
    for value in (found["se"], found["tau2"], found["q"]):
        assert f"{value:.3g}" in shown
    assert f"{found['regression']['estimate'][1]:.3g}" in shown
    for value in (found["rank_test"]["tau"], found["rank_test"]["p"], found["pet_peese"]["se"]):
        assert f"{value:.3g}" in shown
    assert page.locator(".forest").count() == 3
    assert page.locator(".scatter circle").count() == 8
    shoot(page, "pool_of_a_table")


def test_rows_that_belong_together_are_pooled_in_levels_with_correlated_errors(open_page: Open, address: str):
    page = open_page("/evidence/pool", expects="422")
    cells = [
        (0.2, 0.04, "A", "a", "L"),
        (0.5, 0.05, "B", "b", "L"),
        (0.1, 0.03, "C", "b", "L"),
        (0.9, 0.08, "D", "d", "M"),
        (0.4, 0.06, "E", "e", "N"),
    ]
    page.fill("#p-text", "\n".join(["yi,vi,study,cluster,group", *(",".join(map(str, c)) for c in cells)]))
    page.fill("#p-correlation", "1.5")
    page.click("main button.main")
    assert "correlation: found '1.5'; allowed a number from 0" in page.locator("#faults").inner_text()
    page.fill("#p-correlation", "0.5")
    page.click("main button.main")
    rows = [dict(zip(("yi", "vi", "study", "cluster", "group"), c, strict=True)) for c in cells]
    asked = json.dumps({"rows": rows, "correlation": 0.5})
    found = page.request.post(f"{address}/api/pool", data=asked, headers={"content-type": "application/json"}).json()
    shown = page.locator("#result").inner_text().replace("−", "-")
    assert "correlated by 0.5" in shown and "between groups of clusters" in shown
    assert f"{found['se']:.3g}" in shown


def test_a_claim_is_pooled_another_way_and_without_memory(open_page: Open, address: str):
    page = open_page("/evidence/range")
    counted = page.request.get(f"{address}/api/claims/range").json()
    page.select_option("select[name=method]", "dl")
    page.select_option("select[name=test]", "z")
    page.click("form button:has-text('Pool')")
    anew = page.request.get(f"{address}/api/claims/range?method=dl&test=z").json()
    assert f"{anew['estimate']:+.3f}".replace("-", "−") in page.locator("#anew").inner_text()
    page.click("text=Leave them out")
    read = page.request.get(f"{address}/api/claims/range?memory=false").json()
    assert read["left_out"] > 0 == counted["left_out"]
    assert f"{read['left_out']} contrast" in page.locator(".page-head").inner_text()
    assert page.locator("text=Every finding >> xpath=.. >> tbody tr").count() == len(read["findings"]) < len(counted["findings"])


def test_a_claim_s_pictures_come_when_they_are_asked_for(open_page: Open):
    page = open_page("/evidence/long_length")
    assert page.locator(".figures img").count() == 0
    page.click("text=Pictures for a talk or a web page")
    page.wait_for_selector(".figures img")
    assert page.locator(".figures img").count() == 5
    page.locator(".figures img").first.scroll_into_view_if_needed()
    until(page, lambda: page.evaluate("document.querySelector('.figures img').naturalWidth > 400"))


def test_everything_is_fetched_as_one_file(open_page: Open):
    page = open_page("/evidence/report?memory=no")
    page.wait_for_selector("a[download]")
    with page.expect_download() as saved:
        page.click("a[download]")
    text = saved.value.path().read_text(encoding="utf-8")
    assert saved.value.suggested_filename == "evidence.html"
    assert text.count("<section id=") > 15
    assert "are left out" in text


def test_strength_follows_the_joints(open_page: Open, address: str):
    page = open_page("/posture")
    arrived(page)
    page.click("[data-beside=strength]")
    page.wait_for_selector("#strength h3")
    page.select_option("#strength-angle", "knee_flexion")
    who = page.locator("body").get_attribute("data-who")

    def asked(at: str, lower: str) -> dict[str, object]:
        return page.request.get(f"{address}/api/strength?{who}&angle=knee_flexion&at={at}&lower={lower}").json()

    page.click("button:text-is('Standing')")
    straight = f"{asked('', 'true')['moment_nm']:.0f} N·m"
    until(page, lambda: straight in page.locator("#strength").inner_text())
    page.locator("#a-knee_flexion").fill("70")
    bent = asked("knee_flexion=70", "true")
    until(page, lambda: f"{bent['moment_nm']:.0f} N·m" in page.locator("#strength").inner_text())
    assert straight not in page.locator("#strength").inner_text()
    assert "rectus femoris" in page.locator("#strength .strength-way").last.inner_text()
    assert abs(sum(bent["heads"].values()) - 1) < 1e-6
    assert "strength=knee_flexion" in page.url
    page.reload()
    page.wait_for_selector("#strength h3")
    assert page.input_value("#strength-angle") == "knee_flexion"


def test_every_head_is_listed_with_its_lines(open_page: Open, address: str):
    page = open_page("/posture")
    page.click("text=All heads and their lines")
    heads = page.request.get(f"{address}/api/heads").json()["heads"]
    rows = page.locator("tbody tr")
    assert rows.count() == len(heads)
    assert page.locator("td[data-label=Lines]").all_inner_texts() == [str(len(h["lines"])) for h in heads]
