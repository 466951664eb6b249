"""Hand-over to Shapely and to everything that reads ``__geo_interface__``.

Polygons know no arcs: on the way out curves become chords within a tolerance, on the way in every edge
becomes a line, or runs of edges the arcs and lines that they follow. Shapely and NumPy are imported where
they are used: they take half of the time of a start.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from planform._planform import Contour, Line, Profile, ProfileSet, _fit_tolerance, fit_flattened
from planform.errors import GeometryError

if TYPE_CHECKING:
    import shapely.geometry.base

__all__ = ["from_shapely", "geo_interface", "to_shapely"]


def to_shapely(self: ProfileSet, tolerance: float | None = None) -> shapely.MultiPolygon:
    """Valid polygons near the profiles, one a profile, in the same order.

    A profile that hangs together in a point alone becomes several.

    Parameters
    ----------
    tolerance : float, optional
        Bound in mm on the distance between polygons and contours; without it that of the set.

    Returns
    -------
    shapely.MultiPolygon
        Coordinates in mm; empty for an empty set. Marks are left out.

    Raises
    ------
    GeometryError
        If `tolerance` is not a positive finite number, or more than a hundredth of the set's extent.

    Examples
    --------
    >>> import planform
    >>> disc = planform.Contour([planform.Arc((0, 0), radius=10)])
    >>> profiles = planform.ProfileSet([planform.Profile(disc)])
    >>> bool(abs(profiles.to_shapely(0.001).area - profiles.area) < profiles.length * 0.001)
    True
    """
    import shapely

    bounds = self.bounds
    extent = float(((bounds[1] - bounds[0]) ** 2).sum() ** 0.5) if self.profiles else 0.0
    if tolerance is None:
        # Of a set that is part of a larger one the tolerance may be a large share.
        bound = min(self.tolerance, extent / 100) if extent > 0 else self.tolerance
    else:
        bound = _fit_tolerance(tolerance, extent)
    polygons = [_valid_polygons(profile, bound) for profile in self.profiles]
    return shapely.MultiPolygon([polygon for parts in polygons for polygon in parts])


def from_shapely(
    cls: type[ProfileSet],
    geometry: Any,
    *,
    name: str = "",
    tolerance: float = 0.01,
    fit_arcs: float | None = None,
) -> ProfileSet:
    """Profiles of the polygons' rings; every edge becomes a line, or runs of edges become arcs.

    Parameters
    ----------
    geometry : shapely.Polygon, shapely.MultiPolygon, shapely.GeometryCollection or iterable of these
        Coordinates in mm; a collection may hold polygons only. Heights are dropped. Of a series or a table
        with a column ``geometry``, as GeoPandas has them, labels of the index that are text name the
        profiles.
    name : str, optional
        Free text for titles.
    tolerance : float, optional
        Bound in mm that the set carries for later steps.
    fit_arcs : float, optional
        Take runs of edges for arcs and lines within so many mm of them, as flattened curves are; see
        `fit_flattened`. Without it edges stay edges. The set's tolerance grows by it.

    Returns
    -------
    ProfileSet
        In the plane of x and y, mm; polygons in the holes of others are islands.

    Raises
    ------
    GeometryError
        For geometry that is not polygons, or not valid (with Shapely's reason).

    Examples
    --------
    >>> import planform, shapely
    >>> planform.ProfileSet.from_shapely(shapely.box(0, 0, 30, 20)).area
    600.0
    >>> disc = planform.ProfileSet.from_shapely(shapely.Point(0, 0).buffer(10, quad_segs=32), fit_arcs=0.01)
    >>> disc[0].outer.is_circle
    True
    """
    named = [
        (label, polygon)
        for label, geometry in _labelled(geometry)
        for polygon in _polygons_of(geometry)
    ]
    parents = _parents_of([polygon for _, polygon in named])
    return cls(
        [
            Profile(
                _contour_of(polygon.exterior, fit_arcs),
                [_contour_of(ring, fit_arcs) for ring in polygon.interiors],
                label,
                parent,
                validate=fit_arcs is not None,
            )
            for (label, polygon), parent in zip(named, parents, strict=True)
        ],
        name=name,
        tolerance=tolerance + (fit_arcs or 0.0),
    )


def _labelled(geometry: Any) -> list[tuple[str, Any]]:
    """The geometries of whatever holds some, each with its name."""
    import shapely.geometry.base

    if isinstance(geometry, shapely.geometry.base.BaseGeometry):
        return [("", geometry)]
    column = getattr(geometry, "geometry", geometry)
    if hasattr(column, "items"):
        pairs = list(column.items())
    elif isinstance(column, Iterable) and not isinstance(column, str | bytes):
        pairs = [("", each) for each in column]
    else:
        pairs = [("", geometry)]  # refused below
    return [(label if isinstance(label, str) else "", each) for label, each in pairs]


def _valid_polygons(profile: Profile, bound: float) -> list[shapely.Polygon]:
    """The profile as one polygon, valid by the rules of simple features.

    Chords of curves that all but touch may cross: shorter ones don't. Where the curves themselves touch,
    or cross by their rounding, what crosses is cut off; material that hangs together in a point alone is
    several polygons then.
    """
    import shapely

    for share in (1.0, 1 / 16, 1 / 256):
        polygon = shapely.Polygon(
            profile.outer.points(bound * share),
            [hole.points(bound * share) for hole in profile.holes],
        )
        if polygon.is_valid:
            return [polygon]
    parts = shapely.get_parts(shapely.make_valid(polygon))
    # Slivers between curves that cross by their rounding have a width of micrometres at most.
    slivers = 1e-6 * profile.length
    return [part for part in parts if isinstance(part, shapely.Polygon) and part.area > slivers]


def geo_interface(self: ProfileSet) -> dict[str, Any]:
    """GeoJSON-like mapping of the profiles as polygons, coordinates in mm, within the set's tolerance."""
    mapping: dict[str, Any] = to_shapely(self).__geo_interface__
    return mapping


def _polygons_of(geometry: shapely.geometry.base.BaseGeometry) -> list[shapely.Polygon]:
    import shapely.geometry.base

    if not isinstance(geometry, shapely.geometry.base.BaseGeometry):
        raise GeometryError.of_kind(
            "invalid_argument",
            f"from_shapely takes Shapely geometry, not {type(geometry).__name__}",
        )
    parts = shapely.get_parts(geometry).tolist() if not geometry.is_empty else []
    for part in parts:
        if not isinstance(part, shapely.Polygon):
            raise GeometryError.of_kind(
                "invalid_argument", f"from_shapely takes polygons, not {part.geom_type}"
            )
    if not geometry.is_valid:
        reason = shapely.is_valid_reason(geometry)
        raise GeometryError.of_kind("invalid_argument", f"the geometry is not valid: {reason}")
    return [part for part in parts if not part.is_empty]


def _parents_of(polygons: list[shapely.Polygon]) -> list[int]:
    """Index of the smallest polygon in whose hole each one lies, -1 for none."""
    import shapely

    filled = [shapely.Polygon(polygon.exterior) for polygon in polygons]
    tree = shapely.STRtree(filled)
    parents = []
    for index, polygon in enumerate(polygons):
        inside = polygon.representative_point()
        around = [
            int(other)
            for other in tree.query(inside, predicate="within")
            if other != index and filled[other].area > filled[index].area
        ]
        parents.append(min(around, key=lambda other: filled[other].area, default=-1))
    return parents


def _contour_of(ring: shapely.LinearRing, fit_arcs: float | None) -> Contour:
    import numpy as np

    corners = np.asarray(ring.coords)[:, :2]
    distinct = np.any(corners[1:] != corners[:-1], axis=1)
    edges = [
        Line(start, end)
        for start, end in zip(corners[:-1][distinct], corners[1:][distinct], strict=True)
    ]
    if fit_arcs is None:
        return Contour(edges, validate=False)  # Shapely has looked
    return Contour([fitted.curve for fitted in fit_flattened(edges, fit_arcs)])
