"""What the docs site renders: notebooks, run from their first cell to their last, equations as MathML, and the table of criteria."""

import os
import re
import sys
from base64 import b64encode
from pathlib import Path
from typing import Any

import nbformat
from latex2mathml.converter import convert
from mkdocs.structure.files import File, Files
from nbconvert import MarkdownExporter
from nbconvert.preprocessors import ExecutePreprocessor

from lengthwise.grading.criteria import Criterion, criteria

NOTEBOOKS = Path(__file__).parent / "notebooks"
CRITERIA = "<!-- criteria -->"
EQUATION = re.compile(r"^\$\$\n(.+?)\n\$\$$", re.MULTILINE | re.DOTALL)


def on_files(files: Files, config: Any) -> Files:
    """Put each notebook in its page's place (called by mkdocs)."""
    for path in sorted(NOTEBOOKS.glob("*.ipynb")):
        files.append(File.generated(config, f"notebooks/{path.stem}.md", content=page(path)))
    return files


def page(path: Path) -> str:
    """A notebook with what its cells answered, pictures inside; its commands are those beside this Python, as in an activated environment."""
    os.environ["PATH"] = os.pathsep.join([str(Path(sys.executable).parent), os.environ["PATH"]])
    book = nbformat.read(path, as_version=4)
    text, made = MarkdownExporter().from_notebook_node(ExecutePreprocessor(timeout=300).preprocess(book)[0])
    for name, picture in made["outputs"].items():
        text = text.replace(f"({name})", f"(data:image/png;base64,{b64encode(picture).decode()})")
    return text


def on_page_markdown(markdown: str, **rest: Any) -> str:
    """Draw the equations and the table of criteria (called by mkdocs)."""
    drawn = EQUATION.sub(lambda found: convert(found[1], display="block"), markdown)
    return drawn.replace(CRITERIA, table_of_criteria()) if CRITERIA in drawn else drawn


def table_of_criteria() -> str:
    """Every criterion with the measures at which its value is 0 and 1."""
    head = "| criterion | what it asks | measure | 0 at | 1 at | of | evidence |"
    return "\n".join([head, "| --- " * 7 + "|", *(_criterion(name, c) for name, c in criteria().items())])


def _criterion(name: str, c: Criterion) -> str:
    at = {value: f"{measure:g}" for measure, value in c.points if value in (0, 1)}
    measure = f"{c.measure.replace('_', ' ')} [{c.unit}]"
    return (
        f"| `{name}` | {c.title} | {measure} | {at[0]} | {at[1]} | {c.of}{', engaged' * c.engaged} | {c.claim.replace('_', ' ')} |"
    )
