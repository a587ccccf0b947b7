"""Tables whose numbers are so unlike that rounding would decide are refused in words; alike to the last digit is no fault."""

import numpy as np
import pytest

from lengthwise.errors import InputError
from lengthwise.evidence.covariance import Covariance
from lengthwise.evidence.effect_table import pool_table, table_of
from lengthwise.evidence.pooling import Convention
from lengthwise.evidence.robust import robust_fit


def test_variances_too_unlike_to_be_added_up_are_refused():
    table = table_of([("a", 0.0, 1e-9, "", ""), ("b", 1.0, 1e9, "", "")], {})
    with pytest.raises(InputError, match="variances from 1e-09 to 1e\\+09"):
        pool_table(table, Convention("dl", "z"))


def test_a_robust_error_that_is_rounding_alone_is_refused():
    v = np.array([976052676.39, 920763691.25, 1e-9, 1e-9])
    with pytest.raises(InputError, match="rounding decides"):
        robust_fit([0.0, 355228401.36, 0.0, 0.0], Covariance.independent(v + 0.137), ["a", "b", "c", "c"])


def test_effects_alike_to_the_last_digit_have_no_robust_probability():
    fit = robust_fit(np.zeros(4), Covariance.independent(np.ones(4)), ["a", "a", "b", "b"])
    assert np.isnan(fit.p_value()).all()
