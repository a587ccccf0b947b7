"""Over its functional range a fibre stays at 0.5 to 1.6 of its best length and reaches it somewhere (anatomy), or is recorded as one that does not."""

import sys
import tomllib
from functools import cache
from pathlib import Path

import pytest

from lengthwise.body import anatomy
from lengthwise.body.model import body_of
from lengthwise.body.person import Person

sys.path.append(str(Path(__file__).parents[2] / "validation"))
from working_lengths import PAGE, RECORDED, Reach, reaches, row

KEPT = tomllib.loads(RECORDED.read_text(encoding="utf-8"))


@cache
def found() -> dict[str, Reach]:
    return reaches(body_of(Person()))


@pytest.mark.parametrize("line", anatomy.lines())
def test_fibres_work_between_half_and_one_and_a_half_of_their_best_length(line):
    """Both ways: a line that leaves the bounds is a defect, one that keeps them must leave the record."""
    reach, kept = found()[line], KEPT.get(line)
    assert reach.outside == (kept is not None), f"{reach.least:.2f} to {reach.most:.2f}"
    if kept:
        assert (reach.least, reach.most) == pytest.approx((kept["least"], kept["most"]), abs=0.02)


def test_the_page_shows_every_line_that_is_recorded():
    shown = PAGE.read_text(encoding="utf-8")
    assert [name for name in KEPT if row(name, found()[name]) not in shown] == []
