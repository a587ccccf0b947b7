"""The run over many invented records (validation/weeks.py) reads its records, and sums up what it finds."""

import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def weeks():
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sys, "path", [str(ROOT / "validation"), *sys.path])
        import weeks

        yield weeks


def test_it_has_the_demo_the_forty_and_the_hard_records(weeks):
    names = list(weeks.records())
    assert len(names) == len(set(names)) >= 6 + 40 + 12


def test_drawn_records_are_others_with_each_seed_and_the_same_with_one(weeks):
    assert weeks.records(40, 30, 5) == weeks.records(40, 30, 5) != weeks.records(40, 30, 6)
    kinds = {(c.training, next(iter(c.places)), len(c.days)) for c in weeks.records(40, 30, 5).values()}
    assert len(kinds) > 15


def test_a_summary_counts_broken_rules_drafts_and_slow_weeks(weeks):
    good = {"name": "a", "gap": 0.01, "draft": False, "first_s": 2, "known_s": 1, "change_s": 0.5, "broken": {}, "answer": {}}
    bad = {**good, "name": "b", "gap": 0.2, "draft": True, "change_s": 3, "broken": {"minutes_kept": ["monday: 20 of 60"]}}
    told = weeks.summary([good, bad, {"name": "c", "refused": "see a clinician first"}], ["b"])
    assert told["planned"] == 2 and told["refused"] == ["c"] and told["drafts"] == {"b": 0.2}
    assert told["broken_rules"] == {"minutes_kept": 1} and told["change_over_1_s"] == {"b": 3}
    assert told["differing_beside_busy"] == ["b"]
