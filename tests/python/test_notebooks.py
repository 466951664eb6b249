"""Every notebook runs from start to finish, and is stored without outputs."""

from __future__ import annotations

from pathlib import Path

import nbformat
import pytest
from nbclient import NotebookClient

NOTEBOOKS = sorted((Path(__file__).resolve().parents[2] / "notebooks").glob("*.ipynb"))


def test_there_is_a_notebook() -> None:
    assert NOTEBOOKS


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.name)
def test_stored_without_outputs(path: Path) -> None:
    for cell in nbformat.read(path, as_version=4).cells:
        if cell.cell_type == "code":
            assert cell.outputs == []
            assert cell.execution_count is None


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.name)
def test_runs_and_shows_pictures(path: Path, tmp_path: Path) -> None:
    notebook = nbformat.read(path, as_version=4)
    client = NotebookClient(notebook, timeout=120, resources={"metadata": {"path": str(tmp_path)}})
    client.execute()
    kinds = {
        kind
        for cell in notebook.cells
        if cell.cell_type == "code"
        for output in cell.outputs
        for kind in output.get("data", {})
    }
    assert "image/svg+xml" in kinds
    assert "image/png" in kinds
    assert list(tmp_path.glob("**/*.dxf"))
