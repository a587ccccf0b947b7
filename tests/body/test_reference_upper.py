"""Every usable row of topics 1 and 2 of biomechanics.csv against the body, or in the list of rows it does not meet."""

import tomllib
from pathlib import Path

import pytest
from rows_upper import CHECKS, ROWS, UNUSABLE

UNMET = tomllib.loads((Path(__file__).parents[1] / "reference" / "unmet_upper.toml").read_text(encoding="utf-8")).get("row", {})


def _label(row: str) -> str:
    return f"{row} {ROWS[row]['source'][:28]}"


def test_every_row_is_checked_or_said_to_be_unusable():
    assert set(CHECKS) | set(UNUSABLE) == set(ROWS)
    assert not set(CHECKS) & set(UNUSABLE)
    assert set(UNMET) <= set(CHECKS)


@pytest.mark.parametrize("row", [pytest.param(r, id=_label(r)) for r in CHECKS if r not in UNMET])
def test_the_body_meets_the_row(row):
    """Source: the row of tests/reference/biomechanics.csv that the id names; tolerance in rows_upper."""
    check = CHECKS[row]
    found = check.compute()
    assert check.low - 1e-9 <= found <= check.high + 1e-9, (
        f"{ROWS[row]['quantity']}: {found:.4g}, allowed {check.low:.4g} to {check.high:.4g}"
    )


@pytest.mark.parametrize("row", [pytest.param(r, id=_label(r)) for r in UNMET])
def test_an_open_row_is_as_far_off_as_the_list_says(row):
    """A row that is met, or has moved, must leave or change its entry in unmet_upper.toml."""
    check = CHECKS[row]
    found = check.compute()
    assert not check.low <= found <= check.high, f"{row} is met now ({found:.4g}): take it off the list"
    assert found == pytest.approx(UNMET[row]["measured"], rel=0.02, abs=0.02)
