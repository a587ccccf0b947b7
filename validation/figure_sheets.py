"""Pictures of 24 lifts as people meet them, four to a sheet, to be looked at one by one.

The page in light, in dark and on a phone (served here, Debian's Chromium), the card, and an invented client's week on paper.

    python validation/figure_sheets.py FOLDER [page dark phone card sheet] [lift ...]
"""

import shutil
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import closing
from io import BytesIO
from pathlib import Path

import pypdfium2
from PIL import Image
from playwright.sync_api import Browser, sync_playwright

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import LiftProfile, profile
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.questions.answering.sheets import profile_card
from lengthwise.report.lift_drawing import small_drawing
from lengthwise.report.sheet_week import WeekOnPaper, week_sheet
from lengthwise.report.typeset import pdf
from lengthwise.training.client import Client
from lengthwise.training.record_words import DayName

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "web"))
from gym_server import serving

LIFTS = (
    "back_squat", "deadlift", "rear_foot_raised_split_squat", "leg_press", "leg_extension", "lying_leg_curl", "hip_thrust",
    "standing_calf_raise", "machine_abduction", "bench_press", "incline_dumbbell_press", "push_up", "cable_fly_level", "overhead_press",
    "dumbbell_lateral_raise", "overhead_rope_extension", "preacher_curl", "barbell_row", "lat_pulldown", "pull_up", "face_pull",
    "band_pull_apart", "cable_crunch", "hanging_knee_raise",
)  # fmt: skip
"""Every part of the body and every kind of gear (own choice)."""
SCREENS = {"page": ((1280, 800), "light"), "dark": ((1280, 800), "dark"), "phone": ((390, 844), "light")}
BROWSERS = ("chromium-headless-shell", "chromium", "chromium-browser")
FLAGS = ["--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"]
DAYS: tuple[DayName, ...] = ("monday", "tuesday", "thursday", "friday")
A_DAY, A_SHEET, ACROSS = 6, 4, 2
POSITION = {"page": 0.0, "dark": 0.5, "phone": 1.0}
"""Where the lift stands in each picture, so that its start, middle and end are all looked at."""


def screens(where: str, lifts: Sequence[str]) -> Iterator[Image.Image]:
    """A lift's page as the first screen shows it."""
    (width, height), scheme = SCREENS[where]
    with tempfile.TemporaryDirectory() as folder, serving(Path(folder)) as address, sync_playwright() as play:
        found = next(filter(None, map(shutil.which, BROWSERS)), None)
        browser = play.chromium.launch(executable_path=found, args=FLAGS)
        for lift in lifts:
            yield screen(browser, f"{address}/lift/{lift}", where, (width, height), scheme)
        browser.close()


def screen(browser: Browser, address: str, where: str, size: tuple[int, int], scheme: str) -> Image.Image:
    """One page, once its figure has bones and muscles; on a phone scrolled to its figure."""
    window = {"viewport": {"width": size[0], "height": size[1]}, "color_scheme": scheme, "reduced_motion": "reduce"}
    with closing(browser.new_context(**window)) as context:
        page = context.new_page()
        page.goto(address)
        page.wait_for_selector("lw-figure[data-whole=yes]", timeout=120_000)
        if where == "phone":
            page.evaluate("document.querySelector('lw-figure').scrollIntoView({block: 'center'})")
        page.evaluate(f"document.querySelector('lw-figure').position = {POSITION[where]}")
        page.wait_for_timeout(1500)
        return Image.open(BytesIO(page.screenshot()))


def cards(lifts: Sequence[str]) -> Iterator[Image.Image]:
    """A lift's card on A4."""
    for lift in lifts:
        yield pages(pdf(profile_card(profiled(lift), Person())))[0]


def week(lifts: Sequence[str]) -> list[Image.Image]:
    """The pages of an invented client's week, as a coach prints it, on US Letter."""
    drawn = {lift: profiled(lift) for lift in lifts}
    days = [tuple(planned(lift, drawn[lift]) for lift in lifts[k : k + A_DAY]) for k in range(0, len(lifts), A_DAY)]
    made = Week(
        days=tuple(PlannedDay(d, "Harbour Street gym", 60.0, own) for d, own in zip(DAYS, days, strict=False)),
        weekly_sets={}, muscle_sets={"chest": 8.0, "quadriceps": 9.0}, value=1.0, gap=0.0,
    )  # fmt: skip
    pictures = {lift: small_drawing(found).svg().encode() for lift, found in drawn.items()}
    told = {lift: found.lift.how for lift, found in drawn.items()}
    on_paper = WeekOnPaper(client=Client(name="Ada Invented"), week=made, pictures=pictures, told=told)
    return pages(pdf(week_sheet(on_paper), "letter"))


def planned(lift: str, found: LiftProfile) -> PlannedLift:
    """Three sets of a lift with an invented load."""
    return PlannedLift(
        lift=lift, range="full", name=found.lift.name, sets=3, repetitions=(8, 12), reserve=2, load_kg=20.0,
        gear=found.lift.gear, rest_s=120.0, warm_up=((10.0, 8),),
    )  # fmt: skip


def profiled(lift: str) -> LiftProfile:
    """What a lift does on the usual body."""
    return profile(body_of(Person()), lift, built_in().lifts[lift])


def pages(made: bytes) -> list[Image.Image]:
    """A file's pages at 110 dots an inch."""
    return [page.render(scale=110 / 72).to_pil() for page in pypdfium2.PdfDocument(made)]


def together(pictures: Sequence[Image.Image]) -> Image.Image:
    """Some pictures on one sheet."""
    width, height = (max(p.size[i] for p in pictures) for i in (0, 1))
    out = Image.new("RGB", (width * min(ACROSS, len(pictures)), height * -(-len(pictures) // ACROSS)), "white")
    for n, picture in enumerate(pictures):
        out.paste(picture, (n % ACROSS * width, n // ACROSS * height))
    return out


def main() -> None:
    """Write the sheets."""
    folder, asked = Path(sys.argv[1]), sys.argv[2:]
    folder.mkdir(parents=True, exist_ok=True)
    kinds = [a for a in asked if a in (*SCREENS, "card", "sheet")] or [*SCREENS, "card", "sheet"]
    lifts = [a for a in asked if a not in kinds] or LIFTS
    for kind in kinds:
        found = list(screens(kind, lifts) if kind in SCREENS else cards(lifts) if kind == "card" else week(lifts))
        for k in range(0, len(found), A_SHEET):
            together(found[k : k + A_SHEET]).save(folder / f"{kind}_{k // A_SHEET + 1}.png")


if __name__ == "__main__":
    main()
