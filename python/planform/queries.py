"""The nearest places of an outline, as arrays."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING, Any

from planform._planform import OutlineIndex, ProfileSet

if TYPE_CHECKING:
    import numpy.typing as npt

    import planform.queries

__all__ = ["NearestPlaces", "nearest"]


@dataclass(frozen=True, eq=False, repr=False)
class NearestPlaces:
    """The places of an outline that are nearest to points: one entry a point, in the points' shape.

    Attributes
    ----------
    distance : numpy.ndarray
        In mm; infinite where there is no outline.
    points : numpy.ndarray
        The places, mm, shape (..., 2).
    profile, contour, curve : numpy.ndarray
        On which curve: index of the profile in the set, 0 for its outer contour or n for hole n - 1, index of
        the curve in the contour; -1 where there is no outline.
    parameter : numpy.ndarray
        Of the curve at the place, within its `domain`; no unit.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> places = roof.nearest([(70, 20), (30, 20)])
    >>> places.distance.tolist(), places.points.tolist()
    ([10.0, 20.0], [[60.0, 20.0], [30.0, 0.0]])
    """

    distance: npt.NDArray[Any]
    points: npt.NDArray[Any]
    profile: npt.NDArray[Any]
    contour: npt.NDArray[Any]
    curve: npt.NDArray[Any]
    parameter: npt.NDArray[Any]

    def __repr__(self) -> str:
        return f"NearestPlaces(<shape {self.distance.shape}>)"

    def __eq__(self, other: object) -> bool:
        import numpy as np

        return isinstance(other, NearestPlaces) and all(
            np.array_equal(getattr(self, one.name), getattr(other, one.name), equal_nan=True)
            for one in fields(self)
        )

    def __hash__(self) -> int:
        return hash((self.points.shape, self.curve.tobytes()))


def nearest(self: ProfileSet | OutlineIndex, points: Any) -> planform.queries.NearestPlaces:
    """The place of the outline that is nearest to each point, on the exact curves; marks don't count.

    Parameters
    ----------
    points : array_like
        x and y in mm, shape (..., 2).

    Returns
    -------
    NearestPlaces
        Distances and places in mm, and on which curves these lie.

    Raises
    ------
    GeometryError
        For points that are not finite, or of another shape.

    Examples
    --------
    >>> import planform
    >>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), radius=10)]))])
    >>> places = disc.nearest([(3, 4), (0, 12)])
    >>> places.distance.tolist(), places.points.tolist()
    ([5.0, 2.0], [[6.0, 8.0], [0.0, 10.0]])
    """
    return NearestPlaces(*self._nearest(points))
