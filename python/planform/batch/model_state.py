"""What a model is made of: its file and those that it names, parts of an assembly; each read once."""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from pathlib import Path

from planform._planform import _referred_files
from planform.batch.manifest import bytes_digest, opened
from planform.errors import Error
from planform.formats import MODEL_SUFFIXES

Look = tuple[int, int, int]
"""What changes when a file is written: size, time of change, number in its file system."""


def look_of(path: Path) -> Look | None:
    """How a file looks; None if there is none."""
    try:
        state = path.stat()
    except OSError:
        return None
    return state.st_size, state.st_mtime_ns, state.st_ino


@dataclass(frozen=True)
class ModelState:
    """A model as its files were when they were read.

    Attributes
    ----------
    digest : str
        Of the bytes of all files: BLAKE2b with 128 bits, hexadecimal; "" if its own can't be read.
    looks : dict
        How each file looked right before it was read, its own first; also of files that are named and not
        there (None): with them the model would be another.
    data : bytes
        Of its own file.
    """

    digest: str
    looks: dict[Path, Look | None] = field(default_factory=dict)
    data: bytes = b""

    @property
    def others(self) -> list[Path]:
        """The files besides its own, those that are not there, too."""
        return list(self.looks)[1:]

    @property
    def still_looks_so(self) -> bool:
        """True if no file has changed since, as far as that shows without reading it."""
        return all(look_of(path) == look for path, look in self.looks.items())


def model_state(path: Path) -> ModelState:
    """Read a model's file and those that it, or one of them, names."""
    own = Path(os.path.normpath(path))
    looks: dict[Path, Look | None] = {}
    digests = []
    absent: dict[Path, None] = {}
    first = b""
    waiting = [own]
    for file in waiting:
        looks[file] = look_of(file)
        data = read(file)
        digests.append("" if data is None else bytes_digest(data))
        if file == own:
            if data is None:
                return ModelState("", {path: looks[own]})
            first = data
        there, missing = named_in(file, data or b"")
        waiting += [other for other in there if other not in waiting]
        absent.update(dict.fromkeys(missing))
    # Under the name that the caller knows it by.
    looks = {path: looks.pop(own), **looks, **dict.fromkeys(absent.keys() - looks.keys())}
    if len(digests) == 1:
        return ModelState(digests[0], looks, first)
    return ModelState(bytes_digest(" ".join(digests).encode()), looks, first)


def model_digest(path: Path) -> str:
    """Digest of a model's file and of those that it names; "" if it can't be read."""
    return model_state(path).digest


def read(path: Path) -> bytes | None:
    """The bytes of a file; None if it is none or can't be read."""
    try:
        with opened(path, follow=True) as file:
            return file.read()
    except OSError:
        return None


def named_in(path: Path, data: bytes) -> tuple[list[Path], list[Path]]:
    """The files that a model's bytes name: those that are there, and those that are not."""
    try:
        return _referred_files(data, path, list(MODEL_SUFFIXES))
    except Error:
        return [], []  # reading the model says what is wrong


class KnownStates:
    """The states of models, each read again only where one of its files looks different, or is said to have
    changed. Their bytes are not kept.

    ``also`` are further files whose changes are told.
    """

    def __init__(self, also: Iterable[Path] = ()) -> None:
        self._known: dict[Path, ModelState] = {}
        self._noticed = {path: look_of(path) for path in also}
        self._also = tuple(self._noticed)

    def is_known(self, path: Path) -> bool:
        """True if the state of a model need not be read. What could not be read is tried again: rights don't
        show in how a file looks."""
        known = self._known.get(path)
        return known is not None and known.digest != "" and known.still_looks_so

    def of(self, path: Path) -> ModelState:
        """The state of a model."""
        if not self.is_known(path):
            self._known[path] = replace(model_state(path), data=b"")
        return self._known[path]

    def forget(self, path: Path) -> None:
        """A file has changed: the models that it is part of are read again."""
        for model in [m for m, state in self._known.items() if path in state.looks]:
            del self._known[model]

    def changed_parts(self) -> list[Path]:
        """The files that models name, or that were given, which look different from when this was asked last,
        or when they were read."""
        named = {file: state.looks[file] for state in self._known.values() for file in state.others}
        for file in self._also:
            named[file] = self._noticed[file]
        self._noticed = {file: self._noticed.get(file, look) for file, look in named.items()}
        changed = []
        for file, before in self._noticed.items():
            look = look_of(file)
            if look != before:
                self._noticed[file] = look
                changed.append(file)
        return changed
