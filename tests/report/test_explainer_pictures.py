"""Pictures of an explainer: what stands beside bars can be read, and the headline fills its place."""

import re
from itertools import pairwise
from types import SimpleNamespace

import pytest

from lengthwise.body import anatomy
from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.figure.views import best_view
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import profile
from lengthwise.report.grading_explainer import SHAPES, WIDE, _studies, heads_together
from lengthwise.report.headline import headline_picture


def trial(heads, cited, a, b, value):
    return SimpleNamespace(heads=heads, cited=cited, a=a, b=b, value=value, se=1.0)


@pytest.mark.parametrize("shape", SHAPES)
def test_words_beside_the_bars_of_trials_do_not_overlap(shape):
    """Invented trials with long names: four lines each lay over one another in the wide shape."""
    heads = anatomy.muscles()["glutes"]
    rows = [
        trial(heads, "Invented J Sports Sci 2026", "full squat 0-140 deg with a long name", "half squat 0-90 deg with another", v)
        for v in (3, 2, 1)
    ]
    found = SimpleNamespace(evidence=(), trials=rows, ranking=SimpleNamespace(target=SimpleNamespace(heads=heads)))
    pooled = SimpleNamespace(ci=(0, 1), estimate=0.5, scale="SMD", n_study=1)
    claim = SimpleNamespace(statement="An invented claim")
    weighed = SimpleNamespace(
        headline=pooled, claim=claim, verdict=SimpleNamespace(word="open"), certainty=SimpleNamespace(grade="low")
    )
    picture = _studies(SimpleNamespace(**{**vars(found), "evidence": (weighed, weighed)}), SHAPES[shape])
    picture.png(72)
    boxes = sorted((t.get_window_extent() for t in picture.figure.axes[-1].get_yticklabels()), key=lambda b: b.y0)
    assert all(low.y1 <= high.y0 for low, high in pairwise(boxes))
    assert "1 study " in picture.figure.axes[0].get_xlabel()


def test_heads_of_one_muscle_are_counted_and_others_named():
    assert heads_together(anatomy.muscles()["glutes"]) == "gluteus maximus, 3 heads"
    assert heads_together(["triceps_long", "biceps_long"]) == "long head of the triceps, long head of the biceps"


def test_the_headline_is_cut_to_what_is_drawn_where_no_shape_is_asked_for():
    """A lift that lies flat left a quarter of a wide picture blank above and below it."""
    found = profile(body_of(Person()), "hip_thrust", built_in().lifts["hip_thrust"])
    view = best_view("hip_thrust", found.lift)
    picture = headline_picture(found.setting, view, "glutes", anatomy.muscles()["glutes"], SHAPES[WIDE])
    whole, close = (float(re.search(r'height="([\d.]+)pt"', svg)[1]) for svg in (picture.svg(), picture.close_svg))
    assert close < 0.75 * whole
