"""Sheets for paper: they say what they should, page by page, in both sizes, and text never becomes markup."""

import json
from dataclasses import replace

import pypdfium2
import pytest

from lengthwise import quantities
from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.errors import InputError
from lengthwise.figure.painting import can_paint
from lengthwise.files import cache_files
from lengthwise.known import solids
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import Request, profile
from lengthwise.planning.week import HalfOffer, PlannedDay, PlannedLift, Week
from lengthwise.questions.answering import sheets
from lengthwise.report.lift_drawing import small_drawing
from lengthwise.report.sheet_lift import lift_sheet, set_up_value
from lengthwise.report.sheet_week import WeekOnPaper, week_sheet
from lengthwise.report.typeset import pdf
from lengthwise.training.client import Client
from lengthwise.training.load_notes import ONLY, STOP
from lengthwise.training.prescription import Prescription, Tempo, WarmUpSet

A4_PT, LETTER_PT = (595.28, 841.89), (612.0, 792.0)
"""ISO 216 A4 (210 x 297 mm) and US Letter (8.5 x 11 in) in points of 1/72 inch."""
LIFTS = ("bench_press", "incline_dumbbell_curl")
HALF = HalfOffer("bench_press", "Barbell bench press", 0.8, "from the chest to half-way", "only with a spotter")


@pytest.fixture(scope="module")
def drawn():
    body, lifts = body_of(Person()), built_in().lifts
    return {i: profile(body, i, lifts[i], Request(n_pos=5)) for i in LIFTS}


@pytest.fixture(scope="module")
def made(drawn):
    """An invented client's week of one day."""
    lifts = [
        PlannedLift(
            lift=i,
            range="full",
            name=drawn[i].lift.name,
            sets=3,
            repetitions=(8, 12),
            reserve=2,
            load_kg=40.0,
            guess=k == 0,
            pair=1,
        )
        for k, i in enumerate(LIFTS)
    ]
    week = Week(
        days=(PlannedDay("monday", "Harbour Street gym", 40, tuple(lifts)),),
        weekly_sets={},
        muscle_sets={"chest": 3.0, "biceps": 3.4},
        value=1.0,
        gap=0.0,
        long_halves=(HALF,),
    )
    pictures, told = {i: small_drawing(p).svg().encode() for i, p in drawn.items()}, {i: p.lift.how for i, p in drawn.items()}
    how = {
        (i, "full", 40.0): Prescription(
            lift=i,
            range="full",
            load_kg=40.0,
            guess=True,
            repetitions=(8, 12),
            reserve=2,
            rest_s=150,
            tempo=Tempo(2, 0, 1),
            warm_up=(WarmUpSet(20, 8),),
            cautions=("shoulder: keep the elbows in",),
        )
        for i in LIFTS
    }
    client = Client(name="Ada #strong[Quill]", mass_unit="lb")
    return WeekOnPaper(client=client, week=week, prescribed=how, pictures=pictures, told=told, link="http://127.0.0.1:8000/log")


@pytest.fixture(scope="module")
def week(made):
    return week_sheet(made)


@pytest.fixture(scope="module")
def week_pdf(week):
    return pdf(week)


@pytest.fixture(scope="module")
def card(drawn):
    return lift_sheet(drawn["bench_press"], "a man")


@pytest.mark.parametrize(("paper", "size"), [("a4", A4_PT), ("letter", LETTER_PT)])
def test_a_sheet_has_the_paper_asked_for(card, paper, size):
    page = pypdfium2.PdfDocument(pdf(card, paper))[0]
    assert page.get_size() == pytest.approx(size, abs=0.5)


def test_a_paper_that_is_not_offered_is_refused(card):
    with pytest.raises(InputError, match="paper 'a3'; allowed a4, letter"):
        pdf(card, "a3")


def test_a_card_says_how_what_works_and_what_to_take_care_of(drawn, card, text_of):
    found = drawn["bench_press"]
    said = " ".join(text_of(pdf(card)).split())
    for text in (found.lift.name, found.lift.how, found.lift.ranges["long"].cue, found.lift.spotting, "middle chest"):
        assert " ".join(text.split()) in said
    m = found.heads["pectoralis_major_sternal"].measures
    assert f"{m.loaded_length:.2f}" in said


def test_a_week_carries_loads_in_the_clients_unit_and_room_to_write(week_pdf, text_of):
    said = text_of(week_pdf)
    for text in (
        "Monday",
        "Harbour Street gym",
        "88.2 lb (guess)",
        "88.2 lb",
        "8–12",
        "alternate with",
        "8 × 44.1 lb",
        "2 min 30 s",
    ):
        assert text in said, text
    assert said.count("reps") == 2, "a table to write in for each lift"


def test_a_week_offers_its_long_halves_with_what_makes_them_safe(week_pdf, text_of):
    said = " ".join(text_of(week_pdf).split())
    assert HALF.sentence in said and "do not agree" in said


def test_names_are_set_as_they_stand(week_pdf, text_of):
    """Markup in a client's name is text, not a command."""
    assert "Ada #strong[Quill]" in text_of(week_pdf)


def test_each_caution_stands_once_with_its_lifts(week_pdf, drawn, text_of):
    said = " ".join(text_of(week_pdf).split())
    names = ", ".join(drawn[i].lift.name for i in LIFTS)
    assert f"{names}: shoulder: keep the elbows in" in said
    assert said.count("keep the elbows in") == 1


def test_sheets_are_tagged_and_titled(week_pdf):
    document = pypdfium2.PdfDocument(week_pdf)
    assert document.get_metadata_dict()["Title"] == "Week of Ada #strong[Quill]"
    assert document.is_tagged()


def test_pounds_are_exact():
    """The pound of 1959: 0.45359237 kg."""
    assert quantities.mass(0.45359237 * 225, "lb") == "225 lb"


def test_nothing_is_written_under_a_wrong_ending(card, tmp_path):
    with pytest.raises(InputError, match=r"allowed ending \.pdf"):
        sheets.write_pdf(card, tmp_path / "card.doc", "a4")
    assert not list(tmp_path.iterdir())


def test_a_lift_is_drawn_once_for_all_sheets(tmp_path, monkeypatch):
    """Drawings took nearly all of a sheet's 17 s of processor time; every client of a sex shares them."""
    monkeypatch.setattr(solids, "cache_folder", lambda: tmp_path)
    monkeypatch.setattr(cache_files, "cache_folder", lambda: tmp_path)
    drawn, first = [], solids.small_drawing
    monkeypatch.setattr(solids, "small_drawing", lambda found: drawn.append(found.lift_id) or first(found))
    one, again = (solids.small_drawing_kept("woman", "bench_press") for _ in range(2))
    assert one == again and one.lstrip().startswith(b"<svg") and len(drawn) <= (1 if can_paint() else 2)


def test_easy_sets_are_told_from_hard_ones_and_no_muscle_is_left_out(made):
    """A client must not take sets that end at the first pain for hard ones; names are those of the screen."""
    day = made.week.days[0]
    gentle = replace(day, lifts=(replace(day.lifts[0], gentle=True), *day.lifts[1:]))
    sheet = week_sheet(replace(made, week=replace(made.week, days=(gentle,), muscle_sets={"deltoid_middle": 0.2})))
    assert "6 sets, 3 of them easy" in sheet.content["line"]
    far = replace(day, lifts=(replace(day.lifts[0], reserve=5.0), *day.lifts[1:]))
    sheet = week_sheet(replace(made, week=replace(made.week, days=(far,), muscle_sets={"deltoid_middle": 0.2})))
    assert "6 sets, 3 of them easy" in sheet.content["line"], "a set that leaves five is no hard one"
    assert sheet.content["muscles"] == [{"name": "side deltoid (deltoid middle)", "sets": "0.2"}]


def test_what_holds_for_several_lifts_is_said_once_on_paper(made):
    """A coach read the same warning under every lift: said once at the top, beside the lift only what is its own."""
    stops = {i: f"At most 75% of the usual load for the sake of the knee. {ONLY} {STOP}" for i in LIFTS}
    how = {
        key: replace(p, notes=("Loads of the barbell are not on record; usual ones are assumed.",))
        for key, p in made.prescribed.items()
    }
    told = week_sheet(replace(made, stops=stops, prescribed=how)).content
    said = json.dumps(told, ensure_ascii=False)
    assert said.count(STOP) == said.count("are not on record") == 1
    assert {row["stop"] for day in told["days"] for row in day["lifts"]} == {
        "At most 75% of the usual load for the sake of the knee."
    }


def test_a_count_of_sets_alone_takes_no_page_of_its_own(made):
    """Where neither cautions nor long halves are left to say, the count stands on the last day's page."""
    quiet = replace(made, week=replace(made.week, long_halves=()), prescribed={})
    paper = pypdfium2.PdfDocument(pdf(week_sheet(quiet)))
    assert len(paper) == len(quiet.week.days)
    assert "Sets that count this week" in paper[len(paper) - 1].get_textpage().get_text_range()


def test_a_set_up_is_told_in_the_readers_unit():
    """64 cm are 25.2 inches of 2.54 cm (international yard and pound agreement, 1959); toes turn by an angle in either."""
    bench, squat = (built_in().lifts[i].setup for i in ("bench_press", "back_squat"))
    assert set_up_value("grip_cm", bench["grip_cm"], 26.0).startswith("64 cm (40 to ")
    assert set_up_value("grip_cm", bench["grip_cm"], 26.0, ("lb", "in")).startswith("25 in (15.7 to ")
    toes = squat["toe_out_cm"]
    assert set_up_value("toe_out_cm", toes, 26.0) == set_up_value("toe_out_cm", toes, 26.0, ("lb", "in")) == "21° (5 to 35°)"
