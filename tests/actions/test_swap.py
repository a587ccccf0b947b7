"""What could come instead of a lift: each gives a good part of what the lift gave, says of which muscle, and the best stand first."""

import re

import pytest

from kept_gym import share_computed
from lengthwise.actions.demo import record_files
from lengthwise.actions.people import read_client
from lengthwise.actions.swap import GROWTH_STEPS, LEAST_SHARED, joint_told, swap_lift
from lengthwise.errors import UnknownNameError


@pytest.fixture(autouse=True)
def data(tmp_path, monkeypatch, computed):
    monkeypatch.setenv("LENGTHWISE_DATA", str(share_computed(tmp_path, computed)))


def test_what_comes_instead_gives_its_part_and_says_of_what():
    """Common practice, no source: a squat makes way for lifts that train the thighs or the buttocks, told by the muscle they train."""
    client = read_client(next(iter(record_files().values())))
    for because in ("", "time"):
        found = swap_lift(client, "back_squat", because).candidates
        assert found and all(c.growth >= LEAST_SHARED for c in found)
        steps = [min(round(c.growth * GROWTH_STEPS), GROWTH_STEPS) for c in found]
        assert steps == sorted(steps, reverse=True)
        assert all(float(re.search(r"a set counts ([\d.]+) for", c.reason)[1]) >= LEAST_SHARED for c in found)


def test_for_pain_the_joint_that_is_named_is_spared_in_load_and_position():
    """Common practice, no source: nobody with a painful shoulder is sent to a pullover, which ends in an overhead stretch."""
    client = read_client(next(iter(record_files().values())))
    named = swap_lift(client, "bench_press", "pain", joint="shoulder")
    assert named.joint == "shoulder" and not named.guessed and "Nobody said" not in joint_told(named)
    assert not any("pullover" in c.lift for c in named.candidates) and all(
        "the shoulder carries" in c.reason for c in named.candidates
    )
    unsaid = swap_lift(client, "back_squat", "pain")
    assert unsaid.guessed and unsaid.joint in joint_told(unsaid)
    with pytest.raises(UnknownNameError, match="joint"):
        swap_lift(client, "back_squat", "pain", joint="sholder")
