"""The notebooks of the docs run from their first cell to their last."""

import os
import sys
from pathlib import Path

import nbformat
import pytest
from nbclient import NotebookClient

NOTEBOOKS = sorted((Path(__file__).parents[1] / "docs" / "notebooks").glob("*.ipynb"))


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda p: p.stem)
def test_a_notebook_runs_and_every_answer_shows(path, monkeypatch, own_folder):
    monkeypatch.setenv("PATH", str(Path(sys.executable).parent), prepend=os.pathsep)
    book = nbformat.read(path, as_version=4)
    assert not any(cell.get("outputs") for cell in book.cells), "outputs are made, not kept"
    NotebookClient(book, timeout=120, kernel_name="python3").execute()
    last = [cell for cell in book.cells if cell.cell_type == "code"][-1]
    assert last.outputs and last.outputs[0].output_type in ("execute_result", "display_data")
    for cell in book.cells:
        if cell.source.endswith(".plot()"):
            assert "image/png" in cell.outputs[-1].data, cell.source
