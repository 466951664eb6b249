"""Models for the tests of batches, and an executor that starts no process."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from concurrent.futures import Executor, Future
from pathlib import Path
from typing import Any

import kernel_models as kernel


class Here(Executor):
    """Works at once, in this process: an executor that costs the tests no start of a process."""

    def __init__(self) -> None:
        self.sources: list[str] = []

    def submit(self, function: Callable[..., Any], /, *args: Any, **keywords: Any) -> Future[Any]:
        future: Future[Any] = Future()
        self.sources.append(args[0].source.name)
        future.set_result(function(*args, **keywords))
        return future


def plate(path: Path, width: float, hole: float = 5.0) -> Path:
    """A plate ``width`` x 60 x 5 mm with a hole in its middle."""
    path.parent.mkdir(parents=True, exist_ok=True)
    body = kernel.cut(kernel.box(width, 60, 5), [kernel.through_hole(width / 2, 30.0, hole, 5.0)])
    return kernel.write_step([(path.stem, body)], path)


def files_of(folder: Path) -> dict[str, bytes]:
    """All files below a folder but the lock, with their bytes; no temporary one may be among them."""
    files = {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.name != ".lock"
    }
    assert not [name for name in files if name.endswith(".tmp")]
    return files


def write_models(folder: Path) -> Path:
    """Five plates, two of them of the same name in two folders, a button and a broken file."""
    plate(folder / "shelf.step", 100)
    plate(folder / "left" / "side.step", 120)
    plate(folder / "right" / "side.step", 140)
    plate(folder / "right" / "Side.step", 150)
    shutil.copy(folder / "shelf.step", folder / "shelf.stp")
    kernel.write_step([("ball", kernel.cylinder(10, 4))], folder / "button.step")
    (folder / "broken.step").write_text("ISO-10303-21;\nHEADER;\n")
    (folder / "notes.txt").write_text("no model")
    return folder
