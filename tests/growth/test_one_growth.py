"""One number for growth on every face, and its sentence: what rank says is what compare, split, tune and weeks use."""

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.grading.criterion_weights import default_weights
from lengthwise.grading.facts import facts_of
from lengthwise.grading.growth_value import Growth, expected_growth, growth_per_set
from lengthwise.grading.ranking import RankQuestion, rank
from lengthwise.grading.sentences import growth_sentence, spoken
from lengthwise.grading.studied_lift import Studied
from lengthwise.grading.target import target_named
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import Request, profile
from lengthwise.planning.question import Muscle
from lengthwise.practice.lift_growth import growth_draws, measure_of
from lengthwise.questions import split, tune

OVERHEAD, DOWN = "overhead_cable_extension_one_arm", "cable_push_down"
TARGET = target_named("triceps_long")


@pytest.fixture(scope="module")
def facts():
    body, lifts = body_of(Person()), built_in().lifts
    return [facts_of(profile(body, i, lifts[i], Request())) for i in (OVERHEAD, DOWN)]


@pytest.fixture(scope="module")
def ratio(facts):
    """Growth of one set overhead over one push-down as `rank` orders by it."""
    studied = [Studied(f, f.heads, ()) for f in facts]
    question = RankQuestion(target=TARGET, learned=growth_draws(), weights=default_weights(), reference=studied[1])
    value = {r.facts.lift_id: r.value for r in rank(studied, question, np.random.default_rng(3)).lifts}
    return value[OVERHEAD] / value[DOWN]


def test_compare_uses_the_growth_of_rank(facts, ratio):
    overhead, down = (growth_per_set(f, TARGET.heads, growth_draws())["triceps_long"] for f in facts)
    assert overhead.mean / down.mean == pytest.approx(ratio, rel=1e-9)


def test_tune_uses_the_growth_of_rank(facts, ratio):
    """A set-up is found by `expected_growth` (the measure "growth" of the search)."""
    overhead, down = (expected_growth(f, TARGET.heads, growth_draws()) for f in facts)
    assert overhead / down == pytest.approx(ratio, rel=1e-9)


def test_split_uses_the_growth_of_rank(ratio):
    asked = split.SplitAsk(muscle="triceps_long", lifts=(OVERHEAD, DOWN), sets=10)
    found = split.run(asked, lambda done, total: None)
    assert found.per_set["triceps_long"] == pytest.approx({OVERHEAD: ratio, DOWN: 1.0}, rel=2e-3), (
        "kept facts of the reference are rounded"
    )
    assert found.reference == {"triceps_long": DOWN}


def test_tune_tells_the_multiple_of_rank(ratio, monkeypatch):
    """The usual set-up; a search takes fewer positions of the lift, which moves growth by under a per cent."""
    monkeypatch.setattr("lengthwise.grading.setup_search.search", lambda setups, values: values([setups.default])[0])
    assert tune.run(tune.TuneAsk(lift=OVERHEAD, head="triceps_long"), lambda done, total: None) == pytest.approx(ratio, rel=1e-2)


def test_weeks_use_the_growth_of_rank(facts, ratio):
    muscle = Muscle(name="triceps_long", share={"triceps_long": 1.0}, priority=1.0, low=5, high=10)
    measure = measure_of(Person(), [muscle])
    overhead, down = (measure.worth(measure.growth(f), muscle, TARGET.heads) for f in facts)
    assert overhead / down == pytest.approx(ratio, rel=1e-9)


@pytest.mark.parametrize(("growth", "better", "says"), [
    (Growth(1.34, 0.93, 1.8), 0.88, "About 1.3 × the growth of the cable push-down (0.9-1.8), 88% sure that it is better."),
    (Growth(0.7, 0.4, 1.1), 0.1, "About 0.7 × the growth of the cable push-down (0.4-1.1), 90% sure that it is worse."),
    (Growth(1.02, 0.6, 1.4), 0.52, "About as much growth as the cable push-down (0.6-1.4); too close to call."),
    (Growth(2.0, 1.5, 2.6), 0.999, "About 2.0 × the growth of the cable push-down (1.5-2.6), over 99% sure that it is better."),
    (Growth(0.0, 0.0, 0.0), 0.0, "Does not grow it: the target is silent in this lift."),
])  # fmt: skip
def test_growth_is_said_as_a_coach_says_it(growth, better, says):
    assert growth_sentence(growth, better, "Cable push-down") == says


@pytest.mark.parametrize(("name", "said"), [
    ("triceps_long", "the long head of the triceps"), ("gluteus_maximus_lower", "the lower gluteus maximus"),
    ("deltoid_middle", "the side deltoid"), ("vastus_lateralis", "vastus lateralis"), ("quadriceps", "the quadriceps"),
])  # fmt: skip
def test_heads_are_named_as_people_name_them(name, said):
    assert spoken(name) == said
