"""The figure of bones and muscles on its page: it comes, every muscle can be pointed at, and words say the same as colours."""

from base64 import b64decode, b64encode
from io import BytesIO

import numpy as np
import pytest
from browsing import Open, overflow, settled, until
from PIL import Image
from playwright.sync_api import Page
from web_pages import PAGES

from lengthwise.figure.shapes import parts

LARGEST_SENT, BONES_SENT = 400_000, 300_000
"""Of a lift with its first position, and of the bones, which are sent once [bytes]."""


def dressed(page: Page) -> Page:
    """The page once its figure has bones and muscles at every position."""
    settled(page)
    page.wait_for_selector("lw-figure[data-whole=yes]")
    return page


def said(page: Page) -> str:
    return page.locator(".figure-pointing output").inner_text()


@pytest.fixture
def calf_raise(open_page: Open) -> Page:
    return dressed(open_page("/lift/standing_calf_raise"))


@pytest.fixture
def painted_raise(open_page: Open) -> Page:
    """On a phone, whose window has a quarter of the pixels to paint."""
    return dressed(open_page("/lift/standing_calf_raise", "phone", painted=True))


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
    calf_raise.locator("lw-figure .figure-transport input").fill("100")
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


def test_what_is_sent_of_a_lift_is_small(open_page: Open):
    sizes = dressed(open_page("/lift/standing_calf_raise", new=True)).evaluate(
        "performance.getEntriesByType('resource').filter((r) => /api.*(solids|bones)/.test(r.name)).map((r) => r.encodedBodySize)"
    )
    assert len(sizes) in (2, 3) and sum(sizes) < LARGEST_SENT + BONES_SENT
    assert all(0 < s < LARGEST_SENT for s in sizes)


def test_the_first_page_shows_bones_and_muscles_too(open_page: Open):
    page = dressed(open_page("/"))
    assert page.locator(".figure-pointing").is_visible()


@pytest.mark.parametrize("name", ["home", "side_by_side"])
def test_figures_are_painted_without_a_complaint(open_page: Open, name: str):
    """Most tests leave the painting of triangles out (`UNPAINTED`); here the console has to stay quiet while they are drawn."""
    settled(open_page(PAGES[name], painted=True))


def test_layers_are_peeled_and_the_address_keeps_them(calf_raise: Page, open_page: Open):
    """Peeled to the deep muscles, soleus is left and gastrocnemius is not seen; the address opens the same again."""
    calf_raise.select_option("[data-layers]", "deep")
    calf_raise.select_option(".figure-pointing select", "soleus")
    calf_raise.wait_for_url("**layers=deep**muscle=soleus**")
    again = dressed(open_page("/" + calf_raise.url.split("/", 3)[3]))
    again.wait_for_selector(".figure-pointing output:has-text('Soleus')")
    assert again.locator("[data-layers]").input_value() == "deep"


def test_a_thin_skin_can_be_faded_and_the_address_keeps_it(painted_raise: Page):
    """What is seen changes with the skin, and muscles can be pointed at through it."""
    fade = painted_raise.locator("[data-fade]")
    assert not fade.is_visible()
    painted_raise.select_option("[data-layers]", "skin")
    pictures = []
    for hides in ("100", "0"):
        fade.fill(hides)
        fade.dispatch_event("change")
        painted_raise.wait_for_url(f"**skin={hides}&**")
        pictures.append(seen_now(painted_raise))
    assert (pictures[0] != pictures[1]).any(-1).mean() > 0.02
    painted_raise.select_option(".figure-pointing select", "soleus")
    assert said(painted_raise).startswith("Soleus")


def seen_now(page: Page) -> np.ndarray:
    """The figure's pixels, drawn anew."""
    text = page.evaluate("document.querySelector('lw-figure').picture(240, 320).toDataURL().split(',')[1]")
    return np.asarray(Image.open(BytesIO(b64decode(text))))


@pytest.mark.parametrize("lift", ["deadlift", "bench_press"])
def test_body_and_bar_are_wholly_in_view(open_page: Open, lift: str):
    """Nothing solid touches an edge of the picture: on a phone a long bar's ends were outside of it, and a plate stood on its lower edge."""
    page = dressed(open_page(f"/lift/{lift}", "phone", painted=True))
    alpha = seen_now(page)[..., 3]
    edges = np.concatenate([alpha[0], alpha[-1], alpha[:, 0], alpha[:, -1]])
    assert alpha.max() == 255 and edges.max() < 200


def test_at_twice_the_size_the_figure_fits_its_window(calf_raise: Page):
    """A window of 1280 × 800 zoomed to 200 % is one of 640 × 400 (WCAG 2.2, 1.4.4 and 1.4.10)."""
    calf_raise.set_viewport_size({"width": 640, "height": 400})
    until(calf_raise, lambda: overflow(calf_raise) == 0)
    view = calf_raise.locator(".figure-view").bounding_box()
    assert view is not None and view["x"] >= 0 and view["x"] + view["width"] <= 640
    assert calf_raise.locator(".figure-transport input").is_visible()


def test_a_picture_is_saved_in_every_shape(painted_raise: Page, tmp_path):
    """PNG as large as it says, read by a library of pictures; SVG whose words are text."""
    painted_raise.click(".take-along summary")
    for shape, size in (("16:9", (1920, 1080)), ("9:16", (1080, 1920))):
        painted_raise.select_option("#take-shape", shape)
        with painted_raise.expect_download() as found:
            painted_raise.click("[data-take=png]")
        found.value.save_as(tmp_path / "picture.png")
        image = Image.open(tmp_path / "picture.png")
        assert image.size == size and len(image.convert("L").getcolors() or []) > 30
    with painted_raise.expect_download() as found:
        painted_raise.click("[data-take=svg]")
    found.value.save_as(tmp_path / "picture.svg")
    assert ">Standing calf raise" in (tmp_path / "picture.svg").read_text(encoding="utf-8")


def test_the_argument_is_walked_with_arrow_keys(calf_raise: Page):
    calf_raise.click("#lift-present")
    stage = calf_raise.locator("dialog.stage")
    titles, told = [], []
    for _ in range(6):
        titles.append(stage.locator("h2").inner_text())
        told.append(stage.locator(".stage-words").inner_text())
        calf_raise.keyboard.press("ArrowRight")
    assert len(set(titles)) == 6 and titles[1] == "How long" and titles[-1] == "The answer"
    assert told[4].count("certainty") == 3, "each claim with what the studies make of it"
    calf_raise.keyboard.press("Escape")
    until(calf_raise, lambda: calf_raise.locator(".lift-figure lw-figure").count() == 1)


def test_on_a_phone_the_presented_figure_covers_no_control(calf_raise: Page):
    calf_raise.set_viewport_size({"width": 390, "height": 844})
    calf_raise.evaluate("document.querySelector('#lift-present').click()")
    for _ in range(6):
        view, control = (
            calf_raise.locator(f"dialog.stage {name}").bounding_box() for name in (".figure-view", ".figure-transport")
        )
        assert view is not None and control is not None and view["y"] + view["height"] <= control["y"] + 1
        calf_raise.keyboard.press("ArrowRight")


PLAYED = """async (data) => {
  const film = document.createElement('video');
  film.src = 'data:video/webm;base64,' + data;
  await new Promise((done, failed) => { film.onloadedmetadata = done; film.onerror = failed; });
  const seen = async (at) => {
    film.currentTime = at;
    await new Promise((done) => (film.onseeked = done));
    const ink = Object.assign(document.createElement('canvas'), { width: 960, height: 540 }).getContext('2d');
    ink.drawImage(film, 0, 0);
    return ink.getImageData(40, 60, 480, 400).data.reduce((sum, v) => sum + v, 0);
  };
  return [film.videoWidth, film.videoHeight, film.duration, await seen(0.1), await seen(2)];
}"""


def test_a_clip_plays_however_slow_the_machine(painted_raise: Page, tmp_path):
    """Chromium's own player, as a decoder from outside, finds its size, eight seconds, and another picture at the top than at the bottom."""
    painted_raise.click("text=Save…")
    with painted_raise.expect_download(timeout=240_000) as taken:
        painted_raise.click("[data-take=webm]")
    taken.value.save_as(tmp_path / "clip.webm")
    player = painted_raise.context.new_page()
    wide, tall, seconds, bottom, top = player.evaluate(PLAYED, b64encode((tmp_path / "clip.webm").read_bytes()).decode())
    player.close()
    assert (wide, tall) == (960, 540) and seconds == pytest.approx(8, abs=0.1)
    assert abs(bottom - top) > 1000
