"""Reviews: what is proposed follows from the log, with reason and claim, and nothing dangerous is added."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from lengthwise.errors import InputError
from lengthwise.evidence.claims import starter_library
from lengthwise.training.accepted_changes import changed_client
from lengthwise.training.client import Client
from lengthwise.training.demo_gym import WEEKS, truths
from lengthwise.training.findings import Alternative, FollowedLifts, HeldBack, History
from lengthwise.training.growth import MeasuredGrowth
from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.measurement_error import typical_error
from lengthwise.training.proposal import Change
from lengthwise.training.review import ReviewQuestion, review
from lengthwise.training.scenario import simulate
from lengthwise.training.volume import Counting, PlannedSets, PlannedVisit, WeekOfPlan

FIRST = date(2025, 1, 6)
END = FIRST + timedelta(days=7 * WEEKS)
ANNA = Client(name="Anna (invented)", training="recreational")


def catalogue(truth):
    keys = {(x.lift, "full"): x.muscle for x in truth.lifts}
    muscles = set(keys.values())
    ranked = {m: (Alternative(f"other_{m}", "full", f"Other for {m}", 0.8),) for m in muscles}
    return FollowedLifts(counting=Counting({k: {m: 1.0} for k, m in keys.items()}, {m: {m: 1.0} for m in muscles}), ranked=ranked)


def reviewed(name, answered=None, seed=1):
    truth = truths()[name]
    made = simulate(truth, FIRST, WEEKS, np.random.default_rng(seed))
    history = History(ANNA, made.sessions, made.measurements, made.planned)
    return review(history, catalogue(truth), ReviewQuestion(as_of=END, answered=answered or {}))


def flat(weeks=16, reserve=2.0, pain=(), muscle="chest"):
    """The same three sets twice a week, for ever."""
    sets = tuple(LoggedSet(lift="press", load_kg=60, repetitions=8, reserve=reserve, pain=pain) for _ in range(3))
    sessions = tuple(Session(day=FIRST + timedelta(days=7 * w + d), sets=sets) for w in range(weeks) for d in (0, 3))
    found = FollowedLifts(
        names={"press": "Press"},
        counting=Counting({("press", "full"): {muscle: 1.0}}, {muscle: {muscle: 1.0}}),
        ranked={muscle: (Alternative("fly", "full", "Fly", 0.7),)},
    )
    return History(ANNA, sessions), found, ReviewQuestion(as_of=FIRST + timedelta(days=7 * weeks))


def test_every_invented_client_is_reviewed_and_every_proposal_has_reason_numbers_and_a_known_claim():
    claims = starter_library().claims
    for name in truths():
        for p in reviewed(name).proposals:
            assert len(p.what) > 10 and len(p.why) > 20
            assert p.claim in claims or "common practice" in p.why or "study" in p.why or p.kind == "see_clinician"
            assert p.numbers or p.kind == "see_clinician"


def test_a_press_that_never_moves_stalls_and_first_gets_more_sets():
    found = review(*flat())
    assert found.lifts[0].state == "stalled"
    (one,) = found.proposals
    assert (one.kind, one.claim, one.change) == ("more_sets", "weekly_sets", Change(muscle="chest", sets=2))


def test_sets_far_from_failure_are_brought_closer_before_more_are_added():
    history, found, question = flat(reserve=4.0)
    (one,) = review(history, found, question).proposals
    assert (one.kind, one.claim) == ("reserve", "close_to_failure")


def test_a_muscle_at_the_top_of_its_band_gets_no_more_sets():
    """The week that follows keeps to 6 to 12 sets of a recreational lifter: a review asks for none beyond."""
    history, found, question = flat()
    twelve = tuple(replace(s, sets=s.sets * 2) for s in history.sessions)
    assert "more_sets" not in {p.kind for p in review(History(ANNA, twelve), found, question).proposals}


def test_a_plan_that_holds_more_than_is_done_is_done_before_it_changes():
    """Eight sets planned and six done: the next week has its eight, and the review asks for no two more than six."""
    history, found, question = flat()
    visit = PlannedVisit(40.0, (PlannedSets("press", "full", 4, 2.0, "chest"),))
    weeks = tuple(WeekOfPlan(FIRST + timedelta(weeks=w), (visit, visit)) for w in range(16))
    looked = review(History(ANNA, history.sessions, (), weeks), found, question)
    assert looked.kept.share == pytest.approx(0.75) and looked.proposals == ()
    assert any(note.startswith("Chest: 8 sets a week were planned and 6 done") for note in looked.notes)


@pytest.mark.parametrize(("done", "asked"), [(1, True), (2, False)])
def test_only_a_muscle_below_its_band_gets_more_sets_for_a_tape_that_shows_no_change(monkeypatch, done, asked):
    """Two sets a week against twelve, in a band of 6 to 12, beside one arm that should have grown."""
    history, found, question = flat(muscle="biceps")
    arm = MeasuredGrowth(
        kind="girth", site="upper_arm", side="", days=(), means=(), change=0.5, error=0.3, smallest=0.6, weeks=16, method="",
        verdict="no change seen", expected=0.8, expected_people=None, weeks_to_tell=None, typical=typical_error("girth", "upper_arm", 35.0),
    )  # fmt: skip
    monkeypatch.setattr("lengthwise.training.review.growth", lambda measured: (arm,))
    sessions = tuple(replace(s, sets=s.sets[:1] if done == 1 else s.sets * 2) for s in history.sessions)
    rising = tuple(replace(s, sets=tuple(replace(x, load_kg=60 * 1.01**i) for x in s.sets)) for i, s in enumerate(sessions))
    kinds = {p.kind for p in review(History(ANNA, rising), found, question).proposals}
    assert ("more_sets" in kinds) == asked


def test_an_answered_proposal_rests_and_the_next_option_is_tried():
    history, found, question = flat()
    again = ReviewQuestion(as_of=question.as_of, answered={"more_sets:chest": question.as_of - timedelta(days=7)})
    (one,) = review(history, found, again).proposals
    assert (one.kind, one.change.to) == ("swap_lift", ("fly", "full"))
    long_ago = ReviewQuestion(as_of=question.as_of, answered={"more_sets:chest": question.as_of - timedelta(days=60)})
    assert review(history, found, long_ago).proposals[0].kind == "more_sets"


def test_lasting_pain_sends_to_a_clinician_and_adds_nothing_there():
    """Safety: a stalled lift that hurts never gets more sets, closer failure or another range."""
    found = review(*flat(pain=("shoulder",)))
    assert [p.kind for p in found.proposals] == ["see_clinician"]
    assert found.proposals[0].change == Change(joint="shoulder")
    assert reviewed("henrik").proposals[0].kind == "see_clinician"


def test_a_plan_that_was_not_kept_is_not_blamed_on_the_muscle():
    found = reviewed("tomasz")
    assert found.kept.share < 0.7
    assert not any(p.kind == "more_sets" for p in found.proposals)
    assert any("not really tried" in note for note in found.notes)


def test_what_comes_after_the_day_is_not_looked_at_and_an_empty_log_is_told():
    history, found, _ = flat()
    early = review(history, found, ReviewQuestion(as_of=FIRST + timedelta(days=20)))
    assert max(d.day for f in early.lifts for d in f.trend.history.days) <= FIRST + timedelta(days=20)
    with pytest.raises(InputError, match="nothing is logged"):
        review(history, found, ReviewQuestion(as_of=FIRST - timedelta(days=1)))


def test_accepted_changes_that_last_are_in_the_record_and_others_are_not():
    """Nothing else of the record moves."""
    changes = (
        Change(muscle="chest", sets=2),
        Change(lift=("press", "full"), to=("fly", "full")),
        Change(joint="shoulder"),
        Change(share=0.5),
    )
    after = changed_client(ANNA, changes, {"chest": 6.0})
    assert after.wishes.weekly_sets == {"chest": (7.0, 9.0)}
    assert after.wishes.refused == ("press",)
    assert after.wishes.liked == ("fly",)
    assert after.sore_joints == {"shoulder": 0.0}
    assert changed_client(ANNA, (Change(share=0.5),), {}) == ANNA
    assert changed_client(ANNA, (Change(lift=("press", "full"), to=("fly", "full"), rests=True),), {}) == ANNA, (
        "it rests after pain"
    )


def test_pain_once_is_a_question_and_never_nothing_to_change():
    history, found, question = flat(weeks=6)
    hurt = tuple(LoggedSet(lift="press", load_kg=60, repetitions=8, reserve=2, pain=("knee",)) for _ in range(3))
    once = History(ANNA, (*history.sessions, Session(day=question.as_of - timedelta(days=1), sets=hurt)))
    asked = [p for p in review(once, found, question).proposals if p.kind == "ask_about_pain"]
    assert len(asked) == 1 and "knee" in asked[0].what and "clinician" in asked[0].why and asked[0].change is None
    told = review(once, found, question).pain.joints[0].told({"press": "Press"})
    assert told.startswith("knee: on 1 of") and "Press (3 of" in told


def falling(*days_that_hurt, joint="hip"):
    """A lift that loses 4 % a week, and pain of the last week in another one that loads the same joint."""
    sessions = [
        Session(
            day=FIRST + timedelta(days=7 * w + d),
            sets=(LoggedSet(lift="press", load_kg=80 * 0.96**w, repetitions=8, reserve=2),) * 3,
        )
        for w in range(12)
        for d in (0, 3)
    ]
    hurt = [
        Session(
            day=FIRST + timedelta(days=7 * 12 - ago), sets=(LoggedSet(lift="squat", load_kg=60, repetitions=8, pain=(joint,)),) * 3
        )
        for ago in days_that_hurt
    ]
    keys = {("press", "full"): "chest", ("squat", "full"): "glutes"}
    counting = Counting({k: {m: 1.0} for k, m in keys.items()}, {m: {m: 1.0} for m in keys.values()}, keys)
    found = FollowedLifts(
        names={"press": "Press", "squat": "Squat"},
        counting=counting,
        ranked={"chest": (Alternative("fly", "full", "Fly", 0.7),)},
        loads={"press": frozenset({"shoulder", "hip"}), "squat": frozenset({"hip"})},
    )
    return History(ANNA, (*sessions, *hurt)), found, ReviewQuestion(as_of=FIRST + timedelta(weeks=12))


def test_a_load_that_the_plan_lowered_is_no_strength_lost():
    """Nothing is proposed for it, and no lighter week either."""
    history, found, question = falling()
    fell = review(history, found, question)
    assert fell.lifts[0].state == "falling" and fell.proposals
    held = review(history, found, replace(question, held=HeldBack(frozenset({"press"}))))
    assert held.lifts[0].state == "held back" and held.proposals == ()


def test_nothing_is_added_for_a_muscle_whose_lifts_load_a_joint_that_hurt():
    """Whether it hurt in the last weeks, or before and is not settled."""
    added = {"more_sets", "reserve", "range"}
    assert added & {p.kind for p in review(*falling()).proposals}
    assert not added & {p.kind for p in review(*falling(2)).proposals}
    history, found, question = falling()
    assert not added & {p.kind for p in review(history, found, replace(question, held=HeldBack(sore=frozenset({"hip"})))).proposals}
    assert added & {p.kind for p in review(history, found, replace(question, held=HeldBack(sore=frozenset({"knee"})))).proposals}


def test_what_hurt_goes_for_what_spares_the_joint_and_not_for_the_next_in_rank():
    history, found, question = falling(2)
    bridge = Alternative("bridge", "full", "Bridge", 0.6)
    (swap,) = [
        p
        for p in review(history, found, replace(question, held=HeldBack(instead={("squat", "hip"): bridge}))).proposals
        if p.kind == "swap_lift"
    ]
    assert swap.change.to == ("bridge", "full") and "rank" not in swap.why
    for none in ({}, {("squat", "hip"): None}):
        told = review(history, found, replace(question, held=HeldBack(instead=none))).proposals
        assert "swap_lift" not in {p.kind for p in told}
        (ask,) = [p for p in told if p.kind == "ask_about_pain"]
        assert ("nothing here does" in ask.why) == bool(none)
