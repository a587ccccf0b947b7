"""One chain from what can be held to what is lifted: whoever asks for a lift's load gets the same number."""

from pathlib import Path

import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import Request, profile
from lengthwise.mechanics.working_load import load_fraction, set_load_kg
from lengthwise.records.people import read_person
from lengthwise.training import calibration as fitting
from lengthwise.training.ability import ability
from lengthwise.training.client import Client, KnownLift
from lengthwise.training.lift_strength import N_POS, lift_strength

LIFTS = built_in().lifts
SQUAT = 'name = "Invented"\nsex = "man"\nmass_kg = 80\nstature_m = 1.8\nknown_lifts = [{ lift = "back_squat", load_kg = 150, repetitions = 1 }]\n'


@pytest.mark.parametrize("lift_id", ["back_squat", "pull_up", "push_up_hanging_straps"])
def test_profile_ability_and_calibration_tell_one_load(lift_id):
    """A loaded lift, one with the body as load and one on unstable gear."""
    person = Person(training="trained")
    found = profile(body_of(person), lift_id, LIFTS[lift_id], Request(n_pos=N_POS))
    strength = lift_strength(body_of(person), LIFTS[lift_id])
    nothing_known = fitting.calibrate(person, {})
    able = ability(Client(name="Invented", training="trained"), lift_id, LIFTS[lift_id], "full", nothing_known)
    assert strength.largest_kg == pytest.approx(found.one_rm_kg)
    assert able.one_rm_kg == pytest.approx(found.one_rm_kg + strength.moved_kg)
    told = {lift_id: (LIFTS[lift_id], KnownLift(lift=lift_id, load_kg=found.one_rm_kg, repetitions=1))}
    assert fitting.calibrate(person, told).fits[0].residual == pytest.approx(0, abs=1e-6)
    whole = set_load_kg(found.one_rm_kg, strength.moved_kg, load_fraction(10, 2))
    assert found.working_kg == pytest.approx(whole)


def test_known_lifts_of_a_record_count_wherever_the_person_is_asked(tmp_path: Path):
    """A known single of 150 kg moves the squat of the person's profile to within 6 % of it (the fit trusts a set to 5 %)."""
    file = tmp_path / "known.toml"
    file.write_text(SQUAT, encoding="utf-8")
    person = read_person(file)
    assert person.strength
    found = profile(body_of(person), "back_squat", LIFTS["back_squat"], Request(n_pos=N_POS))
    assert found.one_rm_kg == pytest.approx(150, rel=0.06)


def test_a_known_pulldown_bounds_the_pull_up(tmp_path: Path):
    """Somebody who pulls down half of what the model expects is told less for the pull-up, which the same muscles limit."""
    plain = Person(training="trained")
    expected = lift_strength(body_of(plain), LIFTS["lat_pulldown"]).largest_kg
    weak = KnownLift(lift="lat_pulldown", load_kg=0.5 * expected, repetitions=1)
    person = fitting.calibrate(plain, {"lat_pulldown": (LIFTS["lat_pulldown"], weak)}).person
    before, after = (lift_strength(body_of(p), LIFTS["pull_up"]).total_kg for p in (plain, person))
    assert 0.4 < after / before < 0.75
