"""What outlines and planes do with objects of Python: metadata, planes of other libraries, bytes."""

from __future__ import annotations

import collections.abc
import json
import os
from typing import TYPE_CHECKING, Any, Literal

from planform import _planform
from planform._planform import Datum, Model, ProfileSet
from planform.errors import ArgumentError, GeometryError

if TYPE_CHECKING:
    from typing import BinaryIO

__all__ = ["data", "datum_of", "load", "with_data"]


def data(self: ProfileSet) -> dict[str, Any]:
    """The caller's own metadata, a dict that is made anew in each call; empty if there is none.

    Kept by motions and in JSON, under the key ``data``; no part of the geometry: ``==`` and `digest` don't
    ask for it. See `with_data`.
    """
    text = self._data_text
    return json.loads(text) if text else {}


def with_data(self: ProfileSet, data: collections.abc.Mapping[str, Any]) -> ProfileSet:
    """The same set with metadata of the caller's own in place of what it had.

    Parameters
    ----------
    data : mapping
        What JSON holds: text, finite numbers, true and false, None, lists and dicts of these with text as
        keys. An empty one takes away what there is.

    Returns
    -------
    ProfileSet

    Raises
    ------
    GeometryError
        For what JSON doesn't hold.

    Examples
    --------
    >>> import planform
    >>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), radius=10)]))])
    >>> perch = disc.with_data({"order": 17, "finish": "oiled"})
    >>> planform.ProfileSet.from_json(perch.to_json()).data
    {'finish': 'oiled', 'order': 17}
    """
    if not data:
        return self._with_data_text("")
    try:
        text = json.dumps(dict(data), allow_nan=False, sort_keys=True, ensure_ascii=False)
    except (TypeError, ValueError) as error:
        raise GeometryError.of_kind(
            "invalid_argument", f"with_data: JSON does not hold that: {error}"
        ) from None
    if json.loads(text) != dict(data):
        raise GeometryError.of_kind(
            "invalid_argument",
            "with_data: JSON would change that: keys are texts, sequences are lists, numbers finite",
        )
    return self._with_data_text(text)


def datum_of(cls: type[Datum], plane: Any) -> Datum:
    """The datum that an object describes: a plane of another library, a word, or a datum itself.

    Parameters
    ----------
    plane : object
        A Datum; 'xy', 'xz' or 'yz'; an object with an origin, a normal (``z_dir``, ``zDir``, ``normal``) and
        an x direction (``x_dir``, ``xDir``, ``x``), as planes of libraries around OCP have them; a plane or a
        coordinate system of OCP.

    Returns
    -------
    Datum

    Raises
    ------
    GeometryError
        For another object, an unknown word, numbers that are not finite.

    Examples
    --------
    >>> import planform
    >>> planform.Datum.of("xz") == planform.Datum.xz()
    True
    """
    if isinstance(plane, Datum):
        return plane
    if isinstance(plane, str):
        return _planform._datum_of_word(plane)  # type: ignore[arg-type]
    frame = plane.Position() if hasattr(plane, "Position") else plane
    if all(hasattr(frame, name) for name in ("Location", "Direction", "XDirection")):
        parts = frame.Location(), frame.Direction(), frame.XDirection()
        return cls(*([part.X(), part.Y(), part.Z()] for part in parts))
    origin = _first(plane, ("origin",))
    normal = _first(plane, ("z_dir", "zDir", "normal"))
    x = _first(plane, ("x_dir", "xDir", "x"))
    if origin is None or normal is None:
        kind = type(plane)
        raise GeometryError.of_kind(
            "invalid_argument",
            "Datum.of takes a Datum, 'xy', 'xz', 'yz', or a plane with an origin and a normal, "
            f"not {kind.__module__}.{kind.__qualname__}",
        )
    return cls(_numbers(origin), _numbers(normal), None if x is None else _numbers(x))


def _first(plane: Any, names: tuple[str, ...]) -> Any:
    return next((getattr(plane, name) for name in names if hasattr(plane, name)), None)


def _numbers(vector: Any) -> list[float]:
    """Three numbers of a vector, whoever's."""
    if hasattr(vector, "toTuple"):
        vector = vector.toTuple()
    elif hasattr(vector, "to_tuple"):
        vector = vector.to_tuple()
    try:
        return [float(part) for part in vector]
    except (TypeError, ValueError):
        raise GeometryError.of_kind(
            "invalid_argument", f"Datum.of: {vector!r} is no vector of three numbers"
        ) from None


def load(
    source: str | os.PathLike[str] | bytes | BinaryIO,
    *,
    unit: str | None = None,
    scale: float = 1.0,
    heal: Literal["needed", "always"] = "needed",
) -> Model:
    """Read a STEP or BREP file; lengths come out in mm whatever the file's unit.

    STEP (AP203, AP214, AP242), also gzip-compressed, and BREP, text or binary: the content decides, not
    the suffix. Other Python threads run meanwhile.

    Parameters
    ----------
    source : path-like, bytes or binary stream
        The file, its content, or what reads it (from where it stands to its end).
    unit : {'mm', 'cm', 'm', 'um', 'inch', 'foot'}, optional
        Read all lengths as this unit instead of the file's own.
    scale : float, optional
        Multiply all lengths by this, no unit (a model drawn at 1:10 has scale 10).
    heal : {'needed', 'always'}, optional
        Whether the kernel repairs what does not pass checks, or everything; the same solids in little more
        than half of the time, or as the kernel's own readers do. STEP alone; BREP is taken as it is.

    Returns
    -------
    Model

    Raises
    ------
    LoadError
        With the path (``memory`` for bytes and streams) and what to do, if the file can't be read or holds
        no solid.
    GeometryError
        For an unknown unit or a scale that is not finite and positive.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> path = pathlib.Path(tempfile.mkdtemp()) / "station.step"
    >>> _ = planform.write_demo_assembly(path)
    >>> planform.load(path).unit
    'mm'
    >>> planform.load(path.read_bytes()).source
    'memory'
    """
    content: Any = source
    if not isinstance(source, str | bytes | os.PathLike) and hasattr(source, "read"):
        content = source.read()
        if not isinstance(content, bytes):
            raise ArgumentError.of_kind(
                "invalid_argument",
                "load: the stream gives text; open the file in binary mode ('rb')",
            )
    if isinstance(content, bytes | bytearray | memoryview):
        return _planform._read_bytes(bytes(content), unit, scale, heal)
    return _planform.load(content, unit=unit, scale=scale, heal=heal)
