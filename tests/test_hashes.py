"""hashes.txt: what running needs, pinned as in constraints.txt, each with what its wheels add up to (SHA-256)."""

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[1]
TEXT = (ROOT / "hashes.txt").read_text(encoding="utf-8")
PINNED = dict(re.findall(r"^([a-z0-9.-]+)==(\S+) \\$", TEXT, re.MULTILINE))


def plain(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def test_every_package_is_pinned_as_in_the_constraints():
    constraints = (line.split("==") for line in (ROOT / "constraints.txt").read_text(encoding="utf-8").splitlines() if "==" in line)
    known = {plain(name): version for name, version in constraints}
    assert {plain(name): version for name, version in PINNED.items()}.items() <= known.items()


def test_everything_that_running_needs_has_a_hash():
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["dependencies"]
    assert {plain(re.split(r"[<>=\[ ]", d)[0]) for d in declared} <= {plain(name) for name in PINNED}


def test_nothing_but_hashes_stands_there():
    for part in TEXT.split("\n")[2:-1]:
        assert re.fullmatch(r"[a-z0-9.-]+==\S+ \\|    --hash=sha256:[0-9a-f]{64}( \\)?", part), part
    assert "://" not in TEXT
