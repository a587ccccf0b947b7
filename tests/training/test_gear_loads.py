"""Which loads exist: by hand, and as laws over random gear."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lengthwise.errors import InputError, UnknownNameError
from lengthwise.lifts.catalogue import gear
from lengthwise.quantities import in_unit
from lengthwise.training.client import Client, GearAtPlace, Place
from lengthwise.training.gear_loads import SAME_KG, Loads, loads, usual
from lengthwise.units import LB

PLATES = st.lists(st.sampled_from([0.25, 0.5, 1.25, 2.5, 5.0, 10.0, 15.0, 20.0, 25.0]), min_size=1, max_size=6)


def at(kind: str, **described: object) -> Loads:
    return loads(Place(gear={kind: GearAtPlace.model_validate(described)}), kind)


def test_plates_go_on_in_pairs():
    """Bar 20, one pair of 5, one of 1.25: 20, 22.5, 30, 32.5."""
    assert at("barbell", bar_kg=20, plates_kg=[5, 1.25]).exist == (20, 22.5, 30, 32.5)


def test_a_plate_pair_is_used_once():
    assert at("barbell", bar_kg=20, plates_kg=[10]).exist == (20, 40)
    assert at("barbell", bar_kg=20, plates_kg=[10, 10]).exist == (20, 40, 60)


def test_plates_hang_one_by_one_from_the_body():
    assert at("body", plates_kg=[5, 1.25]).exist == (0, 1.25, 2.5, 5, 6.25, 7.5, 10, 11.25, 12.5)


def test_a_stack_with_add_ons():
    """5 to 20 by 5 with one 2.5: every 2.5 from 5 to 22.5."""
    assert at("cable", stack_kg=[5, 20, 5], add_on_kg=[2.5]).exist == (5, 7.5, 10, 12.5, 15, 17.5, 20, 22.5)


def test_a_machine_that_takes_weight_off_the_body():
    there = at("body", stack_kg=[-30, -10, 10])
    assert there.exist == (-30, -20, -10, 0)
    assert there.below(-12) == -20


def test_micro_plates_make_the_step_small():
    coarse, fine = (
        at("barbell", bar_kg=20, plates_kg=[20, 10, 5, 2.5, 1.25]),
        at("barbell", bar_kg=20, plates_kg=[20, 10, 5, 2.5, 1.25, 0.25]),
    )
    assert coarse.step_kg(60) == 2.5
    assert fine.step_kg(60) == 0.5


def test_nearest_below_above():
    rack = at("dumbbell", rack_kg=[2, 4, 8])
    assert (rack.nearest(5), rack.nearest(6), rack.below(7.9), rack.above(4), rack.above(8), rack.below(1)) == (
        4,
        4,
        4,
        8,
        None,
        None,
    )
    assert rack.step_kg(4) == 4 and rack.step_kg(8) is None
    assert (rack.nearest(8), rack.nearest(6.5)) == (8, 8)


def test_bands_have_no_kilograms():
    assert not at("band").readable and at("band").nearest(10) is None


def test_the_body_is_at_every_place():
    assert loads(Place(gear={}), "body").exist == (0,)


def test_usual_loads_are_assumed_where_the_place_does_not_say():
    assert at("barbell").assumed and loads(None, "dumbbell").assumed
    assert not at("barbell", bar_kg=20, plates_kg=[5]).assumed
    assert set(usual()) == set(usual("lb")) == set(gear())


@pytest.mark.parametrize("kind", ["barbell", "dumbbell", "cable", "lever", "sled"])
@pytest.mark.parametrize("preset", ["full_gym", "garage_rack", "hotel", "home_dumbbells"])
def test_who_reads_pounds_finds_plates_and_racks_in_pounds(kind, preset):
    """Nobody has 121.25 lb on a bar: and a load written in kilograms to 10 g is found again among those that exist."""
    record = {"name": "Invented", "sex": "man", "mass_unit": "lb", "places": {"there": {"preset": preset}}}
    place = Client.model_validate(record).places["there"]
    if kind in place.gear:
        exist = loads(place, kind, "lb")
        assert all(in_unit(kg, "lb") % 1 in (0, 0.5) for kg in exist.exist)
        there = exist.exist[len(exist.exist) // 2]
        written = round(in_unit(there, "lb") * LB, 2)
        assert exist.below(written) == there and exist.above(written) > there + 0.5


def test_usual_barbell_has_the_published_step():
    """V200: 2.5 kg is the smallest step with a pair of 1.25 kg plates; bars of 20 kg (V189)."""
    usual_bar = loads(None, "barbell")
    assert usual_bar.exist[0] == 20
    assert min(b - a for a, b in zip(usual_bar.exist, usual_bar.exist[1:], strict=False)) == 2.5


def test_gear_that_is_not_there():
    with pytest.raises(InputError, match=r"no barbell at this place; it has dumbbell"):
        loads(Place(gear={"dumbbell": GearAtPlace()}), "barbell")
    with pytest.raises(UnknownNameError, match="barbell"):
        loads(None, "barbel")


@given(PLATES, st.sampled_from([0.0, 10.0, 20.0]))
def test_every_bar_load_is_a_sum_of_pairs(plates, bar):
    there = at("barbell", bar_kg=bar, plates_kg=plates).exist
    by_hand = {bar}
    for plate in plates:
        by_hand |= {round(s + 2 * plate, 6) for s in by_hand}
    assert set(there) == {round(s, 6) for s in by_hand}


@given(PLATES, st.floats(-5, 300))
def test_below_and_above_enclose(plates, wanted):
    there = at("barbell", bar_kg=20, plates_kg=plates)
    below, above, near = there.below(wanted), there.above(wanted), there.nearest(wanted)
    assert near in there.exist
    assert below is None or (below in there.exist and below <= wanted + SAME_KG)
    assert above is None or (above in there.exist and above > wanted)
    assert not [kg for kg in there.exist if (below is None or kg > below + 1e-6) and (above is None or kg < above) and kg <= wanted]


def test_a_step_up_is_the_nearest_to_a_small_one_and_one_of_the_gear_at_least():
    """By hand: 2.5 % of 250 kg are 6.25, of 60 kg 1.5, of a body of 86 kg with 20 kg 2.65, of a body with nothing hung on 2.15."""
    fine, coarse = (Loads("sled", tuple(40 + step * i for i in range(200))) for step in (2.5, 5.0))
    assert (fine.step_up(250, 0), coarse.step_up(250, 0)) == (255, 255)
    assert (fine.step_up(60, 0), coarse.step_up(60, 0)) == (62.5, 65)
    belt = Loads("body", tuple(1.25 * i for i in range(40)))
    assert (belt.step_up(20, 86), belt.step_up(0, 86)) == (22.5, 2.5)
    assert fine.step_up(40 + 2.5 * 199, 0) is None
    assert (fine.step_up(167.5, 0), fine.step_down(167.5, 0)) == (172.5, 162.5), "4.2 kg each way"
    assert fine.step_down(40, 0) is None
