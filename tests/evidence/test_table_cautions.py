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
