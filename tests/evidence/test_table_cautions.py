"""What a pool of a table warns of: few clusters, one study that holds most rows, few degrees of freedom, effects that are all the same."""

from lengthwise.evidence.effect_table import parse_effects, pool_table
from lengthwise.evidence.pooling import Convention
from lengthwise.evidence.table_cautions import cautions

MOSTLY_ONE = "study,yi,vi\na,0.31,0.05\n" + "\n".join(f"b,{0.3 + 0.01 * (i % 3):g},0.05" for i in range(29))
ALIKE = "study,yi,vi\n" + "\n".join(f"s{i},0.3,0.1" for i in range(6))
SPREAD = "study,yi,vi\n" + "\n".join(f"s{i},{0.1 * i:g},0.1" for i in range(6))


def said(text: str, test: str = "z", correlation: float = 0.0) -> str:
    """The cautions of a table as one text."""
    table = parse_effects(text)
    return "; ".join(cautions(table, pool_table(table, Convention("reml", test), correlation), correlation))


def test_one_study_that_holds_most_rows_is_named_until_its_errors_may_hang_together():
    assert "only 2 clusters" in said(MOSTLY_ONE)
    assert "29 of 30 rows are of b" in said(MOSTLY_ONE)
    assert "29 of 30" not in said(MOSTLY_ONE, correlation=0.5)


def test_errors_on_one_degree_of_freedom_are_not_sold_as_sure():
    assert "1.0 degrees of freedom" in said(MOSTLY_ONE, "hk")
    assert "1.0 degrees of freedom" in said(MOSTLY_ONE), "two clusters take t whatever was asked for"


def test_effects_that_are_all_the_same_give_no_certainty_and_no_asymmetry():
    assert "error is 0, which is no certainty" in said(ALIKE, "hk")
    assert "nothing is tested for asymmetry" in said(ALIKE)
    assert said(SPREAD) == said(SPREAD, "hk") == ""


def test_one_row_says_nothing_of_a_new_study():
    assert "one row" in said("study,yi,vi\na,0.3,0.1")


def test_a_row_entered_twice_is_named():
    assert "rows 2 and 4 are the same (a)" in said("study,yi,vi\na,0.3,0.1\nb,0.2,0.1\na,0.3,0.1\nc,0.5,0.1")


def test_standard_errors_in_place_of_variances_are_suspected():
    """Twelve effects that differ by their standard error of 0.1. Entered as a variance Q is 1.0 on 11, below its 0.1 % point (1.83, scipy's
    chi-squared); squared as it should be nothing is said."""
    effects = [0.3 + 0.1 * z for z in (-1.6, -1.2, -0.8, -0.5, -0.3, -0.1, 0.1, 0.3, 0.5, 0.8, 1.2, 1.6)]
    wrong, right = ("study,yi,vi\n" + "\n".join(f"s{i},{y:g},{v:g}" for i, y in enumerate(effects)) for v in (0.1, 0.01))
    assert "vi must be a variance" in said(wrong)
    assert said(right) == ""


def test_a_row_in_another_unit_is_named():
    """Growth in per cent among standardised effects: 12 lies 32 errors of √(0.1 + 0.1/3) from 0.2, the mean of the others."""
    assert "row 3 (b): 12 lies 32 errors from what the others say (0.2)" in said(
        "study,yi,vi\na,0.1,0.1\nb,12,0.1\nc,0.2,0.1\nd,0.3,0.1"
    )
