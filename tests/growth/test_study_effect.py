"""What studies would change: told before they are kept, for claims and for a client's kept week."""

from datetime import date
from types import SimpleNamespace

import pytest
from test_contrary import MANY, OVERHEAD, PUSH_DOWN

from lengthwise.known.known_studies import own_studies
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.training.client import Client, StoredClient
from lengthwise.weeks import study_effect
from lengthwise.weeks.study_effect import effect_of, sentences

DAY = date(2026, 1, 5)


@pytest.fixture
def anna(monkeypatch, own_folder):
    """An invented client whose kept week has two lifts for the triceps."""
    client = StoredClient(1, Client.model_validate({"name": "Anna Invented", "wishes": {"priority": {"triceps_long": 2}}}))
    lifts = tuple(PlannedLift(lift=i, range="full", name=i, sets=4, repetitions=(8, 12), reserve=2) for i in (OVERHEAD, PUSH_DOWN))
    week = Week(days=(PlannedDay("monday", "gym", 40, lifts),), weekly_sets={}, muscle_sets={}, value=1.0, gap=0.0)
    monkeypatch.setattr(study_effect, "exists", lambda: True)
    monkeypatch.setattr(study_effect, "stored_clients", lambda: (client,))
    monkeypatch.setattr(study_effect, "latest_week", lambda number, day: SimpleNamespace(week=week))
    return client


def test_sixty_contrary_studies_turn_a_claim_and_the_order_in_a_kept_week(anna):
    found = effect_of(MANY, DAY)
    assert [c.claim for c in found.claims] == ["long_length"]
    assert found.claims[0].before.startswith("supported") and found.claims[0].after.startswith("against")
    turned = [o for o in found.orders if o.muscle == "triceps_long"]
    assert [(o.now_first, o.then_first) for o in turned] == [(OVERHEAD, PUSH_DOWN)]
    assert any("would come before" in s and "Anna Invented" in s for s in sentences(found))
    assert own_studies() == ()


def test_a_number_that_moves_is_told_though_the_verdict_stays(anna):
    (moved,) = effect_of(MANY[:1], DAY).claims
    assert moved.before == "supported, very low certainty, +0.28 (+0.04 to +0.52) SMD from 8 studies"
    assert moved.after.endswith("from 9 studies")


def test_no_studies_change_nothing(anna):
    found = effect_of((), DAY)
    assert (found.claims, found.lifts, found.orders) == ((), (), ())
    assert found.clients == ("Anna Invented",)
