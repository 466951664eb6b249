"""Unfolding by a rule that is given in words."""

from __future__ import annotations

import math
from collections.abc import Iterable
from pathlib import Path
from typing import Literal

from planform._planform import BendRule, BendTableRow, Blank, Solid, _blank_by_rule
from planform.bending.tables import BendTable, read_bend_table
from planform.errors import ArgumentError, GeometryError

Table = str | Path | BendTable | Iterable[BendTableRow]


def bend_rule(
    *,
    k_factor: float | None = None,
    table: Table | None = None,
    rule: Literal["din-6935"] = "din-6935",
    sharp_radius: float | None = None,
) -> BendRule:
    """The rule that a K factor, a table or a word names.

    Parameters
    ----------
    k_factor : float, optional
        Depth of the layer that keeps its length, from the inside, as a share of the thickness: 0 to 1.
    table : path-like, BendTable or iterable of BendTableRow, optional
        What was measured. Give this or a K factor, not both.
    rule : {'din-6935'}, optional
        What counts without these two.
    sharp_radius : float, optional
        Inside radius, mm, of bends at corners that are drawn sharp inside and not rounded by the thickness
        outside; without it the thickness (common practice, no source), or 0 where that has no room.

    Returns
    -------
    BendRule

    Raises
    ------
    GeometryError
        For both a K factor and a table, a K factor or a radius out of range, an unknown rule, and a table
        without rows.
    LoadError
        For a table that can't be read.

    Examples
    --------
    >>> import planform
    >>> planform.bend_rule(k_factor=0.4)
    BendRule('k-factor', k_factor=0.4, table=0 rows)
    """
    if k_factor is not None and table is not None:
        raise GeometryError("give a K factor or a bend table, not both")
    if rule != "din-6935":
        raise GeometryError.of_kind(
            "unknown_option", f"rule must be one of 'din-6935', not {rule!r}"
        )
    if sharp_radius is not None and not 0 <= sharp_radius < math.inf:
        raise GeometryError(
            "the inside radius of corners that are drawn sharp must be 0 or more and finite, "
            f"not {sharp_radius!r}"
        )
    if k_factor is not None:
        if not 0 <= k_factor <= 1:
            raise GeometryError(
                f"the K factor must lie between 0 and 1, not {k_factor!r}: the depth of the layer that keeps "
                "its length, from the inside, as a share of the thickness"
            )
        return BendRule("k-factor", k_factor=k_factor, sharp_radius=sharp_radius)
    if table is None:
        return BendRule("din-6935", sharp_radius=sharp_radius)
    if isinstance(table, str | Path):
        table = read_bend_table(table)
    rows = table.rows if isinstance(table, BendTable) else table
    if not isinstance(rows, Iterable):
        raise ArgumentError(f"table = {table!r} is no file, bend table or list of rows")
    rows = list(rows)
    if not all(isinstance(row, BendTableRow) for row in rows):
        raise ArgumentError("table holds something else than BendTableRow")
    if not rows:
        raise GeometryError("the bend table has no rows for bends")
    return BendRule("table", table=rows, sharp_radius=sharp_radius)


def unfold(
    solid: Solid,
    *,
    k_factor: float | None = None,
    table: Table | None = None,
    rule: Literal["din-6935"] = "din-6935",
    sharp_radius: float | None = None,
    tolerance: float = 0.01,
    mark_limits: bool = False,
) -> Blank:
    """The blank of a bent sheet: the flat outline that is cut before bending, with its bends.

    The sheet has one thickness throughout; flat walls are joined by bends between coaxial cylinders or
    cones whose radii differ by the thickness, or by an outer one about a sharp inner edge. Rolled sheets
    count, too. Walls that meet in a corner that is sharp on both sides, or in rounds that fit no thickness,
    are bent there with their outsides where they are drawn, and ``notes`` say with which inside radius. The
    blank is proven before it is returned: folded back along its bends it lies on the solid.

    Parameters
    ----------
    solid : Solid
    k_factor : float, optional
        Depth of the layer that keeps its length, from the inside, as a share of the thickness: 0 to 1.
    table : path-like, BendTable or iterable of BendTableRow, optional
        What was measured of bends; see `read_bend_table`.
    rule : {'din-6935'}, optional
        What counts without these two.
    sharp_radius : float, optional
        Inside radius, mm, of bends at corners that are drawn sharp; without it the thickness.
    tolerance : float, optional
        Bound in mm on the distance between the true outline and the result.
    mark_limits : bool, optional
        Also marks where bends begin and end.

    Returns
    -------
    Blank
        With ``outline`` (a profile set whose marks are the bend lines), ``bends``, ``thickness``, ``notes``.

    Raises
    ------
    UnfoldError
        If no flat sheet bends to the solid: its ``refusal`` tells why and where.
    GeometryError
        For options out of range, and for bends that the table doesn't tell.
    LoadError
        For a table that can't be read.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> model = planform.load(planform.write_demo_assembly(pathlib.Path(tempfile.mkdtemp()) / "s.step"))
    >>> gutter = next(solid for solid in model.solids if solid.name == "gutter")
    >>> blank = planform.unfold(gutter, k_factor=0.44)
    >>> blank.thickness, len(blank.bends)
    (1.0, 3)
    """
    return _blank_by_rule(
        solid,
        bend_rule(k_factor=k_factor, table=table, rule=rule, sharp_radius=sharp_radius),
        tolerance=tolerance,
        mark_limits=mark_limits,
    )
