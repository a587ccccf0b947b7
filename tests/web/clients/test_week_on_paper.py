"""The week's sheet as it is served: its code leads to the log page at the address that was asked."""

import numpy as np
import pypdfium2
import pytest
import segno
from here import HERE
from starlette.testclient import TestClient

from lengthwise.days import monday_meant
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.records.kept_weeks import keep_week
from lengthwise.records.people import client_of
from lengthwise.records.store import save_client
from lengthwise.web.app import create_app

RECORD = {
    "name": "Somebody (invented)",
    "days": [{"day": "monday", "place": "home", "minutes": 40}],
    "places": {"home": {"gear": {"body": {}}}},
    "screening": {"active_now": True},
}
LIFT = PlannedLift(lift="push_up", range="full", name="Push-up", sets=3, repetitions=(8, 12), reserve=2.0, load_kg=0.0, gear="body")


@pytest.fixture
def number(own_folder) -> int:
    """Somebody whose week is kept."""
    number = save_client(client_of(RECORD, "record"), None)
    keep_week(
        number,
        monday_meant(None),
        Week(days=(PlannedDay("monday", "home", 20.0, (LIFT,)),), weekly_sets={}, muscle_sets={}, value=0.0, gap=1.0),
    )
    return number


@pytest.mark.parametrize(
    ("address", "beside"), [("http://192.168.1.4:8610", "log on a phone"), ("http://localhost", "log on this computer")]
)
def test_the_code_on_the_sheet_is_the_link_to_the_log(number: int, address: str, beside: str, text_of):
    client = TestClient(create_app({"localhost", "192.168.1.4"}), base_url=address, client=HERE)
    made = client.get(f"/week/{number}/week.pdf")
    assert made.status_code == 200
    text = text_of(made.content)
    assert beside in text
    assert "body weight" in text
    link = f"{client.base_url}/log/{number}".replace("//log", "/log")
    assert modules_of(made.content, link).tolist() == [[bool(m) for m in row] for row in segno.make(link, error="m").matrix]


def test_the_block_of_a_kept_week_and_the_card_of_a_lift_come_as_pdf(number: int, text_of):
    client = TestClient(create_app({"localhost"}), base_url="http://localhost", client=HERE)
    block = client.get(f"/week/{number}/block.pdf")
    assert block.status_code == 200 and "lighter week" in text_of(block.content)
    assert client.get(f"/week/{number}/block.pdf?weeks=3").status_code == 422
    card = client.get("/lift/bench_press/card_letter.pdf?positions=9&repetitions=6")
    assert card.status_code == 200 and "Repetitions: 6" in text_of(card.content)
    assert client.get("/lift/no_such_lift/card_a4.pdf").status_code == 404


def modules_of(made: bytes, link: str) -> np.ndarray:
    """The dark modules of the code in the upper right corner of the first page, as a table."""
    n = len(segno.make(link, error="m").matrix)
    page = np.asarray(pypdfium2.PdfDocument(made)[0].render(scale=6).to_pil().convert("L"))
    corner = page[: page.shape[0] // 4, int(page.shape[1] * 0.74) :] < 128
    rows = first_run(corner.any(axis=1))
    columns = np.flatnonzero(corner[rows].any(axis=0))
    left, right = columns[0], columns[-1] + 1
    centres = (np.arange(n) + 0.5) / n
    y = (rows.start + centres * (rows.stop - rows.start)).astype(int)
    x = (left + centres * (right - left)).astype(int)
    return corner[np.ix_(y, x)]


def first_run(dark: np.ndarray) -> slice:
    """The first stretch of rows that is dark without a gap and as tall as a code."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], dark.astype(int), [0]))))
    runs = [slice(a, b) for a, b in zip(edges[::2], edges[1::2], strict=True)]
    return max(runs, key=lambda run: run.stop - run.start)
