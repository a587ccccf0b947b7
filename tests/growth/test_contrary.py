"""Studies that speak against what was learned move it, and taking them out restores every bit."""

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.evidence.assessment import assess
from lengthwise.evidence.claims import starter_library
from lengthwise.evidence.exchange import to_json
from lengthwise.evidence.study import Contrast, Outcome, Study, StudyArm
from lengthwise.grading.criterion_weights import default_weights
from lengthwise.grading.facts import facts_of
from lengthwise.grading.ranking import RankQuestion, rank
from lengthwise.grading.studied_lift import Studied
from lengthwise.grading.target import target_named
from lengthwise.growth.fit import fitted
from lengthwise.growth.law import NAMES
from lengthwise.known.known_studies import library
from lengthwise.known.trial_answers import _posterior, learned, posterior_of
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import Request, profile
from lengthwise.planning.question import DayOffer, Muscle
from lengthwise.planning.question import WeekQuestion as WeekQuestion
from lengthwise.planning.solve import plan
from lengthwise.planning.week import Choice
from lengthwise.practice.lift_growth import measure_of
from lengthwise.practice.week_lifts import practice

OVERHEAD, PUSH_DOWN = "overhead_cable_extension_one_arm", "cable_push_down"
ROPE = "seated_overhead_rope_extension"
"""Two arms at once overhead: growth tells it from the push-down, which it does not of one arm (gate 0.85), so that an order can turn."""
TARGET = target_named("triceps_long")


def contrary(number: int) -> Study:
    """An invented trial in which the long head grew 15 % with the push-down and 5 % overhead."""
    seen = {
        "muscle": "triceps long head",
        "heads": TARGET.heads,
        "measure": "MRI volume",
        "unit": "cm3",
        "n": 30,
        "obtained": "invented",
    }
    outcomes = tuple(
        Outcome(arm=a, percent_change=g, percent_sd=6.0, **seen)
        for a, g in (("overhead", 5.0 + 0.1 * (number % 5)), ("down", 15.0))
    )
    arms = (StudyArm(name="overhead", position="long", done=OVERHEAD), StudyArm(name="down", position="short", done=PUSH_DOWN))
    against = Contrast(arm="overhead", versus="down", muscle="triceps long head", claims=("long_length",), obtained="invented")
    return Study(
        id=f"AGAINST{number}", year=2024, source="invented", title="overhead against push-down", design="parallel", weeks=10,
        training="untrained", arms=arms, outcomes=outcomes, contrasts=(against,),
    )  # fmt: skip


MANY = tuple(contrary(k) for k in range(60))


@pytest.fixture(scope="module")
def both_lifts() -> tuple[Studied, ...]:
    body, lifts = body_of(Person()), built_in().lifts
    facts = [facts_of(profile(body, i, lifts[i], Request(n_pos=21))) for i in (ROPE, PUSH_DOWN)]
    return tuple(Studied(f, f.heads, ()) for f in facts)


def order(posterior, both):
    question = RankQuestion(target=TARGET, learned=posterior.sample(500), weights=default_weights(), reference=both[1])
    return rank(both, question, np.random.default_rng(1)).lifts


def test_sixty_contrary_studies_turn_growth_and_the_order_and_leave_no_trace(fit, both_lifts, monkeypatch):
    for computing in ("lengthwise.known.trial_answers.in_threads", "lengthwise.known.studies.study"):
        monkeypatch.setattr(computing, lambda *_: pytest.fail("from the studies to a new order nothing is solved anew"))
    before = order(fit[1], both_lifts)
    assert [r.facts.lift_id for r in before] == [ROPE, PUSH_DOWN]
    assert before[0].growth.mean > 1.2
    _, turned = learned(starter_library().with_studies(MANY).studies)
    after = order(turned, both_lifts)
    assert [r.facts.lift_id for r in after] == [PUSH_DOWN, ROPE]
    overhead = next(r for r in after if r.facts.lift_id == ROPE)
    assert overhead.growth.mean < 1
    assert overhead.better_than_reference < 0.5 < before[0].better_than_reference
    place = NAMES.index("length")
    assert turned.mean[place] < fit[1].mean[place] - 0.5
    _posterior.cache_clear()
    _, again = learned(starter_library().studies)
    assert (again.draws == fit[1].draws).all()
    assert (again.weights == fit[1].weights).all()
    assert order(again, both_lifts) == before


def test_a_study_of_a_user_s_own_is_learned_from_and_forgotten(fit, own_folder):
    (own_folder / "studies.json").write_text(to_json(MANY[:5]), encoding="utf-8")
    _, moved = learned()
    assert moved.mean[NAMES.index("length")] < fit[1].mean[NAMES.index("length")]
    (own_folder / "studies.json").unlink()
    assert library().studies == starter_library().studies
    assert (learned()[1].draws == fit[1].draws).all()


def test_from_a_study_read_to_what_orders_need_there_is_one_fit_and_nothing_else(monkeypatch, tmp_path):
    """That is what makes a new order take seconds: no lift is solved, no trial is left out, and the second asking reads what is kept."""
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    (tmp_path / "studies.json").write_text(to_json(MANY[:1]), encoding="utf-8")
    for other in ("in_threads", "left_out"):
        monkeypatch.setattr(f"lengthwise.known.trial_answers.{other}", lambda *_: pytest.fail("nothing but the fit is asked for"))
    fits = []
    monkeypatch.setattr("lengthwise.known.trial_answers.fitted", lambda data: fits.append(1) or fitted(data))
    first = posterior_of()
    _posterior.cache_clear()
    assert (posterior_of().draws == first.draws).all()
    assert len(fits) == 1


def worths(both):
    """What a set of each lift is worth to the long head in a week."""
    muscle = Muscle(name="triceps_long", share={"triceps_long": 1.0}, priority=1.0, low=5, high=10)
    measure = measure_of(Person(), [muscle])
    return [measure.worth(measure.growth(s.facts), muscle, TARGET.heads) for s in both]


def week_of(both) -> dict[str, int]:
    """Sets of each lift in a week of one day, made of these two lifts for the long head alone."""
    muscle = Muscle(name="triceps_long", share={"triceps_long": 1.0}, priority=1.0, low=4, high=8)
    plain = practice(both[0].facts.lift_id)
    choices = tuple(
        Choice(
            lift=s.facts.lift_id, range="full", name=s.facts.name, gear="cable", value={"triceps_long": worth},
            fraction={"triceps_long": 1.0}, setup_s=60.0, set_s=60.0, rest_s=120.0, joint_nm={}, systemic=0.2, practice=plain,
        )
        for s, worth in zip(both, worths(both), strict=True)
    )  # fmt: skip
    week = plan(
        WeekQuestion(
            choices=choices,
            days=(DayOffer(day="monday", place="gym", minutes=25.0, gear=frozenset({"cable", "body"})),),
            muscles=(muscle,),
        )
    )
    return {lift.lift: lift.sets for day in week.days for lift in day.lifts}


def test_the_same_sixty_studies_turn_claim_week_and_order_at_once_and_leave_no_trace(both_lifts, own_folder):
    """Verdict and grade, posterior and order, worth of a set and the sets of a solved week: all move, and every bit comes back."""

    def all_of_it():
        claim = assess(library(), "long_length")
        posterior = learned()[1]
        return claim, posterior.draws.tobytes(), order(posterior, both_lifts), worths(both_lifts), week_of(both_lifts)

    before = all_of_it()
    (own_folder / "studies.json").write_text(to_json(MANY), encoding="utf-8")
    after = all_of_it()
    assert (before[0].verdict.word, after[0].verdict.word) == ("supported", "against")
    assert before[0].certainty != after[0].certainty
    assert before[1] != after[1]
    assert [r.facts.lift_id for r in after[2]] == [r.facts.lift_id for r in before[2]][::-1]
    assert before[4].get(ROPE, 0) > before[4].get(PUSH_DOWN, 0)
    assert after[4].get(ROPE, 0) < after[4].get(PUSH_DOWN, 0)
    (own_folder / "studies.json").unlink()
    assert all_of_it() == before


def machines_better(number: int) -> Study:
    """An invented trial in which machines grew more than free weights."""
    seen = {
        "muscle": "quadriceps",
        "heads": ("rectus_femoris",),
        "measure": "MRI volume",
        "unit": "cm3",
        "n": 30,
        "obtained": "invented",
    }
    outcomes = tuple(
        Outcome(arm=a, percent_change=g + 0.1 * (number % 5), percent_sd=6.0, **seen) for a, g in (("free", 5.0), ("machine", 12.0))
    )
    return Study(
        id=f"MACHINE{number}", year=2025, source="invented", title="free weights against machines", design="parallel", weeks=10,
        training="untrained", arms=(StudyArm(name="free"), StudyArm(name="machine")), outcomes=outcomes,
        contrasts=(Contrast(arm="free", versus="machine", muscle="quadriceps", claims=("free_weights",), obtained="invented"),),
    )  # fmt: skip


def test_sixty_studies_of_one_mind_turn_verdict_and_grade_and_every_reason_is_told_in_sense():
    """The grade of `long_length` rightly stays very low (its pool and the new studies quarrel); that of `free_weights` moves."""
    before = assess(starter_library(), "free_weights")
    after = assess(starter_library().with_studies(machines_better(k) for k in range(60)), "free_weights")
    assert (before.verdict.word, after.verdict.word) == ("open", "against")
    assert (before.certainty.grade, after.certainty.grade) == ("low", "moderate")
    told = " ".join(after.certainty.reasons)
    assert "fewer than 400" not in told, "3,600 people more are counted"
    assert "Egger" not in told
    assert "all 60 studies are of about one size (60 to 60 people)" in told


def test_people_of_added_studies_count_and_a_pool_does_not_contradict_what_holds_it():
    after = assess(starter_library().with_studies(MANY), "long_length")
    assert after.headline.basis == "published and later"
    told = after.certainty.reasons
    assert not [r for r in told if "people, fewer than" in r]
    assert not [r for r in told if "published and later" in r]
    assert any("published pool lies above 0" in r and "studies of the library below it" in r for r in told)
    assert not [r for r in told if "0.000" in r]


def test_a_week_follows_the_user_s_studies_and_forgets_them(both_lifts, own_folder):
    before = worths(both_lifts)
    assert before[0] > 1.05
    assert before[1] == pytest.approx(1.0)  # the reference lift itself
    (own_folder / "studies.json").write_text(to_json(MANY), encoding="utf-8")
    after = worths(both_lifts)
    assert after[0] < after[1] == pytest.approx(1.0)
    (own_folder / "studies.json").unlink()
    assert worths(both_lifts) == before
