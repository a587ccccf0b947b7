"""How quickly the pages come: first paint, figure, its bones and muscles, frames while it moves, a changed set-up, a joint's strength, the longest table, a new person's body.

Seconds and milliseconds beside what is asked of each, on the served workbench in Debian's Chromium and, where the server alone counts,
as processor time of an application of one's own. The best of some tries, since others may use the machine.

    python bench/pages.py
"""

import shutil
import sys
import tempfile
import time
from collections.abc import Callable, Iterable
from contextlib import closing
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright
from rich.console import Console
from rich.table import Table
from starlette.testclient import TestClient

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.web.app import create_app

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))
sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "web"))
from browsing import followed, settled
from gym_server import serving
from here import HERE

TRIES = 4
BROWSERS = ("chromium-headless-shell", "chromium", "chromium-browser")
FLAGS = ["--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--disable-gpu-compositing"]
PAINT = "performance.getEntriesByName('first-contentful-paint')[0].startTime / 1000"
FIGURE = "Number(document.querySelector('lw-figure').dataset.readyMs) / 1000"
DRESSED = "Number(document.querySelector('lw-figure').dataset.dressedMs) / 1000"
FRAMES = """(what) => new Promise((done) => {
  const view = document.querySelector('lw-figure .figure-view canvas'), empty = document.createElement('canvas');
  [empty.width, empty.height] = [view.width, view.height];
  if (what === 'empty') view.replaceWith(empty);
  const gl = what === 'empty' ? empty.getContext('webgl2') : undefined, from = performance.now();
  let n = 0;
  const frame = (now) => {
    if (gl) { gl.clearColor(n % 2, 0, 0, 1); gl.clear(gl.COLOR_BUFFER_BIT); }
    n += 1;
    if (now - from < 3000) requestAnimationFrame(frame); else done(n / (now - from) * 1000);
  };
  if (!gl) document.querySelector('lw-figure [data-play]').click();
  requestAnimationFrame(frame);
})"""
"""Frames a second of the figure in motion, or of a canvas of its size on which nothing is drawn."""
LEAST_SHARE = 0.5
"""Of an empty canvas's frames, those that a figure in motion is to reach (own choice)."""
MOVED = """() => { const s = document.querySelector('[data-criterion=time]'); s.value = 5;
  s.dispatchEvent(new Event('input', {bubbles: true})); return Number(document.body.dataset.drawnMs) / 1000; }"""


def processor_s(work: Callable[[], object]) -> float:
    """Processor time of this process for one piece of work [s]."""
    began = time.process_time()
    work()
    return time.process_time() - began


def asked(client: TestClient, paths: Iterable[str]) -> float:
    """The quickest of some addresses [s of the processor]."""
    return min(processor_s(lambda path=path: client.get(path).raise_for_status()) for path in paths)


def of_the_server() -> dict[str, tuple[float, float]]:
    """What was measured of the server alone, and what is asked [s]."""
    client = TestClient(create_app({"testserver"}), client=HERE)
    set_up = "/api/lifts/overhead_cable_extension_one_arm/motion?positions=21&setup=pulley_height_cm={}"
    bent = "/api/strength?angle=shoulder_flexion&at=shoulder_flexion={0} elbow_flexion={0}"
    rows = [f"{0.3 + 0.01 * (i % 37)},{0.02 + 0.001 * (i % 53)},s{i},{i % 19}" for i in range(200)]
    table = {"text": "\n".join(["yi,vi,study,x", *rows]), "moderator": "x", "prior": "0.5", "test": "hk"}
    body_of(Person())
    return {
        "a changed set-up": (asked(client, (set_up.format(p) for p in range(40, 70, 3))), 0.15),
        "a joint's strength": (asked(client, (bent.format(b) for b in range(20, 120, 10))), 0.1),
        "the longest table pooled": (processor_s(lambda: client.post("/evidence/pool", data=table).raise_for_status()), 1.0),
        "a new person's body": (processor_s(lambda: body_of(Person(sex="woman", stature_m=1.663, mass_kg=61.3))), 0.1),
    }


def opened(browser: Browser, address: str) -> tuple[float, float, float]:
    """First paint, figure, and its bones and muscles, of a lift's page in a window of its own [s]."""
    with closing(browser.new_context(reduced_motion="reduce")) as window:
        page = followed(window.new_page())
        page.goto(f"{address}/lift/standing_calf_raise")
        settled(page)
        page.wait_for_selector("lw-figure[data-dressed=yes]", timeout=120_000)
        return float(page.evaluate(PAINT)), float(page.evaluate(FIGURE)), float(page.evaluate(DRESSED))


def frames(browser: Browser, address: str) -> tuple[float, float]:
    """Frames a second of a figure in motion, and of an empty canvas in its place."""
    with closing(browser.new_context(reduced_motion="reduce")) as window:
        page = followed(window.new_page())
        page.goto(f"{address}/lift/standing_calf_raise")
        page.wait_for_selector("lw-figure[data-whole=yes]", timeout=120_000)
        return float(page.evaluate(FRAMES, "figure")), float(page.evaluate(FRAMES, "empty"))


def of_the_pages() -> dict[str, tuple[float, float]]:
    """What was measured in the browser, and what is asked [s]."""
    with tempfile.TemporaryDirectory() as folder, serving(Path(folder)) as address, sync_playwright() as play:
        browser = play.chromium.launch(executable_path=next(filter(None, map(shutil.which, BROWSERS)), None), args=FLAGS)
        paints, figures, dressed = zip(*(opened(browser, address) for _ in range(TRIES)), strict=True)
        moving, empty = frames(browser, address)
        page = browser.new_page(reduced_motion="reduce")
        page.goto(f"{address}/choose?muscle=tibialis")
        page.wait_for_selector("#choose-list li", timeout=120_000)
        moved = min(float(page.evaluate(MOVED)) for _ in range(TRIES))
        browser.close()
    print(f"Frames a second: {moving:.1f} of the figure in motion, {empty:.1f} of an empty canvas.")
    return {
        "first paint": (min(paints), 0.5), "figure": (min(figures), 1.5), "bones and muscles": (min(dressed), 1.5),
        "order after a moved weight": (moved, 0.1), "an empty canvas's frame, of the figure's": (empty / moving, 1 / LEAST_SHARE),
    }  # fmt: skip


def main() -> None:
    """Print the table."""
    table = Table("what", "measured [s]", "asked [s]")
    for what, (found, most) in {**of_the_pages(), **of_the_server()}.items():
        table.add_row(what, f"{found:.3f}", f"{most:g}", style="" if found <= most else "red")
    Console().print(table)


if __name__ == "__main__":
    main()
