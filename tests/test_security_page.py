"""The page on security names tests that there are, and says of every requirement how it stands."""

import re
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).parents[1]
PAGE = (ROOT / "docs" / "security.md").read_text(encoding="utf-8")
ROWS = [tuple(c.strip() for c in line.strip("|").split("|")) for line in PAGE.splitlines() if re.match(r"\| \d+\.\d+\.\d+ ", line)]


def test_every_requirement_has_a_state_and_a_test_or_a_reason():
    assert len(ROWS) == 76
    assert len({number for number, *_ in ROWS}) == 76
    for number, asked, state, why in ROWS:
        assert asked, number
        assert state in ("met", "partly", "not"), number
        assert len(why) > 3, number


def test_the_tests_that_are_named_are_there():
    named = {name for *_, why in ROWS for name in re.findall(r"[\w/]+\.py", why) if "test_" in name}
    assert len(named) > 10
    for name in named:
        assert (ROOT / "tests" / name.removeprefix("tests/")).exists(), name


def test_how_many_are_met_is_no_less_than_it_was():
    assert Counter(state for _, _, state, _ in ROWS)["met"] >= 72
