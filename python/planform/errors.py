"""Every failure that planform reports, one exception class a family.

Each exception also derives from the builtin that callers expect, and each instance says in `kind` what
went wrong: one of the names that `planform.error_kinds` lists.
"""

from __future__ import annotations

import errno
import os
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from planform._planform import UnfoldRefusal

__all__ = [
    "ArgumentError",
    "Error",
    "FileMissingError",
    "GeometryError",
    "LoadError",
    "UnfoldError",
    "WriteError",
]


class Error(Exception):
    """Base of every exception that planform raises.

    Examples
    --------
    >>> import planform
    >>> try:
    ...     planform.load("absent.step")
    ... except planform.Error as error:
    ...     print(type(error).__name__, error.kind)
    FileMissingError file_missing
    """

    kind: str = "invalid_argument"
    """What went wrong: one of the names that `planform.error_kinds` lists."""

    @classmethod
    def of_kind(cls, kind: str, message: str) -> Error:
        """Make an exception of this class that carries the given kind.

        Parameters
        ----------
        kind : str
            One of the names that `planform.error_kinds` lists.
        message : str
            What a person should read: the file, the entity, what to do.

        Returns
        -------
        Error
            Of this class, to be raised by the caller.
        """
        error = cls(message)
        error.kind = kind
        return error


class LoadError(Error, OSError):
    """A model that can't be read.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> path = pathlib.Path(tempfile.mkdtemp()) / "roof.step"
    >>> _ = path.write_text("no model")
    >>> try:
    ...     planform.load(path)
    ... except planform.LoadError as error:
    ...     print(error.kind, isinstance(error, OSError))
    file_not_recognised True
    """

    @classmethod
    def of_kind(
        cls, kind: str, message: str, path: str | os.PathLike[str] | None = None
    ) -> LoadError:
        """As for `Error`, a `FileMissingError` for a file that does not exist.

        Parameters
        ----------
        kind : str
            One of the names that `planform.error_kinds` lists.
        message : str
            What a person should read: the file, the entity, what to do.
        path : path-like, optional
            The file, for `filename`.

        Returns
        -------
        LoadError
            To be raised by the caller.
        """
        error = (FileMissingError if kind == "file_missing" else cls)(message)
        error.kind = kind
        if path is not None:
            error.filename = os.fspath(path)
        return error

    def __str__(self) -> str:
        # OSError would put number and name in the place of the message once they are set.
        return str(self.args[0]) if self.args else ""

    def __reduce__(self) -> tuple[Any, ...]:
        return _restored, (type(self), self.args, self.kind, self.errno, self.filename)


class FileMissingError(LoadError, FileNotFoundError):
    """A file that does not exist; `errno` and `filename` are those of a `FileNotFoundError`.

    Examples
    --------
    >>> import planform
    >>> try:
    ...     planform.load("absent.step")
    ... except FileNotFoundError as error:
    ...     print(type(error).__name__)
    FileMissingError
    """

    def __init__(self, *arguments: Any) -> None:
        super().__init__(*arguments)
        self.errno = errno.ENOENT


def _restored(
    cls: type[LoadError],
    arguments: tuple[Any, ...],
    kind: str,
    number: int | None,
    filename: str | None,
) -> LoadError:
    error = cls(*arguments)
    error.kind = kind
    error.errno = number
    if filename is not None:
        error.filename = filename
    return error


class GeometryError(Error, ValueError):
    """Geometry that can't be flattened, or arguments that describe no geometry.

    Examples
    --------
    >>> import planform
    >>> try:
    ...     planform.Arc((0, 0), radius=-1)
    ... except planform.GeometryError as error:
    ...     print(error.kind, isinstance(error, ValueError))
    invalid_argument True
    """


class UnfoldError(GeometryError):
    """A solid that is no bent sheet that a flat one bends to.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> try:
    ...     planform.unfold(station[20])
    ... except planform.UnfoldError as error:
    ...     print(error.refusal.reason)
    no bend
    """

    refusal: UnfoldRefusal | None = None
    """Why, with the faces and the place."""


class ArgumentError(GeometryError, TypeError):
    """An argument of a type that the function does not take, or none where one is needed.

    Examples
    --------
    >>> import planform
    >>> try:
    ...     planform.Arc((0, 0), radius="wide")
    ... except planform.ArgumentError as error:
    ...     print(isinstance(error, TypeError))
    True
    """


class WriteError(Error, OSError):
    """Output that can't be written.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> try:
    ...     roof.to_dxf("absent/folder/roof.dxf")
    ... except planform.WriteError as error:
    ...     print(isinstance(error, OSError))
    True
    """
