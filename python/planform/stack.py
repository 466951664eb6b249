"""Many sections of the same solids, one at a time."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal

from planform._planform import Datum, Model, ProfileSet, SectionStack, Solid


def sections(
    solids: Solid | Model | Iterable[Solid],
    datum: Datum | Literal["auto", "xy", "xz", "yz"],
    offsets: Iterable[float],
    tolerance: float = 0.01,
    merge: Literal["union", "keep"] = "union",
    side: Literal["below", "above"] = "below",
) -> Iterator[ProfileSet]:
    """The sections of the solids at many offsets, for layered models from sheet.

    A generator: one section is in memory at a time, and the work that the planes share is done once,
    when the first is asked for. Each is that of :func:`section`.

    Parameters
    ----------
    solids : Solid, Model or iterable of Solid
    datum : Datum or {'auto', 'xy', 'xz', 'yz'}
    offsets : iterable of float
        Distances in mm by which the datum is moved along its normal; may be endless.
    tolerance : float, optional
        Bound in mm on the distance between the true outline and the result.
    merge : {'union', 'keep'}, optional
        The union of all solids, or side by side, each profile with its solid's name.
    side : {'below', 'above'}, optional
        Which material counts where a plane lies in a face.

    Yields
    ------
    ProfileSet
        In the datum's coordinates, mm.

    Raises
    ------
    GeometryError
        As for :func:`section`.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> path = planform.write_demo_assembly(pathlib.Path(tempfile.mkdtemp()) / "station.step")
    >>> model = planform.load(path)
    >>> [cut.area > 0 for cut in planform.sections(model, planform.Datum.xy(), [10.0, 20.0])]
    [True, True]
    """
    stack = SectionStack(solids, datum, tolerance=tolerance, merge=merge, side=side)
    for offset in offsets:
        yield stack.at(offset)
