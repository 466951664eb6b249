"""
The compiled part of planform; use the package `planform`. Lengths are millimetres, angles radians.
"""
from __future__ import annotations
import collections.abc
import numpy
import numpy.typing
import os
import pathlib
import planform.pictures.preview
import planform.queries
import shapely
import typing
__all__: list[str] = ['Allowance', 'Allowed', 'Arc', 'Bend', 'BendRule', 'BendTableRow', 'Blank', 'ClosedChain', 'ClosedContours', 'Congruence', 'Contact', 'Contour', 'CrossedCurves', 'CurvePlace', 'Cut', 'CutPlan', 'CutTime', 'Datum', 'DoubledCurve', 'DrawingLayer', 'EllipticalArc', 'Finding', 'FittedCurve', 'Gap', 'Healed', 'Line', 'Mark', 'Mating', 'MatingCurve', 'MatingOutline', 'Model', 'NarrowPlace', 'OpenChain', 'OtherPart', 'OutlineIndex', 'PlacedOutline', 'PlacedPiece', 'PlanFinding', 'Plate', 'PlateInstance', 'PlateList', 'Profile', 'ProfileSet', 'Proof', 'ProvenLaw', 'Provenance', 'Rule', 'RuleSet', 'SectionStack', 'Sheet', 'SideUp', 'Solid', 'Spline', 'StraightCut', 'TinyCurve', 'UncuttableFeature', 'UnfoldRefusal', 'allowance_notes', 'as_cut', 'auto_datum', 'bend_deduction', 'bend_findings', 'bridges', 'close_contours', 'closed', 'contacts', 'coplanar_groups', 'curve_places', 'default_cache_folder', 'error_kinds', 'face_datum', 'feature_marks', 'find_congruence', 'fit_flattened', 'from_brep', 'inner_fits', 'load', 'load_cached', 'mating', 'merge', 'move_time', 'narrow_places', 'nested_profiles', 'nesting_depths', 'offset', 'opened', 'path_time', 'placed_outlines', 'plan_cuts', 'plates', 'relieved', 'rest_on', 'safe_file_stem', 'section', 'shortest_order', 'side_up', 'silhouette', 'straight_cut', 'unit_names', 'write_demo_assembly', 'write_whole_file']
class Datum:
    """
    The plane that a solid is flattened onto: a right-handed orthonormal frame in model space.

    Parameters
    ----------
    origin : array_like
        In mm, shape (3,).
    normal : array_like
        Any length above 0, shape (3,); points towards the viewer.
    x : array_like, optional
        Direction of x, made perpendicular to the normal, shape (3,). Without it the model's X axis is used
        (Y where X is the normal's direction).

    Raises
    ------
    GeometryError
        For NaN or infinite numbers, a zero normal, or x parallel to it.

    Examples
    --------
    >>> import planform
    >>> planform.Datum(origin=(0, 0, 5), normal=(0, 0, 2)).normal.tolist()
    [0.0, 0.0, 1.0]
    """
    @staticmethod
    def xy() -> Datum:
        """
        x = X, y = Y, normal = Z: seen from above.
        """
    @staticmethod
    def xz() -> Datum:
        """
        x = X, y = Z, normal = -Y: seen from the front.
        """
    @staticmethod
    def yz() -> Datum:
        """
        x = Y, y = Z, normal = X: seen from the right.
        """
    @classmethod
    def of(cls: type[Datum], plane: typing.Any) -> Datum:
        """
        The datum that an object describes: a plane of another library, a word, or a datum itself.

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
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, origin: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[3, 1]"], normal: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[3, 1]"], x: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[3, 1]"] | None = None) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    def moved(self, distance: float) -> Datum:
        """
        The parallel plane.

        Parameters
        ----------
        distance : float
            Shift in mm along the normal.

        Returns
        -------
        Datum

        Raises
        ------
        GeometryError
            If `distance` is not finite.
        """
    def to_datum(self, points: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
        """
        Datum coordinates of points in model coordinates.

        Parameters
        ----------
        points : array_like
            In mm, shape (3,) or (n, 3).

        Returns
        -------
        numpy.ndarray
            x, y and height above the plane in mm, same shape.

        Raises
        ------
        TypeError
            For points of another shape.

        Examples
        --------
        >>> import planform
        >>> planform.Datum.xz().to_datum([1, 2, 3]).tolist()
        [1.0, 3.0, -2.0]
        """
    def to_model(self, points: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], height: float = 0.0) -> numpy.typing.NDArray[numpy.float64]:
        """
        Model coordinates of points of the plane.

        Parameters
        ----------
        points : array_like
            x and y in mm, shape (2,) or (n, 2).
        height : float, optional
            Distance in mm by which the points are lifted along the normal.

        Returns
        -------
        numpy.ndarray
            In mm, shape (3,) or (n, 3).

        Raises
        ------
        TypeError
            For points of another shape.

        Examples
        --------
        >>> import planform
        >>> planform.Datum.xz().to_model([1, 3], height=-2).tolist()
        [1.0, 2.0, 3.0]
        """
    @property
    def normal(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[3, 1]"]:
        """
        Direction towards the viewer, unit vector (no unit), shape (3,).
        """
    @property
    def origin(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[3, 1]"]:
        """
        Origin in model coordinates, mm, shape (3,).
        """
    @property
    def x(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[3, 1]"]:
        """
        Direction of x, unit vector (no unit), shape (3,).
        """
    @property
    def y(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[3, 1]"]:
        """
        Direction of y, unit vector (no unit), shape (3,).
        """
class Line:
    """
    A straight piece: point(t) = start + t (end - start).

    Parameters
    ----------
    start, end : array_like
        Ends in mm, shape (2,).

    Raises
    ------
    GeometryError
        If a number is not finite.

    Examples
    --------
    >>> import planform
    >>> planform.Line((0, 0), (3, 4)).length
    5.0
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, start: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[2, 1]"], end: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[2, 1]"]) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    def derivative_at(self, t: float) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        First derivative with respect to the parameter.

        Parameters
        ----------
        t : float
            Parameter within `domain`, no unit; a GeometryError is raised if it is not finite.

        Returns
        -------
        numpy.ndarray
            The derivative in mm per unit of the parameter, shape (2,).
        """
    def fit_arcs(self, tolerance: float) -> list[Line | Arc | EllipticalArc | Spline]:
        """
        Lines and circular arcs near the curve, joined with continuous tangent.

        First start and last end are those of the curve; lines and arcs come back as they are.
        Source: D. S. Meek, D. J. Walton, "Approximating smooth planar curves by arc splines",
        J. Comput. Appl. Math. 59 (1995).

        Parameters
        ----------
        tolerance : float
            Bound in mm on the distance to the curve.

        Returns
        -------
        list of Line or Arc
            The pieces, head to tail.

        Raises
        ------
        GeometryError
            If `tolerance` is not a positive finite number.
        """
    def point_at(self, t: float) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Position at a parameter.

        Parameters
        ----------
        t : float
            Parameter within `domain`, no unit; a GeometryError is raised if it is not finite.

        Returns
        -------
        numpy.ndarray
            The point in mm, shape (2,).
        """
    def points(self, tolerance: float) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[m, 2]"]:
        """
        Vertices of a polyline near the curve, both ends included.

        Parameters
        ----------
        tolerance : float
            Bound in mm on the distance between polyline and curve.

        Returns
        -------
        numpy.ndarray
            The points in mm, shape (n, 2).

        Raises
        ------
        GeometryError
            If `tolerance` is not a positive finite number.
        """
    def reversed(self) -> Line:
        """
        The same points in the other direction.
        """
    def transformed(self, matrix: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[m, n]"]) -> Line | Arc | EllipticalArc | Spline:
        """
        Image under an affine map.

        Parameters
        ----------
        matrix : array_like
            Shape (2, 3), or (3, 3) with the last row 0 0 1; the last column is the shift in mm.

        Returns
        -------
        Line, Arc, EllipticalArc or Spline
            Similarities keep the kind; others turn an arc into an elliptical arc.

        Raises
        ------
        GeometryError
            For a matrix of another shape, numbers that are not finite, or a map that folds the curve.
        """
    @property
    def bounds(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 2]"]:
        """
        Tight box in mm, array of shape (2, 2): lower left corner, upper right corner.
        """
    @property
    def domain(self) -> tuple[float, float]:
        """
        Parameter interval ``(first, last)``, no unit: (0, 1) except for splines (the knots).
        """
    @property
    def end(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Last point in mm, array of shape (2,).
        """
    @property
    def length(self) -> float:
        """
        Arc length in mm: closed form for lines and arcs, else to 1e-12 relative.
        """
    @property
    def start(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        First point in mm, array of shape (2,).
        """
class Arc:
    """
    A circular arc: center + radius (cos a, sin a), a = start_angle + t sweep.

    Parameters
    ----------
    center : array_like
        Centre in mm, shape (2,).
    radius : float
        In mm.
    start_angle : float
        Angle of the start in radians, counter-clockwise from x.
    sweep : float
        Signed angle of the arc in radians, positive counter-clockwise; 2 pi is a full circle.

    Raises
    ------
    GeometryError
        If a number is not finite, the radius not positive, or the sweep zero or above 2 pi.

    Examples
    --------
    >>> import math, planform
    >>> planform.Arc((0, 0), radius=2, start_angle=0, sweep=math.pi).length == 2 * math.pi
    True
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, center: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[2, 1]"], radius: float, start_angle: float = 0.0, sweep: float = 6.283185307179586) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    def derivative_at(self, t: float) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        First derivative with respect to the parameter.

        Parameters
        ----------
        t : float
            Parameter within `domain`, no unit; a GeometryError is raised if it is not finite.

        Returns
        -------
        numpy.ndarray
            The derivative in mm per unit of the parameter, shape (2,).
        """
    def fit_arcs(self, tolerance: float) -> list[Line | Arc | EllipticalArc | Spline]:
        """
        Lines and circular arcs near the curve, joined with continuous tangent.

        First start and last end are those of the curve; lines and arcs come back as they are.
        Source: D. S. Meek, D. J. Walton, "Approximating smooth planar curves by arc splines",
        J. Comput. Appl. Math. 59 (1995).

        Parameters
        ----------
        tolerance : float
            Bound in mm on the distance to the curve.

        Returns
        -------
        list of Line or Arc
            The pieces, head to tail.

        Raises
        ------
        GeometryError
            If `tolerance` is not a positive finite number.
        """
    def point_at(self, t: float) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Position at a parameter.

        Parameters
        ----------
        t : float
            Parameter within `domain`, no unit; a GeometryError is raised if it is not finite.

        Returns
        -------
        numpy.ndarray
            The point in mm, shape (2,).
        """
    def points(self, tolerance: float) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[m, 2]"]:
        """
        Vertices of a polyline near the curve, both ends included.

        Parameters
        ----------
        tolerance : float
            Bound in mm on the distance between polyline and curve.

        Returns
        -------
        numpy.ndarray
            The points in mm, shape (n, 2).

        Raises
        ------
        GeometryError
            If `tolerance` is not a positive finite number.
        """
    def reversed(self) -> Arc:
        """
        The same points in the other direction.
        """
    def transformed(self, matrix: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[m, n]"]) -> Line | Arc | EllipticalArc | Spline:
        """
        Image under an affine map.

        Parameters
        ----------
        matrix : array_like
            Shape (2, 3), or (3, 3) with the last row 0 0 1; the last column is the shift in mm.

        Returns
        -------
        Line, Arc, EllipticalArc or Spline
            Similarities keep the kind; others turn an arc into an elliptical arc.

        Raises
        ------
        GeometryError
            For a matrix of another shape, numbers that are not finite, or a map that folds the curve.
        """
    @property
    def bounds(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 2]"]:
        """
        Tight box in mm, array of shape (2, 2): lower left corner, upper right corner.
        """
    @property
    def center(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Centre in mm, shape (2,).
        """
    @property
    def domain(self) -> tuple[float, float]:
        """
        Parameter interval ``(first, last)``, no unit: (0, 1) except for splines (the knots).
        """
    @property
    def end(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Last point in mm, array of shape (2,).
        """
    @property
    def length(self) -> float:
        """
        Arc length in mm: closed form for lines and arcs, else to 1e-12 relative.
        """
    @property
    def radius(self) -> float:
        """
        Radius in mm.
        """
    @property
    def start(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        First point in mm, array of shape (2,).
        """
    @property
    def start_angle(self) -> float:
        """
        Angle of the start in radians.
        """
    @property
    def sweep(self) -> float:
        """
        Signed angle of the arc in radians, positive counter-clockwise.
        """
class EllipticalArc:
    """
    An elliptical arc: center + major cos a + minor sin a, a = start_angle + t sweep.

    The minor half-axis is `ratio` times `major` turned by +90 degrees. Angles are those of the
    parameter (eccentric anomaly), not polar angles.

    Parameters
    ----------
    center : array_like
        Centre in mm, shape (2,).
    major : array_like
        Major half-axis in mm, shape (2,).
    ratio : float
        Minor over major half-axis, no unit, above 0 and at most 1.
    start_angle, sweep : float
        In radians, as for `Arc`.

    Raises
    ------
    GeometryError
        If a number is not finite or outside its range.

    Examples
    --------
    >>> import planform
    >>> planform.EllipticalArc((0, 0), major=(2, 0), ratio=0.5).bounds.tolist()
    [[-2.0, -1.0], [2.0, 1.0]]
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, center: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[2, 1]"], major: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[2, 1]"], ratio: float, start_angle: float = 0.0, sweep: float = 6.283185307179586) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    def derivative_at(self, t: float) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        First derivative with respect to the parameter.

        Parameters
        ----------
        t : float
            Parameter within `domain`, no unit; a GeometryError is raised if it is not finite.

        Returns
        -------
        numpy.ndarray
            The derivative in mm per unit of the parameter, shape (2,).
        """
    def fit_arcs(self, tolerance: float) -> list[Line | Arc | EllipticalArc | Spline]:
        """
        Lines and circular arcs near the curve, joined with continuous tangent.

        First start and last end are those of the curve; lines and arcs come back as they are.
        Source: D. S. Meek, D. J. Walton, "Approximating smooth planar curves by arc splines",
        J. Comput. Appl. Math. 59 (1995).

        Parameters
        ----------
        tolerance : float
            Bound in mm on the distance to the curve.

        Returns
        -------
        list of Line or Arc
            The pieces, head to tail.

        Raises
        ------
        GeometryError
            If `tolerance` is not a positive finite number.
        """
    def point_at(self, t: float) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Position at a parameter.

        Parameters
        ----------
        t : float
            Parameter within `domain`, no unit; a GeometryError is raised if it is not finite.

        Returns
        -------
        numpy.ndarray
            The point in mm, shape (2,).
        """
    def points(self, tolerance: float) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[m, 2]"]:
        """
        Vertices of a polyline near the curve, both ends included.

        Parameters
        ----------
        tolerance : float
            Bound in mm on the distance between polyline and curve.

        Returns
        -------
        numpy.ndarray
            The points in mm, shape (n, 2).

        Raises
        ------
        GeometryError
            If `tolerance` is not a positive finite number.
        """
    def reversed(self) -> EllipticalArc:
        """
        The same points in the other direction.
        """
    def transformed(self, matrix: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[m, n]"]) -> Line | Arc | EllipticalArc | Spline:
        """
        Image under an affine map.

        Parameters
        ----------
        matrix : array_like
            Shape (2, 3), or (3, 3) with the last row 0 0 1; the last column is the shift in mm.

        Returns
        -------
        Line, Arc, EllipticalArc or Spline
            Similarities keep the kind; others turn an arc into an elliptical arc.

        Raises
        ------
        GeometryError
            For a matrix of another shape, numbers that are not finite, or a map that folds the curve.
        """
    @property
    def bounds(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 2]"]:
        """
        Tight box in mm, array of shape (2, 2): lower left corner, upper right corner.
        """
    @property
    def center(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Centre in mm, shape (2,).
        """
    @property
    def domain(self) -> tuple[float, float]:
        """
        Parameter interval ``(first, last)``, no unit: (0, 1) except for splines (the knots).
        """
    @property
    def end(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Last point in mm, array of shape (2,).
        """
    @property
    def length(self) -> float:
        """
        Arc length in mm: closed form for lines and arcs, else to 1e-12 relative.
        """
    @property
    def major(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Major half-axis in mm, shape (2,).
        """
    @property
    def ratio(self) -> float:
        """
        Minor over major half-axis, no unit.
        """
    @property
    def start(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        First point in mm, array of shape (2,).
        """
    @property
    def start_angle(self) -> float:
        """
        Parametric angle of the start in radians.
        """
    @property
    def sweep(self) -> float:
        """
        Signed parametric angle in radians, positive counter-clockwise.
        """
class Spline:
    """
    A clamped B-spline, rational if it has weights.

    Parameters
    ----------
    degree : int
        1 or more.
    knots : sequence of float
        Not decreasing, no unit; as many as poles + degree + 1, the first and the last degree + 1 times.
    poles : array_like
        Control points in mm, shape (n, 2).
    weights : sequence of float, optional
        One weight above 0 a pole, no unit; empty for a polynomial spline.

    Raises
    ------
    GeometryError
        If the numbers don't fit together or are not finite.

    Examples
    --------
    >>> import planform
    >>> parabola = planform.Spline(2, [0, 0, 0, 1, 1, 1], [(0, 0), (1, 2), (2, 0)])
    >>> parabola.point_at(0.5).tolist()
    [1.0, 1.0]
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, degree: int, knots: collections.abc.Sequence[float], poles: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[m, 2]"], weights: collections.abc.Sequence[float] = []) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    def derivative_at(self, t: float) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        First derivative with respect to the parameter.

        Parameters
        ----------
        t : float
            Parameter within `domain`, no unit; a GeometryError is raised if it is not finite.

        Returns
        -------
        numpy.ndarray
            The derivative in mm per unit of the parameter, shape (2,).
        """
    def fit_arcs(self, tolerance: float) -> list[Line | Arc | EllipticalArc | Spline]:
        """
        Lines and circular arcs near the curve, joined with continuous tangent.

        First start and last end are those of the curve; lines and arcs come back as they are.
        Source: D. S. Meek, D. J. Walton, "Approximating smooth planar curves by arc splines",
        J. Comput. Appl. Math. 59 (1995).

        Parameters
        ----------
        tolerance : float
            Bound in mm on the distance to the curve.

        Returns
        -------
        list of Line or Arc
            The pieces, head to tail.

        Raises
        ------
        GeometryError
            If `tolerance` is not a positive finite number.
        """
    def point_at(self, t: float) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Position at a parameter.

        Parameters
        ----------
        t : float
            Parameter within `domain`, no unit; a GeometryError is raised if it is not finite.

        Returns
        -------
        numpy.ndarray
            The point in mm, shape (2,).
        """
    def points(self, tolerance: float) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[m, 2]"]:
        """
        Vertices of a polyline near the curve, both ends included.

        Parameters
        ----------
        tolerance : float
            Bound in mm on the distance between polyline and curve.

        Returns
        -------
        numpy.ndarray
            The points in mm, shape (n, 2).

        Raises
        ------
        GeometryError
            If `tolerance` is not a positive finite number.
        """
    def reversed(self) -> Spline:
        """
        The same points in the other direction.
        """
    def transformed(self, matrix: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[m, n]"]) -> Line | Arc | EllipticalArc | Spline:
        """
        Image under an affine map.

        Parameters
        ----------
        matrix : array_like
            Shape (2, 3), or (3, 3) with the last row 0 0 1; the last column is the shift in mm.

        Returns
        -------
        Line, Arc, EllipticalArc or Spline
            Similarities keep the kind; others turn an arc into an elliptical arc.

        Raises
        ------
        GeometryError
            For a matrix of another shape, numbers that are not finite, or a map that folds the curve.
        """
    @property
    def bounds(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 2]"]:
        """
        Tight box in mm, array of shape (2, 2): lower left corner, upper right corner.
        """
    @property
    def degree(self) -> int:
        """
        Polynomial degree, no unit.
        """
    @property
    def domain(self) -> tuple[float, float]:
        """
        Parameter interval ``(first, last)``, no unit: (0, 1) except for splines (the knots).
        """
    @property
    def end(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Last point in mm, array of shape (2,).
        """
    @property
    def knots(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[m, 1]"]:
        """
        Knots, no unit, shape (n + degree + 1,).
        """
    @property
    def length(self) -> float:
        """
        Arc length in mm: closed form for lines and arcs, else to 1e-12 relative.
        """
    @property
    def poles(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[m, 2]"]:
        """
        Control points in mm, shape (n, 2).
        """
    @property
    def start(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        First point in mm, array of shape (2,).
        """
    @property
    def weights(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[m, 1]"]:
        """
        Weights of the poles, no unit, shape (n,); shape (0,) for a polynomial spline.
        """
class ProvenLaw:
    """
    A law that a flattening was held against before it was handed out.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> law = planform.silhouette(station[20], "auto").proof.laws[0]
    >>> law.name, law.checks > 0, law.largest_deviation < 0.01
    ('areas of faces', True, True)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def checks(self) -> int:
        """
        How many times it was asked.
        """
    @property
    def largest_deviation(self) -> float:
        """
        In mm; within the tolerance of the outline.
        """
    @property
    def name(self) -> str:
        """
        Words for people.
        """
class Proof:
    """
    The laws that a flattening was held against, each once.

    An outline that breaks one is not handed out: the call that makes it raises GeometryError. Sets that come from
    elsewhere (a file, a boolean, a caller) have an empty proof.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> path = planform.write_demo_assembly(pathlib.Path(tempfile.mkdtemp()) / "station.step")
    >>> solid = planform.load(path).solids[0]
    >>> outline = planform.silhouette(solid, planform.auto_datum(solid))
    >>> [law.name for law in outline.proof.laws][:3]
    ['areas of faces', 'sum of areas', 'winding of curves']
    >>> outline.proof.largest_deviation < outline.tolerance
    True
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __len__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def largest_deviation(self) -> float:
        """
        Of all laws, in mm; 0 for an empty proof.
        """
    @property
    def laws(self) -> list[ProvenLaw]:
        """
        The laws, a list of ProvenLaw.
        """
class Provenance:
    """
    Where a curve of an outline came from.

    Parameters
    ----------
    kind : {'unknown', 'edge', 'fold', 'section'}
        An edge of the solid, a fold of a face (where it turns away from the viewer), or the cut of a
        face with the section plane.
    solid : int
        Index into the solids that were flattened, -1 if unknown.
    entity : int
        Number of the edge or face in the solid, from 1; 0 if unknown.

    Raises
    ------
    GeometryError
        If `kind` is not one of the words above.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> outline = planform.silhouette(station[1], "auto")
    >>> origin = outline[0].outer.provenance[0]
    >>> origin.kind, origin.solid
    ('edge', 0)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, kind: typing.Literal['unknown', 'edge', 'fold', 'section'] = 'unknown', solid: int = -1, entity: int = 0) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def entity(self) -> int:
        """
        Number of the edge or face, 0 if unknown.
        """
    @property
    def kind(self) -> typing.Literal['unknown', 'edge', 'fold', 'section']:
        """
        'unknown', 'edge', 'fold' or 'section'.
        """
    @property
    def solid(self) -> int:
        """
        Index of the solid, -1 if unknown.
        """
class Contour:
    """
    A closed chain of curves, closed from construction on.

    Parameters
    ----------
    curves : sequence of Line, Arc, EllipticalArc or Spline
        Each starts where the one before ends, the last ends where the first starts; gaps of up to
        1e-6 times the contour's size are rounding.
    provenance : sequence of Provenance, optional
        One entry a curve, or none.
    validate : bool, optional
        Whether area and self-crossings are looked at; False is for curves that are known to be sound, such
        as those of another contour that were moved.

    Raises
    ------
    GeometryError
        With the place and size of the gap if two neighbours don't meet; if there is no curve or a
        number is not finite; with the place if the contour crosses itself (it may touch itself), or if it
        encloses no area.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (4, 0), (0, 3)]
    >>> contour = planform.Contour(
    ...     [planform.Line(a, b) for a, b in zip(corners, corners[1:] + corners[:1])])
    >>> contour.area, contour.length
    (6.0, 12.0)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    @typing.overload
    def __getitem__(self, index: int) -> Line | Arc | EllipticalArc | Spline:
        ...
    @typing.overload
    def __getitem__(self, index: slice) -> list[Line | Arc | EllipticalArc | Spline]:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, curves: collections.abc.Sequence[Line | Arc | EllipticalArc | Spline], provenance: collections.abc.Sequence[Provenance] = [], *, validate: bool = True) -> None:
        ...
    def __iter__(self) -> collections.abc.Iterator[Line | Arc | EllipticalArc | Spline]:
        ...
    def __len__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    def points(self, tolerance: float) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[m, 2]"]:
        """
        Vertices of a polyline near the contour, first point not repeated.

        Parameters
        ----------
        tolerance : float
            Bound in mm on the distance between polyline and contour.

        Returns
        -------
        numpy.ndarray
            The points in mm, shape (n, 2).

        Raises
        ------
        GeometryError
            If `tolerance` is not a positive finite number.
        """
    def reversed(self) -> Contour:
        """
        The same contour, gone round the other way.
        """
    def transformed(self, matrix: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[m, n]"]) -> Contour:
        """
        Image under an affine map; the sign of the area is kept.

        Parameters
        ----------
        matrix : array_like
            Shape (2, 3), or (3, 3) with the last row 0 0 1; the last column is the shift in mm.

        Returns
        -------
        Contour

        Raises
        ------
        GeometryError
            For a matrix of another shape, numbers that are not finite, or a map that flattens the contour.
        """
    @property
    def area(self) -> float:
        """
        Signed area in mm^2, positive if counter-clockwise (Green's theorem on the exact curves).
        """
    @property
    def bounds(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 2]"]:
        """
        Tight box in mm, array of shape (2, 2): lower left corner, upper right corner.
        """
    @property
    def curves(self) -> collections.abc.Sequence[Line | Arc | EllipticalArc | Spline]:
        """
        The curves, head to tail.
        """
    @property
    def is_circle(self) -> bool:
        """
        True if all curves lie on one circle that the contour goes round once.
        """
    @property
    def length(self) -> float:
        """
        Length in mm.
        """
    @property
    def provenance(self) -> collections.abc.Sequence[Provenance]:
        """
        Where each curve came from; empty if unknown.
        """
class Profile:
    """
    One outer contour (counter-clockwise) with its holes (clockwise).

    Parameters
    ----------
    outer : Contour
    holes : sequence of Contour, optional
        Both are turned to the right direction.
    name : str, optional
        Of the solid that the outer contour comes from.
    parent : int, optional
        Index in the profile set of the profile in whose hole this one lies (an island); -1 for none.
    validate : bool, optional
        Whether the holes are proven to lie inside the outer contour and beside each other.

    Raises
    ------
    GeometryError
        With the number of the hole and the place, if a hole reaches outside the outer contour or overlaps
        another; they may touch.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> perch = planform.Contour([planform.Arc((30, 20), 5)])
    >>> front = planform.Profile(edge, [perch], name="front")
    >>> round(front.area, 3), front.holes[0].is_circle
    (2321.46, True)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, outer: Contour, holes: collections.abc.Sequence[Contour] = [], name: str = '', parent: int = -1, *, validate: bool = True) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def area(self) -> float:
        """
        Area in mm^2, holes taken off.
        """
    @property
    def bounds(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 2]"]:
        """
        Tight box in mm, array of shape (2, 2): lower left corner, upper right corner.
        """
    @property
    def holes(self) -> collections.abc.Sequence[Contour]:
        """
        The contours of the holes, clockwise.
        """
    @property
    def is_island(self) -> bool:
        """
        True if the profile lies in a hole of another.
        """
    @property
    def length(self) -> float:
        """
        Length of all its contours in mm.
        """
    @property
    def name(self) -> str:
        """
        Name of the solid (or of the profile, after a boolean) that the outer contour comes from; empty if there are several.
        """
    @property
    def outer(self) -> Contour:
        """
        The outer contour, counter-clockwise.
        """
    @property
    def parent(self) -> int:
        """
        Index of the profile in whose hole this one lies, -1 for none.
        """
class Mark:
    """
    A chain of curves that is scored or engraved, not cut through: a closed contour, or open.

    Parameters
    ----------
    contour : Contour
    name : str, optional
    depth : float, optional
        How deep what the mark bounds lies below the side that is marked, mm; negative for what stands above it; 0
        for a line on the surface, or where nobody knows.

    Raises
    ------
    GeometryError
        For a depth that is not finite.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> bowl = planform.Mark(planform.Contour([planform.Arc((20, 20), 8)]), "bowl", depth=2)
    >>> fold = planform.Mark.open([planform.Line((40, 0), (40, 40))], "fold")
    >>> tray = planform.ProfileSet([planform.Profile(edge)], [bowl, fold], name="tray")
    >>> [(mark.name, mark.depth, round(mark.length, 3)) for mark in tray.marks]
    [('bowl', 2.0, 50.265), ('fold', 0.0, 40.0)]
    """
    @staticmethod
    def open(curves: collections.abc.Sequence[Line | Arc | EllipticalArc | Spline], name: str = '', depth: float = 0.0) -> Mark:
        """
        An open chain as a mark.

        Parameters
        ----------
        curves : sequence of Curve
            Each starts where the one before ends.
        name : str, optional
        depth : float, optional
            As above, mm.

        Raises
        ------
        GeometryError
            For no curve, or a gap; the message has the place.
        """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    @typing.overload
    def __getitem__(self, index: int) -> Line | Arc | EllipticalArc | Spline:
        ...
    @typing.overload
    def __getitem__(self, index: slice) -> list[Line | Arc | EllipticalArc | Spline]:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, contour: Contour, name: str = '', depth: float = 0.0) -> None:
        ...
    def __iter__(self) -> collections.abc.Iterator[Line | Arc | EllipticalArc | Spline]:
        ...
    def __len__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    def points(self, tolerance: float = 0.01) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[m, 2]"]:
        """
        Vertices of a polyline along the mark; of a contour the first is not repeated.

        Parameters
        ----------
        tolerance : float, optional
            Bound on the distance from the curves, mm.

        Returns
        -------
        numpy.ndarray
            Shape (n, 2), mm.
        """
    @property
    def contour(self) -> Contour | None:
        """
        The contour to follow; None of an open mark.
        """
    @property
    def curves(self) -> collections.abc.Sequence[Line | Arc | EllipticalArc | Spline]:
        """
        Of the contour or of the open chain.
        """
    @property
    def depth(self) -> float:
        """
        How deep it reaches below the side that is marked, mm; negative for what stands above it.
        """
    @property
    def is_closed(self) -> bool:
        """
        True if it is a contour.
        """
    @property
    def length(self) -> float:
        """
        Length of its curves, mm.
        """
    @property
    def name(self) -> str:
        """
        Free text.
        """
class ProfileSet:
    """
    All profiles of one flattening, with their datum.

    Two sets are equal if all their numbers agree to 1e-6 mm, whatever the order of profiles, starts and
    splitting.

    Parameters
    ----------
    profiles : sequence of Profile, optional
    marks : sequence of Mark, optional
    datum : Datum or {'xy', 'xz', 'yz'}, optional
        The plane of the outlines; without it the plane of x and y.
    tolerance : float, optional
        Bound in mm on the distance between the true outline and this one.
    name : str, optional
        Free text for titles.
    notes : sequence of str, optional
    validate : bool, optional
        Whether the tolerance is held against the extent of the profiles.

    Raises
    ------
    GeometryError
        If `tolerance` is not a positive finite number or more than a hundredth of the extent, or a parent is
        not a profile of the set.

    Examples
    --------
    >>> import planform
    >>> disc = planform.Contour([planform.Arc((0, 0), radius=10)])
    >>> hole = planform.Contour([planform.Arc((0, 0), radius=6)])
    >>> ring = planform.ProfileSet([planform.Profile(disc, [hole])], name="ring")
    >>> round(ring.area, 6), round(ring.length, 6)
    (201.06193, 100.530965)
    """
    @staticmethod
    @typing.overload
    def from_json(text_or_path: str, *, validate: bool = True) -> ProfileSet:
        """
        Read what `to_json` has written, lengths in mm.

        Parameters
        ----------
        text_or_path : str or path-like
            A str whose first character (blanks aside) is ``{`` or ``[`` is the document itself, all else is a
            path.
        validate : bool, optional
            Whether the contours are proven to be sound, as by `Contour` and `Profile`; not needed for a document
            that nobody but `to_json` has written.

        Returns
        -------
        ProfileSet

        Raises
        ------
        GeometryError
            With the place in the document, if it does not follow the schema.
        LoadError
            If the file is missing or can't be read.

        Examples
        --------
        >>> import planform
        >>> disc = planform.Contour([planform.Arc((0, 0), radius=10)])
        >>> profiles = planform.ProfileSet([planform.Profile(disc)])
        >>> planform.ProfileSet.from_json(profiles.to_json()) == profiles
        True
        """
    @staticmethod
    @typing.overload
    def from_json(text_or_path: os.PathLike[str] | str | bytes, *, validate: bool = True) -> ProfileSet:
        """
        Read the file.
        """
    @classmethod
    def from_face(cls: type[ProfileSet], obj: typing.Any, *, datum: Datum | None = None, name: str | None = None, tolerance: float = 0.01) -> ProfileSet:
        """
        The outline of flat faces of OCP: of a face, a sketch, or several in one plane, united.

        Parameters
        ----------
        obj : OCP.TopoDS.TopoDS_Face or object
            As `from_ocp` takes it; all faces in it.
        datum : Datum, optional
            The plane of the outline's coordinates, parallel to the faces. Without it that of the first face: its
            origin is the foot of the model's origin, its x the model's X laid into it (Y where X is the normal).
        name : str, optional
            Free text for titles; without it the object's own.
        tolerance : float, optional
            Bound in mm on the distance between the true outline and the result; lines and arcs are exact.

        Returns
        -------
        ProfileSet
            In mm.

        Raises
        ------
        GeometryError
            If there is no face, one that is not flat, or one that lies in another plane.
        """
    @classmethod
    def from_shapely(cls: type[ProfileSet], geometry: typing.Any, *, name: str = '', tolerance: float = 0.01, fit_arcs: float | None = None) -> ProfileSet:
        """
        Profiles of the polygons' rings; every edge becomes a line, or runs of edges become arcs.

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
    def __and__(self, other: ProfileSet) -> ProfileSet:
        """
        intersection
        """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    @typing.overload
    def __getitem__(self, index: int) -> Profile:
        ...
    @typing.overload
    def __getitem__(self, index: slice) -> list[Profile]:
        ...
    @typing.overload
    def __getitem__(self, name: str) -> Profile:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, profiles: collections.abc.Sequence[Profile] = [], marks: collections.abc.Sequence[Mark] = [], datum: Datum | typing.Literal['xy', 'xz', 'yz'] | None = None, tolerance: float = 0.01, name: str = '', notes: collections.abc.Sequence[str] = [], *, validate: bool = True) -> None:
        ...
    def __iter__(self) -> collections.abc.Iterator[Profile]:
        ...
    def __len__(self) -> int:
        ...
    def __or__(self, other: ProfileSet) -> ProfileSet:
        """
        united
        """
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    def __sub__(self, other: ProfileSet) -> ProfileSet:
        """
        difference
        """
    def __xor__(self, other: ProfileSet) -> ProfileSet:
        """
        symmetric_difference
        """
    def _nearest(self, points: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> tuple[typing.Any, ...]:
        """
        What `nearest` calls.
        """
    def _repr_html_(self) -> str:
        """
        The outline filled, scaled to fit, with its figures (mm, mm²) below.
        """
    def _repr_svg_(self) -> str:
        """
        SVG for the screen: that of `to_svg`, one user unit = 1 mm, with strokes wide enough to be seen.
        """
    def _with_data_text(self, data: str) -> ProfileSet:
        """
        What `with_data` calls.
        """
    def as_cut(self, allowance: Allowance | None = None, *, kerf: float = 0.0, fit: float = 0.0, fit_on: typing.Literal['slot', 'both'] = 'slot', relief: float = 0.0, relief_style: typing.Literal['corner', 'side'] = 'corner') -> ProfileSet:
        """
        The way of the tool for the outline: first the fits, then the reliefs, then the width of cut.

        A part cut along it has walls at the outline's, moved by its fits: lines and arcs to 1e-9 of the
        coordinates, all else within a tenth of the tolerance. Corners stay sharp, unless the outline has a tip
        sharper than 29 degrees or tips led on would meet others; then arcs run around its corners. A tip that the
        tool can't reach is a note.

        Parameters
        ----------
        allowance : Allowance, optional
            All of it. Without it, it is made of the others, and the fit is on all inner contours.
        kerf : float, optional
            Width of material that the tool removes, mm.
        fit : float, optional
            mm by which inner contours are wider on each side, narrower if negative.
        fit_on : {'slot', 'both'}, optional
            All of the fit, or half of it.
        relief : float, optional
            Diameter in mm of the tool that inner corners are relieved for; 0: they are not.
        relief_style : {'corner', 'side'}, optional
            See `relieved`.

        Returns
        -------
        ProfileSet
            In mm; its notes say what is in it.

        Raises
        ------
        GeometryError
            For numbers that make no sense, and for an allowance that is in the outline already, as its notes say;
            with name and place where a hole, a slot, a notch or a gap is no wider than the cut, or a fit larger
            than a tab or a slot.

        Examples
        --------
        >>> import planform
        >>> def circle(radius):
        ...     return planform.Contour([planform.Arc((0, 0), radius)])
        >>> washer = planform.ProfileSet([planform.Profile(circle(10), [circle(6)])])
        >>> way = washer.as_cut(kerf=0.2, fit=0.05)
        >>> [round(contour.curves[0].radius, 9) for contour in (way.profiles[0].outer, *way.profiles[0].holes)]
        [10.1, 5.95]
        """
    def closed(self, radius: float) -> ProfileSet:
        """
        What a round tool that runs outside of the material leaves: grown by the radius, then shrunk
        by it. Inner corners are rounded, gaps narrower than the tool filled; each is a finding ('unreached',
        with its area in mm^2).

        Parameters
        ----------
        radius : float
            Of the tool, in mm.

        Returns
        -------
        ProfileSet
            In mm, with the same datum, tolerance, name and marks; a note for each change in kind. Empty if
            nothing is left.

        Raises
        ------
        GeometryError
            For numbers that make no sense; if outlines can't be told apart (the message gives the place).
        """
    def contains(self, points: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.bool]:
        """
        Is there material at the points?

        The outline itself belongs to the material, within rounding (1e-14 of the coordinates, 1e-13 on splines). On
        the exact curves. Marks don't count.


        Parameters
        ----------
        points : array_like
            x and y in mm, shape (..., 2).

        Returns
        -------
        numpy.ndarray
            Of bool, shape (...).

        Raises
        ------
        GeometryError
            For points that are not finite, or of another shape.

        Examples
        --------
        >>> import planform
        >>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), radius=10)]))])
        >>> disc.contains([(0, 0), (9.999, 0), (10, 0), (7.08, 7.08)]).tolist()
        [True, True, True, False]
        """
    def convex_hull(self) -> ProfileSet:
        """
        The smallest convex outline that holds all profiles.

        Its curves are those of the outline where it is convex; within the set's tolerance.

        Returns
        -------
        ProfileSet
            One profile without holes, mm, same datum, tolerance and name; empty for an empty set.

        Examples
        --------
        >>> import planform
        >>> discs = [planform.Profile(planform.Contour([planform.Arc((x, 0), radius=1)])) for x in (0, 10)]
        >>> round(planform.ProfileSet(discs).convex_hull().area, 2)
        23.14
        """
    def difference(self, other: ProfileSet) -> ProfileSet:
        """
        The material of this set without that of the other, also as ``a - b``.

        On the exact curves: lines stay lines, arcs arcs, splines splines. The result is on this set's datum;
        the other's datum may be another parallel one that faces the same way, its outlines are then moved to
        where they lie in the model. Profiles that touch along an edge become one, profiles that touch in a
        point stay two. Marks are taken as a set of contours. Other Python threads run meanwhile.

        Parameters
        ----------
        other : ProfileSet

        Returns
        -------
        ProfileSet
            Lengths in mm; its tolerance is the larger of the two.

        Raises
        ------
        GeometryError
            If the datums are not parallel or face each other, or outlines can't be told apart; the message
            gives the place.

        Examples
        --------
        >>> import planform
        >>> def disc(radius):
        ...     return planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), radius)]))])
        >>> ring = disc(10) - disc(6)
        >>> len(ring.profiles[0].holes), round((ring ^ disc(10)).area / disc(6).area, 9)
        (1, 1.0)
        """
    def distance(self, points: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
        """
        How far the points are from the outline, inside or outside.

        On the exact curves: those of all contours; marks don't count. In the material take it as negative where a
        signed distance is wanted.


        Parameters
        ----------
        points : array_like
            x and y in mm, shape (..., 2).

        Returns
        -------
        numpy.ndarray
            In mm, shape (...); infinite if there is no outline.

        Raises
        ------
        GeometryError
            For points that are not finite, or of another shape.

        Examples
        --------
        >>> import planform
        >>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), radius=10)]))])
        >>> disc.distance([(0, 4), (0, 13)]).tolist()
        [6.0, 3.0]
        """
    def drop_outs(self) -> ProfileSet:
        """
        The pieces of sheet that fall out of the holes when the profiles are cut.

        The inside of an 8 that is cut out as a letter is one; the inside of an 8 that is cut through a plate is
        an island.

        Returns
        -------
        ProfileSet
            A profile each, under the name of the profile that has the hole; islands in it are taken off. In
            mm.

        Raises
        ------
        GeometryError
            If outlines can't be told apart; the message gives the place.

        Examples
        --------
        >>> import planform
        >>> def circle(radius):
        ...     return planform.Contour([planform.Arc((0, 0), radius)])
        >>> ring = planform.ProfileSet([planform.Profile(circle(10), [circle(6)], name="ring")])
        >>> [(piece.name, round(piece.area, 3)) for piece in ring.drop_outs()]
        [('ring', 113.097)]
        """
    def intersection(self, other: ProfileSet) -> ProfileSet:
        """
        The material of both sets, also as ``a & b``.

        On the exact curves: lines stay lines, arcs arcs, splines splines. The result is on this set's datum;
        the other's datum may be another parallel one that faces the same way, its outlines are then moved to
        where they lie in the model. Profiles that touch along an edge become one, profiles that touch in a
        point stay two. Marks are taken as a set of contours. Other Python threads run meanwhile.

        Parameters
        ----------
        other : ProfileSet

        Returns
        -------
        ProfileSet
            Lengths in mm; its tolerance is the larger of the two.

        Raises
        ------
        GeometryError
            If the datums are not parallel or face each other, or outlines can't be told apart; the message
            gives the place.
        """
    @typing.overload
    def mirrored(self, axis: str) -> ProfileSet:
        """
        The mirror image: what fits the other hand.

        Marks follow, the datum stays; bends keep their direction, as the solid is mirrored with its outline.

        Parameters
        ----------
        axis : array_like
            Two points of the line in mm, shape (2, 2); or ``'x'``, ``'y'`` for the axes of the datum.

        Returns
        -------
        ProfileSet

        Raises
        ------
        GeometryError
            For numbers that are not finite, two points that are one.

        Examples
        --------
        >>> import planform
        >>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((5, 2), radius=1)]))])
        >>> disc.mirrored([(0, 0), (0, 1)]).centroid.round(9).tolist()
        [-5.0, 2.0]
        >>> disc.mirrored("x").centroid.round(9).tolist()
        [5.0, -2.0]
        """
    @typing.overload
    def mirrored(self, axis: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[2, 2]"]) -> ProfileSet:
        """
        In the line through two points.
        """
    def moved(self, by: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[2, 1]"]) -> ProfileSet:
        """
        The set moved in its plane; marks follow, the datum stays.

        Parameters
        ----------
        by : array_like
            Along x and y in mm, shape (2,).

        Returns
        -------
        ProfileSet

        Raises
        ------
        GeometryError
            For numbers that are not finite.

        Examples
        --------
        >>> import planform
        >>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), radius=1)]))])
        >>> disc.moved((5, 0)).bounds.tolist()
        [[4.0, -1.0], [6.0, 1.0]]
        """
    def nearest(self: ProfileSet | OutlineIndex, points: typing.Any) -> planform.queries.NearestPlaces:
        """
        The place of the outline that is nearest to each point, on the exact curves; marks don't count.

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
    def normalized(self) -> ProfileSet:
        """
        The set in a place of its own, the same wherever it lay before.

        The centroid is the origin and the feature that is furthest from it (a corner, a centre, a pole) lies on
        the x axis. So ``a.normalized().digest == b.normalized().digest`` asks whether two outlines are the same
        but for a motion; mirror images are not.

        Returns
        -------
        ProfileSet
            In mm.

        Examples
        --------
        >>> import planform
        >>> plate = planform.ProfileSet([planform.Profile(planform.Contour(
        ...     [planform.Line(a, b) for a, b in [((0, 0), (4, 0)), ((4, 0), (0, 3)), ((0, 3), (0, 0))]]))])
        >>> turned = plate.transformed([[0.6, -0.8, 7], [0.8, 0.6, 9]])
        >>> plate.normalized().digest == turned.normalized().digest
        True
        """
    def offset(self, distance: float | collections.abc.Mapping[typing.Literal['outer', 'hole', 'island'], float] | collections.abc.Sequence[float] | collections.abc.Callable[[CurvePlace], float], corners: typing.Literal['round', 'sharp', 'flat'] = 'round', limit: float = 4.0) -> ProfileSet:
        """
        The outlines moved by an exact distance; positive grows the material.

        Lines give lines, arcs arcs about the same centre, ellipses and splines a spline within a tenth of the
        set's tolerance of their parallel curve. Outer contours and holes move at once; profiles may meet, fall
        apart or vanish. Marks stay. Other Python threads run meanwhile.

        Parameters
        ----------
        distance : float, dict, sequence of float or callable
            mm; positive grows the material, negative takes from it, 0 leaves it. A dict gives it by role
            ('outer', 'hole', 'island'; 0 for those not in it), a sequence by curve in the order of
            `curve_places`, a callable is asked with the `CurvePlace` of each. Neighbours with different
            distances meet in the intersection of what they are moved to, led on if need be; where there is
            none near, a step along the normals joins them.
        corners : {'round', 'sharp', 'flat'}, optional
            What lies about corners where the moved curves part: an arc, what they lead to, a straight line.
        limit : float, optional
            Greatest distance of a sharp tip from its corner as a multiple of the distance, flat beyond: 4
            keeps corners of 29 degrees and more (stroke-miterlimit, SVG 2, section 13.5.4).

        Returns
        -------
        ProfileSet
            In mm, with the same datum, tolerance, name and marks; a note for each change in kind. Empty if
            nothing is left.

        Raises
        ------
        GeometryError
            For numbers that make no sense; if outlines can't be told apart (the message gives the place).

        Examples
        --------
        >>> import planform
        >>> def circle(radius):
        ...     return planform.Contour([planform.Arc((0, 0), radius)])
        >>> ring = planform.ProfileSet([planform.Profile(circle(10), [circle(6)])])
        >>> wider = ring.offset(0.5)
        >>> [wider.profiles[0].outer.curves[0].radius, wider.profiles[0].holes[0].curves[0].radius]
        [10.5, 5.5]
        >>> ring.offset({"outer": 0.5}).profiles[0].holes[0].curves[0].radius
        6.0
        """
    def opened(self, radius: float) -> ProfileSet:
        """
        What a disc that stays in the material can reach: shrunk by the radius, then grown by it.
        Outer corners are rounded, webs narrower than the disc gone; each is a finding ('unreached', with its
        area in mm^2).

        Parameters
        ----------
        radius : float
            Of the tool, in mm.

        Returns
        -------
        ProfileSet
            In mm, with the same datum, tolerance, name and marks; a note for each change in kind. Empty if
            nothing is left.

        Raises
        ------
        GeometryError
            For numbers that make no sense; if outlines can't be told apart (the message gives the place).
        """
    def relieved(self, radius: float, style: typing.Literal['corner', 'side'] = 'corner', least_web: float = 1.0) -> ProfileSet:
        """
        A circle of the tool's radius cut out of each inner corner that is sharper than the tool, so that a
        square tab seats. Nothing else changes. A corner that is left as it is, for its web or as its walls are
        too short, is a finding ('relief').

        Parameters
        ----------
        radius : float
            Of the tool, in mm.
        style : {'corner', 'side'}, optional
            The circle on the bisector, through the corner; or touching the shorter wall in the corner, cut into
            the longer one.
        least_web : float, optional
            mm: no relief where less material than this would be left beside it.

        Returns
        -------
        ProfileSet
            In mm, with the same datum, tolerance, name and marks; a note for each change in kind. Empty if
            nothing is left.

        Raises
        ------
        GeometryError
            For numbers that make no sense; if outlines can't be told apart (the message gives the place).
        """
    def rotated(self, angle: float, about: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[2, 1]"] = (0.0, 0.0)) -> ProfileSet:
        """
        The set turned counter-clockwise in its plane; marks follow, the datum stays.

        Parameters
        ----------
        angle : float
            In radians.
        about : array_like, optional
            The place that stays where it is, mm, shape (2,).

        Returns
        -------
        ProfileSet

        Raises
        ------
        GeometryError
            For numbers that are not finite.

        Examples
        --------
        >>> import math, planform
        >>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((5, 0), radius=1)]))])
        >>> disc.rotated(math.pi / 2).centroid.round(9).tolist()
        [0.0, 5.0]
        """
    def scaled(self, factor: float, about: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[2, 1]"] = (0.0, 0.0)) -> ProfileSet:
        """
        All lengths times a factor; the datum stays.

        Depths of marks, the tolerance and the deviations of the proof are lengths, too: they stay true.

        Parameters
        ----------
        factor : float
            Finite and above 0, no unit.
        about : array_like, optional
            The place that stays where it is, mm, shape (2,).

        Returns
        -------
        ProfileSet

        Raises
        ------
        GeometryError
            For another factor, numbers that are not finite.

        Examples
        --------
        >>> import planform
        >>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), radius=1)]))])
        >>> inches = disc.scaled(25.4)
        >>> inches.bounds.tolist(), round(inches.tolerance, 9)
        ([[-25.4, -25.4], [25.4, 25.4]], 0.254)
        """
    def symmetric_difference(self, other: ProfileSet) -> ProfileSet:
        """
        The material of one of the two sets only, also as ``a ^ b``: how a changed outline differs from the old one.

        On the exact curves: lines stay lines, arcs arcs, splines splines. The result is on this set's datum;
        the other's datum may be another parallel one that faces the same way, its outlines are then moved to
        where they lie in the model. Profiles that touch along an edge become one, profiles that touch in a
        point stay two. Marks are taken as a set of contours. Other Python threads run meanwhile.

        Parameters
        ----------
        other : ProfileSet

        Returns
        -------
        ProfileSet
            Lengths in mm; its tolerance is the larger of the two.

        Raises
        ------
        GeometryError
            If the datums are not parallel or face each other, or outlines can't be told apart; the message
            gives the place.
        """
    @typing.overload
    def to_dxf(self, path: None = None, *, curves: typing.Literal['arcs', 'exact'] = 'arcs', unit: typing.Literal['mm', 'inch'] = 'mm', tolerance: float | None = None, layers: collections.abc.Mapping[str, DrawingLayer] | None = None) -> str:
        """
        DXF (ASCII, AC1015): the text, or a file if a path is given.

        Layers CUT_OUTER, CUT_INNER and MARK. A circle is a CIRCLE, a contour of lines and arcs one closed
        LWPOLYLINE with bulges. Each entity carries the name of its profile or mark as extended data of the
        application PLANFORM. The file is written to a temporary name and renamed: whole or absent.

        Parameters
        ----------
        path : path-like, optional
        curves : {'arcs', 'exact'}, optional
            Ellipses and splines as tangent-continuous arcs (many controllers take no others), or as ELLIPSE
            and SPLINE.
        unit : {'mm', 'inch'}, optional
            Unit of the drawing; lengths are converted.
        tolerance : float, optional
            Bound in mm on the distance between arcs and the curve they stand for; without it that of the set.
        layers : mapping of str to DrawingLayer, optional
            By role, ``"outer"``, ``"inner"`` or ``"mark"``: another layer than our own. Roles with one name share it.

        Returns
        -------
        str or pathlib.Path
            The text, lengths in the drawing's unit, or the path written.

        Raises
        ------
        WriteError
            If the file can't be written.
        GeometryError
            For an unknown word, a tolerance that is not positive and finite, or layers that make no sense.

        Examples
        --------
        >>> import planform
        >>> disc = planform.Contour([planform.Arc((0, 0), radius=10)])
        >>> text = planform.ProfileSet([planform.Profile(disc)]).to_dxf()
        >>> text.count("CIRCLE")
        1
        """
    @typing.overload
    def to_dxf(self, path: os.PathLike[str] | str | bytes, *, curves: typing.Literal['arcs', 'exact'] = 'arcs', unit: typing.Literal['mm', 'inch'] = 'mm', tolerance: float | None = None, layers: collections.abc.Mapping[str, DrawingLayer] | None = None) -> pathlib.Path:
        """
        Write the file and return its path.
        """
    @typing.overload
    def to_json(self, path: None = None, *, allowance: Allowance | None = None) -> str:
        """
        JSON, lossless: the text, or a file if a path is given.

        `from_json` reads it back to the same numbers. The file is written to a temporary name and renamed.

        Parameters
        ----------
        path : path-like, optional
        allowance : Allowance, optional
            What is to be allowed for in cutting this outline, kept beside it; `Allowance.from_json` reads it back.

        Returns
        -------
        str or pathlib.Path
            The text (lengths in mm, angles in radians), or the path written.

        Raises
        ------
        WriteError
            If the file can't be written.
        """
    @typing.overload
    def to_json(self, path: os.PathLike[str] | str | bytes, *, allowance: Allowance | None = None) -> pathlib.Path:
        """
        Write the file and return its path.
        """
    def to_shapely(self, tolerance: float | None = None) -> shapely.MultiPolygon:
        """
        Valid polygons near the profiles, one a profile, in the same order.

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
    @typing.overload
    def to_svg(self, path: None = None, *, stroke_width: float = 0.0254, layers: collections.abc.Mapping[str, DrawingLayer] | None = None) -> str:
        """
        SVG 1.1: the text, or a file if a path is given.

        Width and height in mm, one user unit is 1 mm, y up as in the datum, hairline strokes, groups
        ``cut-outer``, ``cut-inner`` and ``mark``. The file is written to a temporary name and renamed.

        Lines, arcs and polynomial splines up to degree 3 are exact; other splines become arcs within the set's
        tolerance.

        Parameters
        ----------
        path : path-like, optional
        stroke_width : float, optional
            In mm. The default is a thousandth of an inch, which machine drivers take for a path to follow
            (common practice, no source); a picture for the screen wants more.
        layers : mapping of str to DrawingLayer, optional
            By role, ``"outer"``, ``"inner"`` or ``"mark"``: another group than our own. Roles with one name share it.

        Returns
        -------
        str or pathlib.Path
            The text (lengths in mm), or the path written.

        Raises
        ------
        WriteError
            If the file can't be written.
        GeometryError
            If `stroke_width` is not positive and finite, or layers make no sense.

        Examples
        --------
        >>> import planform
        >>> disc = planform.Contour([planform.Arc((0, 0), radius=10)])
        >>> '<circle cx="0.0" cy="0.0" r="10.0"/>' in planform.ProfileSet([planform.Profile(disc)]).to_svg()
        True
        """
    @typing.overload
    def to_svg(self, path: os.PathLike[str] | str | bytes, *, stroke_width: float = 0.0254, layers: collections.abc.Mapping[str, DrawingLayer] | None = None) -> pathlib.Path:
        """
        Write the file and return its path.
        """
    def transformed(self, matrix: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[m, n]"]) -> ProfileSet:
        """
        Image under an affine map of the plane.

        Parameters
        ----------
        matrix : array_like
            Shape (2, 3), or (3, 3) with the last row 0 0 1; the last column is the shift in mm.

        Returns
        -------
        ProfileSet

        Raises
        ------
        GeometryError
            For a matrix of another shape, numbers that are not finite, or a map that flattens the plane.

        Examples
        --------
        >>> import planform
        >>> disc = planform.Contour([planform.Arc((0, 0), radius=1)])
        >>> profiles = planform.ProfileSet([planform.Profile(disc)])
        >>> profiles.transformed([[1, 0, 5], [0, 1, 0]]).bounds.tolist()
        [[4.0, -1.0], [6.0, 1.0]]
        """
    def turned_to_smallest_rectangle(self) -> ProfileSet:
        """
        The set turned in its plane so that the upright rectangle around it is smallest.

        Its lower left corner goes into the origin (mm), and the datum turns along, so that every point keeps its place
        in the model. A set that gains less than a millionth of the area (a circle) comes back as it is. An option of
        drawings, never the default.

        Returns
        -------
        ProfileSet

        Examples
        --------
        >>> import math, planform
        >>> bar = planform.ProfileSet([planform.Profile(planform.Contour(
        ...     [planform.Line((0, 0), (30, 40)), planform.Line((30, 40), (22, 46)),
        ...      planform.Line((22, 46), (-8, 6)), planform.Line((-8, 6), (0, 0))]))])
        >>> bar.turned_to_smallest_rectangle().bounds.round(9).tolist()
        [[0.0, 0.0], [10.0, 50.0]]
        """
    def united(self, other: ProfileSet) -> ProfileSet:
        """
        The material of either set, also as ``a | b``.

        On the exact curves: lines stay lines, arcs arcs, splines splines. The result is on this set's datum;
        the other's datum may be another parallel one that faces the same way, its outlines are then moved to
        where they lie in the model. Profiles that touch along an edge become one, profiles that touch in a
        point stay two. Marks are taken as a set of contours. Other Python threads run meanwhile.

        Parameters
        ----------
        other : ProfileSet

        Returns
        -------
        ProfileSet
            Lengths in mm; its tolerance is the larger of the two.

        Raises
        ------
        GeometryError
            If the datums are not parallel or face each other, or outlines can't be told apart; the message
            gives the place.

        Examples
        --------
        >>> import planform
        >>> def disc(x):
        ...     return planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((x, 0), 10)]))])
        >>> both = disc(0) | disc(12)
        >>> len(both.profiles), [type(curve).__name__ for curve in both.profiles[0].outer.curves]
        (1, ['Arc', 'Arc'])
        >>> round(disc(0).area + disc(12).area - both.area - (disc(0) & disc(12)).area, 9)
        0.0
        """
    def with_curves(self, curves: typing.Literal['arcs', 'lines'], tolerance: float) -> ProfileSet:
        """
        The set in simpler curves; its tolerance grows by the one given.

        Parameters
        ----------
        curves : {'arcs', 'lines'}
            Lines and arcs, with continuous tangent where a curve has one; or chords. What is that already stays as
            it is.
        tolerance : float
            Bound in mm on the distance from the curves before.

        Returns
        -------
        ProfileSet
            Marks, names, notes and provenance are kept; the proof was of the curves before, and is not.

        Raises
        ------
        GeometryError
            For an unknown word, a tolerance that is not positive and finite or more than a hundredth of the extent;
            with the place, if contours of one profile that all but touch would cross. Profiles that lie nearer to each
            other than the tolerance are not held against each other.

        Examples
        --------
        >>> import planform
        >>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), radius=10)]))])
        >>> octagon_or_more = disc.with_curves("lines", 0.1)
        >>> 310 < octagon_or_more.area < disc.area, round(octagon_or_more.tolerance, 9)
        (True, 0.11)
        """
    def with_data(self, data: collections.abc.Mapping[str, typing.Any]) -> ProfileSet:
        """
        The same set with metadata of the caller's own in place of what it had.

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
    def with_datum(self, datum: Datum | typing.Literal['xy', 'xz', 'yz']) -> ProfileSet:
        """
        The same coordinates on another datum.

        Parameters
        ----------
        datum : Datum or {'xy', 'xz', 'yz'}

        Returns
        -------
        ProfileSet
            In mm.
        """
    def with_marks(self, marks: collections.abc.Sequence[Mark]) -> ProfileSet:
        """
        The same set with other marks in place of its own.

        Parameters
        ----------
        marks : sequence of Mark

        Returns
        -------
        ProfileSet
        """
    def with_name(self, name: str) -> ProfileSet:
        """
        The same set under another name.

        Parameters
        ----------
        name : str
            Free text for titles.

        Returns
        -------
        ProfileSet
        """
    def with_notes(self, notes: collections.abc.Sequence[str]) -> ProfileSet:
        """
        The same set with further notes.

        Parameters
        ----------
        notes : sequence of str

        Returns
        -------
        ProfileSet
        """
    def with_profiles(self, profiles: collections.abc.Sequence[Profile], *, validate: bool = True) -> ProfileSet:
        """
        The same set with other profiles in place of its own; the proof, which was about those, goes.

        Parameters
        ----------
        profiles : sequence of Profile
        validate : bool, optional
            As of the constructor.

        Returns
        -------
        ProfileSet

        Raises
        ------
        GeometryError
            As of the constructor.

        Examples
        --------
        >>> import planform
        >>> discs = [planform.Profile(planform.Contour([planform.Arc((x, 0), radius=1)])) for x in (0, 10)]
        >>> pair = planform.ProfileSet(discs, name="feet")
        >>> pair.with_profiles(pair.profiles[:1])
        ProfileSet(name='feet', profiles=1, marks=0, area=3.141592653589793, length=6.283185307179586)
        """
    @property
    def __geo_interface__(self) -> dict[str, typing.Any]:
        """
        GeoJSON-like mapping of the profiles as polygons, coordinates in mm, within the set's tolerance.
        """
    @property
    def _data_text(self) -> str:
        """
        What `data` reads.
        """
    @property
    def area(self) -> float:
        """
        Area of all profiles in mm^2.
        """
    @property
    def area_moments(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 2]"]:
        """
        Second moments of the profiles' area about its centroid, mm^4, shape (2, 2).

        The integrals of x x, x y, y x, y y over the area, holes taken off. Green's theorem on the exact curves: lines in
        closed form (C. Steger, "On the calculation of moments of polygons", report FGBV-96-04, Technische Universitaet
        Muenchen, 1996), other curves by Gauss quadrature, to rounding. Not a number for an empty set.
        """
    @property
    def bounds(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 2]"]:
        """
        Tight box of profiles and marks in mm, array of shape (2, 2): lower left corner, upper right corner; NaN for an empty set.
        """
    @property
    def centroid(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Centroid of the profiles' area, mm, shape (2,); not a number for an empty set.
        """
    @property
    def data(self) -> dict[str, typing.Any]:
        """
        The caller's own metadata, a dict that is made anew in each call; empty if there is none.

        Kept by motions and in JSON, under the key ``data``; no part of the geometry: ``==`` and `digest` don't
        ask for it. See `with_data`.
        """
    @property
    def datum(self) -> Datum:
        """
        The plane of the outlines.
        """
    @property
    def digest(self) -> str:
        """
        32 hexadecimal digits for the geometry: independent of the order of profiles, start points and the splitting of lines and arcs; names, notes, datum and provenance don't count. Sets of which a corner, centre, radius or pole differs by 0.0071 mm (or a 350th of their size, where that is less) always have different digests; rounding and motions there and back leave it as it is (1e-12 mm of noise flip it once in 200 million times, for ten coordinates). Between the two `==` tells.
        """
    @property
    def islands(self) -> list[Profile]:
        """
        The profiles that lie in a hole of another, at any depth; `Profile.parent` says of which.
        """
    @property
    def length(self) -> float:
        """
        Length of all contours that are cut, in mm; marks don't count.
        """
    @property
    def marks(self) -> collections.abc.Sequence[Mark]:
        """
        What is scored or engraved, not cut through.
        """
    @property
    def name(self) -> str:
        """
        Free text for titles.
        """
    @property
    def notes(self) -> tuple[str, ...]:
        """
        What a person should know about how the result was made, one sentence each.
        """
    @property
    def profiles(self) -> collections.abc.Sequence[Profile]:
        """
        The profiles.
        """
    @property
    def proof(self) -> Proof:
        """
        Laws that a flattening was held against before it was handed out; empty for sets that come from elsewhere.
        """
    @property
    def smallest_rectangle(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[m, 2]"]:
        """
        The smallest rectangle around all profiles, turned as it may be: mm, shape (4, 2).

        Its corners counter-clockwise, the longer side first; within the set's tolerance. Not a number for an empty set.
        One of its sides lies along an edge of the convex hull (H. Freeman, R. Shapira, "Determining the minimum-area
        encasing rectangle for an arbitrary closed curve", Comm. ACM 18, 1975).
        """
    @property
    def tolerance(self) -> float:
        """
        Bound in mm on the distance between the true outline and this one.
        """
class DoubledCurve:
    """
    A curve, or a part of it, that lies on another one; from `close_contours`.

    Examples
    --------
    >>> import planform
    >>> line = planform.Line
    >>> closed = planform.close_contours([line((0, 0), (60, 0)), line((20, 0), (50, 0))])
    >>> closed.doubles[0].length
    30.0
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def curve(self) -> int:
        """
        Index of the curve that is left out there.
        """
    @property
    def end(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        End of the part in mm, shape (2,).
        """
    @property
    def length(self) -> float:
        """
        Length of the part in mm.
        """
    @property
    def other(self) -> int:
        """
        Index of the curve that is kept.
        """
    @property
    def start(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Start of the part in mm, shape (2,).
        """
    @property
    def whole(self) -> bool:
        """
        True if all of the curve lies on the other.
        """
class Gap:
    """
    Two loose ends that face each other, or one with none in reach; from `close_contours`.

    Examples
    --------
    >>> import planform
    >>> line = planform.Line
    >>> sides = [line((0, 0), (60, 0)), line((60, 0), (0, 40)), line((0, 0.1), (0, 40))]
    >>> gap = planform.close_contours(sides, gap=0.2).gaps[0]
    >>> gap.closing, round(gap.width, 3)
    ('extended', 0.1)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def closing(self) -> typing.Literal['open', 'extended', 'blended', 'bridged']:
        """
        'open': nothing was done; 'extended': the curves go on, or are cut back, to their common point; 'blended': a curve went in that has the directions, and where they fit, the curvatures of both ends; 'bridged': a straight piece went in.
        """
    @property
    def curve(self) -> int:
        """
        Index of the curve with the loose end.
        """
    @property
    def other(self) -> int:
        """
        Index of the curve with the other loose end, -1 if there is none.
        """
    @property
    def partner(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        The other end in mm, shape (2,).
        """
    @property
    def place(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        The loose end in mm, shape (2,).
        """
    @property
    def width(self) -> float:
        """
        Between the two in mm; infinite if there is none.
        """
class OpenChain:
    """
    Curves head to tail that close nothing; from `close_contours`.

    Examples
    --------
    >>> import planform
    >>> line = planform.Line
    >>> closed = planform.close_contours([line((0, 0), (60, 0)), line((60, 0), (60, 40))])
    >>> closed.open[0].curves, closed.open[0].length
    ([0, 1], 100.0)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def curves(self) -> list[int]:
        """
        Indices of the curves.
        """
    @property
    def end(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Its end in mm, shape (2,).
        """
    @property
    def length(self) -> float:
        """
        Length in mm.
        """
    @property
    def pieces(self) -> list[Line | Arc | EllipticalArc | Spline]:
        """
        What lies there, head to tail: all of a curve or a part of it.
        """
    @property
    def sources(self) -> list[int]:
        """
        One a piece: index of the curve.
        """
    @property
    def start(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Its start in mm, shape (2,).
        """
    @property
    def stray(self) -> bool:
        """
        True if it bounds nothing; False for an outline with a part missing.
        """
class TinyCurve:
    """
    A curve without length; from `close_contours`.

    Examples
    --------
    >>> import planform
    >>> line = planform.Line
    >>> closed = planform.close_contours([line((0, 0), (60, 0)), line((5, 5), (5, 5.000001))])
    >>> [tiny.curve for tiny in closed.tiny]
    [1]
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def curve(self) -> int:
        """
        Index of the curve.
        """
    @property
    def length(self) -> float:
        """
        Length in mm.
        """
    @property
    def place(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Where it is, in mm, shape (2,).
        """
class CrossedCurves:
    """
    Two outlines, or two parts of one, that cross; from `close_contours`.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> other = planform.Contour(edge.curves).transformed([[1, 0, 30], [0, 1, 20], [0, 0, 1]])
    >>> crossings = planform.close_contours([*edge.curves, *other.curves]).crossings
    >>> [crossing.place.tolist() for crossing in crossings]
    [[60.0, 20.0], [30.0, 40.0]]
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def first(self) -> int:
        """
        Index of a curve.
        """
    @property
    def place(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Where they cross, in mm, shape (2,).
        """
    @property
    def second(self) -> int:
        """
        Index of the curve that crosses it.
        """
class ClosedChain:
    """
    A contour with where its curves come from; from `close_contours`.

    Examples
    --------
    >>> import planform
    >>> line = planform.Line
    >>> sides = [line((0, 0), (60, 0)), line((60, 0), (0, 40)), line((0, 0), (0, 40))]
    >>> chain = planform.close_contours(sides).chains[0]
    >>> chain.contour.area, chain.sources
    (1200.0, [0, 1, 2])
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def changed(self) -> list[bool]:
        """
        One a curve: True if it is not the whole curve as it was given.
        """
    @property
    def contour(self) -> Contour:
        """
        The contour.
        """
    @property
    def sources(self) -> list[int]:
        """
        One a curve: index of the curve that was given, -1 for a piece put in.
        """
class ClosedContours:
    """
    What `close_contours` made of loose curves, and what was wrong with them. Indices are those of the
    curves given.

    Examples
    --------
    >>> import planform
    >>> line = planform.Line
    >>> sides = [line((0, 0), (60, 0)), line((60, 0), (0, 40)), line((0, 0.1), (0, 40))]
    >>> closed = planform.close_contours(sides, gap=0.2)
    >>> len(closed.chains), [round(gap.width, 3) for gap in closed.gaps], closed.doubles
    (1, [0.1], [])
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def chains(self) -> list[ClosedChain]:
        """
        The closed chains.
        """
    @property
    def contours(self) -> list[Contour]:
        """
        The contours of the closed chains.
        """
    @property
    def crossings(self) -> list[CrossedCurves]:
        """
        Where contours cross.
        """
    @property
    def doubles(self) -> list[DoubledCurve]:
        """
        What is drawn twice.
        """
    @property
    def gaps(self) -> list[Gap]:
        """
        Gaps, closed or not.
        """
    @property
    def open(self) -> list[OpenChain]:
        """
        Chains that close nothing.
        """
    @property
    def tiny(self) -> list[TinyCurve]:
        """
        Curves without length.
        """
class FittedCurve:
    """
    A line or arc in place of some curves of a chain; from `fit_flattened`.

    Examples
    --------
    >>> import math, planform
    >>> rim = [(20 * math.cos(t / 50), 20 * math.sin(t / 50)) for t in range(158)]
    >>> chords = [planform.Line(start, end) for start, end in zip(rim, rim[1:])]
    >>> fitted = planform.fit_flattened(chords, 0.01, closed=False)
    >>> [(type(piece.curve).__name__, round(piece.curve.radius, 3)) for piece in fitted]
    [('Arc', 20.0)]
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def count(self) -> int:
        """
        How many curves it stands for.
        """
    @property
    def curve(self) -> Line | Arc | EllipticalArc | Spline:
        """
        The curve, in mm.
        """
    @property
    def first(self) -> int:
        """
        Index of the first curve of the chain that it stands for.
        """
class Rule:
    """
    One rule: its limit, and how much a finding of it weighs.

    `limit` is counted in `unit`: "thicknesses", "mm", "degrees", "points" or "" for a rule without one.

    Examples
    --------
    >>> import planform
    >>> rule = planform.RuleSet()["inner_width"]
    >>> rule.enabled, rule.severity, rule.limit, rule.unit
    (True, 'error', 0.5, 'thicknesses')
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def description(self) -> str:
        """
        What is looked for, one sentence.
        """
    @property
    def enabled(self) -> bool:
        """
        False if it is not looked for.
        """
    @property
    def limit(self) -> float:
        """
        What counts as too much or too little, in `unit`.
        """
    @property
    def name(self) -> typing.Literal['inner_width', 'web', 'neck', 'point_touch', 'straight_cut', 'not_flat', 'sheet', 'smallest_size', 'largest_size', 'gauge', 'sharp_corner', 'small_arc', 'short_segment', 'short_contour', 'many_points', 'island', 'part_in_hole', 'drop_out', 'bend_distance', 'flange', 'bend_relief', 'bend_radius', 'open_end', 'doubled', 'stray', 'crossing', 'zero_length', 'unread', 'drawing_unit', 'role', 'left_over', 'block', 'hatch', 'empty', 'off_plane', 'uneven_scale', 'flattened', 'contour_gone', 'split', 'merged', 'unreached', 'relief']:
        """
        The rule's word in rule files and tables.
        """
    @property
    def severity(self) -> typing.Literal['note', 'warning', 'error']:
        """
        How much a finding of it weighs.
        """
    @property
    def source(self) -> str:
        """
        A standard, or "common practice, no source".
        """
    @property
    def unit(self) -> typing.Literal['thicknesses', 'mm', 'degrees', 'points', '']:
        """
        In what the limit is given.
        """
class RuleSet:
    """
    The rules of an inspection, one of each name; immutable.

    Examples
    --------
    >>> import planform
    >>> rules = planform.RuleSet().with_limit("web", 2.0, "mm").with_severity("web", "warning")
    >>> rules["web"].limit, rules["web"].unit, rules["web"].severity
    (2.0, 'mm', 'warning')
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getitem__(self, name: typing.Literal['inner_width', 'web', 'neck', 'point_touch', 'straight_cut', 'not_flat', 'sheet', 'smallest_size', 'largest_size', 'gauge', 'sharp_corner', 'small_arc', 'short_segment', 'short_contour', 'many_points', 'island', 'part_in_hole', 'drop_out', 'bend_distance', 'flange', 'bend_relief', 'bend_radius', 'open_end', 'doubled', 'stray', 'crossing', 'zero_length', 'unread', 'drawing_unit', 'role', 'left_over', 'block', 'hatch', 'empty', 'off_plane', 'uneven_scale', 'flattened', 'contour_gone', 'split', 'merged', 'unreached', 'relief']) -> Rule:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self) -> None:
        """
        The documented default set.
        """
    def __iter__(self) -> collections.abc.Iterator[Rule]:
        ...
    def __len__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    def with_enabled(self, name: typing.Literal['inner_width', 'web', 'neck', 'point_touch', 'straight_cut', 'not_flat', 'sheet', 'smallest_size', 'largest_size', 'gauge', 'sharp_corner', 'small_arc', 'short_segment', 'short_contour', 'many_points', 'island', 'part_in_hole', 'drop_out', 'bend_distance', 'flange', 'bend_relief', 'bend_radius', 'open_end', 'doubled', 'stray', 'crossing', 'zero_length', 'unread', 'drawing_unit', 'role', 'left_over', 'block', 'hatch', 'empty', 'off_plane', 'uneven_scale', 'flattened', 'contour_gone', 'split', 'merged', 'unreached', 'relief'], enabled: bool) -> RuleSet:
        """
        The set with one rule on or off.
        """
    def with_limit(self, name: typing.Literal['inner_width', 'web', 'neck', 'point_touch', 'straight_cut', 'not_flat', 'sheet', 'smallest_size', 'largest_size', 'gauge', 'sharp_corner', 'small_arc', 'short_segment', 'short_contour', 'many_points', 'island', 'part_in_hole', 'drop_out', 'bend_distance', 'flange', 'bend_relief', 'bend_radius', 'open_end', 'doubled', 'stray', 'crossing', 'zero_length', 'unread', 'drawing_unit', 'role', 'left_over', 'block', 'hatch', 'empty', 'off_plane', 'uneven_scale', 'flattened', 'contour_gone', 'split', 'merged', 'unreached', 'relief'], limit: float, unit: typing.Literal['thicknesses', 'mm', 'degrees', 'points', ''] | None = None) -> RuleSet:
        """
        The set with one limit changed.

        Parameters
        ----------
        name : str
        limit : float
            In `unit`, not negative.
        unit : str, optional
            The rule's own by default. Rules in "mm" or "thicknesses" take both.

        Raises
        ------
        GeometryError
            For an unknown name (the message lists the valid ones), a limit or a unit that makes no sense.
        """
    def with_severity(self, name: typing.Literal['inner_width', 'web', 'neck', 'point_touch', 'straight_cut', 'not_flat', 'sheet', 'smallest_size', 'largest_size', 'gauge', 'sharp_corner', 'small_arc', 'short_segment', 'short_contour', 'many_points', 'island', 'part_in_hole', 'drop_out', 'bend_distance', 'flange', 'bend_relief', 'bend_radius', 'open_end', 'doubled', 'stray', 'crossing', 'zero_length', 'unread', 'drawing_unit', 'role', 'left_over', 'block', 'hatch', 'empty', 'off_plane', 'uneven_scale', 'flattened', 'contour_gone', 'split', 'merged', 'unreached', 'relief'], severity: typing.Literal['note', 'warning', 'error']) -> RuleSet:
        """
        The set with one rule's findings weighing more or less.
        """
class Finding:
    """
    One result of an inspection: what, where, measured, limit.

    `place` is a point on the drawing, in mm. `points` are the places that a width was measured between, or
    all places where there are several. `measured` and `limit` are in `unit` ("mm", "degrees", "points", "")
    or None. `profile` is an index in the set, `contour` 0 for the outer contour, 1 for the first hole and so
    on; -1 where it is about the whole.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> hole = planform.Contour([planform.Arc((45, 20), 1)])
    >>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
    >>> finding = planform.inspect(roof, 6.0).findings[0]
    >>> finding.rule, finding.severity, finding.place.tolist(), finding.measured, finding.limit
    ('inner_width', 'error', [45.0, 20.0], 2.0, 3.0)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, rule: typing.Literal['inner_width', 'web', 'neck', 'point_touch', 'straight_cut', 'not_flat', 'sheet', 'smallest_size', 'largest_size', 'gauge', 'sharp_corner', 'small_arc', 'short_segment', 'short_contour', 'many_points', 'island', 'part_in_hole', 'drop_out', 'bend_distance', 'flange', 'bend_relief', 'bend_radius', 'open_end', 'doubled', 'stray', 'crossing', 'zero_length', 'unread', 'drawing_unit', 'role', 'left_over', 'block', 'hatch', 'empty', 'off_plane', 'uneven_scale', 'flattened', 'contour_gone', 'split', 'merged', 'unreached', 'relief'], severity: typing.Literal['note', 'warning', 'error'], place: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[2, 1]"], text: str, *, points: collections.abc.Sequence[typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[2, 1]"]] = [], measured: float | None = None, limit: float | None = None, unit: str = '', profile: int = -1, contour: int = -1) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def contour(self) -> int:
        """
        0 is the outer contour; -1 none.
        """
    @property
    def limit(self) -> float | None:
        """
        The rule's limit, in `unit`, or None.
        """
    @property
    def measured(self) -> float | None:
        """
        What was measured, in `unit`, or None.
        """
    @property
    def place(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Where on the drawing, in mm; of several places the worst.
        """
    @property
    def points(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[m, 2]"]:
        """
        Of shape (n, 2), in mm.
        """
    @property
    def profile(self) -> int:
        """
        Index in the set, or -1.
        """
    @property
    def rule(self) -> typing.Literal['inner_width', 'web', 'neck', 'point_touch', 'straight_cut', 'not_flat', 'sheet', 'smallest_size', 'largest_size', 'gauge', 'sharp_corner', 'small_arc', 'short_segment', 'short_contour', 'many_points', 'island', 'part_in_hole', 'drop_out', 'bend_distance', 'flange', 'bend_relief', 'bend_radius', 'open_end', 'doubled', 'stray', 'crossing', 'zero_length', 'unread', 'drawing_unit', 'role', 'left_over', 'block', 'hatch', 'empty', 'off_plane', 'uneven_scale', 'flattened', 'contour_gone', 'split', 'merged', 'unreached', 'relief']:
        """
        The name of the rule that it breaks.
        """
    @property
    def severity(self) -> typing.Literal['note', 'warning', 'error']:
        """
        How much it weighs.
        """
    @property
    def text(self) -> str:
        """
        What it is and what to do.
        """
    @property
    def unit(self) -> str:
        """
        Of measured and limit.
        """
class Sheet:
    """
    A rectangle to cut from, in mm; the margin stays free.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> hole = planform.Contour([planform.Arc((45, 20), 1)])
    >>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
    >>> planform.inspect(roof, 3.0, sheet=planform.Sheet(50, 50, margin=2)).findings[0].rule
    'sheet'
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, width: float, height: float, margin: float = 0.0) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def height(self) -> float:
        """
        Along y, in mm.
        """
    @property
    def margin(self) -> float:
        """
        In mm, on all sides.
        """
    @property
    def width(self) -> float:
        """
        Along x, in mm.
        """
class NarrowPlace:
    """
    A narrow place of void or material, where it is narrowest.

    `kind` is "inner" (void: a hole, a slot, a notch, a gap between profiles), "web" (material between two
    contours) or "neck" (material within one). `width` is in mm. `touching` holds the two or three points of
    the outline between which it was measured, `sides` the (profile, contour) of the first and the last of
    them; contour 0 is the outer one.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> hole = planform.Contour([planform.Arc((45, 20), 1)])
    >>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
    >>> place = planform.narrow_places(roof, 3.0)[0]
    >>> place.kind, place.width
    ('inner', 2.0)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def center(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Of the disc that fits there, in mm.
        """
    @property
    def kind(self) -> typing.Literal['inner', 'web', 'neck']:
        """
        Void, web or neck.
        """
    @property
    def sides(self) -> tuple[tuple[int, int], tuple[int, int]]:
        """
        (profile, contour) of the first and of the last of those points.
        """
    @property
    def touching(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[m, 2]"]:
        """
        Where that disc touches the outline, of shape (n, 2), in mm.
        """
    @property
    def width(self) -> float:
        """
        In mm, at its narrowest.
        """
class CurvePlace:
    """
    One curve of a profile set.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> hole = planform.Contour([planform.Arc((45, 20), 1)])
    >>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
    >>> places = planform.curve_places(roof)
    >>> [(place.contour, place.curve, place.role) for place in places][-2:]
    [(0, 3, 'outer'), (1, 0, 'hole')]
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def contour(self) -> int:
        """
        0 is the outer contour, 1 the first hole.
        """
    @property
    def curve(self) -> int:
        """
        Index of the curve in its contour.
        """
    @property
    def profile(self) -> int:
        """
        Index of the profile in the set.
        """
    @property
    def role(self) -> typing.Literal['outer', 'hole', 'island']:
        """
        'outer', 'hole', or 'island' for the outer contour of a profile in a hole.
        """
class Allowed:
    """
    An outline that was changed, and what there is to say about it.

    `profiles` is the new ProfileSet; `findings` are changes in kind (rules "contour_gone", "split",
    "merged", "unreached", "relief") with places in mm. Profiles and contours in them are counted in the set
    that went in.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> grown = planform.offset(roof, 0.1)
    >>> round(grown.profiles.area, 3), grown.findings
    (2420.031, [])
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def findings(self) -> list[Finding]:
        """
        What changed in kind, by rule and place.
        """
    @property
    def profiles(self) -> ProfileSet:
        """
        The new outlines, in mm.
        """
class _LayoutFault:
    """
    What is wrong with one placement.

    `kind` is "outside_sheet", "in_margin", "not_clear", "too_near" or "overlap"; `measured` and `limit` are
    distances in mm.
    """
    def __repr__(self) -> str:
        ...
    @property
    def first(self) -> int:
        """
        Index of the piece.
        """
    @property
    def kind(self) -> typing.Literal['outside_sheet', 'in_margin', 'not_clear', 'too_near', 'overlap']:
        """
        What is wrong.
        """
    @property
    def limit(self) -> float:
        """
        In mm.
        """
    @property
    def measured(self) -> float:
        """
        In mm.
        """
    @property
    def place(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Where, in mm on the sheet.
        """
    @property
    def second(self) -> int:
        """
        Index of the other piece, or -1.
        """
class _LayoutProof:
    """
    What a layout was held against.

    `faults` is empty if it is right. `least_gap` and `least_margin` are the least distances (mm) among those
    that hardly exceed what is asked for; infinite if there are none.
    """
    def __repr__(self) -> str:
        ...
    @property
    def faults(self) -> list[_LayoutFault]:
        """
        By pieces.
        """
    @property
    def least_gap(self) -> float:
        """
        Between two pieces, mm.
        """
    @property
    def least_margin(self) -> float:
        """
        Between a piece and the edge of the sheet, mm.
        """
    @property
    def measured_pairs(self) -> int:
        """
        Pairs of curves whose distance was measured.
        """
class _FreeSpace:
    """
    The room on a sheet that nothing lies on yet, mm.

    `room` is a list of (n, 2) arrays, the outer ring and the holes; `cell` the side of the search grid's cells.
    """
    def __init__(self, room: collections.abc.Sequence[typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[m, 2]"]], cell: float) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def find(self, shapes: collections.abc.Sequence[collections.abc.Sequence[typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[m, 2]"]]], number: int = -1) -> tuple[int, float, float] | None:
        """
        The place furthest left (by right ends) of any of the shapes: its index and the shift in x and y (mm).

        None if none was found, which proves nothing: the search runs on the grid. Calls with the same number (0 or
        more) must offer the same shapes: where there was no room for them is not looked at again.
        """
    def is_free(self, shape: collections.abc.Sequence[typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[m, 2]"]]) -> bool:
        """
        Does the shape lie in the room and off all that was occupied?
        """
    def largest_rectangle(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 2]"] | None:
        """
        The largest free rectangle along x and y, its corners as rows (mm); None if no cell is free.
        """
    def occupy(self, shape: collections.abc.Sequence[typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[m, 2]"]]) -> None:
        """
        Take away what lies under the shape; its holes stay free.
        """
class Solid:
    """
    One placed solid of a model, in model coordinates and mm. Immutable.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> gable = station[20]
    >>> gable.path, round(gable.volume, 1), gable.bounds.round(3).tolist()
    (('bird-feeding station', 'house', 'gable 1'), 75605.1, [[-63.0, -70.0, 156.0], [-57.0, 70.0, 294.629]])
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    def preview(self, outline: ProfileSet | None = None) -> planform.pictures.preview.Preview:
        """
        The solid, to be turned with the mouse, and its outline beside it: what a notebook shows.

        Parameters
        ----------
        outline : ProfileSet, optional
            Without it the shadow on the datum ``auto``.

        Returns
        -------
        planform.pictures.preview.Preview
            Shows itself in notebooks; ``html`` is the page, which needs no network. Lengths in captions are mm.

        Raises
        ------
        ModuleNotFoundError
            Without trimesh: ``pip install 'planform[preview]'``.
        GeometryError
            If the solid can't be flattened or meshed.

        Examples
        --------
        >>> import pathlib, planform, tempfile
        >>> folder = pathlib.Path(tempfile.mkdtemp())
        >>> post = planform.load(planform.write_demo_assembly(folder / "station.step"))[1]
        >>> "<iframe" in post.preview().html
        True
        """
    def to_brep(self) -> bytes:
        """
        The solid as the bytes of a BREP file, in model coordinates and mm.

        Returns
        -------
        bytes
            Text that all versions of the kernel read; names, colours and layers are no part of it.

        Raises
        ------
        LoadError
            If the kernel can't write the shape.
        """
    def to_glb(self: Solid | Model, path: str | os.PathLike[str] | None = None, *, tolerance: float | None = None) -> bytes | pathlib.Path:
        """
        The surface as triangles, for viewers: glTF 2.0, binary; names and colours are kept.

        Parameters
        ----------
        path : path-like, optional
        tolerance : float, optional
            How far triangles may stray from the surface, mm, about; a thousandth of the larger side without it.

        Returns
        -------
        bytes or pathlib.Path
            The bytes (lengths in m and y up, as the format wants it), or the path written.

        Raises
        ------
        ModuleNotFoundError
            Without trimesh: ``pip install 'planform[preview]'``.
        WriteError
            If the file can't be written.
        GeometryError
            If `tolerance` is not positive and finite, or the kernel can't mesh a face.

        Examples
        --------
        >>> import pathlib, planform, tempfile
        >>> folder = pathlib.Path(tempfile.mkdtemp())
        >>> post = planform.load(planform.write_demo_assembly(folder / "station.step"))[1]
        >>> post.to_glb()[:4]
        b'glTF'
        >>> post.to_glb(folder / "post.glb").name
        'post.glb'
        """
    @property
    def bounds(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 3]"]:
        """
        Tight box in model coordinates, mm, array of shape (2, 3): lowest corner, highest corner.
        """
    @property
    def color(self) -> typing.Annotated[list[float], "FixedSize(3)"] | None:
        """
        Red, green, blue, each 0 to 1 (sRGB, no unit); None if not coloured.
        """
    @property
    def edge_count(self) -> int:
        """
        Number of edges.
        """
    @property
    def face_count(self) -> int:
        """
        Number of faces.
        """
    @property
    def layers(self) -> tuple[str, ...]:
        """
        Names of the layers it lies on, sorted: those of the instance, else of the solid, its part, all its faces, the assembly above; empty if the file gives none.
        """
    @property
    def name(self) -> str:
        """
        Name of the part as the file gives it (data: never use it as a path); 'solid N' if none.
        """
    @property
    def notes(self) -> tuple[str, ...]:
        """
        Remarks on this solid, e.g. that a closed shell was taken as a solid.
        """
    @property
    def part(self) -> int:
        """
        Which placed part of the model this body belongs to: equal numbers, bodies of one part. A BREP file names no parts: each of its bodies is one.
        """
    @property
    def part_name(self) -> str:
        """
        Name of that part; `name` adds a number where the part has several bodies.
        """
    @property
    def path(self) -> tuple[str, ...]:
        """
        Names from the root of the assembly down to this solid, its own last.
        """
    @property
    def placement(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[4, 4]"]:
        """
        Placement of the distinct shape in the model: shape (4, 4), last column in mm.
        """
    @property
    def shape_index(self) -> int:
        """
        Which distinct shape this is an instance of: equal numbers, same shape.
        """
    @property
    def surface_area(self) -> float:
        """
        Area of the surface in mm^2.
        """
    @property
    def volume(self) -> float:
        """
        Volume in mm^3.
        """
class Healed:
    """
    What was repaired while a STEP file was read: of its shapes before they are placed, parts that are no
    solids included.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> station.healed.shapes, station.healed.shapes_in_full
    (17, 0)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def faces(self) -> int:
        """
        Number of faces of all shapes.
        """
    @property
    def faces_alone(self) -> int:
        """
        Number of faces that were healed each by itself, of the other shapes.
        """
    @property
    def shapes(self) -> int:
        """
        Number of shapes.
        """
    @property
    def shapes_in_full(self) -> int:
        """
        Number of shapes that were healed in full, with all their faces.
        """
class Model:
    """
    A loaded model: its solids in the order of the file's tree, in mm.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> len(station), station.unit, station.shape_count
    (28, 'mm', 17)
    >>> station[26].name, station[0] == station["base plate"]
    ('gutter', True)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    @typing.overload
    def __getitem__(self, index: int) -> Solid:
        ...
    @typing.overload
    def __getitem__(self, index: slice) -> list[Solid]:
        ...
    @typing.overload
    def __getitem__(self, name: str) -> Solid:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __iter__(self) -> collections.abc.Iterator[Solid]:
        ...
    def __len__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    def _repr_html_(self) -> str:
        """
        A table of the solids: name, box (mm), volume (mm³), faces.
        """
    def to_glb(self: Solid | Model, path: str | os.PathLike[str] | None = None, *, tolerance: float | None = None) -> bytes | pathlib.Path:
        """
        The surface as triangles, for viewers: glTF 2.0, binary; names and colours are kept.

        Parameters
        ----------
        path : path-like, optional
        tolerance : float, optional
            How far triangles may stray from the surface, mm, about; a thousandth of the larger side without it.

        Returns
        -------
        bytes or pathlib.Path
            The bytes (lengths in m and y up, as the format wants it), or the path written.

        Raises
        ------
        ModuleNotFoundError
            Without trimesh: ``pip install 'planform[preview]'``.
        WriteError
            If the file can't be written.
        GeometryError
            If `tolerance` is not positive and finite, or the kernel can't mesh a face.

        Examples
        --------
        >>> import pathlib, planform, tempfile
        >>> folder = pathlib.Path(tempfile.mkdtemp())
        >>> post = planform.load(planform.write_demo_assembly(folder / "station.step"))[1]
        >>> post.to_glb()[:4]
        b'glTF'
        >>> post.to_glb(folder / "post.glb").name
        'post.glb'
        """
    @property
    def healed(self) -> Healed:
        """
        What was repaired while the file was read; all nought for BREP.
        """
    @property
    def notes(self) -> tuple[str, ...]:
        """
        What a person should know: open shells left out, units overridden, ...
        """
    @property
    def shape_count(self) -> int:
        """
        Number of distinct shapes.
        """
    @property
    def solids(self) -> list[Solid]:
        """
        The solids.
        """
    @property
    def source(self) -> str:
        """
        The path, or 'memory'.
        """
    @property
    def unit(self) -> str:
        """
        The file's own length unit, e.g. 'inch'; several joined by ', ' if mixed; 'mm (assumed)' for BREP, which carries none.
        """
class SectionStack:
    """
    Solids made ready to be cut by many planes parallel to the datum.

    What the planes share is found once; each section is that of section(). Used by sections().

    Parameters
    ----------
    solids : Solid, Model or iterable of Solid
    datum : Datum or {'auto', 'xy', 'xz', 'yz'}
    tolerance : float, optional
        Bound in mm on the distance between the true outline and the result.
    merge : {'union', 'keep'}, optional
        The union of all solids, or side by side, each profile with its solid's name.
    side : {'below', 'above'}, optional
        Which material counts where a plane lies in a face.

    Raises
    ------
    GeometryError
        For a solid that is not closed, an unknown word or a tolerance that is not a positive finite number.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> gable = station[20]
    >>> stack = planform.SectionStack(gable, planform.auto_datum(gable))
    >>> [round(stack.at(height).area, 1) for height in (1, 5)]
    [12600.8, 12600.8]
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, solids: Solid | Model | collections.abc.Iterable[Solid], datum: Datum | typing.Literal['auto', 'xy', 'xz', 'yz'], tolerance: float = 0.01, merge: typing.Literal['union', 'keep'] = 'union', side: typing.Literal['below', 'above'] = 'below') -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    def at(self, offset: float) -> ProfileSet:
        """
        The section by the datum moved by `offset` mm along its normal, as a ProfileSet. Raises GeometryError naming the solid and the face if it can't be had.
        """
    @property
    def extent(self) -> tuple[float, float]:
        """
        Offsets in mm between which there is material: a bound, not always tight; lower > upper without solids.
        """
class UncuttableFeature:
    """
    One feature of a solid that a straight cut can't make. Lengths are mm, angles radians; heights count
    from the bottom.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> feature = planform.straight_cut(station[26], "auto").features[0]
    >>> feature.kind, feature.side, round(feature.depth, 3)
    ('boss', 'top', 20.0)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    def finding(self, rules: RuleSet) -> Finding | None:
        """
        This feature as a finding of an inspection; see `inspect`.

        Parameters
        ----------
        rules : RuleSet

        Returns
        -------
        Finding or None
            Of the rule 'straight_cut', with its severity: measured in degrees for a bevelled wall, else in mm by
            its depth. None if the rule is off.
        """
    @property
    def angle(self) -> float | None:
        """
        rad. Between the surface and a straight wall; of a countersink and of a drill's tip the full angle of the cone; of a cross hole between its axis and the sheet; else None.
        """
    @property
    def axis(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[3, 1]"] | None:
        """
        Of a cross hole: unit vector in datum coordinates (no unit), shape (3,); else None.
        """
    @property
    def bounds(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 2]"]:
        """
        Its box on the datum, mm, shape (2, 2): lower left and upper right corner.
        """
    @property
    def depth(self) -> float:
        """
        mm along the datum's normal. Pocket, step, counterbore, groove along the sheet: how deep it reaches below the top (above the bottom); groove in a wall: how deep it reaches into the wall; boss: its height over the sheet; cross hole: of its axis below the top, in the middle of its length; else from its lowest to its highest point.
        """
    @property
    def diameter(self) -> float | None:
        """
        mm. Of round ones, the wide one; else None.
        """
    @property
    def faces(self) -> list[int]:
        """
        Numbers of its faces in the solid, from 1.
        """
    @property
    def high(self) -> float:
        """
        Height of its highest point, mm.
        """
    @property
    def hole_diameter(self) -> float | None:
        """
        mm. Of a countersink, counterbore or conical hole, the narrow one; else None.
        """
    @property
    def kind(self) -> typing.Literal['pocket', 'step', 'groove', 'boss', 'chamfer', 'countersink', 'counterbore', 'rounded-edge', 'bevelled-wall', 'cross-hole', 'cavity', 'free-form']:
        """
        What it is.
        """
    @property
    def low(self) -> float:
        """
        Height of its lowest point, mm.
        """
    @property
    def place(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        On the datum, mm, shape (2,): its axis, else the middle of its box.
        """
    @property
    def radius(self) -> float | None:
        """
        mm, of a rounded edge; else None.
        """
    @property
    def side(self) -> typing.Literal['top', 'bottom', 'wall', 'inside']:
        """
        From where it is made.
        """
    @property
    def text(self) -> str:
        """
        What it is, with its sizes, and what the silhouette shows there.
        """
    @property
    def width(self) -> float | None:
        """
        mm. Of a chamfer or bevelled wall on the datum, across it; of a groove in a wall along the normal; else None.
        """
    @property
    def word(self) -> str:
        """
        The kind in words, e.g. 'blind pocket'.
        """
class StraightCut:
    """
    What a straight cut makes of a solid, and what it can't. Heights are mm over the datum.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> cut = planform.straight_cut(station[20], "auto")
    >>> cut.thickness, cut.features
    (6.0, [])
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def bottom(self) -> float:
        """
        Height of the bottom, mm.
        """
    @property
    def bottom_is_flat(self) -> bool:
        """
        False if no flat face looks down: the bottom is then that of the box.
        """
    @property
    def features(self) -> list[UncuttableFeature]:
        """
        What it can't make, by side, kind and place.
        """
    @property
    def is_straight(self) -> bool:
        """
        True if a straight cut makes all of it.
        """
    @property
    def thickness(self) -> float:
        """
        From bottom to top, mm.
        """
    @property
    def top(self) -> float:
        """
        Height of the top, mm.
        """
    @property
    def top_is_flat(self) -> bool:
        """
        False if no flat face looks up: the top is then that of the box.
        """
class SideUp:
    """
    How a part lies.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> side = planform.side_up(station[20])
    >>> side.text, side.datum.normal.round(6).tolist()
    ("the top view of the part's own frame shows it", [1.0, 0.0, 0.0])
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def datum(self) -> Datum:
        """
        Its normal points up; the origin is the lower left corner of the shadow, at the bottom.
        """
    @property
    def features_down(self) -> bool:
        """
        True if the side below carries features: only if both do.
        """
    @property
    def features_up(self) -> bool:
        """
        True if the side that lies up carries features.
        """
    @property
    def is_worked_from_both_sides(self) -> bool:
        """
        Features on both sides: the part must be turned over.
        """
    @property
    def text(self) -> str:
        """
        Why this side, one sentence.
        """
class BendTableRow:
    """
    What was measured of a bend.

    Parameters
    ----------
    thickness : float
        mm.
    inside_radius : float
        mm.
    angle : float
        By which the sheet is bent, radians; 0 is flat.
    allowance : float, optional
        Length of the blank between the lines where the bend begins and ends, mm.
    deduction : float, optional
        What the blank is shorter than the two outer lengths together, mm. Give one of the two.

    Examples
    --------
    >>> import math, planform
    >>> row = planform.BendTableRow(thickness=1.0, inside_radius=1.0, angle=math.pi / 2, allowance=2.1)
    >>> rule = planform.BendRule("table", table=[row])
    >>> rule.allowance(1.0, 1.0, math.pi / 2)
    2.1
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, thickness: float, inside_radius: float, angle: float, *, allowance: float | None = None, deduction: float | None = None) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def allowance(self) -> float | None:
        """
        mm, or None.
        """
    @property
    def angle(self) -> float:
        """
        Radians; 0 is flat.
        """
    @property
    def deduction(self) -> float | None:
        """
        mm, or None.
        """
    @property
    def inside_radius(self) -> float:
        """
        Of the bend, mm.
        """
    @property
    def thickness(self) -> float:
        """
        Of the sheet, mm.
        """
class BendRule:
    """
    By which rule the length of a bend in the blank is found.

    Parameters
    ----------
    rule : {'din-6935', 'k-factor', 'table'}, optional
        DIN 6935: K = k / 2 with k = 0.65 + 0.5 lg(inside radius / thickness), at most 1; below 15 degrees the
        blank is as long as the outer lengths together (from memory). A K factor: the depth of the layer that keeps
        its length, from the inside, as a share of the thickness. A table of what was measured.
    k_factor : float, optional
        0 to 1, for the rule 'k-factor'.
    table : iterable of BendTableRow, optional
        For the rule 'table'. Between rows it is interpolated linearly in the angle and in the inside radius.
    sharp_radius : float, optional
        Inside radius of bends at corners that are drawn sharp inside and not rounded by the thickness outside, mm;
        without it the thickness (common practice, no source), or 0 where that has no room.

    Raises
    ------
    GeometryError
        For an unknown rule.

    Examples
    --------
    >>> import math, planform
    >>> rule = planform.BendRule("k-factor", k_factor=0.4)
    >>> round(rule.allowance(thickness=2, inside_radius=3, angle=math.pi / 2), 6)
    5.969026
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, rule: typing.Literal['k-factor', 'din-6935', 'table'] = 'din-6935', *, k_factor: float = 0.5, table: collections.abc.Sequence[BendTableRow] = [], sharp_radius: float | None = None) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    def allowance(self, thickness: float, inside_radius: float, angle: float) -> float:
        """
        Length of the blank between the lines where a bend begins and ends, mm.

        Parameters
        ----------
        thickness, inside_radius : float
            mm.
        angle : float
            By which the sheet is bent, radians; 0 is flat.

        Raises
        ------
        GeometryError
            For numbers that make no bend, and for what the table doesn't tell.
        """
    @property
    def k_factor(self) -> float:
        """
        For the rule 'k-factor'.
        """
    @property
    def rule(self) -> typing.Literal['k-factor', 'din-6935', 'table']:
        """
        'din-6935', 'k-factor' or 'table'.
        """
    @property
    def sharp_radius(self) -> float | None:
        """
        Of corners that are drawn sharp, mm; None: the thickness.
        """
    @property
    def table(self) -> list[BendTableRow]:
        """
        For the rule 'table'.
        """
class Bend:
    """
    A bend of a blank. Lengths are mm, angles radians.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> bend = planform.unfold(station[26], k_factor=0.44).bends[0]
    >>> bend.direction, bend.inside_radius, round(bend.angle, 6), round(bend.allowance, 3)
    ('up', 2.0, 1.570796, 3.833)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def allowance(self) -> float:
        """
        mm of blank across the line.
        """
    @property
    def angle(self) -> float:
        """
        By which the sheet is bent, radians; 0 is flat.
        """
    @property
    def deduction(self) -> float:
        """
        mm by which the blank is shorter than the two outer lengths together.
        """
    @property
    def direction(self) -> str:
        """
        'up' or 'down' as seen on the drawing.
        """
    @property
    def faces(self) -> list[int]:
        """
        1-based numbers in the solid, ascending; none of a bend at a corner that is drawn sharp.
        """
    @property
    def half_angle(self) -> float:
        """
        Of a conical bend's cone, radians, else 0.
        """
    @property
    def inside_radius(self) -> float:
        """
        mm; of a conical bend in the middle of its line.
        """
    @property
    def k_factor(self) -> float:
        """
        Where the rule put the neutral fibre.
        """
    @property
    def kind(self) -> typing.Literal['bend', 'conical', 'roll']:
        """
        'bend' between walls, 'conical', or 'roll': no wall at one side or at both.
        """
    @property
    def length(self) -> float:
        """
        Of the pieces of its line, mm.
        """
    @property
    def limits(self) -> tuple[Line, ...]:
        """
        Where the bend begins and ends: pieces of these lines in the material.
        """
    @property
    def lines(self) -> tuple[Line, ...]:
        """
        The line in the middle of the bend: its pieces in the material, in order; none of a roll.
        """
    @property
    def number(self) -> int:
        """
        From 1, in the order of the blank.
        """
    @property
    def up(self) -> bool:
        """
        True if the walls rise towards the reader.
        """
class Blank:
    """
    The flat outline of a bent sheet with its bends.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> blank = planform.unfold(station[26], k_factor=0.44)
    >>> blank.thickness, len(blank.bends), blank.outline.proof.largest_deviation < 1e-6
    (1.0, 3, True)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def bends(self) -> list[Bend]:
        """
        From left to right, then from below.
        """
    @property
    def notes(self) -> tuple[str, ...]:
        """
        What a person should know, one sentence each.
        """
    @property
    def outline(self) -> ProfileSet:
        """
        Profile set on the datum of the wall that stays where it is, with bend lines as marks.
        """
    @property
    def thickness(self) -> float:
        """
        Of the sheet, mm.
        """
    @property
    def volume(self) -> float:
        """
        Of the solid, mm^3.
        """
class UnfoldRefusal:
    """
    Why a solid is not unfolded, and where.

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
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def faces(self) -> list[int]:
        """
        1-based numbers in the solid.
        """
    @property
    def outline(self) -> ProfileSet | None:
        """
        Of a blank that overlaps itself, not proven, for pictures; else None.
        """
    @property
    def overlap(self) -> ProfileSet | None:
        """
        Where a blank lies on itself, for pictures; else None.
        """
    @property
    def place(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[3, 1]"] | None:
        """
        Model coordinates, mm; None if there is none.
        """
    @property
    def reason(self) -> str:
        """
        In words: 'no bend', 'no sheet', 'not of one thickness', 'sharp corner', 'closed ring of walls', 'not developable', 'lip or louvre', 'blank overlaps itself' or 'not measured'.
        """
    @property
    def text(self) -> str:
        """
        The reason with its figures and what to do.
        """
class Congruence:
    """
    How one outline lies on another.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> found = planform.find_congruence(roof, roof.mirrored("x").rotated(0.3))
    >>> found.mirrored, found.deviation < 1e-9
    (False, True)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def deviation(self) -> float:
        """
        Greatest distance of one outline from the other then, mm.
        """
    @property
    def matrix(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 3]"]:
        """
        Shape (2, 3): turns (and mirrors) by its first two columns, no unit, then shifts by the last, mm.
        """
    @property
    def mirrored(self) -> bool:
        """
        True if it turns the outline over.
        """
class PlateInstance:
    """
    One piece that is cut from a plate.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> plate = planform.plates(station)[-2]
    >>> [(instance.solid, instance.turned_over) for instance in plate.instances]
    [(1, False), (2, False), (3, False), (4, False)]
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def islands(self) -> list[int]:
        """
        Indices of the bodies of the same part that lie loose in its holes.
        """
    @property
    def name(self) -> str:
        """
        Of the part, if the piece is all of it, else of the solid.
        """
    @property
    def solid(self) -> int:
        """
        Index in the solids of the call.
        """
    @property
    def turned_over(self) -> bool:
        """
        True if the solid is the mirror image of the outline.
        """
class Plate:
    """
    A distinct flat part and all solids that are the same. Lengths are mm.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> plate = planform.plates(station)[-2]
    >>> plate.name, plate.thickness, plate.quantity, plate.side
    ('post', 6.0, 4, SideUp(features_up=False, features_down=False))
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def bends(self) -> list[Bend]:
        """
        Of a bent sheet, whose outline is its blank; none of a flat plate.
        """
    @property
    def cut(self) -> StraightCut:
        """
        What a straight cut makes of it and what it can't.
        """
    @property
    def datum(self) -> Datum:
        """
        The plate lies on it, with the side up that `side_up` tells.
        """
    @property
    def instances(self) -> list[PlateInstance]:
        """
        All its pieces, by the index of their solids.
        """
    @property
    def name(self) -> str:
        """
        That of its first piece.
        """
    @property
    def names(self) -> tuple[str, ...]:
        """
        The distinct names of its pieces.
        """
    @property
    def notes(self) -> tuple[str, ...]:
        """
        What a person should know, one sentence each.
        """
    @property
    def outline(self) -> ProfileSet:
        """
        Its profile set, mm.
        """
    @property
    def quantity(self) -> int:
        """
        How many.
        """
    @property
    def side(self) -> SideUp:
        """
        Why this side lies up.
        """
    @property
    def surface_share(self) -> float:
        """
        Share of the solid's surface that lies in the two flat faces or in straight walls, no unit; 1 for a straight plate.
        """
    @property
    def thickness(self) -> float:
        """
        Between its two flat faces, mm.
        """
    @property
    def volume(self) -> float:
        """
        mm^3, of the solid with its islands.
        """
    @property
    def volume_share(self) -> float:
        """
        What outline times thickness explains of the volume: the smaller over the larger, no unit; 1 for a straight plate.
        """
    @property
    def wall_share(self) -> float:
        """
        Area of the straight walls over that which a cut along the outline makes, its length times thickness; no unit, 1 for a straight plate.
        """
class OtherPart:
    """
    A distinct shape that is no plate.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> other = planform.plates(station, greatest_thickness=0.1).others[0]
    >>> other.name, other.reason
    ('post', 'block')
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    def finding(self, rules: RuleSet) -> Finding | None:
        """
        What a person should know of it, for `inspect`.

        Parameters
        ----------
        rules : RuleSet

        Returns
        -------
        Finding or None
            Of the rule 'not_flat', with its severity. None if the rule is off.
        """
    @property
    def name(self) -> str:
        """
        That of its first solid.
        """
    @property
    def reason(self) -> typing.Literal['turned-part', 'block', 'bent-sheet', 'wedge', 'draft', 'stands-out', 'hollowed', 'milled', 'no-straight-walls', 'no-flat-faces', 'not-measured']:
        """
        Why it is none.
        """
    @property
    def solids(self) -> list[int]:
        """
        Indices in the solids of the call.
        """
    @property
    def text(self) -> str:
        """
        The reason with its figures.
        """
    @property
    def word(self) -> str:
        """
        The reason in words, e.g. 'bent sheet'.
        """
class PlateList:
    """
    The plates among some solids, and what is none.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> plates = planform.plates(station)
    >>> sum(plate.quantity for plate in plates), len(plates.others)
    (23, 0)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    @typing.overload
    def __getitem__(self, index: int) -> Plate:
        ...
    @typing.overload
    def __getitem__(self, index: slice) -> list[Plate]:
        ...
    @typing.overload
    def __getitem__(self, name: str) -> Plate:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __iter__(self) -> collections.abc.Iterator[Plate]:
        ...
    def __len__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    def _repr_html_(self) -> str:
        """
        A table of the plates with their outlines, sizes in mm.
        """
    @property
    def flattened(self) -> int:
        """
        How many outlines were made.
        """
    @property
    def others(self) -> list[OtherPart]:
        """
        What is no plate, by first solid.
        """
    @property
    def plates(self) -> list[Plate]:
        """
        By thickness, name, falling area.
        """
class Contact:
    """
    Two faces of two solids that touch. Lengths are mm.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> touching = planform.contacts(station)[0]
    >>> [station[number].name for number in touching.solids], touching.area > 1
    (['base plate', 'post'], True)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def area(self) -> float:
        """
        In common, mm^2: exact between planes, else estimated.
        """
    @property
    def borders(self) -> list[typing.Annotated[numpy.typing.NDArray[numpy.float64], "[m, 3]"]]:
        """
        Between planes, for each part of what they have in common: shape (n, 3), mm, a closed polyline.
        """
    @property
    def faces(self) -> typing.Annotated[list[int], "FixedSize(2)"]:
        """
        Numbers of the faces, from 1.
        """
    @property
    def normals(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[m, 3]"]:
        """
        Shape (n, 3), no unit: there, out of the first solid.
        """
    @property
    def places(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[m, 3]"]:
        """
        Shape (n, 3), mm, model coordinates: places in what the faces have in common.
        """
    @property
    def solids(self) -> typing.Annotated[list[int], "FixedSize(2)"]:
        """
        Indices in the solids of the call, ascending.
        """
class PlacedOutline:
    """
    Solids that are cut from one outline: an instance of it.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> placed = planform.placed_outlines(planform.plates(station))
    >>> len(placed), placed[0].outline
    (23, 0)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, outline: int, solids: collections.abc.Sequence[int], flattened: int = -1) -> None:
        """
        `flattened` is the solid that the outline was made of where it lies; the first of `solids` is the same shape, moved or mirrored. -1: the datum lies where `solids` are.
        """
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def flattened(self) -> int:
        """
        Index of a solid, or -1.
        """
    @property
    def outline(self) -> int:
        """
        Index in the outlines of the call.
        """
    @property
    def solids(self) -> list[int]:
        """
        Indices: the body, then its islands.
        """
class MatingCurve:
    """
    A curve of an outline whose wall touches another solid.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> mating = planform.mating(station, planform.plates(station))
    >>> curve = mating.outlines[-1].curves[0]
    >>> curve.contour, curve.share, curve.is_seat
    (1, 1.0, False)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def contour(self) -> int:
        """
        0 the outer contour, n hole n - 1.
        """
    @property
    def curve(self) -> int:
        """
        Index in its contour.
        """
    @property
    def is_seat(self) -> bool:
        """
        True if it only rests on a face, as the shoulder beside a tab.
        """
    @property
    def profile(self) -> int:
        """
        Index in the set.
        """
    @property
    def share(self) -> float:
        """
        Of the fit: 0 to 1, no unit.
        """
    @property
    def touches(self) -> list[int]:
        """
        Indices of the solids that any piece of the outline touches there.
        """
class MatingOutline:
    """
    What mates of one outline.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> mating = planform.mating(station, planform.plates(station))
    >>> mating.outlines[-1].fits(0.1)[:2]  # profile, contour, curve, mm
    [(0, 1, 0, 0.1), (0, 1, 1, 0.1)]
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    def fits(self, fit: float) -> list[tuple[int, int, int, float]]:
        """
        What its curves give for a fit of so many mm: (profile, contour, curve, mm) of those that give any.
        """
    @property
    def curves(self) -> list[MatingCurve]:
        """
        By profile, contour, curve.
        """
    @property
    def joints(self) -> int:
        """
        Joints of one piece: a slot with what stands in it is one, and so are all places where the outer contour meshes with that of one other solid.
        """
    @property
    def notes(self) -> tuple[str, ...]:
        """
        What a person should know, one sentence each.
        """
class Mating:
    """
    What mates in an assembly.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> mating = planform.mating(station, planform.plates(station))
    >>> mating.joints, len(mating.outlines)
    (34, 12)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def joints(self) -> int:
        """
        Joints of the assembly.
        """
    @property
    def outlines(self) -> list[MatingOutline]:
        """
        One an outline of the call.
        """
class Allowance:
    """
    What lies between the outline of a part and the way of the tool. Lengths are mm.

    Parameters
    ----------
    kerf : float, optional
        Width of material that the tool removes; half of it goes outward all round: outer contours and islands
        grow, holes shrink. Marks stay.
    fit : float, optional
        The gap between walls that meet, on each side; negative for a press fit.
    relief : float, optional
        Diameter of the tool that inner corners are relieved for; 0: they are not.
    relief_style : {'corner', 'side'}, optional
        See `relieved`.
    fits : list of (int, int, int, float), optional
        Profile, contour (0 the outer one, n hole n - 1), curve, and what the curve gives for the fit: positive
        takes material away. `MatingOutline.fits` and `inner_fits` make such lists.

    Examples
    --------
    >>> import planform
    >>> planform.Allowance(kerf=0.15)
    Allowance(kerf=0.15, fit=0, relief=0, fits=0)
    """
    @staticmethod
    @typing.overload
    def from_json(text_or_path: str) -> Allowance | None:
        """
        What a JSON of `ProfileSet.to_json` says about the allowance; None if it has none.

        Parameters
        ----------
        text_or_path : str or path-like
            A str whose first character (blanks aside) is ``{`` is the document itself, all else is a path.

        Returns
        -------
        Allowance or None
            Lengths are mm.

        Raises
        ------
        GeometryError, LoadError
            As `ProfileSet.from_json`.
        """
    @staticmethod
    @typing.overload
    def from_json(text_or_path: os.PathLike[str] | str | bytes) -> Allowance | None:
        """
        Read the file.
        """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, *, kerf: float = 0.0, fit: float = 0.0, relief: float = 0.0, relief_style: typing.Literal['corner', 'side'] = 'corner', fits: collections.abc.Sequence[tuple[int, int, int, float]] = []) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def fit(self) -> float:
        """
        Gap between walls that meet, mm.
        """
    @property
    def fits(self) -> list[tuple[int, int, int, float]]:
        """
        (profile, contour, curve, mm) of the curves that give for the fit.
        """
    @property
    def is_none(self) -> bool:
        """
        True if the way of the tool is the outline itself.
        """
    @property
    def kerf(self) -> float:
        """
        Width of cut, mm.
        """
    @property
    def relief(self) -> float:
        """
        Diameter of the tool, mm; 0: no relief.
        """
    @property
    def relief_style(self) -> typing.Literal['corner', 'side']:
        """
        'corner' or 'side'.
        """
class PlacedPiece:
    """
    One piece where it lies on the sheet; lengths are mm.

    Parameters
    ----------
    name : str
    outline : ProfileSet
        The way of the tool, moved to its place on the sheet.
    mass : float, optional
        kg; 0: unknown.
    avoid : list of (int, int, int), optional
        Curves (profile, contour, curve; contour 0 is the outer one, n hole n - 1) that nothing is to start on if
        there is room elsewhere: walls that meet other parts.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> hole = planform.Contour([planform.Arc((45, 20), 1)])
    >>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
    >>> piece = planform.PlacedPiece("roof", roof.moved((10, 10)), mass=0.02)
    >>> planform.plan_cuts([piece]).pierces
    2
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, name: str, outline: ProfileSet, *, mass: float = 0.0, avoid: collections.abc.Sequence[tuple[int, int, int]] = []) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def mass(self) -> float:
        """
        kg; 0: unknown.
        """
    @property
    def name(self) -> str:
        """
        Free text.
        """
    @property
    def outline(self) -> ProfileSet:
        """
        The way of the tool where the piece lies, mm.
        """
class Cut:
    """
    One contour of a plan: how it is cut. Lengths are mm.

    `piece` is an index in the call of `plan_cuts`, `profile` and `contour` say which contour of it (0 the outer
    one, n hole n - 1; of a mark profile is -1 and contour its index). `within` is the index, in the plan, of the
    cut whose contour lies directly around it, or -1. `room` says what became of the entry: "as_asked", "moved"
    along the contour, "shortened" (or of another shape), from the "middle" of the hole, "tight" (there, but
    nearer than asked), "left_out" (the beam pierces on the contour), "none" where none was asked for.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> hole = planform.Contour([planform.Arc((45, 20), 1)])
    >>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
    >>> plan = planform.plan_cuts([planform.PlacedPiece("roof", roof)])
    >>> [(cut.role, cut.within) for cut in plan]
    [('hole', 1), ('outer', -1)]
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def clearance(self) -> float:
        """
        Least distance of the pierce from all contours, mm.
        """
    @property
    def contour(self) -> int:
        """
        0 is the outer contour, n hole n - 1.
        """
    @property
    def end(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Where the beam is switched off, mm, of shape (2,).
        """
    @property
    def entry(self) -> list[Line | Arc | EllipticalArc | Spline]:
        """
        Curves from the pierce to the contour.
        """
    @property
    def exit(self) -> list[Line | Arc | EllipticalArc | Spline]:
        """
        Curves from the contour into waste.
        """
    @property
    def length(self) -> float:
        """
        With entry, exit and over-cut, mm.
        """
    @property
    def over_cut(self) -> list[Line | Arc | EllipticalArc | Spline]:
        """
        Curves that are cut twice at the end.
        """
    @property
    def piece(self) -> int:
        """
        Index of the piece.
        """
    @property
    def pierce(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Where the beam is first switched on, mm, of shape (2,).
        """
    @property
    def pierces(self) -> int:
        """
        How often the beam is switched on.
        """
    @property
    def profile(self) -> int:
        """
        Index in the piece's outline; -1 for a mark.
        """
    @property
    def role(self) -> typing.Literal['mark', 'hole', 'outer']:
        """
        What the cut makes.
        """
    @property
    def room(self) -> typing.Literal['none', 'as_asked', 'moved', 'shortened', 'middle', 'tight', 'left_out']:
        """
        What became of the entry.
        """
    @property
    def start(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Where the contour is cut first, mm, of shape (2,).
        """
    @property
    def stretches(self) -> list[list[Line | Arc | EllipticalArc | Spline]]:
        """
        Curves along the contour from the start on, head to tail; several lists where strips hold.
        """
    @property
    def within(self) -> int:
        """
        Index of the cut around it, or -1.
        """
class PlanFinding:
    """
    What a plan could not have as asked, or what wants to be looked at.

    `piece` and `cut` are indices, -1 for none; `other_piece` is that of a common cut. `place` is in mm; so are
    `measured` and `limit` (numbers of strips for "strip_left_out"), or None.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> hole = planform.Contour([planform.Arc((45, 20), 1)])
    >>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
    >>> plan = planform.plan_cuts([planform.PlacedPiece("roof", roof)], entry_length=30, clearance=5)
    >>> [(finding.rule, finding.severity) for finding in plan.findings]
    [('entry_tight', 'warning')]
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def cut(self) -> int:
        """
        Index in the plan, or -1.
        """
    @property
    def limit(self) -> float | None:
        """
        What was asked for, or None.
        """
    @property
    def measured(self) -> float | None:
        """
        mm, or a number of strips, or None.
        """
    @property
    def other_piece(self) -> int:
        """
        Of a common cut, else -1.
        """
    @property
    def piece(self) -> int:
        """
        Index of the piece, or -1.
        """
    @property
    def place(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        In mm, of shape (2,).
        """
    @property
    def rule(self) -> typing.Literal['entry_left_out', 'entry_tight', 'strip_left_out', 'common_cut', 'falls_through', 'drop_out']:
        """
        What was looked for.
        """
    @property
    def severity(self) -> typing.Literal['note', 'warning', 'error']:
        """
        How much it weighs.
        """
    @property
    def text(self) -> str:
        """
        What it is and what to do.
        """
class CutTime:
    """
    Seconds of one cut; from `CutPlan.times`.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> hole = planform.Contour([planform.Arc((45, 20), 1)])
    >>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
    >>> plan = planform.plan_cuts([planform.PlacedPiece("roof", roof)])
    >>> times = plan.times(20.0, 100.0)
    >>> [round(time.cutting, 4) for time in times]
    [0.3642, 10.15]
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def cutting(self) -> float:
        """
        Of what is cut or scored, s.
        """
    @property
    def pierce(self) -> float:
        """
        Of all its pierces, s.
        """
    @property
    def total(self) -> float:
        """
        Their sum, s.
        """
    @property
    def travel(self) -> float:
        """
        From the end of the cut before, s.
        """
class CutPlan:
    """
    The cuts of a sheet in their order, proven; lengths are mm.

    From `plan_cuts`. `findings` are what could not be had as asked; `proof` says what the plan was held against.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> hole = planform.Contour([planform.Arc((45, 20), 1)])
    >>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
    >>> plan = planform.plan_cuts([planform.PlacedPiece("roof", roof)], entry_length=0.5, clearance=0.2)
    >>> plan.pierces, round(plan.cut_length, 3), plan.findings
    (2, 207.283, [])
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    @typing.overload
    def __getitem__(self, index: int) -> Cut:
        ...
    @typing.overload
    def __getitem__(self, index: slice) -> list[Cut]:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __iter__(self) -> collections.abc.Iterator[Cut]:
        ...
    def __len__(self) -> int:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    def times(self, cutting_speed: float, travel_speed: float, *, marking_speed: float | None = None, acceleration: float | None = None, travel_acceleration: float | None = None, pierce_time: float = 0.0, tolerance: float = 0.01) -> list[CutTime]:
        """
        How long each cut takes, in seconds.

        On lines the closed form of uniformly accelerated motion, from rest to rest; on arcs the speed is at most the
        square root of acceleration times radius; at corners of more than one degree the beam comes to rest.

        Parameters
        ----------
        cutting_speed, travel_speed : float
            mm/s.
        marking_speed : float, optional
            mm/s; by default the cutting speed.
        acceleration, travel_acceleration : float, optional
            mm/s²; None: speeds are had at once. Travel has that of the cuts unless told otherwise.
        pierce_time : float, optional
            s, each time the beam is switched on to cut.
        tolerance : float, optional
            mm within which arcs stand for ellipses and splines.

        Returns
        -------
        list of CutTime

        Raises
        ------
        GeometryError
            For numbers that are not above 0.
        """
    @property
    def cut_length(self) -> float:
        """
        All that is cut, mm.
        """
    @property
    def cuts(self) -> list[Cut]:
        """
        The cuts, a list of Cut.
        """
    @property
    def findings(self) -> list[PlanFinding]:
        """
        By rule, then in the order of the cuts.
        """
    @property
    def home(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[2, 1]"]:
        """
        Where the head stands at first, mm, of shape (2,).
        """
    @property
    def mark_length(self) -> float:
        """
        All that is scored, mm.
        """
    @property
    def pierces(self) -> int:
        """
        How often the beam is switched on.
        """
    @property
    def proof(self) -> Proof:
        """
        What the plan was held against.
        """
    @property
    def travel(self) -> float:
        """
        All ways between cuts, mm.
        """
class DrawingLayer:
    """
    What a role is drawn with: a layer of a DXF, a group of an SVG.

    Parameters
    ----------
    name : str, optional
        Empty: the format's own.
    color : int or str, optional
        An index from 1 to 255, as DXF counts colours, or ``"#rrggbb"``; a DXF holds the nearest index, too.
    line_width : float, optional
        In mm; a DXF takes the nearest width that it knows.

    Raises
    ------
    GeometryError
        For a colour that is neither, or a width that is not positive and finite; names are looked at when a
        drawing is written.

    Examples
    --------
    >>> import planform
    >>> planform.DrawingLayer("LASER", color="#ff0000", line_width=0.1)
    DrawingLayer('LASER', color='#ff0000', line_width=0.1)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, name: str = '', *, color: int | str | None = None, line_width: float | None = None) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    @property
    def color(self) -> int | str | None:
        """
        The index, or ``"#rrggbb"``; None: the format's own.
        """
    @property
    def line_width(self) -> float | None:
        """
        In mm, None: the format's own.
        """
    @property
    def name(self) -> str:
        """
        Empty: the format's own.
        """
class OutlineIndex:
    """
    The contours of a set made ready for many questions about places.

    A `ProfileSet` answers the same questions; it makes itself ready in each call. Ready once, many small calls
    are quick.

    Parameters
    ----------
    profile_set : ProfileSet

    Examples
    --------
    >>> import planform
    >>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), radius=10)]))])
    >>> index = planform.OutlineIndex(disc)
    >>> bool(index.contains((3, 4))), float(index.distance((3, 4)))
    (True, 5.0)
    """
    def __copy__(self) -> typing.Any:
        ...
    def __deepcopy__(self, memo: dict[typing.Any, typing.Any]) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    def __getstate__(self) -> tuple[typing.Any, int]:
        ...
    def __hash__(self) -> int:
        ...
    def __init__(self, profile_set: ProfileSet) -> None:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, arg0: tuple[typing.Any, ...]) -> None:
        ...
    def _nearest(self, points: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> tuple[typing.Any, ...]:
        """
        What `nearest` calls.
        """
    def contains(self, points: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.bool]:
        """
        Is there material at the points?

        The outline itself belongs to the material, within rounding (1e-14 of the coordinates, 1e-13 on splines). On
        the exact curves. Marks don't count.


        Parameters
        ----------
        points : array_like
            x and y in mm, shape (..., 2).

        Returns
        -------
        numpy.ndarray
            Of bool, shape (...).

        Raises
        ------
        GeometryError
            For points that are not finite, or of another shape.

        Examples
        --------
        >>> import planform
        >>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), radius=10)]))])
        >>> disc.contains([(0, 0), (9.999, 0), (10, 0), (7.08, 7.08)]).tolist()
        [True, True, True, False]
        """
    def distance(self, points: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
        """
        How far the points are from the outline, inside or outside.

        On the exact curves: those of all contours; marks don't count. In the material take it as negative where a
        signed distance is wanted.


        Parameters
        ----------
        points : array_like
            x and y in mm, shape (..., 2).

        Returns
        -------
        numpy.ndarray
            In mm, shape (...); infinite if there is no outline.

        Raises
        ------
        GeometryError
            For points that are not finite, or of another shape.

        Examples
        --------
        >>> import planform
        >>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), radius=10)]))])
        >>> disc.distance([(0, 4), (0, 13)]).tolist()
        [6.0, 3.0]
        """
    def nearest(self: ProfileSet | OutlineIndex, points: typing.Any) -> planform.queries.NearestPlaces:
        """
        The place of the outline that is nearest to each point, on the exact curves; marks don't count.

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
    @property
    def profile_set(self) -> ProfileSet:
        """
        What it was made of.
        """
class _Curves:
    """
    The parts of a value, in order; a read-only sequence.
    """
    __hash__: typing.ClassVar[None] = None  # type: ignore[assignment]
    def __add__(self, arg0: typing.Any) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    @typing.overload
    def __getitem__(self, index: int) -> typing.Any:
        ...
    @typing.overload
    def __getitem__(self, index: slice) -> list[typing.Any]:
        ...
    def __iter__(self) -> collections.abc.Iterator[Line | Arc | EllipticalArc | Spline]:
        ...
    def __len__(self) -> int:
        ...
    def __radd__(self, arg0: typing.Any) -> typing.Any:
        ...
    def __reduce__(self) -> tuple[typing.Any, ...]:
        ...
    def __repr__(self) -> str:
        ...
    def count(self, item: typing.Any) -> typing.Any:
        """
        How many items are equal to this one.
        """
    def index(self, item: typing.Any) -> typing.Any:
        """
        Index of the first equal item; ValueError if there is none.
        """
class _Provenances:
    """
    The parts of a value, in order; a read-only sequence.
    """
    __hash__: typing.ClassVar[None] = None  # type: ignore[assignment]
    def __add__(self, arg0: typing.Any) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    @typing.overload
    def __getitem__(self, index: int) -> typing.Any:
        ...
    @typing.overload
    def __getitem__(self, index: slice) -> list[typing.Any]:
        ...
    def __iter__(self) -> collections.abc.Iterator[Provenance]:
        ...
    def __len__(self) -> int:
        ...
    def __radd__(self, arg0: typing.Any) -> typing.Any:
        ...
    def __reduce__(self) -> tuple[typing.Any, ...]:
        ...
    def __repr__(self) -> str:
        ...
    def count(self, item: typing.Any) -> typing.Any:
        """
        How many items are equal to this one.
        """
    def index(self, item: typing.Any) -> typing.Any:
        """
        Index of the first equal item; ValueError if there is none.
        """
class _Contours:
    """
    The parts of a value, in order; a read-only sequence.
    """
    __hash__: typing.ClassVar[None] = None  # type: ignore[assignment]
    def __add__(self, arg0: typing.Any) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    @typing.overload
    def __getitem__(self, index: int) -> typing.Any:
        ...
    @typing.overload
    def __getitem__(self, index: slice) -> list[typing.Any]:
        ...
    def __iter__(self) -> collections.abc.Iterator[Contour]:
        ...
    def __len__(self) -> int:
        ...
    def __radd__(self, arg0: typing.Any) -> typing.Any:
        ...
    def __reduce__(self) -> tuple[typing.Any, ...]:
        ...
    def __repr__(self) -> str:
        ...
    def count(self, item: typing.Any) -> typing.Any:
        """
        How many items are equal to this one.
        """
    def index(self, item: typing.Any) -> typing.Any:
        """
        Index of the first equal item; ValueError if there is none.
        """
class _Profiles:
    """
    The parts of a value, in order; a read-only sequence.
    """
    __hash__: typing.ClassVar[None] = None  # type: ignore[assignment]
    def __add__(self, arg0: typing.Any) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    @typing.overload
    def __getitem__(self, index: int) -> typing.Any:
        ...
    @typing.overload
    def __getitem__(self, index: slice) -> list[typing.Any]:
        ...
    def __iter__(self) -> collections.abc.Iterator[Profile]:
        ...
    def __len__(self) -> int:
        ...
    def __radd__(self, arg0: typing.Any) -> typing.Any:
        ...
    def __reduce__(self) -> tuple[typing.Any, ...]:
        ...
    def __repr__(self) -> str:
        ...
    def count(self, item: typing.Any) -> typing.Any:
        """
        How many items are equal to this one.
        """
    def index(self, item: typing.Any) -> typing.Any:
        """
        Index of the first equal item; ValueError if there is none.
        """
class _Marks:
    """
    The parts of a value, in order; a read-only sequence.
    """
    __hash__: typing.ClassVar[None] = None  # type: ignore[assignment]
    def __add__(self, arg0: typing.Any) -> typing.Any:
        ...
    def __eq__(self, arg0: typing.Any) -> bool:
        ...
    @typing.overload
    def __getitem__(self, index: int) -> typing.Any:
        ...
    @typing.overload
    def __getitem__(self, index: slice) -> list[typing.Any]:
        ...
    def __iter__(self) -> collections.abc.Iterator[Mark]:
        ...
    def __len__(self) -> int:
        ...
    def __radd__(self, arg0: typing.Any) -> typing.Any:
        ...
    def __reduce__(self) -> tuple[typing.Any, ...]:
        ...
    def __repr__(self) -> str:
        ...
    def count(self, item: typing.Any) -> typing.Any:
        """
        How many items are equal to this one.
        """
    def index(self, item: typing.Any) -> typing.Any:
        """
        Index of the first equal item; ValueError if there is none.
        """
def _bends_on_datum(bends: collections.abc.Sequence[Bend], from_datum: Datum, to_datum: Datum) -> list[Bend]:
    """
    Bends of a blank that was turned or moved in its plane, on the datum that it is on now.

    Raises
    ------
    GeometryError
        For a datum in another plane, or seen from the other side.
    """
def _blank_by_rule(solid: Solid, rule: BendRule = ..., *, tolerance: float = 0.01, mark_limits: bool = False) -> Blank:
    """
    The blank of a bent sheet, by a rule that is given as a BendRule.

    See `planform.unfold`, which takes the rule in words.

    Parameters
    ----------
    solid : Solid
    rule : BendRule, optional
    tolerance : float, optional
        Bound in mm on the distance between the true outline and the result.
    mark_limits : bool, optional
        Also marks where bends begin and end.

    Returns
    -------
    Blank

    Raises
    ------
    UnfoldError
        If the solid is no bent sheet that a flat one bends to.
    GeometryError
        For options out of range and bends that the table doesn't tell.
    """
def _containing_polygons(profile_set: ProfileSet, distance: float, tolerance: float) -> list[list[typing.Annotated[numpy.typing.NDArray[numpy.float64], "[m, 2]"]]]:
    """
    Polygons that hold the material of a set grown by `distance` (mm).

    One list for each profile of the grown set: its outer ring, then its holes, each an (n, 2) array in mm.
    They stray no more than `tolerance` (mm) from the grown outline; what is made of lines comes back as it is
    if the distance is 0. Raises GeometryError for numbers that make no sense.
    """
def _contour_distance(first: ProfileSet, second: ProfileSet) -> float:
    """
    The least distance in mm between the contours of two sets, on the exact curves.

    Infinite if one has none, 0 where they touch or cross; whether one lies in the material of the other does
    not count.
    """
def _datum_of_word(datum: Datum | typing.Literal['xy', 'xz', 'yz']) -> Datum:
    """
    What `Datum.of` calls for words.
    """
def _find_findings(profile_set: ProfileSet, thickness: float | None, rules: RuleSet, sheet: Sheet | None, further: collections.abc.Sequence[Finding]) -> list[Finding]:
    """
    What `planform.inspect` calls.
    """
def _fit_tolerance(tolerance: float, extent: float) -> float:
    """
    The tolerance if it is fit for an extent, both in mm; raises GeometryError.
    """
def _from_brep_parts(data: bytes, labels: collections.abc.Sequence[tuple[str, collections.abc.Sequence[str], typing.Annotated[collections.abc.Sequence[float], "FixedSize(3)"] | None]], unit: str | None, scale: float) -> Model:
    """
    What `from_ocp` calls.
    """
def _load_cached_bytes(data: bytes, path: os.PathLike[str] | str | bytes, cache: os.PathLike[str] | str | bytes | None, *, unit: str | None = None, scale: float = 1.0, heal: typing.Literal['needed', 'always'] = 'needed') -> Model:
    """
    What `load_cached` makes of a file, of bytes that were read from it before.
    """
def _prove_layout(sheet: ProfileSet, keep_clear: ProfileSet, pieces: collections.abc.Sequence[ProfileSet], gap: float = 0.0, margin: float = 0.0) -> _LayoutProof:
    """
    Hold placed outlines against gap, margin and edge.

    Every piece must lie in the sheet less the margin, off the places to keep clear, and no two pieces nearer
    than the gap, in holes of each other or not. Distances are exact and may fall short by 1e-6 mm; with a
    gap or margin of 0 outlines may touch.

    Parameters
    ----------
    sheet : ProfileSet
        The material that there is, mm.
    keep_clear : ProfileSet
        Places where nothing may lie, mm; may be empty.
    pieces : list of ProfileSet
        The outlines where they lie on the sheet, mm.
    gap, margin : float, optional
        Least distances between pieces, and between a piece and the edge, mm.

    Returns
    -------
    LayoutProof

    Raises
    ------
    GeometryError
        For negative or infinite distances, a sheet or a piece without an outline.
    """
def _read_bytes(data: bytes, unit: str | None, scale: float, heal: typing.Literal['needed', 'always']) -> Model:
    """
    What `load` calls for bytes.
    """
def _referred_files(data: bytes, path: os.PathLike[str] | str | bytes, suffixes: collections.abc.Sequence[str]) -> tuple[list[pathlib.Path], list[pathlib.Path]]:
    """
    The files that a model's bytes name as parts of its own, from the folder of its path, and those of names with these suffixes that are not there.

    Raises LoadError for damaged gzip data.
    """
def _separated(rings: collections.abc.Sequence[typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[m, 2]"]], box: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[2, 2]"], slack: float) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[m, 2]"] | None:
    """
    Shifts (n, 2), in mm, that move polygons apart which overlap by a trace, and into the box.

    `rings` are (n, 2) arrays, counter-clockwise; `box` holds its lower left and upper right corner. None if
    overlaps stay deeper than `slack` (mm).
    """
def _shelves(items: collections.abc.Sequence[tuple[float, float, bool]], width: float, height: float, gap: float, sheets: int) -> list[tuple[int, int, float, float, bool]]:
    """
    Rectangles on shelves across sheets of one size, mm.

    `items` are (width, height, may be turned by a quarter), `sheets` is how many there are. Returns (item, sheet,
    x, y, turned) with lower left corners, for those that found a place. Raises GeometryError for numbers that
    are negative or not finite.
    """
def _simplified_outward(ring: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[m, 2]"], bound: float) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[m, 2]"]:
    """
    A polygon with fewer vertices that holds the given one and strays no more than `bound` (mm) outside.

    `ring` is an (n, 2) array, counter-clockwise; so is the result.
    """
def _surface_mesh(solid: Solid, tolerance: float) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.uint32]]:
    """
    Points (n, 3) in mm and triangles (m, 3) of a solid's surface.
    """
def _throw_error(family: str, kind: str, text: str) -> None:
    """
    Raise the given kind of error through the translator; for the tests.
    """
def _words() -> dict[str, tuple[str, ...]]:
    """
    The words that options and results may be, by what they tell.
    """
def allowance_notes(outline: ProfileSet) -> list[str]:
    """
    Those of the notes of a way that say what `as_cut` has put into it.

    Parameters
    ----------
    outline : ProfileSet

    Returns
    -------
    list of str
        Empty for an outline as it was drawn.

    Examples
    --------
    >>> import planform
    >>> disc = planform.Contour([planform.Arc((0, 0), 10)])
    >>> perch = planform.ProfileSet([planform.Profile(disc)])
    >>> planform.allowance_notes(perch)
    []
    >>> planform.allowance_notes(perch.as_cut(kerf=0.2))[0].partition(":")[0]
    'the width of cut, 0.2 mm, is in it'
    """
def as_cut(outline: ProfileSet, allowance: Allowance) -> ProfileSet:
    """
    The way of the tool for an outline: first the fits, then the reliefs, then the width of cut.

    A part cut along it has walls at the outline's, moved by its fits, lines and arcs to 1e-9 of the
    coordinates, all else within a tenth of the tolerance. Corners stay sharp, unless the outline has a tip
    sharper than 29 degrees. A tip that the tool can't reach is a note. Other Python threads run meanwhile.

    Parameters
    ----------
    outline : ProfileSet
    allowance : Allowance

    Returns
    -------
    ProfileSet
        In mm; its notes say what is in it.

    Raises
    ------
    GeometryError
        For numbers that make no sense, and for an allowance that is in the outline already, as its notes say;
        with name and place where a hole, a slot, a notch or a gap is no wider than the cut, or a fit larger than
        a tab or a slot.
    """
def auto_datum(solid: Solid | Model | collections.abc.Iterable[Solid]) -> Datum:
    """
    The datum of `side_up`: the part as it lies on the table, the right side up, not mirrored.

    Parameters
    ----------
    solid : Solid, Model or iterable of Solid
        One part; several bodies that are drawn together have one datum.

    Returns
    -------
    Datum
        In model coordinates, mm.

    Raises
    ------
    GeometryError
        If there is no planar face, or no solid.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> planform.auto_datum(station["base plate"]).normal.round(6).tolist()
    [0.0, 0.0, 1.0]
    """
def bend_deduction(allowance: float, thickness: float, inside_radius: float, angle: float) -> float:
    """
    By how much a blank is shorter than the two outer lengths together, mm.

    Outer lengths end where the outsides of the walls would meet up to 90 degrees, above at the tangents across
    the outermost point (as DIN 6935 measures; from memory).

    Parameters
    ----------
    allowance, thickness, inside_radius : float
        mm.
    angle : float
        By which the sheet is bent, radians; 0 is flat.

    Examples
    --------
    >>> import math, planform
    >>> rule = planform.BendRule()
    >>> round(planform.bend_deduction(rule.allowance(1, 1, math.pi / 2), 1, 1, math.pi / 2), 4)
    1.9187
    """
def bend_findings(outline: ProfileSet, bends: collections.abc.Sequence[Bend], thickness: float, *, rules: RuleSet = ..., least_radius: float | None = None) -> list[Finding]:
    """
    What the rules of inspection say of the bends of a blank.

    Holes and slots too near to a bend, walls too narrow beside one, bends that end within the sheet without a
    relief, inside radii below the material's least. Whether the tool of a press reaches every bend is not looked at.

    Parameters
    ----------
    outline : ProfileSet
        The blank.
    bends : list of Bend
    thickness : float
        mm.
    rules : RuleSet, optional
        Of these 'bend_distance', 'flange', 'bend_relief' and 'bend_radius' count.
    least_radius : float, optional
        The least inside radius that the material takes, mm; without it that rule is left out.

    Returns
    -------
    list of Finding

    Raises
    ------
    GeometryError
        For a thickness or a radius that makes no sense.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> blank = planform.unfold(station[26])
    >>> found = planform.bend_findings(blank.outline, blank.bends, blank.thickness, least_radius=5.0)
    >>> found[0].rule, found[0].measured, found[0].limit
    ('bend_radius', 2.0, 5.0)
    """
def bridges(profiles: ProfileSet, width: float, count: int = 2, hold: typing.Literal['islands', 'drop-outs'] = 'islands') -> ProfileSet:
    """
    The set with every island (or drop-out) held by bridges; none is left loose.

    A bridge is a strip with straight sides from material to material; its ends are the outlines' own curves.
    The first one of an island stands where the gap is shortest, the others where it is shortest in the middle
    halves of equal shares of the island's outline, elsewhere if there is no room. A strip meets nothing but the
    gap it bridges. Other Python threads run meanwhile.

    Parameters
    ----------
    profiles : ProfileSet
    width : float
        Width of a bridge in mm.
    count : int, optional
        Bridges an island.
    hold : {'islands', 'drop-outs'}, optional
        Islands are held to the material around them (the insides of letters cut through a plate). Drop-outs
        are held to the sheet outside (the insides of letters cut out): the strips are taken out of the
        profiles.

    Returns
    -------
    ProfileSet
        In mm. Checked: the area differs by that of the bridges alone. A set with nothing to hold comes back
        as it is.

    Raises
    ------
    GeometryError
        With the name and place of an island that has no room for its bridges; for a width that is not
        positive and finite, a count below 1 or an unknown word.

    Examples
    --------
    >>> import planform
    >>> def disc(radius):
    ...     return planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), radius)]))])
    >>> target = (disc(20) - disc(12)) | disc(8)
    >>> len(target.islands)
    1
    >>> held = planform.bridges(target, width=2, count=3)
    >>> len(held.islands), len(held.profiles), len((held - target).profiles)
    (0, 1, 3)
    """
def close_contours(curves: collections.abc.Sequence[Line | Arc | EllipticalArc | Spline], *, gap: float = 0.0, groups: collections.abc.Sequence[int] = [], joint: float = 2e-05, rounding: float = 0.0005, same: float = 0.0001) -> ClosedContours:
    """
    Chain loose curves, in any order and direction, to closed contours.

    What is drawn twice counts once. A gap of at most `gap` is closed exactly where it can be: both curves
    go on (or are cut back) along themselves to their common point if that moves no end by more than the
    gap, so lines stay lines and arcs keep centre and radius; else a curve goes in if directions and
    curvatures at the ends fit one, a straight piece if not. Time grows with n log n for n curves. Other Python threads run meanwhile.

    Parameters
    ----------
    curves : sequence of Line, Arc, EllipticalArc or Spline
        In mm.
    gap : float, optional
        Ends up to this far apart in mm are joined, and the gap is reported as closed. Without it gaps are
        found and left open.
    groups : sequence of int, optional
        One number a curve: where more than two curves meet, those of one group stay together.
    joint : float, optional
        Ends nearer than this in mm are one point; a curve that is no longer has no length.
    rounding : float, optional
        Two loose ends nearer than this in mm are joined without a word: rounding of the file.
    same : float, optional
        Curves that run within this many mm of each other are drawn twice.

    Returns
    -------
    ClosedContours

    Raises
    ------
    GeometryError
        For a limit that is negative or not finite, or a curve whose numbers make no sense.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (30, 0), (30, 20), (0, 20)]
    >>> sides = [planform.Line(a, b) for a, b in zip(corners, corners[1:] + corners[:1])]
    >>> short = planform.Line((0, 20), (0, 0.4))
    >>> closed = planform.close_contours(sides[:3] + [short], gap=0.5)
    >>> closed.contours[0].area, closed.gaps
    (600.0, [Gap(place=(0.0, 0.0), width=0.4, closing='extended')])
    """
def closed(profile_set: ProfileSet, radius: float) -> Allowed:
    """
    What a round tool that runs outside of the material leaves: grown by the radius, then shrunk
    by it. Inner corners are rounded, gaps narrower than the tool filled; each is a finding ('unreached',
    with its area in mm^2).

    Parameters
    ----------
    profile_set : ProfileSet
        The outlines, in mm.
    radius : float
        Of the tool, in mm.

    Returns
    -------
    Allowed
        The new set, and changes in kind as findings.

    Raises
    ------
    GeometryError
        For numbers that make no sense; if outlines can't be told apart (the message gives the place).

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> notch = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 20), 3)]))])
    >>> result = planform.closed(roof.difference(notch), 5)
    >>> [finding.rule for finding in result.findings], round(result.profiles.area, 3)
    (['unreached'], 2395.912)
    """
def contacts(solids: Solid | Model | collections.abc.Iterable[Solid], *, within: float = 0.001) -> list[Contact]:
    """
    Where solids touch: faces on one surface that look at each other and have area in common.

    Planes are compared on their exact boundaries; of other surfaces (cylinders, cones, spheres, tori, free
    forms) up to 225 places a face are, so that a common area below about a hundredth of both faces may be
    missed. Faces that share an edge or a corner only don't touch. Other Python threads run meanwhile.

    Parameters
    ----------
    solids : Solid, Model or iterable of Solid
    within : float, optional
        Distance in mm up to which faces are on one surface; what they have in common counts where it is broader.

    Returns
    -------
    list of Contact
        By solids, then faces.

    Raises
    ------
    GeometryError
        If `within` is not positive and finite, or the kernel fails.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> path = planform.write_demo_assembly(pathlib.Path(tempfile.mkdtemp()) / "station.step")
    >>> model = planform.load(path)
    >>> found = planform.contacts(model)
    >>> names = {tuple(model.solids[i].name for i in contact.solids) for contact in found}
    >>> ("base plate", "post") in names, ("base plate", "gable") in names
    (True, False)
    """
def coplanar_groups(solids: Solid | Model | collections.abc.Iterable[Solid]) -> list[list[Solid]]:
    """
    Which solids lie flat beside or in each other and make one drawing.

    Letters of a text, say, or what lies loose in a cut-out: each group is a solid with the largest planar face
    that is left and all those between the two planes, parallel to that face, that bound it. Plates that lie
    on each other or at an angle are groups of their own.

    Parameters
    ----------
    solids : Solid, Model or iterable of Solid

    Returns
    -------
    list of list of Solid
        In the order given.

    Raises
    ------
    GeometryError
        If the kernel fails on a solid; the message names it.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> [len(group) for group in planform.coplanar_groups(station) if len(group) > 1]
    [2, 2, 2, 6, 2]
    """
def curve_places(profile_set: ProfileSet) -> list[CurvePlace]:
    """
    All curves of the profiles of a set: profile by profile, the outer contour first.

    Parameters
    ----------
    profile_set : ProfileSet

    Returns
    -------
    list of CurvePlace

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> hole = planform.Contour([planform.Arc((45, 20), 1)])
    >>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
    >>> [place.role for place in planform.curve_places(roof)]
    ['outer', 'outer', 'outer', 'outer', 'hole']
    """
def default_cache_folder() -> pathlib.Path:
    """
    Where a person's cache of parsed models is: in ``$XDG_CACHE_HOME`` or ``~/.cache``.

    Returns
    -------
    pathlib.Path
        ``Path()`` if there is no home.

    Examples
    --------
    >>> import planform
    >>> planform.default_cache_folder().name
    'planform'
    """
def error_kinds() -> dict[str, str]:
    """
    Every kind of error with its short fixed text.

    Returns
    -------
    dict[str, str]
        Name of the kind (the ``kind`` of an exception) to its description.

    Examples
    --------
    >>> import planform
    >>> planform.error_kinds()["file_missing"]
    'the file does not exist'
    """
def face_datum(solid: Solid, face: int) -> Datum:
    """
    The plane of a planar face, normal pointing out of the solid.

    Parameters
    ----------
    solid : Solid
    face : int
        Number of the face, from 1.

    Returns
    -------
    Datum
        In model coordinates, mm.

    Raises
    ------
    GeometryError
        If there is no such face or it is not planar.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> planform.face_datum(station["base plate"], 1).normal.round(6).tolist()
    [0.0, -1.0, 0.0]
    """
def feature_marks(solid: Solid, datum: Datum | typing.Literal['auto', 'xy', 'xz', 'yz'], sides: typing.Literal['up', 'down', 'both', 'none'] = 'up', tolerance: float = 0.01) -> list[Mark]:
    """
    The edges of recesses and raised areas of a plate, as marks.

    Pockets, counterbores, countersinks, steps, grooves, sunk and raised text: the cut itself is the outline through
    the full thickness. A rim that runs into the outline is an open mark. Chamfers and rounded edges have no marks:
    they run along the cut.

    Parameters
    ----------
    solid : Solid
    datum : Datum or {'auto', 'xy', 'xz', 'yz'}
        The solid is seen from the tip of its normal; see `auto_datum`.
    sides : {'up', 'down', 'both', 'none'}, optional
        Which sides are marked.
    tolerance : float, optional
        In mm, for edges that have no exact form.

    Returns
    -------
    list of Mark
        On the datum, mm; the depth is that of the feature below its side, negative for what is raised.

    Raises
    ------
    GeometryError
        For a tolerance that is not positive and finite; if the kernel fails on the solid, which the message names.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> marks = planform.feature_marks(station[26], "auto")
    >>> [(mark.name, round(mark.depth, 3)) for mark in marks]
    [('boss', -20.0), ('boss', -21.098)]
    """
def find_congruence(first: ProfileSet, second: ProfileSet, tolerance: float = 0.01, mirrored: typing.Literal['never', 'allowed', 'only'] = 'never') -> Congruence | None:
    """
    A motion that carries one outline onto another, or None.

    Profiles, holes and marks are matched with their like, whatever their order, start points, splitting and kinds
    of curve; names don't count. Other Python threads run meanwhile.

    Parameters
    ----------
    first, second : ProfileSet
    tolerance : float, optional
        In mm: outlines are congruent if no distance between two places differs by more.
    mirrored : {'never', 'allowed', 'only'}, optional
        Whether the outline may be turned over: if no other motion is found, or always.

    Returns
    -------
    Congruence or None

    Raises
    ------
    GeometryError
        For an unknown word or a tolerance that is not a positive finite number.

    Examples
    --------
    >>> import planform
    >>> disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), 5)]))])
    >>> found = planform.find_congruence(disc, disc.transformed([[1, 0, 7], [0, 1, 2]]))
    >>> found.matrix.round(9).tolist(), found.mirrored
    ([[1.0, 0.0, 7.0], [0.0, 1.0, 2.0]], False)
    """
def fit_flattened(curves: collections.abc.Sequence[Line | Arc | EllipticalArc | Spline], tolerance: float = 0.02, *, closed: bool = True) -> list[FittedCurve]:
    """
    Recognise curves that somebody has flattened to short lines.

    Runs of lines become as few lines and circular arcs as `tolerance` allows: no point of either is further from
    the other. Each begins and ends in an end of a line of the run; a corner stays a corner, and what is no line
    stays as it is. Time grows with n log n for n lines. Other Python threads run meanwhile.

    Parameters
    ----------
    curves : sequence of Line, Arc, EllipticalArc or Spline
        Head to tail, in mm.
    tolerance : float, optional
        In mm.
    closed : bool, optional
        Whether the end is the start.

    Returns
    -------
    list of FittedCurve

    Raises
    ------
    GeometryError
        If the curves are not head to tail, or the tolerance is not positive and finite.

    Examples
    --------
    >>> import planform
    >>> ring = planform.Contour([planform.Arc((0, 0), radius=20)])
    >>> points = ring.points(0.01)
    >>> lines = [planform.Line(a, b) for a, b in zip(points, [*points[1:], points[0]])]
    >>> [(type(f.curve).__name__, round(f.curve.radius, 9)) for f in planform.fit_flattened(lines)]
    [('Arc', 20.0)]
    """
def from_brep(data: bytes, *, unit: str | None = None, scale: float = 1.0) -> Model:
    """
    Read the bytes of a BREP file, text or binary.

    Parameters
    ----------
    data : bytes
    unit : {'mm', 'cm', 'm', 'um', 'inch', 'foot'}, optional
        Unit of the data's lengths; mm without it.
    scale : float, optional
        Multiply all lengths by this, no unit.

    Returns
    -------
    Model

    Raises
    ------
    LoadError
        If the data is not BREP, damaged, or holds no solid.
    GeometryError
        For an unknown unit or a scale that is not finite and positive.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> tray = station["tray floor"]
    >>> again = planform.from_brep(tray.to_brep())
    >>> round(again[0].volume / tray.volume, 9)
    1.0
    """
def inner_fits(outline: ProfileSet, fit: float, fit_on: typing.Literal['slot', 'tab', 'both'] = 'slot') -> list[tuple[int, int, int, float]]:
    """
    A fit on all inner contours, for outlines without an assembly.

    Parameters
    ----------
    outline : ProfileSet
    fit : float
        mm; negative for a press fit.
    fit_on : {'slot', 'both'}, optional
        All of it, or half of it.

    Returns
    -------
    list of (int, int, int, float)
        Profile, contour, curve, mm.

    Raises
    ------
    GeometryError
        For 'tab': without an assembly no tab is known.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> hole = planform.Contour([planform.Arc((45, 20), 1)])
    >>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
    >>> planform.inner_fits(roof, 0.1)  # profile, contour, curve, mm
    [(0, 1, 0, 0.1)]
    """
def load(path: os.PathLike[str] | str | bytes, *, unit: str | None = None, scale: float = 1.0, heal: typing.Literal['needed', 'always'] = 'needed') -> Model:
    """
    Read a STEP or BREP file; lengths come out in mm whatever the file's unit.

    STEP (AP203, AP214, AP242), also gzip-compressed, and BREP, text or binary: the content decides, not
    the suffix. Other Python threads run meanwhile.

    Parameters
    ----------
    path : path-like
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
        With the path and what to do, if the file can't be read or holds no solid.
    GeometryError
        For an unknown unit or a scale that is not finite and positive.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> path = pathlib.Path(tempfile.mkdtemp()) / "station.step"
    >>> _ = planform.write_demo_assembly(path)
    >>> planform.load(path).unit
    'mm'
    """
def load_cached(path: os.PathLike[str] | str | bytes, cache: os.PathLike[str] | str | bytes | None, *, unit: str | None = None, scale: float = 1.0, heal: typing.Literal['needed', 'always'] = 'needed', limit: int = 1073741824) -> Model:
    """
    Like `load`, but a file that has been read before comes from a cache of parsed models.

    The model is the same bit for bit whether the cache held it or not, and that of `load` but for
    rounding. A cache that is damaged, read-only or full costs time and nothing else; several processes
    may share one.

    Parameters
    ----------
    path : path-like
    cache : path-like or None
        Folder of the cache; made if missing. None: nothing is kept, the model is the same.
    unit : {'mm', 'cm', 'm', 'um', 'inch', 'foot'}, optional
        Read all lengths as this unit instead of the file's own.
    scale : float, optional
        Multiply all lengths by this, no unit.
    heal : {'needed', 'always'}, optional
        As in `load`.
    limit : int, optional
        Bytes that the cache may take; models not used for longest go first.

    Returns
    -------
    Model
        In mm.

    Raises
    ------
    LoadError
        With the path and what to do, if the file can't be read or holds no solid.
    GeometryError
        For an unknown unit or a scale that is not finite and positive.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> path = planform.write_demo_assembly(folder / "station.step")
    >>> first = planform.load_cached(path, folder / "cache")
    >>> [solid.name for solid in first] == [solid.name for solid in planform.load(path)]
    True
    """
@typing.overload
def mating(solids: Solid | Model | collections.abc.Iterable[Solid], outlines: PlateList, *, fit_on: typing.Literal['slot', 'tab', 'both'] = 'slot') -> Mating:
    """
    Which curves of outlines have walls that touch other solids, and how a fit is shared between them.

    A *mating wall* stands upright on the outline's datum and touches a face of another solid; its whole curve
    mates, and so do neighbours that go on along the same line or circle. The shares of two walls that meet sum
    to 1, so that the gap between them is the fit; a wall that meets what is not cut (the face of a sheet that
    stands in a slot, a turned peg) takes all of it. A wall that only rests on a face, as the shoulder beside a
    tab, is a *seat* and takes none. Other Python threads run meanwhile.

    Parameters
    ----------
    solids : Solid, Model or iterable of Solid
        The assembly.
    outlines : PlateList or list of ProfileSet
        What is cut.
    pieces : list of PlacedOutline, optional
        Which solids are cut from which outline; a PlateList knows it by itself.
    contacts : list of Contact, optional
        What `contacts` has found; it is asked otherwise.
    fit_on : {'slot', 'tab', 'both'}, optional
        Which part gets the fit where a wall in a slot meets one of a tab. A slot is an inner contour, or what
        lies around the other in the outer contour; where both do (fingers), or neither, each gets half.

    Returns
    -------
    Mating

    Raises
    ------
    GeometryError
        For indices out of range, an unknown word, or if the kernel fails.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> path = planform.write_demo_assembly(pathlib.Path(tempfile.mkdtemp()) / "station.step")
    >>> model = planform.load(path)
    >>> plates = planform.plates(model)
    >>> found = planform.mating(model, plates)
    >>> names = [plate.name for plate in plates.plates]
    >>> found.outlines[names.index("post")].joints
    3
    """
@typing.overload
def mating(solids: Solid | Model | collections.abc.Iterable[Solid], outlines: collections.abc.Sequence[ProfileSet], pieces: collections.abc.Sequence[PlacedOutline], *, contacts: collections.abc.Sequence[Contact] | None = None, fit_on: typing.Literal['slot', 'tab', 'both'] = 'slot') -> Mating:
    """
    The same for any outlines.
    """
def merge(sets: collections.abc.Iterable[ProfileSet], how: typing.Literal['union', 'keep'] = 'union') -> ProfileSet:
    """
    Many profile sets as one; the order of the sets does not matter.

    Parameters
    ----------
    sets : iterable of ProfileSet
        On datums that are parallel and face the same way; the result is on the first one's.
    how : {'union', 'keep'}, optional
        The union of all. Or side by side, each profile with its name or that of its set: what lies on or
        in the material of another set becomes marks under its name (raised or sunk text on a plate), what
        lies in a hole of another is an island with that one as parent. A profile that lies on others in
        part only stays whole, and a note says so.

    Returns
    -------
    ProfileSet
        In mm; an empty set for no sets.

    Raises
    ------
    GeometryError
        For an unknown word, datums that don't fit, or outlines that can't be told apart; the message gives
        the place.

    Examples
    --------
    >>> import planform
    >>> def disc(name, radius):
    ...     contour = planform.Contour([planform.Arc((0, 0), radius)])
    ...     return planform.ProfileSet([planform.Profile(contour)], name=name)
    >>> kept = planform.merge([disc("button", 3), disc("plate", 10)], how="keep")
    >>> [profile.name for profile in kept.profiles], [mark.name for mark in kept.marks]
    (['plate'], ['button'])
    >>> len(planform.merge([disc("button", 3), disc("plate", 10)]).profiles[0].holes)
    0
    """
def move_time(length: float, speed: float, acceleration: float | None = None, *, start: float = 0.0, end: float = 0.0) -> float:
    """
    Seconds for a straight way: the closed form of the trapezoid of speed over time.

    Parameters
    ----------
    length : float
        mm.
    speed : float
        Greatest speed, mm/s.
    acceleration : float, optional
        mm/s²; None: the speed is had at once.
    start, end : float, optional
        Speeds at the ends, mm/s.

    Returns
    -------
    float
        s.

    Raises
    ------
    GeometryError
        For numbers out of range, or a way too short for the change of speed.

    Examples
    --------
    >>> import planform
    >>> planform.move_time(100.0, 20.0), round(planform.move_time(100.0, 20.0, 200.0), 9)
    (5.0, 5.1)
    """
def narrow_places(profile_set: ProfileSet, at_most: float) -> list[NarrowPlace]:
    """
    All narrow places of at most `at_most` mm, from the medial axis.

    A disc counts that touches the outline at both ends of a diameter, has none of it inside, and is narrowest
    along the axis; where walls are parallel the middle of the stretch stands for all of it. Where a hole (or
    a profile) has no such place its widest disc counts: a round hole's diameter, an ellipse's minor axis. A
    notch that opens by up to 30 degrees and is deeper than wide counts at its bottom. A sharp corner is no narrow place.

    Parameters
    ----------
    profile_set : ProfileSet
    at_most : float
        In mm.

    Returns
    -------
    list of NarrowPlace
        By kind, width, place. Exact on the curves themselves, to 1e-9 of the outline's size.

    Raises
    ------
    GeometryError
        If `at_most` is not a positive finite number.

    Examples
    --------
    >>> import planform
    >>> hole = planform.Contour([planform.EllipticalArc((0, 0), (5, 0), 0.2)])
    >>> plate = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), 20)]), [hole])])
    >>> [(place.kind, round(place.width, 9)) for place in planform.narrow_places(plate, 10)]
    [('inner', 2.0)]
    """
def nested_profiles(contours: collections.abc.Sequence[Contour], *, names: collections.abc.Sequence[str] = []) -> list[Profile]:
    """
    Profiles from contours by how they lie in each other.

    A contour in an odd number of others is a hole of the smallest around it; one in a hole is an island.

    Parameters
    ----------
    contours : sequence of Contour
        That don't cross.
    names : sequence of str, optional
        One a contour; a profile has that of its outer contour.

    Returns
    -------
    list of Profile

    Raises
    ------
    GeometryError
        If there is another number of names than of contours, or a contour encloses nothing.

    Examples
    --------
    >>> import planform
    >>> rings = [planform.Contour([planform.Arc((0, 0), radius)]) for radius in (3, 9, 6)]
    >>> [(len(p.holes), p.parent) for p in planform.nested_profiles(rings)]
    [(0, 1), (1, -1)]
    """
def nesting_depths(contours: collections.abc.Sequence[Contour]) -> list[int]:
    """
    How many of the other contours lie around each one.

    Parameters
    ----------
    contours : sequence of Contour
        That don't cross.

    Returns
    -------
    list of int
        One a contour: 0 outside, odd for holes.

    Examples
    --------
    >>> import planform
    >>> rings = [planform.Contour([planform.Arc((0, 0), radius)]) for radius in (3, 9, 6)]
    >>> planform.nesting_depths(rings)
    [2, 0, 1]
    """
def offset(profile_set: ProfileSet, distance: float | collections.abc.Mapping[typing.Literal['outer', 'hole', 'island'], float] | collections.abc.Sequence[float] | collections.abc.Callable[[CurvePlace], float], corners: typing.Literal['round', 'sharp', 'flat'] = 'round', limit: float = 4.0) -> Allowed:
    """
    `ProfileSet.offset` with its findings; lengths in mm.

    Parameters
    ----------
    profile_set : ProfileSet
        The outlines, in mm.
    distance : float, dict, sequence of float or callable
        mm; positive grows the material, negative takes from it, 0 leaves it. A dict gives it by role
        ('outer', 'hole', 'island'; 0 for those not in it), a sequence by curve in the order of
        `curve_places`, a callable is asked with the `CurvePlace` of each. Neighbours with different
        distances meet in the intersection of what they are moved to, led on if need be; where there is
        none near, a step along the normals joins them.
    corners : {'round', 'sharp', 'flat'}, optional
        What lies about corners where the moved curves part: an arc, what they lead to, a straight line.
    limit : float, optional
        Greatest distance of a sharp tip from its corner as a multiple of the distance, flat beyond: 4
        keeps corners of 29 degrees and more (stroke-miterlimit, SVG 2, section 13.5.4).

    Returns
    -------
    Allowed
        The new set, and changes in kind as findings.

    Raises
    ------
    GeometryError
        For numbers that make no sense; if outlines can't be told apart (the message gives the place).

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> result = planform.offset(roof, {"outer": 0.075, "hole": 0.1})
    >>> result.profiles.bounds.tolist(), result.findings
    ([[-0.075, -0.075], [60.075, 40.075]], [])
    """
def opened(profile_set: ProfileSet, radius: float) -> Allowed:
    """
    What a disc that stays in the material can reach: shrunk by the radius, then grown by it.
    Outer corners are rounded, webs narrower than the disc gone; each is a finding ('unreached', with its
    area in mm^2).

    Parameters
    ----------
    profile_set : ProfileSet
        The outlines, in mm.
    radius : float
        Of the tool, in mm.

    Returns
    -------
    Allowed
        The new set, and changes in kind as findings.

    Raises
    ------
    GeometryError
        For numbers that make no sense; if outlines can't be told apart (the message gives the place).

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> result = planform.opened(roof, 3)
    >>> round(roof.area - result.profiles.area, 6)  # four corners lose (4 - pi) r^2 together
    7.725666
    """
def path_time(curves: collections.abc.Sequence[Line | Arc | EllipticalArc | Spline], speed: float, acceleration: float | None = None, *, tolerance: float = 0.01) -> float:
    """
    Seconds for curves head to tail, from rest to rest; see `CutPlan.times`.

    Parameters
    ----------
    curves : list of curves
        mm.
    speed : float
        mm/s.
    acceleration : float, optional
        mm/s²; None: speeds are had at once.
    tolerance : float, optional
        mm within which arcs stand for ellipses and splines.

    Returns
    -------
    float
        s.

    Raises
    ------
    GeometryError
        For numbers that are not above 0.

    Examples
    --------
    >>> import planform
    >>> way = [planform.Line((0, 0), (60, 0)), planform.Line((60, 0), (60, 40))]
    >>> planform.path_time(way, 20.0), round(planform.path_time(way, 20.0, 200.0), 9)
    (5.0, 5.2)
    """
def placed_outlines(plates: PlateList) -> list[PlacedOutline]:
    """
    All pieces of a list of plates: which solids are cut from which outline.

    Parameters
    ----------
    plates : PlateList

    Returns
    -------
    list of PlacedOutline
        Outlines are numbered as the plates are.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> plates = planform.plates(station)
    >>> len(planform.placed_outlines(plates)) == sum(plate.quantity for plate in plates)
    True
    """
def plan_cuts(pieces: collections.abc.Sequence[PlacedPiece], *, kerf: float = 0.0, entry_shape: typing.Literal['line', 'arc'] = 'line', entry_length: float = 3.0, entry_angle: float = 90.0, exit_length: float = 0.0, clearance: float = 1.0, least_hole: float = 0.0, start: typing.Literal['middle', 'corner'] = 'middle', web: float = 0.0, over_cut: float = 0.0, hold: float = 0.0, hold_count: int = 2, mass_per_strip: float = 0.0, grate: float = 0.0, grate_along: str = 'y', order: typing.Literal['shortest', 'apart', 'along'] = 'shortest', apart_count: int = 2, apart_distance: float = 50.0, band: float = 0.0, home: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[2, 1]"] = (0.0, 0.0), sheet: ProfileSet | None = None) -> CutPlan:
    """
    The order, the entries and the exits of all cuts on a sheet.

    Marks come first, then whatever lies in a contour before the contour: holes before the outer contour around
    them, islands before the hole that frees them, other pieces in a hole before the hole; then the shortest way
    between cuts. The plan is replayed and every entry measured against every contour before it is handed out.
    Other Python threads run meanwhile. Lengths are mm.

    Parameters
    ----------
    pieces : sequence of PlacedPiece
    kerf : float, optional
        Width of the cut: gaps for strips are so much wider, and cuts of two pieces no further apart are a finding.
    entry_shape : {'line', 'arc'}, optional
        A line at an angle to the contour, or a quarter of a circle that is tangential to it.
    entry_length : float, optional
        0: the beam pierces on the contour.
    entry_angle : float, optional
        Degrees between a line and the direction of the cut: 90 square, 0 tangential.
    exit_length : float, optional
        Into waste at the end, in the same shape; 0: none.
    clearance : float, optional
        The pierce keeps so far from every contour, the entry from every contour but its own.
    least_hole : float, optional
        Holes whose widest disc has a smaller diameter are entered from its middle.
    start : {'middle', 'corner'}, optional
        In the middle of the longest line, or at the corner with the longest curves beside it.
    web : float, optional
        Starts keep off places where the material behind them is narrower, if there is room elsewhere.
    over_cut : float, optional
        What is cut twice at the end; negative: what is left uncut.
    hold : float, optional
        Width of holding strips; 0: none.
    hold_count : int, optional
        Strips a piece, at least.
    mass_per_strip : float, optional
        kg that a strip carries: heavier pieces get more; 0: all get `hold_count`.
    grate : float, optional
        From bar to bar; 0: unknown. If it is known, only pieces that may fall or tip get strips.
    grate_along : {'x', 'y'}, optional
        Where the bars run.
    order : {'shortest', 'apart', 'along'}, optional
        Least travel; cuts that follow each other keep apart (less heat); in bands along the sheet.
    apart_count, apart_distance : int, float, optional
        For 'apart': so many cuts after one, none is nearer than that, where that can be had.
    band : float, optional
        For 'along': the width of a band; 0: an eighth of the sheet's longer side.
    home : (float, float), optional
        Where the head stands at first.
    sheet : ProfileSet, optional
        Entries stay on it. Its holes are places to keep clear.

    Returns
    -------
    CutPlan

    Raises
    ------
    GeometryError
        For numbers out of range; 'law_broken' if the plan fails its proof.

    Examples
    --------
    >>> import planform
    >>> def circle(x, radius):
    ...     return planform.Contour([planform.Arc((x, 0), radius)])
    >>> def piece(name, x):
    ...     return planform.PlacedPiece(
    ...         name, planform.ProfileSet([planform.Profile(circle(x, 20), [circle(x, 8)])])
    ...     )
    >>> plan = planform.plan_cuts([piece("tray", 100), piece("lid", 150)], entry_length=2)
    >>> [(cut.piece, cut.role, cut.within) for cut in plan.cuts]
    [(0, 'hole', 1), (0, 'outer', -1), (1, 'hole', 3), (1, 'outer', -1)]
    >>> round(sum(time.total for time in plan.times(20.0, 200.0, pierce_time=0.5)), 3)
    20.923
    """
def plates(solids: Solid | Model | collections.abc.Iterable[Solid], *, tolerance: float = 0.01, same_within: float = 0.01, greatest_thickness: float = 0.5, greatest_rise: float = 0.25, least_volume_share: float = 0.6, least_surface_share: float = 0.5, least_wall_share: float = 0.5, at: typing.Literal['shadow', 'top', 'bottom', 'through'] = 'shadow', one_sided: bool = False, marks: typing.Literal['up', 'down', 'both', 'none'] = 'up', bend_rule: BendRule = ...) -> PlateList:
    """
    Which solids are flat parts, which of them are the same, and how many of each.

    A plate has two parallel flat faces that look away from each other and carry the thickness, is thin against
    its outline, nothing stands far out of the sheet, outline times thickness explains most of its volume, and
    its two faces and straight walls make most of its surface. What is none is listed with its reason and figures:
    turned part, block, bent sheet, wedge, draft, stands out of the sheet, hollowed, milled all over, no straight
    walls, no flat faces, not measured. Each loose solid is a piece, also where a part has several; but a body that lies loose in a hole of
    another body of its part, in the same sheet, is an island of that plate's drawing. Instances of one shape are
    looked at once. Solids are the same if thickness, outline and, where features remain that a
    straight cut can't make, sections at several heights agree under one motion in space. Mirror images are the
    same where turning the piece over makes one of the other, always so for straight plates; with `one_sided` they
    never are. Other Python threads run meanwhile.

    A bent sheet is a plate, too: its outline is its blank, and its bends come with it (see `unfold`).

    Parameters
    ----------
    solids : Solid, Model or iterable of Solid
    tolerance : float, optional
        Bound in mm on the distance between the true outline and the result.
    same_within : float, optional
        Solids are the same if no distance between two places of them differs by more, mm.
    greatest_thickness : float, optional
        Greatest thickness of a plate as a share of the narrowest width of its outline; above, it is a block.
    greatest_rise : float, optional
        How far anything may stand out of the sheet, as a share of the thickness.
    least_volume_share : float, optional
        Least share, above 0 and at most 1, to which outline times thickness and volume agree.
    least_surface_share : float, optional
        Least share of the surface, 0 to 1, that lies in the two flat faces and in straight walls.
    least_wall_share : float, optional
        Least share, 0 to 1, of the walls that a cut along the outline makes which the solid has.
    at : {'shadow', 'top', 'bottom', 'through'}, optional
        Which outline of a plate that has more than straight walls; see `silhouette`.
    one_sided : bool, optional
        The stock has a good side (brushed, veneered, printed): mirror images are plates of their own.
    marks : {'up', 'down', 'both', 'none'}, optional
        On which sides recesses and raised areas become marks of the outline, with their depth; see
        `feature_marks`. None with another outline than the shadow.
    bend_rule : BendRule, optional
        By which rule the blanks of bent sheets are made; DIN 6935 by default.

    Returns
    -------
    PlateList

    Raises
    ------
    GeometryError
        For an option out of range. What fails on one solid is listed in `others`.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> path = planform.write_demo_assembly(pathlib.Path(tempfile.mkdtemp()) / "station.step")
    >>> found = planform.plates(planform.load(path))
    >>> [(p.name, p.quantity, p.thickness) for p in found.plates if p.name == "post"]
    [('post', 4, 6.0)]
    """
def relieved(profile_set: ProfileSet, radius: float, style: typing.Literal['corner', 'side'] = 'corner', least_web: float = 1.0) -> Allowed:
    """
    A circle of the tool's radius cut out of each inner corner that is sharper than the tool, so that a
    square tab seats. Nothing else changes. A corner that is left as it is, for its web or as its walls are
    too short, is a finding ('relief').

    Parameters
    ----------
    profile_set : ProfileSet
        The outlines, in mm.
    radius : float
        Of the tool, in mm.
    style : {'corner', 'side'}, optional
        The circle on the bisector, through the corner; or touching the shorter wall in the corner, cut into
        the longer one.
    least_web : float, optional
        mm: no relief where less material than this would be left beside it.

    Returns
    -------
    Allowed
        The new set, and changes in kind as findings.

    Raises
    ------
    GeometryError
        For numbers that make no sense; if outlines can't be told apart (the message gives the place).

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> square = [(20, 10), (20, 30), (26, 30), (26, 10)]
    >>> walls = zip(square, square[1:] + square[:1])
    >>> slot = planform.Contour([planform.Line(start, end) for start, end in walls])
    >>> board = planform.ProfileSet([planform.Profile(edge, [slot])])
    >>> result = planform.relieved(board, 1.0)
    >>> len(result.profiles[0].holes[0]), round(board.area - result.profiles.area, 3)
    (8, 2.283)
    """
def rest_on(profile: Profile, grate: float, grate_along: str = 'y') -> typing.Literal['lies', 'may_tip', 'falls_through']:
    """
    How a piece lies on parallel bars, wherever they are.

    It has a bar on a side of its centre of gravity, whatever the place of the bars, if it reaches at least an
    opening far on that side (statics of a plate).

    Parameters
    ----------
    profile : Profile
    grate : float
        From bar to bar, mm.
    grate_along : {'x', 'y'}, optional
        Where the bars run.

    Returns
    -------
    {'lies', 'may_tip', 'falls_through'}

    Raises
    ------
    GeometryError
        For an opening that is not above 0.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> [planform.rest_on(roof[0], grate) for grate in (20, 50, 80)]
    ['lies', 'may_tip', 'falls_through']
    """
def safe_file_stem(name: str) -> str:
    """
    A file name (no folder, no suffix) made of a part's name.

    Letters and digits of every script, '-', '_' and '.' stay, all else becomes '_'; composed (Unicode NFC); at
    most 80 characters and 180 bytes; never empty, never starting with '.', no device name of any system.

    Parameters
    ----------
    name : str

    Returns
    -------
    str

    Examples
    --------
    >>> import planform
    >>> planform.safe_file_stem("../../x"), planform.safe_file_stem("前板 2")
    ('_.._x', '前板_2')
    """
def section(solids: Solid | Model | collections.abc.Iterable[Solid], datum: Datum | typing.Literal['auto', 'xy', 'xz', 'yz'], offset: float = 0.0, tolerance: float = 0.01, merge: typing.Literal['union', 'keep'] = 'union', side: typing.Literal['below', 'above'] = 'below') -> ProfileSet:
    """
    The outline of the solids where the datum, moved by an offset, cuts them.

    Where the plane lies within 1e-7 mm in a face, along an edge or in a vertex, or touches a surface, the
    answer is the limit from one side: by default the material just below, on the side that the normal points
    away from. A plane that misses gives an empty set with a note that says so. Other Python threads run
    meanwhile.

    Parameters
    ----------
    solids : Solid, Model or iterable of Solid
    datum : Datum or {'auto', 'xy', 'xz', 'yz'}
    offset : float, optional
        Distance in mm by which the datum is moved along its normal.
    tolerance : float, optional
        Bound in mm on the distance between the true outline and the result.
    merge : {'union', 'keep'}, optional
        The union of all solids, or side by side, each profile with its solid's name.
    side : {'below', 'above'}, optional
        Which material counts where the plane lies in a face.

    Returns
    -------
    ProfileSet
        In the datum's coordinates, mm.

    Raises
    ------
    GeometryError
        Naming the solid and the face if an outline can't be had; for an unknown word, a tolerance that is
        not a positive finite number, or an offset that is not finite.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> gable = station[20]
    >>> cut = planform.section(gable, planform.auto_datum(gable), offset=3.0)
    >>> round(cut.area * 6 / gable.volume, 9)  # 6 mm thick
    0.999999335
    """
def shortest_order(stops: collections.abc.Sequence[tuple[typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[2, 1]"], typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[2, 1]"], int]], home: typing.Annotated[numpy.typing.ArrayLike, numpy.float64, "[2, 1]"] = (0.0, 0.0)) -> list[int]:
    """
    An order with little travel in which no stop comes after the one that it lies within.

    Parameters
    ----------
    stops : list of ((float, float), (float, float), int)
        Start, end (mm), and the index of a stop that has to come later, or -1.
    home : (float, float), optional
        Where the way begins, mm.

    Returns
    -------
    list of int
        Indices of the stops.

    Raises
    ------
    GeometryError
        If an index is none, or stops lie within each other in a circle.

    Examples
    --------
    >>> import planform
    >>> planform.shortest_order([((0, 0), (0, 0), 1), ((1, 0), (1, 0), -1), ((-5, 0), (-5, 0), -1)], (9, 0))
    [0, 1, 2]
    """
def side_up(solid: Solid | Model | collections.abc.Iterable[Solid]) -> SideUp:
    """
    Which side of a flat part lies up, and which way round it is drawn: the rule of all commands.

    The side that carries features (pockets, countersinks, raised or sunk text) lies up. With features on neither
    side or on both, it is the side that the part's own frame shows in its top, front or right view: the one that
    looks along +z, else along -y, else along +x. Never mirrored; the drawing's x is the projection of the part's x
    axis (of its y axis, where x is the normal). The answer does not depend on where an instance lies. The flat
    sides are those of the plate that the part is (see `plates`), else its largest planar face and what lies
    opposite.

    Parameters
    ----------
    solid : Solid, Model or iterable of Solid
        One part; several bodies are laid together.

    Returns
    -------
    SideUp

    Raises
    ------
    GeometryError
        If there is no planar face, or no solid.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> path = planform.write_demo_assembly(pathlib.Path(tempfile.mkdtemp()) / "station.step")
    >>> planform.side_up(planform.load(path).solids[0]).text
    "the top view of the part's own frame shows it"
    """
def silhouette(solids: Solid | Model | collections.abc.Iterable[Solid], datum: Datum | typing.Literal['auto', 'xy', 'xz', 'yz'], tolerance: float = 0.01, merge: typing.Literal['union', 'keep'] = 'union', *, at: typing.Literal['shadow', 'top', 'bottom', 'through'] = 'shadow', verify: typing.Literal['quick', 'full'] = 'quick') -> ProfileSet:
    """
    The outline of the shadow of the solids on the datum, through-holes included.

    Closed, oriented and free of self-crossing, or an error. Other Python threads run meanwhile.

    Parameters
    ----------
    solids : Solid, Model or iterable of Solid
    datum : Datum or {'auto', 'xy', 'xz', 'yz'}
    tolerance : float, optional
        Bound in mm on the distance between the true outline and the result; lines and arcs of the solid
        are exact to 1e-9 relative whatever the tolerance.
    merge : {'union', 'keep'}, optional
        The union of all solids, or side by side, each profile with its solid's name.
    at : {'shadow', 'top', 'bottom', 'through'}, optional
        Which outline of each solid: of its shadow (a countersunk hole shows the drilled hole), just below its
        flat top (there the wide circle), just above its flat bottom, or where material stands through the full
        thickness. A plate with straight walls has the same at all four. Top and bottom are as `straight_cut`
        gives them; a note of the result says what was taken.
    verify : {'quick', 'full'}, optional
        How much is proven before the outline is handed out: by the laws that cost next to nothing, or by those
        that cost as much again, too. `ProfileSet.proof` tells what was asked. There is no way to prove nothing.

    Returns
    -------
    ProfileSet
        In the datum's coordinates, mm.

    Raises
    ------
    GeometryError
        Naming the solid and the face if an outline can't be had; for an unknown word or a tolerance that
        is not a positive finite number; where a solid has no flat top or bottom to take; where an outline
        breaks a law that every right one keeps (`kind` is 'law_broken').

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> path = planform.write_demo_assembly(pathlib.Path(tempfile.mkdtemp()) / "station.step")
    >>> solid = planform.load(path).solids[0]
    >>> planform.silhouette(solid, planform.auto_datum(solid)).area > 0
    True
    """
def straight_cut(solid: Solid, datum: Datum | typing.Literal['auto', 'xy', 'xz', 'yz']) -> StraightCut:
    """
    What a straight cut makes of a solid, and every feature that it can't make.

    Each face is either flat in the top or the bottom, or part of a straight wall through the full thickness, or
    belongs to a feature: a blind pocket, step, groove, boss, chamfer, countersink, counterbore, rounded edge,
    bevelled wall, cross hole, cavity or free-form surface. Top and bottom are the outermost flat levels that are
    at least half as large, holes filled, as the largest level that looks the same way, seen with the datum's
    normal pointing up. Other Python threads run meanwhile.

    Parameters
    ----------
    solid : Solid
    datum : Datum or {'auto', 'xy', 'xz', 'yz'}

    Returns
    -------
    StraightCut

    Raises
    ------
    GeometryError
        Naming the solid if the kernel fails on it.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> path = planform.write_demo_assembly(pathlib.Path(tempfile.mkdtemp()) / "station.step")
    >>> solid = planform.load(path).solids[0]
    >>> planform.straight_cut(solid, planform.auto_datum(solid)).is_straight
    True
    """
def unit_names() -> list[str]:
    """
    The valid words for the `unit` of `load`.

    Examples
    --------
    >>> import planform
    >>> planform.unit_names()
    ['mm', 'cm', 'm', 'um', 'inch', 'foot']
    """
def write_demo_assembly(path: os.PathLike[str] | str | bytes) -> pathlib.Path:
    """
    Write the demo, a bird-feeding station of about ten distinct plates, as a STEP assembly in mm.

    Parameters
    ----------
    path : path-like

    Returns
    -------
    pathlib.Path
        The path written.

    Raises
    ------
    WriteError
        If the file can't be written.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> planform.write_demo_assembly(pathlib.Path(tempfile.mkdtemp()) / "station.step").name
    'station.step'
    """
def write_whole_file(path: os.PathLike[str] | str | bytes, data: bytes | str) -> pathlib.Path:
    """
    Write to a temporary name beside the path, then rename: the file is whole or absent.

    Parameters
    ----------
    path : path-like
    data : bytes or str
        A str is written as UTF-8.

    Returns
    -------
    pathlib.Path
        The path written.

    Raises
    ------
    WriteError
        With path and cause; nothing is left behind.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> planform.write_whole_file(pathlib.Path(tempfile.mkdtemp()) / "note.txt", "larch").read_text()
    'larch'
    """
__version__: str = '0.1.0'
