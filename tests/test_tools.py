"""The programs under validation/ and bench/ ask the package only for what is there: they are run by hand, so a renaming could pass them by."""

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
TOOLS = sorted(f for folder in ("validation", "bench") for f in (ROOT / folder).glob("*.py"))


def asked(tool):
    """Each name that a program imports from the package, with its module."""
    for node in ast.walk(ast.parse(tool.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] == "lengthwise":
            yield from ((node.module, alias.name) for alias in node.names)


@pytest.mark.parametrize("tool", TOOLS, ids=lambda tool: f"{tool.parent.name}/{tool.name}")
def test_what_a_tool_imports_is_there(tool):
    missing = [f"{module}.{name}" for module, name in asked(tool) if not hasattr(__import__(module, fromlist=[name]), name)]
    assert missing == []
