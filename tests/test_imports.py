"""The dependency direction: a part imports only parts below it, and each outside library has its door."""

import ast
from functools import cache
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[1] / "src" / "lengthwise"
LEVEL = {
    "arrays": 0,
    "contents": 0,
    "days": 0,
    "distributions": 0,
    "errors": 0,
    "later": 0,
    "quantities": 0,
    "ranges": 0,
    "reading": 0,
    "units": 0,
    "files": 1,
    "core": 1,
    "body": 2,
    "evidence": 2,
    "lifts": 3,
    "mechanics": 4,
    "growth": 5,
    "figure": 5,
    "grading": 6,
    "training": 6,
    "planning": 7,
    "populations": 7,
    "storage": 8,
    "report": 8,
    "known": 9,
    "practice": 10,
    "records": 11,
    "weeks": 12,
    "questions": 13,
    "web": 14,
    "cli": 14,
    "asking": 14,
}
SIDE_BY_SIDE = {
    ("distributions", "later"),
    ("later", "errors"),
    ("errors", "units"),
    ("reading", "errors"),
    ("days", "reading"),
    ("days", "errors"),
    ("quantities", "units"),
    ("cli", "web"),
}
DOORS = {
    "ctypes": {"core"},
    "cupy": {"core"},
    "mujoco": {"body", "mechanics"},
    "highspy": {"mechanics", "planning"},
    "piqp": {"mechanics"},
    "icalendar": {"report"},
    "matplotlib": {"report"},
    "PIL": {"report"},
    "pptx": {"report"},
    "typst": {"report"},
    "segno": {"report"},
    "pyotp": {"records"},
    "typer": {"cli"},
    "rich": {"cli"},
    "sqlalchemy": {"storage"},
    "alembic": {"storage"},
    "psycopg": {"storage"},
    "argon2": {"storage"},
    "zxcvbn": {"storage"},
    "pyrage": {"records"},
    "fastapi": {"web"},
    "starlette": {"web"},
    "uvicorn": {"web"},
    "threadpoolctl": {"web"},
    "pyarrow": {"populations", "known"},
    "distributed": {"populations"},
    "jinja2": {"web"},
    "tomli_w": {"known"},
}
FILES = sorted(SOURCE.rglob("*.py"))


def part_of(file: Path) -> str:
    """The part a file belongs to."""
    return file.relative_to(SOURCE).parts[0].removesuffix(".py")


@cache
def imports_of(file: Path) -> list[str]:
    out = []
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            out += [a.name for a in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module:
            out += [f"{node.module}.{a.name}" for a in node.names] if node.module == "lengthwise" else [node.module]
    return out


@pytest.mark.parametrize("file", FILES, ids=lambda f: str(f.relative_to(SOURCE)))
def test_a_part_imports_only_what_lies_below(file):
    part = part_of(file)
    if part == "__init__":
        return
    for name in imports_of(file):
        pieces = name.split(".")
        if pieces[0] == "lengthwise" and len(pieces) > 1 and pieces[1] != part:
            other = pieces[1]
            assert LEVEL[other] < LEVEL[part] or (part, other) in SIDE_BY_SIDE, f"{part} must not import {other}"
        if pieces[0] in DOORS:
            assert part in DOORS[pieces[0]], f"{pieces[0]} has its door in {DOORS[pieces[0]]}, not in {part}"


def test_only_the_computing_parts_know_the_core():
    users = {part_of(f) for f in FILES for name in imports_of(f) if name.startswith("lengthwise.core")}
    assert users <= {"core", "body", "lifts", "mechanics", "figure"}


def test_the_walk_finds_the_parts():
    """So that the check above cannot pass on an empty list."""
    assert {"body", "lifts", "mechanics", "records", "cli"} <= {part_of(f) for f in FILES}
