import numpy as np
import pytest
from drawn_lifts import drawn, set_lift

from lengthwise.body import anatomy
from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.errors import DataFileError
from lengthwise.figure import shapes
from lengthwise.figure.bones import rigids
from lengthwise.figure.meshes import volume
from lengthwise.figure.muscle_volumes import part_volume
from lengthwise.figure.placement import Placement
from lengthwise.figure.shapes import parts


def test_every_head_is_drawn_and_says_where_it_is_from():
    assert set(anatomy.heads()) == {p.head for p in parts()}
    assert all(p.source for p in parts())


def test_every_muscle_keeps_its_volume_over_a_lift(lift):
    """A muscle is as good as incompressible (any textbook of physiology): within 5 % of what the body's data give it."""
    body = set_lift(lift).body
    shares = {m.part.head: volume(m.points, m.faces) / part_volume(body, m.part, m.side) for m in drawn(lift).muscles}
    assert {h: s.round(2) for h, s in shares.items() if (np.abs(s - 1) > 0.05).any()} == {}


def test_every_point_is_finite_and_near_the_body(lift):
    for m in drawn(lift).muscles:
        assert np.isfinite(m.points).all()
        assert np.abs(m.points - m.points.mean((0, 1))).max() < 1.2, m.part.head
        assert m.faces.max() < m.points.shape[1]


def test_bones_look_outwards():
    for r in rigids():
        assert volume(*r.mesh) > 0, (r.kind, r.segment)


def test_the_left_mirrors_the_right():
    placed = Placement(set_lift("back_squat").body, set_lift("back_squat").path.q[:1])
    place = parts()[0].rows[0][0]
    right, left = (placed.at(place.segment, np.array(place.at), side) for side in ("right", "left"))
    assert placed.of(place) == pytest.approx(right)
    assert left == pytest.approx(right * [1, -1, 1], abs=1e-6)


def test_a_stronger_person_has_more_muscle():
    small, large = (body_of(Person(sex=s)) for s in ("woman", "man"))
    vastus = next(p for p in parts() if p.head == "vastus_lateralis")
    assert part_volume(small, vastus, "right") < 0.9 * part_volume(large, vastus, "right")


def test_faults_of_the_table_are_named_together(monkeypatch):
    table = {"source": "x", "part": [{"head": "bizeps", "path": ["humerus 0 0 0"]}, {"head": "soleus", "path": ["shin 0 0 0"]}]}
    monkeypatch.setattr(shapes, "read", lambda name: table)
    with pytest.raises(DataFileError, match=r"bizeps[\s\S]*shin 0 0 0"):
        shapes.parts.__wrapped__()
