"""What could come instead of a lift: each gives a good part of what the lift gave, says of which muscle, and the best stand first."""

import re

import pytest

from kept_gym import share_computed
from lengthwise.actions.demo import record_files
from lengthwise.actions.people import read_client
from lengthwise.actions.swap import GROWTH_STEPS, LEAST_SHARED, swap_lift


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
