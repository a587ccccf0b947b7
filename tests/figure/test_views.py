"""Every lift has a view, and the views name lifts and heads that there are."""

from lengthwise.body import anatomy
from lengthwise.figure.shapes import deep_heads, read
from lengthwise.figure.views import best_view
from lengthwise.lifts.catalogue import built_in


def test_what_a_back_view_is_for():
    lifts = built_in().lifts
    assert best_view("pull_up", lifts["pull_up"])[0] < -90
    assert best_view("dumbbell_lateral_raise", lifts["dumbbell_lateral_raise"])[0] > -35
    assert best_view("back_squat", lifts["back_squat"]) == (-52, 12)


def test_views_and_layers_name_what_there_is():
    table, lifts = read("views.toml"), built_in().lifts
    assert {x for e in table["view"] for x in e.get("lifts", ())} <= set(lifts)
    assert {h for e in table["view"] for h in e.get("targets", ())} <= set(anatomy.heads())
    assert deep_heads() <= set(anatomy.heads())
