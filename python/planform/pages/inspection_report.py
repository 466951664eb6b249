"""The HTML page of an inspection: one file without scripts or links; and its findings as JSON."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from planform._planform import Finding, RuleSet, write_whole_file
from planform.measured_outline import SEVERITIES, MeasuredOutline
from planform.pages.render import picture, render
from planform.pages.report import both_sizes
from planform.pictures.placing import contours_of
from planform.units.figures import INCH_FIGURES, MM_FIGURES, Figures

FOOT = (
    "Widths are measured on the exact curves. Limits are those of the rules, most of them common "
    "practice without a source: a clean page does not say that a part can be cut."
)


@dataclass(frozen=True)
class Inspected:
    """One drawing that was inspected, under its name, or why it could not be (``error``).

    ``changes`` are those of the repair that it comes from.
    """

    name: str
    inspection: MeasuredOutline | None = None
    error: str = ""
    changes: tuple[str, ...] = ()


def write_inspection_report(
    inspected: Sequence[Inspected],
    path: Path,
    density: float | None = None,
    figures: Figures = MM_FIGURES,
) -> None:
    """Write the page; the file is whole or absent. Raises WriteError."""
    write_whole_file(path, inspection_html(inspected, density, figures))


def inspection_html(
    inspected: Sequence[Inspected],
    density: float | None = None,
    figures: Figures = MM_FIGURES,
) -> str:
    """Return the page as text: pictures, findings, figures, cautions; the same input, the same page.

    ``density`` is in kg/m³; with it and a thickness the page states masses.
    """
    findings = [f for one in inspected if one.inspection for f in one.inspection]
    counts = {severity: sum(f.severity == severity for f in findings) for severity in SEVERITIES}
    return render(
        "inspection.html",
        title=", ".join(one.name for one in inspected[:4]) + (", …" if inspected[4:] else ""),
        cells=[
            [("Errors", counts["error"])],
            [("Warnings", counts["warning"])],
            [("Notes", counts["note"])],
        ],
        columns=columns(figures),
        drawings=[
            drawing_section(one, density, f"d{i}-", figures)
            for i, one in enumerate(inspected, start=1)
        ],
        foot=FOOT,
    )


def columns(figures: Figures) -> tuple[tuple[str, str], ...]:
    """The headings of a table of findings, each with its kind."""
    return (
        ("No.", ""),
        ("severity", "words"),
        ("rule", "words"),
        (f"place x, y {figures.symbol}", ""),
        ("measured", ""),
        ("limit", ""),
        ("what to do", "text"),
    )


def drawing_section(
    inspected: Inspected, density: float | None, prefix: str, figures: Figures
) -> dict[str, Any]:
    """One drawing: picture, figures, table of findings."""
    inspection = inspected.inspection
    if inspection is None:
        return {"name": inspected.name, "error": inspected.error}
    from planform.pictures.inspection import inspection_svg

    return {
        "name": inspected.name,
        "error": "",
        "picture": picture(
            inspection_svg(inspection, figures=figures, prefix=prefix, styled=False)
        ),
        "figures": [
            (label, value, "") for label, value in figure_rows(inspection, density, figures)
        ],
        "notes": inspection.profiles.notes,
        "changes": inspected.changes,
        "findings": [
            finding_row(number, finding, figures)
            for number, finding in enumerate(inspection.findings, start=1)
        ],
        "classes": [f"weight-{finding.severity}" for finding in inspection.findings],
    }


def figure_rows(
    inspection: MeasuredOutline, density: float | None, figures: Figures
) -> list[tuple[str, str]]:
    """Sizes in mm and inch, area, cut length, pierces, thickness, mass."""
    profiles = inspection.profiles
    rows = [("Size", "no closed outline")]
    if inspection.bounds:
        (x0, y0), (x1, y1) = inspection.bounds
        rows = both_sizes(x1 - x0, y1 - y0, figures)
        if not profiles.profiles:
            rows.append(("Outlines", "none is closed"))
    rows += [
        ("Area", f"{figures.area(profiles.area)} {figures.area_symbol}"),
        ("Cut length", f"{figures.run(profiles.length)} {figures.symbol}"),
        ("Pierces", str(len(list(contours_of(profiles))))),
    ]
    if inspection.thickness is not None:
        thickness = inspection.thickness
        other = MM_FIGURES if figures is INCH_FIGURES else INCH_FIGURES
        shown = f"{figures.length(thickness)} {figures.symbol}"
        rows.append(("Thickness", f"{shown} ({other.length(thickness)} {other.symbol})"))
        if density is not None:
            rows.append(("Mass", f"{mass(inspection, density):.1f} g at {density:g} kg/m³"))
    return rows


def mass(inspection: MeasuredOutline, density: float) -> float:
    """In g, for a density in kg/m³: of what stays, without the width of the cut."""
    assert inspection.thickness is not None
    return inspection.profiles.area * inspection.thickness * density * 1e-6


def finding_row(number: int, finding: Finding, figures: Figures) -> list[str]:
    """One finding with its number in the picture."""
    x, y = (figures.length(float(value)) for value in finding.place)
    return [
        str(number),
        finding.severity,
        finding.rule,
        f"{x}, {y}",
        value_text(finding.measured, finding, figures),
        value_text(finding.limit, finding, figures),
        finding.text,
    ]


def value_text(value: float | None, finding: Finding, figures: Figures = MM_FIGURES) -> str:
    """A measured value or a limit with its unit; to four decimals, since limits are close calls."""
    if value is None:
        return ""
    unit, digits = finding.unit, 4
    if unit == "mm":
        value, unit = value / figures.millimetres, figures.symbol
        digits += figures.unit == "inch"
    shown = f"{value:.{digits}f}".rstrip("0").rstrip(".")
    return f"{shown} {'°' if unit == 'degrees' else unit}".strip()


def inspection_json(inspected: Sequence[Inspected]) -> str:
    """All findings, sizes and rules as JSON; lengths are mm."""
    return json.dumps({"drawings": [drawing_data(one) for one in inspected]}, indent=1) + "\n"


def drawing_data(inspected: Inspected) -> dict[str, Any]:
    """One drawing as plain data."""
    inspection = inspected.inspection
    if inspection is None:
        return {"name": inspected.name, "error": inspected.error}
    profiles = inspection.profiles
    return {
        "name": inspected.name,
        "digest": profiles.digest,
        "bounds": [list(corner) for corner in inspection.bounds] if inspection.bounds else None,
        "area": profiles.area,
        "cut_length": profiles.length,
        "pierces": len(list(contours_of(profiles))),
        "thickness": inspection.thickness,
        "rules": rules_data(inspection.rules),
        "findings": [finding_data(finding) for finding in inspection.findings],
    } | ({"changes": list(inspected.changes)} if inspected.changes else {})


def rules_data(rules: RuleSet) -> dict[str, Any]:
    """The rules as in a rule file."""
    return {
        rule.name: {"enabled": rule.enabled, "severity": rule.severity}
        | ({"limit": rule.limit, "unit": rule.unit} if rule.unit else {})
        for rule in rules
    }


def finding_data(finding: Finding) -> dict[str, Any]:
    """One finding as plain data."""
    return {
        "rule": finding.rule,
        "severity": finding.severity,
        "place": [float(value) for value in finding.place],
        "points": finding.points.tolist(),
        "measured": finding.measured,
        "limit": finding.limit,
        "unit": finding.unit,
        "profile": finding.profile,
        "contour": finding.contour,
        "text": finding.text,
    }
