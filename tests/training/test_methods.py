"""Ways to save time: only where they are safe, with a count that never exceeds the sets they stand for."""

from lengthwise.evidence.claims import starter_library
from lengthwise.known.lifts import all_lifts
from lengthwise.practice.week_lifts import practice
from lengthwise.training.methods import methods, methods_for


def names(lift_id, careful=False):
    return {m.name for m in methods_for(all_lifts().lifts[lift_id], practice(lift_id).multi, careful)}


def test_nothing_near_failure_under_a_bar():
    assert (
        names("bench_press") & {"drop set", "rest-pause set", "cluster set", "long halves after the last full repetition"} == set()
    )
    assert names("back_squat") == set()
    assert {"drop set", "rest-pause set", "superset"} <= names("leg_extension")
    assert "drop set" not in names("leg_press")


def test_who_is_careful_gets_none_to_failure():
    assert names("leg_extension", careful=True) == {"superset"}


def test_one_never_counts_for_more_than_the_sets_it_stands_for():
    for method in methods().values():
        assert 1 <= method.counts <= method.instead_of
        assert method.claim.startswith("common practice") or method.claim in starter_library().claims
    assert {k: m.counts for k, m in methods().items()}["drop_set"] == 2
