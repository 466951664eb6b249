"""Every notebook runs from start to finish, and is stored without outputs.

One of them runs in a kernel of its own, as a person runs it; the others in this process, by what the
kernel is made of, which saves a start of Python each. `.ci/docs` runs all of them in kernels.
"""

from __future__ import annotations

import os
import re
from pathlib import Path

import nbformat
import pytest
from IPython.core.interactiveshell import InteractiveShell
from IPython.utils.capture import capture_output
from nbclient import NotebookClient

NOTEBOOKS = sorted((Path(__file__).resolve().parents[2] / "notebooks").glob("*.ipynb"))
IN_A_KERNEL = "station.ipynb"
NEEDS = {"parametric_loop.ipynb": "build123d", "batch_on_dask.ipynb": "distributed"}
PICTURES = {"image/svg+xml", "image/png", "text/html"}


def test_there_are_notebooks() -> None:
    assert len(NOTEBOOKS) >= 8


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.name)
def test_stored_without_outputs(path: Path) -> None:
    for cell in nbformat.read(path, as_version=4).cells:
        if cell.cell_type == "code":
            assert cell.outputs == []
            assert cell.execution_count is None


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.name)
def test_opens_with_the_question_that_it_answers(path: Path) -> None:
    title, *rest = nbformat.read(path, as_version=4).cells[0].source.split("\n\n")
    assert title.startswith("# ")
    assert path.name == IN_A_KERNEL or re.fullmatch(r"\*.*\?\*", rest[0], re.DOTALL)


def test_runs_in_a_kernel_and_shows_pictures(tmp_path: Path) -> None:
    notebook = nbformat.read(NOTEBOOKS[0].with_name(IN_A_KERNEL), as_version=4)
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


@pytest.mark.parametrize(
    "path", [path for path in NOTEBOOKS if path.name != IN_A_KERNEL], ids=lambda path: path.name
)
def test_runs(path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    if path.name in NEEDS:
        pytest.importorskip(NEEDS[path.name])
    monkeypatch.chdir(tmp_path)
    if "PLANFORM_LONG_TESTS" not in os.environ:
        # tests/consumer, which .ci/test compiles, is a program as the notebook's.
        monkeypatch.delenv("PLANFORM_PREFIX", raising=False)
    shell = InteractiveShell()
    shown: set[str] = set()
    ran = 0
    for cell in nbformat.read(path, as_version=4).cells:
        if cell.cell_type != "code":
            continue
        with capture_output() as captured:
            result = shell.run_cell(cell.source)
        assert result.success, (
            f"{cell.source}\n{result.error_before_exec or result.error_in_exec!r}"
        )
        ran += 1
        for output in captured.outputs:
            shown |= set(output.data)
        if result.result is not None:
            shown |= set(shell.display_formatter.format(result.result)[0])
    assert ran >= 3
    assert shown & PICTURES, shown
