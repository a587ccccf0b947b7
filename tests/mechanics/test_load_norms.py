"""Predicted 1RM of a trained man and woman against what people lift: tests/reference/load_norms.toml says which load is compared."""

import tomllib
from functools import cache
from pathlib import Path

import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.measures import moved_body_kg
from lengthwise.mechanics.profile import Request, profile

PEOPLE = {
    "man": Person(sex="man", stature_m=1.78, mass_kg=80, training="trained"),
    "woman": Person(sex="woman", stature_m=1.66, mass_kg=63, training="trained"),
}
NORMS = tomllib.loads((Path(__file__).parents[1] / "reference" / "load_norms.toml").read_text(encoding="utf-8"))["norm"]
LEVEL_SQUAT = {"depth_deg": 105.0}
CASES = [(n, sex) for n in NORMS for sex in (("man", "woman") if n["sex"] == "both" else (n["sex"],))]


@cache
def lifted(lift_id: str, sex: str, setup: tuple[tuple[str, float], ...] = ()) -> tuple[float, float]:
    """Predicted 1RM [kg], and the share of the body that moves with it [kg]."""
    found = profile(body_of(PEOPLE[sex]), lift_id, built_in().lifts[lift_id], Request(setup=dict(setup), n_pos=9))
    return found.one_rm_kg, moved_body_kg(found.setting)


def predicted(norm: dict, sex: str) -> float:
    """The prediction in the norm's own unit."""
    one_rm, _ = lifted(norm["lift"], sex, tuple(norm.get("setup", {}).items()))
    match norm["unit"]:
        case "kg":
            return one_rm
        case "body mass":
            return one_rm / PEOPLE[sex].mass_kg
        case "body mass, with body":
            return 1 + one_rm / PEOPLE[sex].mass_kg
        case unit:
            other = unit.removeprefix("of ")
            return one_rm / lifted(other, sex, tuple(LEVEL_SQUAT.items()) if other == "back_squat" else ())[0]


@pytest.mark.parametrize(("norm", "sex"), CASES, ids=[f"{n['lift']} {s} {n['unit']}" for n, s in CASES])
def test_prediction_lies_in_the_band_or_is_listed_as_missed(norm, sex):
    found = predicted(norm, sex)
    missed = norm.get("found", {}).get(sex)
    inside = norm["low"] <= found <= norm["high"]
    if missed is None:
        assert inside, f"{found:.3g} {norm['unit']}, band {norm['low']} to {norm['high']}: {norm['source']}"
    else:
        assert not inside, f"{found:.3g} lies in the band now: take `found` off"
        assert found == pytest.approx(missed, rel=0.04)


def test_at_least_twenty_lifts_and_every_row_says_where_it_comes_from():
    assert len({n["lift"] for n in NORMS}) >= 20
    assert all(n["source"] and n["low"] < n["high"] for n in NORMS)


def test_most_rows_hold():
    assert sum(s in n.get("found", {}) for n, s in CASES) <= 0.15 * len(CASES)
