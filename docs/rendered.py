"""What the docs site renders: notebooks, run from their first cell to their last, and equations as MathML."""

import re
from base64 import b64encode
from pathlib import Path
from typing import Any

import nbformat
from latex2mathml.converter import convert
from mkdocs.structure.files import File, Files
from nbconvert import MarkdownExporter
from nbconvert.preprocessors import ExecutePreprocessor

NOTEBOOKS = Path(__file__).parent / "notebooks"
EQUATION = re.compile(r"^\$\$\n(.+?)\n\$\$$", re.MULTILINE | re.DOTALL)


def on_files(files: Files, config: Any) -> Files:
    """Put each notebook in its page's place (called by mkdocs)."""
    for path in sorted(NOTEBOOKS.glob("*.ipynb")):
        files.append(File.generated(config, f"notebooks/{path.stem}.md", content=page(path)))
    return files


def page(path: Path) -> str:
    """A notebook with what its cells answered, pictures inside."""
    book = nbformat.read(path, as_version=4)
    text, made = MarkdownExporter().from_notebook_node(ExecutePreprocessor(timeout=300).preprocess(book)[0])
    for name, picture in made["outputs"].items():
        text = text.replace(f"({name})", f"(data:image/png;base64,{b64encode(picture).decode()})")
    return text


def on_page_markdown(markdown: str, **rest: Any) -> str:
    """Draw the equations (called by mkdocs)."""
    return EQUATION.sub(lambda found: convert(found[1], display="block"), markdown)
