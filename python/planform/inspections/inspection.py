"""Is it fit to cut? ``inspect`` measures a profile set against rules; the result draws and prints itself."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from os import PathLike
from pathlib import Path
from typing import Literal, Protocol

from planform import _planform
from planform._planform import Finding, ProfileSet, RuleSet, Sheet, write_whole_file
from planform.arguments import positive
from planform.errors import GeometryError
from planform.measured_outline import SEVERITIES, DrawnCurves
from planform.pages.inspection_report import Inspected, inspection_html
from planform.resting import grate_findings


class HasFinding(Protocol):
    """Something that knows how it is found, such as a feature that a straight cut can't make."""

    def finding(self, rules: RuleSet) -> Finding | None:
        """The finding under these rules, or None if its rule is off."""


@dataclass(frozen=True)
class Inspection(Sequence[Finding]):
    """The findings of one inspection, errors first, and what was inspected.

    Attributes
    ----------
    profiles : ProfileSet
    thickness : float or None
        In mm.
    rules : RuleSet
    sheet : Sheet or None
    findings : tuple of Finding
        By severity (errors first), rule, place.
    drawn : DrawnCurves or None
        Of a drawing from elsewhere, what else there is in it.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> hole = planform.Contour([planform.Arc((45, 20), 1)])
    >>> roof = planform.ProfileSet([planform.Profile(edge, [hole])], name="roof")
    >>> result = planform.inspect(roof, thickness=6.0)
    >>> result.thickness, [finding.rule for finding in result.findings]
    (6.0, ['inner_width'])
    """

    profiles: ProfileSet
    thickness: float | None
    rules: RuleSet
    sheet: Sheet | None
    findings: tuple[Finding, ...]
    drawn: DrawnCurves | None = field(default_factory=lambda: None)

    @property
    def bounds(self) -> tuple[tuple[float, float], tuple[float, float]] | None:
        """Lower left and upper right corner of all that is drawn, mm; None if nothing is."""
        if self.drawn is not None and all(map(math.isfinite, self.drawn.bounds[0])):
            return self.drawn.bounds
        if not self.profiles.profiles:
            return None
        (x0, y0), (x1, y1) = self.profiles.bounds
        return (float(x0), float(y0)), (float(x1), float(y1))

    def __post_init__(self) -> None:
        positive(self.thickness, "the thickness of a sheet (mm)")

    def __len__(self) -> int:
        return len(self.findings)

    def __getitem__(self, index):  # type: ignore[no-untyped-def]
        return self.findings[index]

    def __iter__(self) -> Iterator[Finding]:
        return iter(self.findings)

    def at_least(self, severity: str) -> tuple[Finding, ...]:
        """The findings that weigh as much as `severity` ("note", "warning", "error"), or more."""
        if severity not in SEVERITIES:
            raise GeometryError.of_kind(
                "unknown_option",
                f"severity = '{severity}' is unknown; valid: {', '.join(SEVERITIES)}",
            )
        least = SEVERITIES.index(severity)
        return tuple(f for f in self.findings if SEVERITIES.index(f.severity) >= least)

    def to_svg(self, path: str | PathLike[str]) -> Path:
        """Write the outline, its sizes in mm and every finding, numbered, as an SVG picture."""
        from planform.pictures.inspection import inspection_svg

        return write_whole_file(path, inspection_svg(self))

    def to_png(self, path: str | PathLike[str]) -> Path:
        """Write the same picture, its sizes in mm, as a PNG."""
        from planform.pictures.inspection import inspection_png

        return write_whole_file(path, inspection_png(self))

    def to_html(self, path: str | PathLike[str], density: float | None = None) -> Path:
        """Write a page without scripts or links: picture, findings, figures (mm and inch), cautions.

        With a `density` in kg/m³ and a thickness it states the mass, too.
        """
        positive(density, "the density of a sheet (kg/m³)")
        name = self.profiles.name or "outline"
        return write_whole_file(path, inspection_html([Inspected(name, self)], density))

    def _repr_svg_(self) -> str:
        """The picture for a notebook; its sizes are in mm."""
        from planform.pictures.inspection import inspection_svg

        return inspection_svg(self)

    def _repr_html_(self) -> str:
        """Picture and findings for a notebook, light or dark."""
        from planform.pictures.notebook import inspection_html

        return inspection_html(self)


def inspect(
    profile_set: ProfileSet,
    thickness: float | None = None,
    *,
    rules: RuleSet | None = None,
    sheet: Sheet | tuple[float, float] | None = None,
    features: Iterable[Finding | HasFinding] = (),
    grate: float | None = None,
    grate_along: Literal["x", "y"] = "y",
    drawn: DrawnCurves | None = None,
) -> Inspection:
    """Measure a profile set against rules: is it fit to cut?

    Parameters
    ----------
    profile_set : ProfileSet
    thickness : float, optional
        Of the sheet, in mm. Without it the rules that count in thicknesses are left out.
    rules : RuleSet, optional
        The documented default set if not given; `read_rules` reads one from a file.
    sheet : Sheet or (width, height), optional
        To cut from, in mm.
    features : iterable of findings, or of what has a method ``finding(rules)``
        What a straight cut can't make of the solid: `straight_cut(solid, datum).features`; sorted in.
    grate : float, optional
        From bar to bar of the grate below, in mm. With it the rule ``drop_out`` asks what may tip up, or fall
        between bars, wherever they lie (see `rest_on`), instead of what is long.
    grate_along : {'x', 'y'}, optional
        Where the bars run.
    drawn : DrawnCurves, optional
        Of a drawing from elsewhere, what else there is in it, for pictures and sizes.

    Returns
    -------
    Inspection
        A sequence of `Finding`: rule, severity, place, measured, limit, what to do.

    Raises
    ------
    GeometryError
        If the thickness or the sheet is not positive and finite.

    Examples
    --------
    >>> import planform
    >>> hole = planform.Contour([planform.Arc((0, 0), 0.745)])
    >>> plate = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), 20)]), [hole])])
    >>> [(f.severity, f.rule, round(f.measured, 3), f.limit) for f in planform.inspect(plate, 3.0)]
    [('error', 'inner_width', 1.49, 1.5)]
    """
    rules = RuleSet() if rules is None else rules
    if sheet is not None and not isinstance(sheet, Sheet):
        sheet = Sheet(*sheet)
    further = []
    for feature in features:
        finding = feature if isinstance(feature, Finding) else feature.finding(rules)
        if finding is not None:
            further.append(finding)
    positive(grate, "the opening of a grate (mm)")
    asked = rules
    if grate is not None:
        further += grate_findings(profile_set, rules, grate, grate_along)
        asked = rules.with_enabled("drop_out", False)
    findings = _planform._find_findings(profile_set, thickness, asked, sheet, further)
    return Inspection(profile_set, thickness, rules, sheet, tuple(findings), drawn)
