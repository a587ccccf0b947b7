"""The matrices of the balance as the core assembles them, against MuJoCo's survey and NumPy's sums; and the door against wrong parts."""

from dataclasses import fields, replace

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.core import balance_rows
from lengthwise.errors import InputError
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics import equilibrium, matrices

SOME = ("back_squat", "one_leg_extension_leaned_back", "cable_rotation", "leg_press", "pull_up")


@pytest.fixture
def asked(monkeypatch):
    """What was assembled last, and how."""
    seen = []
    monkeypatch.setattr(equilibrium, "assembled", lambda a: seen.append(a) or matrices.assembled(a))
    return seen


@pytest.mark.parametrize("lift_id", SOME)
def test_matrices_equal_numpy_on_a_survey_of_mujoco(asked, lift_id):
    setting = equilibrium.set_up(body_of(Person()), built_in().lifts[lift_id], np.linspace(0, 1, 5))
    body, mine = setting.body, asked[-1]
    other = replace(mine, seen=body._survey_by_mujoco(setting.path.q, *body.marks(setting.marks)))
    found, expected = matrices.assembled(mine), matrices._by_numpy(other)
    for field in fields(found):
        assert np.abs(getattr(found, field.name) - getattr(expected, field.name)).max() < 1e-10, field.name


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"active": np.zeros((4, 3))}, "active has shape"),
        ({"row": np.array([0, 99], np.int32)}, "row has values"),
        ({"load_mark": np.array([50], np.int32)}, "load_mark has values"),
        ({"weight": np.array([1.0, np.nan])}, "weight holds numbers that are not finite"),
    ],
    ids=["positions", "row", "landmark", "not a number"],
)
def test_parts_that_do_not_fit_are_refused(change, message):
    n, nv, mark = 2, 6, 1
    none = np.zeros(0, np.int32)
    parts = balance_rows.Parts(
        row=np.array([0, 1], np.int32), weight=np.ones(2), arms=np.zeros((n, 3, nv)), active=np.zeros((n, 3)), passive=np.zeros((n, 3)),
        gravity=np.zeros((n, nv)), point=np.zeros((n, mark, 3)), frame=np.zeros((n, mark, 3, 3)), jacobian=np.zeros((n, mark, 3, nv)),
        turn=np.zeros((n, mark, 3, nv)), hold_mark=none, hold_on=none, hold_turns=none, hold_direction=np.zeros((0, 3)), rib_point=none,
        rib_centre=none, rib_axes=np.ones(2), load_mark=np.zeros(1, np.int32), load_force=np.zeros((n, 1, 3)),
    )  # fmt: skip
    assert balance_rows.assemble(parts)[0].shape == (n, 2, 3)
    with pytest.raises(InputError, match=message):
        balance_rows.assemble(replace(parts, **change))
