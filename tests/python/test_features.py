"""What a straight cut can't make: no false alarms on straight plates, and the right figures elsewhere."""

from __future__ import annotations

import math
from pathlib import Path

import kernel_models as kernel
import planform
import pytest
from test_handbook import FLANGES, NUTS, WASHERS


def handbook_parts() -> list[tuple[str, object]]:
    """The 21 straight parts of the handbook's tables: washers, nuts without chamfers, motor flanges."""
    parts: list[tuple[str, object]] = []
    for size, (hole, outside, thickness) in WASHERS.items():
        ring = kernel.cylinder(outside / 2, thickness)
        parts.append((size, kernel.cut(ring, [kernel.through_hole(0, 0, hole, thickness)])))
    for size, (diameter, _, across_flats, height) in NUTS.items():
        body = kernel.regular_prism(6, across_flats, height)
        parts.append((size, kernel.cut(body, [kernel.through_hole(0, 0, diameter, height)])))
    for size, (side, square, bolt, pilot) in FLANGES.items():
        plate = kernel.moved(kernel.box(side, side, 5.0), -side / 2, -side / 2)
        holes = [(x * square / 2, y * square / 2, bolt) for x in (-1, 1) for y in (-1, 1)]
        tools = [kernel.through_hole(x, y, width, 5.0) for x, y, width in [*holes, (0, 0, pilot)]]
        parts.append((size, kernel.cut(plate, tools)))
    return parts


def test_handbook_parts_are_straight(tmp_path: Path) -> None:
    parts = handbook_parts()
    assert len(parts) == 21
    model = planform.load(kernel.write_step(parts, tmp_path / "parts.step"))
    for solid in model.solids:
        cut = planform.straight_cut(solid, planform.Datum.xy())
        assert cut.is_straight, (solid.name, [feature.text for feature in cut.features])


def test_the_demo_is_straight(tmp_path: Path) -> None:
    model = planform.load(planform.write_demo_assembly(tmp_path / "station.step"))
    for solid in model.solids:
        if solid.name == "gutter":
            continue  # bent: its blank is straight
        cut = planform.straight_cut(solid, planform.auto_datum(solid))
        assert cut.is_straight, (solid.name, [feature.text for feature in cut.features])
        volume = planform.silhouette(solid, planform.auto_datum(solid)).area * cut.thickness
        assert volume == pytest.approx(solid.volume, rel=1e-6)  # splines: volume is good to 1e-6


def test_a_countersunk_hole() -> None:
    sink = kernel.moved(kernel.cone(2.5, 5.0, 2.5), 30.0, 20.0, 2.5)
    plate = kernel.cut(
        kernel.box(60.0, 40.0, 5.0), [kernel.through_hole(30.0, 20.0, 5.0, 5.0), sink]
    )
    (solid,) = planform.from_ocp(plate).solids
    cut = planform.straight_cut(solid, planform.Datum.xy())
    assert repr(cut) == "StraightCut(thickness=5, features=1)"
    assert (cut.bottom, cut.top) == pytest.approx((0.0, 5.0))
    (feature,) = cut.features
    assert (feature.kind, feature.side, feature.word) == ("countersink", "top", "countersink")
    assert feature.place.tolist() == pytest.approx([30.0, 20.0], abs=1e-12)
    assert feature.bounds.ravel().tolist() == pytest.approx([25.0, 15.0, 35.0, 25.0], rel=1e-9)
    assert (feature.low, feature.high, feature.depth) == pytest.approx((2.5, 5.0, 2.5), rel=1e-9)
    assert feature.angle == pytest.approx(math.pi / 2, rel=1e-9)
    assert (feature.diameter, feature.hole_diameter) == pytest.approx((10.0, 5.0), rel=1e-9)
    assert feature.width is None
    assert feature.radius is None
    assert feature.axis is None
    assert len(feature.faces) == 1
    assert repr(feature) == (
        "UncuttableFeature(kind='countersink', side='top', place=(30, 20), depth=2.5)"
    )


def test_a_cross_hole_has_an_axis() -> None:
    drill = kernel.turned(kernel.cylinder(1.5, 100.0), (0, 1, 0), math.pi / 2)
    plate = kernel.cut(kernel.box(60.0, 40.0, 5.0), [kernel.moved(drill, -5.0, 20.0, 2.0)])
    (solid,) = planform.from_ocp(plate).solids
    (hole,) = planform.straight_cut(solid, planform.Datum.xy()).features
    assert hole.kind == "cross-hole"
    assert hole.axis.tolist() == pytest.approx([1.0, 0.0, 0.0], abs=1e-12)
    assert (hole.diameter, hole.depth, hole.angle) == pytest.approx((3.0, 3.0, 0.0), abs=1e-9)


def test_features_are_findings_of_an_inspection() -> None:
    sink = kernel.moved(kernel.cone(2.5, 5.0, 2.5), 30.0, 20.0, 2.5)
    plate = kernel.cut(
        kernel.box(60.0, 40.0, 5.0), [kernel.through_hole(30.0, 20.0, 5.0, 5.0), sink]
    )
    (solid,) = planform.from_ocp(plate).solids
    cut = planform.straight_cut(solid, planform.Datum.xy())
    profiles = planform.silhouette(solid, planform.Datum.xy())
    rules = planform.RuleSet().with_severity("straight_cut", "error")
    found = planform.inspect(profiles, cut.thickness, rules=rules, features=cut.features)
    (finding,) = [finding for finding in found if finding.rule == "straight_cut"]
    assert finding.severity == "error"
    assert finding.place.tolist() == pytest.approx([30.0, 20.0])
    assert (finding.measured, finding.unit) == (pytest.approx(2.5), "mm")
    assert "the silhouette shows the drilled hole (5 mm)" in finding.text
    off = planform.RuleSet().with_enabled("straight_cut", enabled=False)
    assert cut.features[0].finding(off) is None
