"""The HTML page of an inspection: one file without scripts or links; and its findings as JSON."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from planform._planform import Finding, RuleSet, write_whole_file
from planform.inspection import SEVERITIES, Inspection
from planform.pages.report import page, text
from planform.pictures.outlines import contours_of, inches, millimetres

PAGE_STYLE = """
.findings { width: 100%; border-collapse: collapse; background: #fff; border: 1px solid var(--ink); }
.findings th, .findings td { text-align: left; vertical-align: top; padding: 4px 10px;
  border-top: 1px solid var(--thin); }
.findings td.value { text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums; }
.weight-error td:nth-child(2) { color: #b3261e; font-weight: 600; }
.weight-warning td:nth-child(2) { color: #a65f00; }
.weight-note td:nth-child(2) { color: #1f5fa8; }
.clean { background: #fff; border: 1px solid var(--ink); padding: 10px 16px; margin: 0; }
"""

FOOT = (
    "Widths are measured on the exact curves. Limits are those of the rules, most of them common "
    "practice without a source: a clean page does not say that a part can be cut."
)


@dataclass(frozen=True)
class Inspected:
    """One drawing that was inspected, under its name, or why it could not be (``error``)."""

    name: str
    inspection: Inspection | None = None
    error: str = ""


def write_inspection_report(
    inspected: Sequence[Inspected], path: Path, density: float | None = None
) -> None:
    """Write the page; the file is whole or absent. Raises WriteError."""
    write_whole_file(path, inspection_html(inspected, density))


def inspection_html(inspected: Sequence[Inspected], density: float | None = None) -> str:
    """Return the page as text: pictures, findings, figures, cautions; the same input, the same page.

    ``density`` is in g/cm³; with it and a thickness the page states masses.
    """
    title = ", ".join(text(one.name) for one in inspected[:4]) + (", …" if inspected[4:] else "")
    sections = "".join(section(one, density, f"d{i}-") for i, one in enumerate(inspected, start=1))
    content = f"{title_block(inspected, title)}\n{sections}"
    return page(f"Inspection of {title}", content, style=PAGE_STYLE, foot=FOOT)


def title_block(inspected: Sequence[Inspected], title: str) -> str:
    """The heading: what, how many findings of each weight."""
    findings = [f for one in inspected if one.inspection for f in one.inspection]
    counts = {severity: sum(f.severity == severity for f in findings) for severity in SEVERITIES}
    return (
        '<header class="block">'
        f'<div><span class="label">Inspection of</span><h1>{title}</h1></div>'
        f'<div><span class="label">Errors</span>{counts["error"]}</div>'
        f'<div><span class="label">Warnings</span>{counts["warning"]}</div>'
        f'<div><span class="label">Notes</span>{counts["note"]}</div></header>'
    )


def section(inspected: Inspected, density: float | None, prefix: str) -> str:
    """One drawing: picture, figures, table of findings."""
    heading = f"<h2>{text(inspected.name)}</h2>"
    inspection = inspected.inspection
    if inspection is None:
        reason = f"<p>Not inspected: {text(inspected.error)}</p>"
        return f'<section>{heading}<figure class="failed">{reason}</figure></section>'
    from planform.pictures.inspection import inspection_svg

    picture = inspection_svg(inspection).replace('id="mark-', f'id="{prefix}mark-')
    notes = "".join(f'<p class="note">{text(note)}</p>' for note in inspection.profiles.notes)
    return (
        f"<section>{heading}<figure>{picture}<figcaption>{figures(inspection, density)}{notes}"
        f"</figcaption></figure><h2>Findings</h2>{findings_table(inspection)}</section>"
    )


def figures(inspection: Inspection, density: float | None) -> str:
    """Sizes in mm and inch, area, cut length, pierces, thickness, mass."""
    profiles = inspection.profiles
    rows = [("Size", "no closed outline")]
    if profiles.profiles:
        width, height = (float(extent) for extent in profiles.bounds[1] - profiles.bounds[0])
        rows = [
            ("Size", f"{millimetres(width)} × {millimetres(height)} mm"),
            ("", f"{inches(width)} × {inches(height)} in"),
        ]
    rows += [
        ("Area", f"{profiles.area:.1f} mm²"),
        ("Cut length", f"{profiles.length:.1f} mm"),
        ("Pierces", str(len(list(contours_of(profiles))))),
    ]
    if inspection.thickness is not None:
        thickness = inspection.thickness
        rows.append(("Thickness", f"{millimetres(thickness)} mm ({inches(thickness)} in)"))
        if density is not None:
            rows.append(("Mass", f"{mass(inspection, density):.1f} g at {density:g} g/cm³"))
    return "<dl>" + "".join(f"<div><dt>{a}</dt><dd>{b}</dd></div>" for a, b in rows) + "</dl>"


def mass(inspection: Inspection, density: float) -> float:
    """In g, for a density in g/cm³: of what stays, without the width of the cut."""
    assert inspection.thickness is not None
    return inspection.profiles.area * inspection.thickness * density / 1000.0


def findings_table(inspection: Inspection) -> str:
    """All findings with their numbers in the picture."""
    if not inspection.findings:
        return '<p class="clean">Nothing found under these rules.</p>'
    rows = "".join(
        f'<tr class="weight-{finding.severity}"><td>{number}</td><td>{finding.severity}</td>'
        f"<td>{finding.rule}</td>"
        f'<td class="value">{millimetres(finding.place[0])}, {millimetres(finding.place[1])}</td>'
        f'<td class="value">{value_text(finding.measured, finding)}</td>'
        f'<td class="value">{value_text(finding.limit, finding)}</td>'
        f"<td>{text(finding.text)}</td></tr>"
        for number, finding in enumerate(inspection.findings, start=1)
    )
    head = "".join(
        f"<th>{word}</th>"
        for word in ("No.", "severity", "rule", "place x, y mm", "measured", "limit", "what to do")
    )
    return f'<table class="findings"><tr>{head}</tr>{rows}</table>'


def value_text(value: float | None, finding: Finding) -> str:
    """A measured value or a limit with its unit; to four decimals, since limits are close calls."""
    if value is None:
        return ""
    digits = f"{value:.4f}".rstrip("0").rstrip(".")
    return f"{digits} {'°' if finding.unit == 'degrees' else finding.unit}".strip()


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
        "bounds": [list(map(float, corner)) for corner in profiles.bounds]
        if profiles.profiles
        else None,
        "area": profiles.area,
        "cut_length": profiles.length,
        "pierces": len(list(contours_of(profiles))),
        "thickness": inspection.thickness,
        "rules": rules_data(inspection.rules),
        "findings": [finding_data(finding) for finding in inspection.findings],
    }


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
