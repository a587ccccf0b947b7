"""What the docs site makes from the program itself: commands, the Python interface, contributing, changes, a picture."""

import inspect
import io
import re
from pathlib import Path
from typing import Any

from mkdocs.structure.files import File, Files

import lengthwise
from lengthwise.cli.commands import COMMANDS, load

ROOT = Path(__file__).parents[1]
PICTURE = "img/back_squat.png"


def on_files(files: Files, config: Any) -> Files:
    """Add the pages that no file holds (called by mkdocs)."""
    pages = {
        "commands.md": commands(),
        "python.md": python(),
        "contributing.md": from_the_top("CONTRIBUTING.md"),
        "changelog.md": from_the_top("CHANGELOG.md"),
    }
    for name, text in pages.items():
        files.append(File.generated(config, name, content=text))
    files.append(File.generated(config, PICTURE, content=picture()))
    return files


def on_page_markdown(markdown: str, page: Any, **rest: Any) -> str:
    """Put the picture after the step on lifts of the first page (called by mkdocs)."""
    shown = f"    ![Back squat: curves and muscles, as `profile` draws them]({PICTURE})\n\n4. **Plan"
    return markdown.replace("4. **Plan", shown) if page.file.src_uri == "index.md" else markdown


def picture() -> bytes:
    """A lift as `profile` draws it."""
    held = io.BytesIO()
    lengthwise.profile("back_squat").plot().savefig(held, format="png", dpi=90)
    return held.getvalue()


def commands() -> str:
    """Every command with what it takes, from its own help."""
    head = "# Commands\n\n`lengthwise COMMAND --help` prints the same.\n"
    return "\n".join([head, *(command(name, load(name)) for name in sorted(COMMANDS))])


def command(words: str, asked: Any, level: int = 2) -> str:
    """A command, then the commands below it."""
    rows = [row(one) for one in asked.params if one.name != "help" and not getattr(one, "hidden", False)]
    table = ["| what | meaning |", "| --- | --- |", *rows, ""] if rows else []
    below = [command(f"{words} {name}", one, level + 1) for name, one in getattr(asked, "commands", {}).items()]
    return "\n".join([f"{'#' * level} {words}\n", tidy(asked.help), "", *table, *below])


def row(one: Any) -> str:
    """A line of the table: an option or an argument."""
    option = one.param_type_name == "option"
    name = ", ".join([*one.opts, *one.secondary_opts]).strip(", ") if option else (one.metavar or one.name).upper()
    said = " ".join((getattr(one, "help", None) or "").split()).replace("|", "\\|")
    return f"| `{name}` | {said} |"


def python() -> str:
    """What `import lengthwise as lw` offers, from its docstrings."""
    import lengthwise.asking as asking

    head = f"# Python\n\n{tidy(asking.__doc__)}\n"
    names = [name for name in lengthwise.__all__ if name != "__version__"]
    return "\n".join([head, *(member(name, getattr(lengthwise, name)) for name in names)])


def member(name: str, what: Any) -> str:
    """A class or function: how it is called, then its docstring as it is written."""
    asked = [taken(one) for one in inspect.signature(what).parameters.values() if not one.name.startswith("_")]
    called = f"lw.{name}({', '.join(asked)})"
    return f"## {name}\n\n```\n{called}\n\n{tidy(what.__doc__)}\n```\n"


def taken(one: inspect.Parameter) -> str:
    """What is passed: its name, and its default where that is short."""
    shown = repr(one.default)
    return one.name if one.default is one.empty or "<" in shown else f"{one.name}={shown}"


def tidy(text: str | None) -> str:
    """A docstring without its indent."""
    return inspect.cleandoc(text or "")


def from_the_top(name: str) -> str:
    """A page of the repository's top folder, with its links as seen from docs."""
    return re.sub(r"\]\(docs/", "](", (ROOT / name).read_text(encoding="utf-8"))
