"""Whole: the invented gym is kept, reviewed, answered and drawn; answers are plain JSON and nothing changes by itself."""

import json
from datetime import date

import pytest
from matplotlib.text import Text

from kept_gym import share_computed
from lengthwise.errors import InputError, NoSolutionError, UnknownNameError
from lengthwise.known.evidence import save_pictures
from lengthwise.planning.changed import changed_week
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.quantities import estimate, percent
from lengthwise.questions.answering import demo, sheets
from lengthwise.questions.answering import reviewing as actions
from lengthwise.questions.answers import encode
from lengthwise.report.sheet_progress import progress_sheet
from lengthwise.report.trend_figures import NARROW_IN, pictures
from lengthwise.report.typeset import pdf
from lengthwise.storage.client_rows import load_client
from lengthwise.training.demo_gym import truths
from lengthwise.training.proposal import Change

TODAY = date(2025, 6, 4)


@pytest.fixture(scope="module")
def gym(tmp_path_factory, computed):
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("LENGTHWISE_DATA", str(share_computed(tmp_path_factory.mktemp("gym"), computed)))
        patch.delenv("LENGTHWISE_DATABASE", raising=False)
        yield demo.seed_demo(TODAY)


def record(name):
    with actions.store().reading() as db:
        return load_client(db, name).client


def test_the_gym_is_kept_whole_and_only_once(gym):
    assert len(gym["clients"]) == len(truths()) == 6
    assert all(row["sets"] > 100 for row in gym["clients"])
    with pytest.raises(InputError, match="already exists"):
        demo.seed_demo(TODAY)


def test_every_client_is_reviewed_in_plain_json_with_the_agreed_keys(gym):
    for row in gym["clients"]:
        answer = json.loads(json.dumps(encode(actions.review_client(row["name"], TODAY)), allow_nan=False))
        assert {"lifts", "measurements", "proposals"} <= answer.keys()
        assert {"lift", "e1rm_kg", "e1rm_interval", "p_rising"} <= answer["lifts"][0].keys()
        for p in answer["proposals"]:
            assert {"kind", "what", "why", "claim"} <= p.keys()
        assert answer["weeks"][-1]["planned"]["muscles"]


def test_looking_changes_nothing_and_a_refusal_only_rests_the_proposal(gym):
    before = record("Mara")
    found = actions.review_client("Mara", TODAY)
    assert record("Mara") == before
    if found.proposals:
        decided = actions.decide("Mara", actions.Answers(refuse=(1,), by="coach"), TODAY)
        assert decided.week is None
        assert record("Mara") == before


def test_an_accepted_proposal_changes_the_record_and_the_next_week_through_the_planner(gym, monkeypatch):
    """The planner itself is tested elsewhere; here, that it gets the changed record and the last week to stay near to."""
    asked = []

    def planner(client, changes, _progress, _past):
        asked.append((client, changes.last))
        return Week(days=(PlannedDay("monday", "gym", 60, ()),), weekly_sets={}, muscle_sets={}, value=1.0, gap=0.0)

    monkeypatch.setattr(actions, "plan_week", planner)
    monkeypatch.setattr(actions, "ranked_for", lambda *_: {})
    found = actions.review_client("Henrik", TODAY)
    assert found.proposals[0].kind == "see_clinician"
    decided = actions.decide("Henrik", actions.Answers(accept=(1,)), TODAY)
    (client, last) = asked[0]
    assert client.sore_joints["shoulder"] == 0.0 and last is not None
    assert record("Henrik") == client
    assert decided.monday == date(2025, 6, 9)
    again = actions.review_client("Henrik", TODAY)
    assert all(p.key != decided.accepted[0].key for p in again.proposals)


def test_a_week_that_cannot_be_planned_is_told_and_the_answer_kept(gym, monkeypatch):
    def planner(*_):
        raise NoSolutionError("no lift is left")

    monkeypatch.setattr(actions, "plan_week", planner)
    monkeypatch.setattr(actions, "ranked_for", lambda *_: {})
    if actions.review_client("Tomasz", TODAY).proposals:
        decided = actions.decide("Tomasz", actions.Answers(accept=(1,)), TODAY)
        assert decided.week is None
        assert "no lift is left" in decided.note


def test_numbers_that_do_not_exist_and_names_nobody_has_are_told(gym):
    with pytest.raises(InputError, match="allowed numbers 1 to"):
        actions.decide("Mara", actions.Answers(accept=(99,)), TODAY)
    with pytest.raises(UnknownNameError):
        actions.review_client("Nobody", TODAY)


def test_pictures_are_made_for_lifts_volume_pain_and_growth(gym, tmp_path):
    files = save_pictures(pictures(actions.review_client("Henrik", TODAY)), tmp_path)
    names = {f.stem for f in files}
    assert {"volume", "pain"} <= names
    assert any(n.startswith("strength_") for n in names) and any(n.startswith("growth_") for n in names)
    assert all(f.read_bytes()[:4] == b"\x89PNG" for f in files)


def test_a_narrow_picture_keeps_letters_as_large_and_within_its_frame(gym):
    """Shown 3.6 inches wide as on a phone, 8.5 points are 11 pixels of a page; a picture of 8 inches had a third of that."""
    for picture in pictures(actions.review_client("Henrik", TODAY), {"hip_thrust": "Hip thrust"}, NARROW_IN):
        picture.png(72)
        figure = picture.figure
        said = [text for text in figure.findobj(Text) if text.get_visible() and text.get_text()]
        assert figure.get_size_inches()[0] == NARROW_IN and min(text.get_fontsize() for text in said) >= 8
        for text in (figure._supxlabel, *(ax.title for ax in figure.axes), *(legend for legend in figure.legends)):
            box = text.get_window_extent()
            assert box.x0 >= 0 and box.x1 <= figure.bbox.x1 + 1, (picture.name, text)


def test_strength_is_drawn_in_the_clients_unit(gym):
    """A pound is 0.45359237 kg by definition (international yard and pound agreement, 1959)."""
    found = actions.review_client("Henrik", TODAY)
    kg, lb = (next(p for p in pictures(found, unit=unit) if p.name.startswith("strength_")) for unit in ("kg", "lb"))
    axes = [p.figure.axes[0] for p in (kg, lb)]
    assert [ax.get_ylabel() for ax in axes] == ["estimated 1RM [kg]", "estimated 1RM [lb]"] and " lb" in lb.sentence
    for ours, theirs in zip(*(ax.lines for ax in axes), strict=True):
        assert theirs.get_ydata() == pytest.approx(ours.get_ydata() / 0.45359237)


def test_girths_are_told_in_the_clients_unit_on_pages_and_paper(gym, text_of):
    """An inch is 2.54 cm by definition (international yard and pound agreement, 1959)."""
    found = actions.review_client("Mara", TODAY)
    girth = next(g for g in found.growth if g.kind == "girth" and len(g.days) > 1)
    cm, inches = (next(p for p in pictures(found, length=unit) if p.name.startswith("growth_girth")) for unit in ("cm", "in"))
    axes = [p.figure.axes[0] for p in (cm, inches)]
    assert [ax.get_ylabel() for ax in axes] == ["[cm]", "[in]"] and " in in " in inches.sentence and " cm" not in inches.sentence
    for ours, theirs in zip(*(ax.lines for ax in axes), strict=True):
        assert theirs.get_ydata() == pytest.approx(ours.get_ydata() / 2.54)
    said = " ".join(text_of(pdf(progress_sheet(found, {}, "lb", "in"))).split())
    assert f"{girth.change / 2.54:+.2f} in in" in said and f"beyond error: {girth.smallest / 2.54:.2f} in" in said
    assert " cm" not in said


def test_a_report_on_paper_carries_the_reviews_numbers_in_the_clients_unit(gym, text_of):
    found = actions.review_client("Henrik", TODAY)
    said = " ".join(text_of(pdf(sheets.progress_paper(found))).split())
    assert f"Progress of {found.name}" in said and "Up to 4 June 2025" in said
    first = found.lifts[0].trend
    assert estimate(first.e1rm.value, "kg") in said and percent(first.p_rising) in said
    for growth in found.growth:
        assert f"{growth.change:+.1f}" in said


def test_a_lighter_week_halves_sets_and_a_reserve_holds_for_its_lift_alone():
    """Hand: 4 and 3 sets become 2 and 2 (halves round to even), counted sets shrink by 4 of 7."""
    lifts = (
        PlannedLift(lift="press", range="full", name="Press", sets=4, repetitions=(8, 12), reserve=2.0),
        PlannedLift(lift="row", range="full", name="Row", sets=3, repetitions=(8, 12), reserve=2.0),
    )
    week = Week(
        days=(PlannedDay("monday", "gym", 60, lifts),), weekly_sets={"chest": 7.0}, muscle_sets={"chest": 7.0}, value=1.0, gap=0.0
    )
    lighter = changed_week(week, [Change(share=0.5)])
    assert [x.sets for x in lighter.days[0].lifts] == [2, 2]
    assert lighter.muscle_sets["chest"] == pytest.approx(4.0)
    closer = changed_week(week, [Change(lift=("press", "full"), reserve=1.0)])
    assert [x.reserve for x in closer.days[0].lifts] == [1.0, 2.0]
