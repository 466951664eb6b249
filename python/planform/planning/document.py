"""A plan as JSON; the schema stands in DEVELOPERS.md ("The JSON of a plan")."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from planform._planform import Arc, EllipticalArc, Line, write_whole_file
from planform.planning.machine import Machine
from planform.planning.sheet_plan import SheetPlan

SCHEMA = 1


def point_data(point: Any) -> list[float]:
    """x and y, mm."""
    return [float(point[0]), float(point[1])]


def curve_data(curve: Any) -> dict[str, Any]:
    """A curve as in the JSON of a profile set."""
    if isinstance(curve, Line):
        return {"type": "line", "start": point_data(curve.start), "end": point_data(curve.end)}
    if isinstance(curve, Arc):
        return {
            "type": "arc",
            "center": point_data(curve.center),
            "radius": curve.radius,
            "start_angle": curve.start_angle,
            "sweep": curve.sweep,
        }
    if isinstance(curve, EllipticalArc):
        return {
            "type": "elliptical_arc",
            "center": point_data(curve.center),
            "major": point_data(curve.major),
            "ratio": curve.ratio,
            "start_angle": curve.start_angle,
            "sweep": curve.sweep,
        }
    data: dict[str, Any] = {
        "type": "spline",
        "degree": curve.degree,
        "knots": [float(knot) for knot in curve.knots],
        "poles": [point_data(pole) for pole in curve.poles],
    }
    if curve.weights is not None and len(curve.weights):
        data["weights"] = [float(weight) for weight in curve.weights]
    return data


def curves_data(curves: Sequence[Any]) -> list[dict[str, Any]]:
    """Curves head to tail."""
    return [curve_data(curve) for curve in curves]


def plan_data(plan: SheetPlan) -> dict[str, Any]:
    """One sheet."""
    times = plan.times or [None] * len(plan.plan.cuts)
    return {
        "name": plan.name,
        "material": plan.sheet.material,
        "thickness": plan.sheet.thickness,
        "count": plan.sheet.count,
        "kerf": plan.kerf,
        "home": point_data(plan.plan.home),
        "pieces": [piece.name for piece in plan.pieces],
        "cuts": [
            {
                "piece": cut.piece,
                "profile": cut.profile,
                "contour": cut.contour,
                "role": cut.role,
                "within": cut.within,
                "room": cut.room,
                "pierce": point_data(cut.pierce),
                "clearance": cut.clearance,
                "entry": curves_data(cut.entry),
                "stretches": [curves_data(stretch) for stretch in cut.stretches],
                "over_cut": curves_data(cut.over_cut),
                "exit": curves_data(cut.exit),
                "time": time
                and {"travel": time.travel, "pierce": time.pierce, "cutting": time.cutting},
            }
            for cut, time in zip(plan.plan.cuts, times, strict=True)
        ],
        "travel": plan.plan.travel,
        "cut_length": plan.plan.cut_length,
        "mark_length": plan.plan.mark_length,
        "pierces": plan.plan.pierces,
        "findings": [
            {
                "rule": finding.rule,
                "severity": finding.severity,
                "piece": finding.piece,
                "other_piece": finding.other_piece,
                "cut": finding.cut,
                "place": point_data(finding.place),
                "measured": finding.measured,
                "limit": finding.limit,
                "text": finding.text,
            }
            for finding in plan.plan.findings
        ],
        "proof": [
            {"law": law.name, "checks": law.checks, "largest_deviation": law.largest_deviation}
            for law in plan.plan.proof.laws
        ],
        "missing": list(plan.missing),
    }


def plans_text(plans: Sequence[SheetPlan], machine: Machine) -> str:
    """All sheets as JSON: UTF-8, lengths mm, angles radians, times s; every number reads back to the same."""
    data = {
        "planform_plan": SCHEMA,
        "unit": "mm",
        "machine": machine.name,
        "source_of_figures": machine.source,
        "sheets": [plan_data(plan) for plan in plans],
    }
    return json.dumps(data, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def write_plans(plans: Sequence[SheetPlan], machine: Machine, path: str | Path) -> Path:
    """Write `plans_text`; the file is whole or absent. Raises WriteError."""
    write_whole_file(Path(path), plans_text(plans, machine))
    return Path(path)
