"""What levers of claims say of the law of growth is what trials teach."""

import pytest

from lengthwise.evidence.decisions import levers
from lengthwise.growth.law import NAMES


@pytest.mark.parametrize("name", ["length", "conflict"])
def test_a_lever_tells_the_coefficient_as_it_is_learned(fit, name):
    """Within one standard deviation; else `python validation/decisions.py` counts and tells anew."""
    trials, posterior = fit
    known, k = levers()[name].learned, NAMES.index(name)
    assert known is not None
    assert known.mean == pytest.approx(posterior.mean[k], abs=known.sd)
    assert known.sd == pytest.approx(posterior.sd[k], rel=0.3)
    assert known.trials == pytest.approx(len(trials), abs=5)
