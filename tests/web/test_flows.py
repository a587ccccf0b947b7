"""The main flow of each page, done as a user would."""

import json
import re

from browsing import Open, arrived, of_its_body, overflow, settled, until
from playwright.sync_api import Page

from lengthwise.grading.criteria import score

SHOWN = "return Array.from(document.querySelectorAll('#choose-list li'), li => [li.dataset.key, li.querySelector('[data-part=value]').textContent]);"
"""What the list holds, asked in the same breath as it was changed: no server can have answered in between."""
SLIDER = "input[data-criterion]"


def keep_gear(page: Page, *kinds: str) -> None:
    """Only these kinds of gear are available."""
    for kind in page.eval_on_selector_all("input[name=gear]:checked", "all => all.map(i => i.value)"):
        if kind not in kinds:
            page.uncheck(f"input[name=gear][value={kind}]")


def test_three_steps_lead_to_the_lifts(open_page: Open):
    page = open_page("/")
    arrived(page)
    page.select_option("#first-sex", "woman")
    page.fill("#first-stature", "168")
    page.fill("#first-mass", "64")
    page.select_option("#first-gear", "dumbbell,body")
    page.select_option("#first-muscle", "tibialis")
    page.click("text=Show the lifts")
    page.wait_for_selector("#choose-list li, #choose-none:not([hidden])", state="attached")
    assert "168 cm, 64 kg" in page.locator(".masthead summary").first.inner_text()
    ticked = page.eval_on_selector_all("input[name=gear]:checked", "all => all.map(i => i.value)")
    assert set(ticked) == {"dumbbell", "body"}


def test_the_order_follows_a_weight_at_once_and_by_the_server_s_formula(open_page: Open):
    page = open_page("/choose?muscle=calves")
    page.wait_for_selector("#choose-list li")
    page.wait_for_selector("#choose-list:not([aria-busy])")
    before = page.locator("#choose-list .place + div h3").all_inner_texts()
    asked = [f"{name}={value}" for name, value in {"balance": 5, "time": 5, "joint_caution": 0, "load_step": 0.3}.items()]
    moves = (
        "words.forEach(w => { const [n, v] = w.split('='); const s = document.querySelector(`[data-criterion=${n}]`); s.value = v; s.dispatchEvent(new Event('input', {bubbles: true})); }); "
        + SHOWN
    )
    shown = page.evaluate(f"(words) => {{ {moves} }}", asked)
    weights = page.eval_on_selector_all(SLIDER, "all => Object.fromEntries(all.map(s => [s.dataset.criterion, Number(s.value)]))")
    answer = of_its_body(page, "/api/rank/calves?" + "&".join(f"weight={w}" for w in asked))
    expected = [(r["lift"], f"{r['growth']['mean']:.1f} ×") for r in answer["ranking"]][: len(shown)]
    assert [tuple(s) for s in shown] == expected
    first = answer["ranking"][0]
    assert abs(score({n: first["fit"][n] for n in weights}, weights) - first["preference"]) < 1e-9
    assert page.locator("#choose-list .place + div h3").all_inner_texts() != before


def test_a_phone_shows_every_lift_and_its_load_in_words(open_page: Open):
    """Pictures were left out on phones, and a calf raise that needs help was to be done with "-9 kg"."""
    page = open_page("/choose?muscle=calves", "phone")
    page.wait_for_selector("#choose-list li")
    page.click("#choose-more")
    rows = of_its_body(page, "/api/rank/calves")["ranking"]
    told = page.eval_on_selector_all(
        "#choose-list li", "all => all.map(li => [li.dataset.key, li.querySelector('[data-part=facts]').textContent])"
    )
    helped = {r["lift"]: -round(r["load_kg"]) for r in rows if round(r["load_kg"]) < 0}
    assert {key: words for key, words in told if f"with {helped.get(key)} kg of assistance" in words}.keys() == helped.keys()
    assert not any(re.search(r"-\d+ kg", words) for _, words in told) and any("body weight · + " in words for _, words in told)
    assert page.locator(".stamp").first.is_visible() and overflow(page) <= 0


def keys(page):
    """The lifts of the list, in its order."""
    return page.eval_on_selector_all("#choose-list li", "all => all.map(li => li.dataset.key)")


def test_wishes_leave_lifts_out_with_a_reason_as_the_server_does(open_page: Open):
    page = open_page("/choose?muscle=calves")
    page.wait_for_selector("#choose-list li")
    keep_gear(page, "body", "dumbbell")
    page.select_option("#minutes", "8")
    answer = of_its_body(page, "/api/rank/calves?gear=body&gear=dumbbell&minutes=8")
    wanted = [r["lift"] for r in answer["ranking"]]
    until(page, lambda: (found := keys(page)) != [] and found == wanted[: len(found)])
    assert page.locator("#choose-out li").count() == len(answer["excluded"])
    assert "needs " in page.locator("#choose-out").text_content()


def test_no_lift_left_says_what_to_do(open_page: Open):
    page = open_page("/choose?muscle=tibialis")
    page.wait_for_selector("#choose-list li")
    used = set(page.eval_on_selector_all("#choose-list [data-part=facts]", "all => all.map(p => p.textContent.split(' · ')[0])"))
    names = page.eval_on_selector_all("input[name=gear]", "all => all.map(i => [i.value, i.dataset.name])")
    keep_gear(page, next(kind for kind, name in names if name not in used))
    assert page.locator("#choose-list li").count() == 0
    assert page.locator("#choose-none").is_visible()


def test_a_lift_moves_and_its_set_up_leaves_a_ghost(open_page: Open):
    page = open_page("/lift/standing_calf_raise")
    settled(page)
    page.wait_for_selector("#lift-answer .big-numbers")
    before = page.locator("#lift-answer").inner_text()
    slider = page.locator("#lift-settings input[type=range]").first
    slider.focus()
    page.keyboard.press("End")
    until(page, lambda: "setup=" in page.url)
    until(page, lambda: page.locator("#lift-answer").inner_text() != before)
    page.locator("lw-figure .figure-transport input").fill("50")
    assert page.locator("lw-curves[data-curve=length] .curves-plot").get_attribute("aria-valuenow") == "50"
    page.locator("lw-curves[data-curve=tension] .curves-plot").focus()
    page.keyboard.press("End")
    assert page.evaluate("document.querySelector('lw-figure').position") == 1
    page.locator("[data-colouring=tension]").click()
    assert "Tension" in page.locator(".figure-legend").inner_text()
    page.locator(".figure-view").focus()
    page.keyboard.press("ArrowLeft")


def test_the_long_half_is_another_question(open_page: Open):
    page = open_page("/lift/standing_calf_raise")
    settled(page)
    page.check("input[name=range][value=long]")
    until(page, lambda: "range=long" in page.url)
    page.reload()
    assert page.locator("input[name=range][value=long]").is_checked()


def test_playing_moves_figure_and_curves_together(open_page: Open):
    page = open_page("/lift/standing_calf_raise", reduced_motion="no-preference")
    settled(page)
    until(page, lambda: page.evaluate("document.querySelector('lw-figure').position") > 0.1)
    page.keyboard.press("Tab")
    page.locator("[data-play]").click()
    at = page.evaluate("document.querySelector('lw-figure').position")
    assert page.locator("lw-curves[data-curve=demand] .curves-plot").get_attribute("aria-valuenow") == str(round(at * 100))


def test_lifts_are_put_side_by_side_from_the_list(open_page: Open):
    page = open_page("/choose?muscle=tibialis")
    page.wait_for_selector("#choose-list li")
    ticks = page.locator("[data-part=pick]")
    assert ticks.count() >= 2
    for i in range(2):
        ticks.nth(i).check()
    page.click("#choose-picked a")
    settled(page)
    page.wait_for_selector("text=Which head gains from which lift")
    assert page.locator("lw-figure").count() == 2
    page.locator("lw-figure .figure-transport input").first.fill("40")
    assert page.evaluate("document.querySelectorAll('lw-figure')[1].position") == 0.4


def test_a_posture_changes_every_length(open_page: Open):
    page = open_page("/posture")
    settled(page)
    page.wait_for_selector("#posture-heads li")
    before = page.locator("#posture-heads").inner_text()
    page.locator("#a-shoulder_flexion").fill("-30")
    until(page, lambda: page.locator("#posture-heads").inner_text() != before)
    page.click("text=Bottom of a squat")
    page.select_option("#posture-muscle", "quadriceps")
    until(page, lambda: page.input_value("#a-knee_flexion") == "120" and page.locator("#posture-heads li").count() == 4)
    page.wait_for_selector("lw-figure[data-dressed=yes]")
    page.select_option(".figure-pointing select", "vastus_lateralis")
    assert page.locator(".figure-pointing output").inner_text().startswith("Vastus lateralis: fibres ")


def test_a_study_is_refused_with_every_fault_and_stored_when_it_is_sound(open_page: Open):
    page = open_page("/evidence/add-study", expects="422")
    good = {"study": "OWN1", "year": "2024", "source": "Own gym report", "title": "long against short", "muscle": "triceps", "measure": "thickness", "unit": "mm",
            "arm": "long", "arm_n": "20", "arm_change": "3.1", "arm_sd": "1.4", "versus": "short", "versus_n": "20", "versus_change": "2.0",
            "versus_sd": "1.5"}  # fmt: skip
    for name, value in {**good, "year": "soon"}.items():
        page.fill(f"#f-{name}", value)
    page.select_option("#f-claims", "long_length")
    with page.expect_response(lambda r: r.request.method == "POST") as refused:
        page.click("text=Check and store >> nth=0")
    assert refused.value.status == 422
    assert page.locator("[role=alert]").is_visible()
    assert page.input_value("#f-source") == good["source"]


def test_a_sound_study_counts_at_once(open_page: Open, address: str, data_folder):
    page = open_page("/evidence")
    rows = [
        {"study": "OWN2", "year": "2024", "source": "Own gym report", "title": "long against short", "design": "parallel", "arm": arm,
         "muscle": "triceps", "measure": "thickness", "unit": "mm", "n": "20", "change_mean": change, "change_sd": "1.4", "obtained": "invented"}
        for arm, change in (("long", "3.1"), ("short", "2.0"))
    ]  # fmt: skip
    rows.append(
        {"study": "OWN2", "arm": "long", "versus": "short", "muscle": "triceps", "claims": "long_length", "obtained": "invented"}
    )
    before = page.request.get(f"{address}/api/claims/long_length").json()["n_study"]
    stored = page.request.post(
        f"{address}/api/studies", data=json.dumps({"rows": rows}), headers={"content-type": "application/json"}
    )
    assert stored.status == 201, stored.text()
    assert page.request.get(f"{address}/api/claims/long_length").json()["n_study"] == before + 1
    assert (data_folder / "studies.json").exists()
    # Taken back, else all that studies decide is worked out anew for the tests after this one.
    assert page.request.delete(f"{address}/api/studies/OWN2").status == 200
    assert page.request.get(f"{address}/api/claims/long_length").json()["n_study"] == before


def test_units_and_colours_are_kept(open_page: Open):
    page = open_page("/lift/standing_calf_raise")
    page.locator(".masthead summary").first.click()
    page.select_option("#units", "imperial")
    page.select_option("#theme", "dark")
    page.click("text=Use this body")
    page.wait_for_selector("html[data-theme=dark] #lift-answer .big-numbers")
    assert "/lift/standing_calf_raise" in page.url
    assert " lb" in page.locator("#lift-answer").inner_text()
    assert page.locator("#body-mass").input_value() == "165.3"


def test_the_library_is_found_while_typing(open_page: Open):
    page = open_page("/lift")
    arrived(page)
    page.fill("#find", "nordic")
    assert "found" in page.locator("#found").inner_text()
    page.fill("#find", "zzzz")
    assert page.locator("#none-found").is_visible()


def test_everything_is_reached_by_keyboard(open_page: Open):
    page = open_page("/lift/standing_calf_raise")
    settled(page)
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "main"


def test_paper_leaves_out_what_cannot_be_pressed(open_page: Open):
    page = open_page("/lift/standing_calf_raise")
    settled(page)
    page.emulate_media(media="print")
    assert not page.locator(".masthead").is_visible()
    assert not page.locator("#setup-usual").is_visible()


def test_a_phone_shows_one_part_of_a_lift_at_a_time(open_page: Open):
    """Tabs work by tap and arrow key, and the link for skipping shows what it leads to; a laptop has no tabs and every part."""
    page = open_page("/lift/standing_calf_raise", "phone")
    page.wait_for_selector("[role=tab]")
    parts = ("figure", "curves", "answer", "cautions")

    def shown() -> list[str]:
        return [p for p in parts if page.locator(f"#part-{p}").is_visible()]

    assert shown() == ["figure"]
    page.click("#tab-curves")
    assert shown() == ["curves"]
    page.keyboard.press("ArrowRight")
    assert shown() == ["answer"] and page.evaluate("document.activeElement.id") == "tab-answer"
    page.keyboard.press("ArrowRight")
    page.evaluate("document.querySelector('.skip[href=\"#lift-answer\"]').click()")
    assert shown() == ["answer"]
    page.set_viewport_size({"width": 1400, "height": 900})
    until(page, lambda: shown() == list(parts) and not page.locator(".lift-tabs").is_visible())


def test_how_far_toes_turn_out_is_said_in_degrees(open_page: Open):
    """8 cm aside over the 22.7 cm from heel to toes of the usual body: asin(8 / 22.7) is 21 degrees."""
    page = open_page("/lift/back_squat")
    until(page, lambda: page.locator("output[for=set-toe_out_cm]").inner_text() != "")
    assert page.locator("output[for=set-toe_out_cm]").inner_text() == "21°"


def test_names_in_a_wide_table_break_between_words_on_a_phone(open_page: Open):
    """A lift's name of three words takes three lines beside seven numbers; it took a line for every other letter."""
    page = open_page("/", "phone")
    lines = page.evaluate("""() => {
      const row = '<th scope="row">Overhead rope extension</th>' + '<td class="n">53.5 kg</td>'.repeat(7);
      const table = `<div class="scroll"><table><tbody><tr>${row}</tr></tbody></table></div>`;
      document.querySelector("main").insertAdjacentHTML("beforeend", table);
      const name = [...document.querySelectorAll(".scroll th")].at(-1), words = document.createRange();
      words.selectNodeContents(name);
      return new Set([...words.getClientRects()].map((r) => Math.round(r.top))).size;
    }""")
    assert lines <= 3
