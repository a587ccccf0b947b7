"""What was learned from the shipped studies, once for all tests of growth."""

import pytest

from lengthwise.evidence.claims import starter_library
from lengthwise.growth.scores import learned_without, left_out
from lengthwise.known.trial_answers import learned


@pytest.fixture(scope="session")
def fit():
    """The trials of the shipped studies and the posterior they give."""
    return learned(starter_library().studies)


@pytest.fixture(scope="session")
def compared(fit):
    """Every comparison, its trial left out."""
    return left_out(fit[0], learned_without(*fit))


@pytest.fixture(scope="session")
def study_of():
    """A shipped study by its id."""
    known = {s.id: s for s in starter_library().studies}
    return known.__getitem__
