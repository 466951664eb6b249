"""Which models a batch takes, and the folder of each below the output folder.

A source's folder follows its path below the deepest folder that all arguments share: ``parts/a/x.step`` and
``parts/b/x.step`` go to ``out/a/x`` and ``out/b/x``. Every step of it is made a safe name, and names that
would be one are told apart by a number, so that no name chooses a place outside the output folder and none
hides another.
"""

from __future__ import annotations

import glob
import os
import stat
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from planform.batch.which_drawings import model_stem
from planform.errors import LoadError, WriteError
from planform.formats import MODEL_SUFFIXES
from planform.naming import FileNames

OWN_NAMES = ("manifest.json", "report.html")
"""What a batch itself writes into the output folder."""


@dataclass(frozen=True)
class Source:
    """One model of a batch.

    Attributes
    ----------
    path : pathlib.Path
        Where the model is.
    name : str
        Its path below the folder that all arguments share, with ``/``: what it is called in the manifest.
    folder : str
        Where its drawings go, below the output folder, with ``/``.
    """

    path: Path
    name: str
    folder: str


@dataclass(frozen=True)
class Layout:
    """The sources of a batch in the order of their names, and the folder that they are named from."""

    base: Path
    sources: tuple[Source, ...]


def layout_of(arguments: Iterable[str | Path], may_be_empty: bool = False) -> Layout:
    """Return the models that files, folders (searched in full) and patterns (``**`` too) name.

    A file that several arguments name counts once. Raises LoadError for one that names nothing, unless that
    may be: where models are still to come.
    """
    found: dict[Path, None] = {}
    bases: list[Path] = []
    for argument in arguments:
        base, paths = expanded(argument, may_be_empty)
        bases.append(base)
        found.update(dict.fromkeys(paths))
    if not found and not (may_be_empty and bases):
        raise LoadError.of_kind(
            "file_missing", "there is no model to flatten: name files, folders or patterns"
        )
    base = Path(os.path.commonpath(bases))
    names = {path: path.relative_to(base).as_posix() for path in found}
    return Layout(base, tuple(placed(names)))


def expanded(argument: str | Path, may_be_empty: bool = False) -> tuple[Path, list[Path]]:
    """The folder that an argument starts from and the models it names, both absolute."""
    path = Path(os.path.abspath(argument))  # noqa: PTH100 (resolve() would follow links)
    if path.is_dir():
        models = [
            Path(folder, name)
            for folder, _, names in os.walk(path, onerror=refuse_folder)
            for name in names
            if name.lower().endswith(MODEL_SUFFIXES)
        ]
        if not models and not may_be_empty:
            raise LoadError.of_kind(
                "file_missing",
                f"{argument}: there is no model (STEP, BREP) in this folder",
                argument,
            )
        return path, models
    if path.exists() or not glob.has_magic(str(argument)):
        # A file that is missing is reported as any other that can't be read.
        return path.parent, [path]
    fixed = [part for part in path.parts if not glob.has_magic(part)]
    start = Path(*path.parts[: next(i for i, part in enumerate(path.parts) if part not in fixed)])
    models = [
        model
        for model in start.glob(str(path.relative_to(start)))
        if model.is_file() and model.name.lower().endswith(MODEL_SUFFIXES)
    ]
    if not models and not may_be_empty:
        raise LoadError.of_kind("file_missing", f"{argument}: the pattern fits no model", argument)
    return start, models


def refuse_folder(error: OSError) -> None:
    """A folder that can't be searched: what is in it must not be left out in silence."""
    raise LoadError.of_kind(
        "file_unreadable",
        f"{error.filename}: the folder can't be read: {error.strerror}; check its rights, or name "
        "files, folders or patterns beside it",
        error.filename,
    ) from error


def placed(names: dict[Path, str]) -> Iterable[Source]:
    """Each source with its folder, in the order of the names."""
    taken: dict[str, FileNames] = {}
    folders: dict[str, str] = {"": ""}

    def unique(parent: str, name: str) -> str:
        """A name in an output folder that nothing else there has."""
        if parent not in taken:
            taken[parent] = FileNames()
            if not parent:
                for own in OWN_NAMES:
                    taken[parent].unique(own)
        return str(PurePosixPath(parent, taken[parent].unique(name)))

    # Folders first: the name of a folder then doesn't depend on the files beside it.
    parents = sorted({str(p) for name in names.values() for p in PurePosixPath(name).parents})
    for parent in parents:
        if parent != ".":
            above = str(PurePosixPath(parent).parent)
            folders[parent] = unique(folders["" if above == "." else above], Path(parent).name)
    for path, name in sorted(names.items(), key=lambda item: item[1]):
        above = str(PurePosixPath(name).parent)
        folder = unique(folders["" if above == "." else above], model_stem(path))
        yield Source(path, name, folder)


def real_folder(out: Path, folder: str, make: bool = False) -> Path:
    """Return the path of a folder below ``out``, having looked at each step of it.

    Raises WriteError if a step is a symbolic link or no folder (what lies behind a link may be anywhere),
    or, without ``make``, FileNotFoundError if it is missing.
    """
    path = out
    for part in PurePosixPath(folder).parts:
        if part in ("..", "/"):
            raise WriteError.of_kind("file_unwritable", f"'{folder}' leads out of '{out}'")
        path = path / part
        if make:
            try:
                path.mkdir(exist_ok=True)
            except FileExistsError:
                pass
            except OSError as error:
                raise WriteError.of_kind(
                    "file_unwritable", f"can't make the folder '{path}': {error.strerror}"
                ) from error
        mode = path.lstat().st_mode
        if stat.S_ISLNK(mode):
            raise WriteError.of_kind(
                "file_unwritable",
                f"'{path}' is a symbolic link, which is not followed; remove it or choose another "
                "output folder",
            )
        if not stat.S_ISDIR(mode):
            raise WriteError.of_kind(
                "file_unwritable", f"'{path}' is no folder; remove it or choose another one"
            )
    return path
