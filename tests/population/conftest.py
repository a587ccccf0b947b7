import pytest

from lengthwise.lifts.catalogue import built_in
from lengthwise.populations.body_table import Wanted

LIFTS = ("cable_push_down", "overhead_rope_extension")


@pytest.fixture(scope="session")
def wanted() -> Wanted:
    """Two lifts at three positions: a tenth of a second a body."""
    return Wanted(1, tuple((i, built_in().lifts[i]) for i in LIFTS), 3)
