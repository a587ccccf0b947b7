"""What keeps values from being mixed up: fields given by name, and few names that mean two things."""

import ast
from collections import Counter
from functools import cache
from pathlib import Path

SOURCE = Path(__file__).parents[1] / "src" / "lengthwise"
MANY = 6
"""From so many fields on, they are given by name."""
ROWS = {"Features", "HeadFacts", "HeadMeasures", "HeadProfile", "LeftOut"}
"""Made of rows of numbers that stand in the order of the fields: of arrays, of a file."""
ONE_CONCEPT = {"block", "claims", "heads", "one_rm", "posture", "profile", "review", "strength", "week"}
"""Questions that a file of the same name answers in its own room."""


@cache
def classes() -> list[ast.ClassDef]:
    return [
        n for f in sorted(SOURCE.rglob("*.py")) for n in ast.walk(ast.parse(f.read_text("utf-8"))) if isinstance(n, ast.ClassDef)
    ]


def decorated(found: ast.ClassDef) -> str:
    return next((ast.unparse(d) for d in found.decorator_list if ast.unparse(d).startswith("dataclass")), "")


def fields_of(found: ast.ClassDef) -> list[str]:
    named = [b for b in found.body if isinstance(b, ast.AnnAssign) and "ClassVar" not in ast.unparse(b.annotation)]
    return [ast.unparse(b.target) for b in named]


def test_many_fields_are_given_by_name():
    by_place = [n.name for n in classes() if decorated(n) and "kw_only" not in decorated(n) and len(fields_of(n)) >= MANY]
    assert set(by_place) == ROWS


def test_no_name_means_two_classes():
    counted = Counter(n.name for n in classes() if not n.name.startswith("_"))
    assert [name for name, n in counted.items() if n > 1] == []


def test_a_file_name_says_in_which_room_it_is():
    """A question's face in the terminal has its name, since that is how it is found."""
    files = [f for f in SOURCE.rglob("*.py") if not f.name.startswith("__") and f.parent != SOURCE / "cli" / "shown"]
    counted = Counter(f.stem for f in files if "versions" not in f.parts)
    assert {name for name, n in counted.items() if n > 1} == ONE_CONCEPT
