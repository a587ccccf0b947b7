"""All questions. Each is described once, in a file of its name, and every face is made from this folder."""

import ast
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any

from lengthwise.errors import unknown

ROOM = ("__init__", "about_client", "answers", "ask", "fields")
"""Files beside the questions."""


@cache
def says() -> dict[str, str]:
    """The first sentence of each question's file, by name, without loading any of them."""
    found = {file.stem: file for folder in __path__ for file in Path(folder).glob("*.py") if file.stem not in ROOM}
    return {name: _sentence(found[name].read_text(encoding="utf-8")) for name in sorted(found)}


def _sentence(text: str) -> str:
    return (ast.get_docstring(ast.parse(text)) or "").partition("\n")[0]


def named(name: str) -> Any:
    """The question called `name`; only its own file is loaded.

    Raises:
        UnknownNameError: there is none.
    """
    if name not in says():
        raise unknown("question", name, says())
    return import_module(f"{__name__}.{name}").QUESTION
