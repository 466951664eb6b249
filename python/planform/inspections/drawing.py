"""A drawing from elsewhere, inspected: its outlines, and what is wrong in the drawing itself."""

from __future__ import annotations

import os
from collections.abc import Mapping

from planform._planform import RuleSet, Sheet
from planform.drawings.findings import drawing_findings
from planform.drawings.loose import LooseCurves
from planform.drawings.reading import read_drawing
from planform.inspections.inspection import Inspection, inspect


def inspect_drawing(
    drawing: str | os.PathLike[str] | LooseCurves,
    thickness: float | None = None,
    *,
    gap: float = 0.0,
    roles: Mapping[str, str] | None = None,
    unit: str | None = None,
    scale: float = 1.0,
    rules: RuleSet | None = None,
    sheet: Sheet | tuple[float, float] | None = None,
) -> Inspection:
    """Inspect a drawing as `inspect` does a profile set, with what is wrong in the drawing itself.

    Parameters
    ----------
    drawing : path-like or LooseCurves
        DXF or SVG.
    thickness, rules, sheet : optional
        As for `inspect`.
    gap : float, optional
        Gaps up to this many mm count as closed (they are notes then).
    roles, unit, scale : optional
        As for `LooseCurves.roles` and `read_dxf`.

    Returns
    -------
    Inspection
        Outlines that stay open are findings, and no part of what is measured.

    Raises
    ------
    LoadError
        If the drawing can't be read.
    GeometryError
        For numbers or words that make no sense.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> path = pathlib.Path(tempfile.mkdtemp()) / "lid.svg"
    >>> _ = path.write_text(
    ...     '<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="40mm" viewBox="0 0 80 40">'
    ...     '<rect width="80" height="40"/><circle cx="9" cy="9" r=".5"/><path d="M5 5h9"/></svg>')
    >>> [(finding.severity, finding.rule) for finding in planform.inspect_drawing(path, 3.0)][:2]
    [('error', 'inner_width'), ('warning', 'stray')]
    """
    loose = drawing
    if not isinstance(loose, LooseCurves):
        loose = read_drawing(loose, unit=unit, scale=scale)
    closed = loose.close(gap=gap, roles=roles)
    return inspect(
        closed.profile_set(allow_open=True),
        thickness,
        rules=rules,
        sheet=sheet,
        features=drawing_findings(closed, rules),
        drawn=closed.drawn,
    )
