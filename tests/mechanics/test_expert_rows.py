"""Every expert row of tests/reference/expectations.csv, or its place in the list of rows that do not hold (docs/limits_expert.md)."""

from pathlib import Path

import pytest
from expert_rows import TABLE, rows, says

UNMET = set(Path(TABLE.with_name("unmet_expert.txt")).read_text(encoding="utf-8").splitlines())


@pytest.mark.parametrize("row", rows(), ids=lambda r: r.id)
def test_the_model_says_what_a_coach_expects(row):
    """Common practice, no source; a row that holds now must leave the list (python validation/expert_report.py --record)."""
    holds, found = says(row)
    assert holds == (row.id not in UNMET), f"{row.reason}: found {found:.4g}"


def test_the_list_names_rows_and_gets_no_longer():
    assert {r.id for r in rows()} >= UNMET
    assert len(UNMET) <= 0.14 * len(rows())
