"""What an arm did, as one line of text."""

import pytest

from lengthwise.errors import InputError
from lengthwise.evidence.claims import starter_library
from lengthwise.growth.programme import Done, programme
from lengthwise.lifts.catalogue import built_in


def test_a_programme_of_several_lifts():
    squat, extension, press = programme("back_squat depth_deg=90 + 3 x leg_extension knee_flexion=100..65 + leg_press long")
    assert squat == Done("back_squat", setup=(("depth_deg", 90.0),))
    assert extension == Done("leg_extension", angle=("knee_flexion", 100.0, 65.0), sets=3.0)
    assert press.part == "long"
    assert [d.text for d in (squat, extension, press)] == [
        "back_squat depth_deg=90", "leg_extension knee_flexion=100..65", "leg_press long",
    ]  # fmt: skip
    assert programme("  ") == ()


@pytest.mark.parametrize("value", [1.5e45, 2e-9, -3.0])
def test_what_is_written_is_read_back(value):
    one = Done("back_squat", setup=(("depth_deg", value),), angle=("knee_flexion", value, 90.0))
    assert programme(one.text) == (one,)


@pytest.mark.parametrize("word", ["deep", "depth_deg=low", "knee_flexion=100..low"])
def test_a_word_that_cannot_be_read_is_named(word):
    with pytest.raises(InputError, match=f"cannot read .*{word.split('=')[-1].split('..')[-1]}"):
        programme(f"back_squat {word}")


def test_every_arm_of_the_shipped_studies_is_made_of_lifts_of_the_library():
    done = [d for s in starter_library().studies for a in s.arms for d in programme(a.done)]
    assert len(done) > 150
    assert {d.lift for d in done} <= set(built_in().lifts)
