"""Shapes of OCP (`cadquery-ocp` on PyPI): taken over as BREP bytes.

The kernel in that package is another build than ours, so that no object may cross from one to the other;
bytes may.
"""

from __future__ import annotations

import io
import sys
from typing import Any

from planform._planform import Model, from_brep
from planform.errors import GeometryError

__all__ = ["from_ocp"]


def from_ocp(obj: Any, *, unit: str | None = None, scale: float = 1.0) -> Model:
    """Take a shape that another Python library holds in memory.

    Parameters
    ----------
    obj : OCP.TopoDS.TopoDS_Shape or object
        A shape of OCP, or an object that holds one as ``.wrapped``.
    unit : {'mm', 'cm', 'm', 'um', 'inch', 'foot'}, optional
        Unit of the shape's lengths; mm without it.
    scale : float, optional
        Multiply all lengths by this, no unit.

    Returns
    -------
    Model
        Its lengths in mm.

    Raises
    ------
    GeometryError
        If `obj` is neither, is a null shape, for an unknown unit, or for a scale that is not finite and
        positive.
    LoadError
        If the shape holds no solid and no closed shell.
    """
    return from_brep(_brep_bytes(_shape_of(obj)), unit=unit, scale=scale)


def _shape_of(obj: Any) -> Any:
    # Whoever holds such a shape has imported the module: no need to import a large library to say no.
    topology = sys.modules.get("OCP.TopoDS")
    for candidate in (obj, getattr(obj, "wrapped", None)):
        if topology is not None and isinstance(candidate, topology.TopoDS_Shape):
            if candidate.IsNull():
                raise GeometryError.of_kind(
                    "invalid_argument", "the shape is null: it holds nothing"
                )
            return candidate
    raise GeometryError.of_kind(
        "invalid_argument",
        f"from_ocp takes a shape of OCP or an object that holds one as .wrapped, "
        f"not {type(obj).__module__}.{type(obj).__qualname__}",
    )


def _brep_bytes(shape: Any) -> bytes:
    from OCP.BRepTools import BRepTools

    stream = io.BytesIO()
    BRepTools.Write_s(shape, stream)
    return stream.getvalue()
