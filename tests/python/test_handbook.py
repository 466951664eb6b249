"""Handbook parts, built from published tables by another modeller and flattened by planform.

The tables were typed from memory of the standards named at each; they are inputs to both the solid and
the expected figure, so a slip in one would not hide an error of the outline.
"""

from __future__ import annotations

import itertools
import math
from pathlib import Path

import kernel_models as kernel
import planform
import pytest
from drawing_judges import measure_dxf

# ISO 7089, plain washers, normal series, product grade A (from memory): nominal d1 (hole), d2
# (outside), h (thickness) in mm.
WASHERS = {
    "M3": (3.2, 7.0, 0.5),
    "M4": (4.3, 9.0, 0.8),
    "M5": (5.3, 10.0, 1.0),
    "M6": (6.4, 12.0, 1.6),
    "M8": (8.4, 16.0, 1.6),
    "M10": (10.5, 20.0, 2.0),
    "M12": (13.0, 24.0, 2.5),
    "M14": (15.0, 28.0, 2.5),
    "M16": (17.0, 30.0, 3.0),
    "M20": (21.0, 37.0, 3.0),
}

# ISO 4032, hexagon nuts, style 1 (from memory): nominal diameter, pitch of the coarse thread (ISO 261),
# width across flats s, height m in mm.
NUTS = {
    "M3": (3.0, 0.5, 5.5, 2.4),
    "M4": (4.0, 0.7, 7.0, 3.2),
    "M5": (5.0, 0.8, 8.0, 4.7),
    "M6": (6.0, 1.0, 10.0, 5.2),
    "M8": (8.0, 1.25, 13.0, 6.8),
    "M10": (10.0, 1.5, 16.0, 8.4),
    "M12": (12.0, 1.75, 18.0, 10.8),
    "M16": (16.0, 2.0, 24.0, 14.8),
    "M20": (20.0, 2.5, 30.0, 18.0),
}

# NEMA ICS 16, face mountings 17 and 23 (from memory): side of the face, side of the square of bolts,
# diameter of the bolt holes, diameter of the pilot in mm. The face's side is that of a common motor.
FLANGES = {"17": (42.3, 31.0, 3.4, 22.0), "23": (57.15, 47.14, 5.1, 38.1)}


def shadow_from_above(shape: object) -> planform.ProfileSet:
    return planform.silhouette(planform.from_ocp(shape), planform.Datum.xy())


@pytest.mark.parametrize("size", WASHERS)
def test_washer_is_a_ring_of_two_circles(size: str, tmp_path: Path) -> None:
    hole, outside, thickness = WASHERS[size]
    washer = kernel.cut(
        kernel.cylinder(outside / 2, thickness), [kernel.through_hole(0, 0, hole, thickness)]
    )
    path = kernel.write_step([(f"washer {size}", washer)], tmp_path / "washer.step")
    model = planform.load(path)
    assert [solid.name for solid in model.solids] == [f"washer {size}"]
    outline = planform.silhouette(model, planform.auto_datum(model.solids[0]))

    (ring,) = outline.profiles
    assert ring.outer.is_circle
    assert [contour.is_circle for contour in ring.holes] == [True]
    assert outline.area == pytest.approx(math.pi / 4 * (outside**2 - hole**2), rel=1e-9)
    assert outline.length == pytest.approx(math.pi * (outside + hole), rel=1e-9)

    drawing = measure_dxf(outline.to_dxf(tmp_path / "washer.dxf"))
    assert drawing.circles == pytest.approx([hole, outside], rel=1e-9)
    assert drawing.layers == {"CUT_OUTER": 1, "CUT_INNER": 1}


@pytest.mark.parametrize("size", NUTS)
def test_nut_is_a_hexagon_with_a_hole(size: str, tmp_path: Path) -> None:
    diameter, pitch, across_flats, height = NUTS[size]
    # ISO 724: minor diameter D1 = d - 2 * 5/8 H with H = sqrt(3)/2 P.
    hole = diameter - 1.25 * math.sqrt(3) / 2 * pitch
    body = kernel.regular_prism(6, across_flats, height)
    nut = kernel.cut(body, [kernel.through_hole(0, 0, hole, height)])
    model = planform.load(kernel.write_brep(nut, tmp_path / "nut.brep"))
    outline = planform.silhouette(model, planform.Datum.xy())

    (profile,) = outline.profiles
    assert len(profile.outer.curves) == 6
    assert all(isinstance(curve, planform.Line) for curve in profile.outer.curves)
    side = across_flats / math.sqrt(3)
    assert [curve.length for curve in profile.outer.curves] == pytest.approx([side] * 6, rel=1e-9)
    assert profile.outer.area == pytest.approx(math.sqrt(3) / 2 * across_flats**2, rel=1e-9)
    assert outline.area == pytest.approx(
        math.sqrt(3) / 2 * across_flats**2 - math.pi / 4 * hole**2, rel=1e-9
    )
    drawing = measure_dxf(outline.to_dxf(tmp_path / "nut.dxf"))
    assert drawing.circles == pytest.approx([hole], rel=1e-9)
    assert drawing.area == pytest.approx(outline.area, rel=1e-9)


@pytest.mark.parametrize("size", FLANGES)
def test_motor_flange(size: str, tmp_path: Path) -> None:
    side, square, bolt, pilot = FLANGES[size]
    thickness = 5.0
    plate = kernel.moved(kernel.box(side, side, thickness), -side / 2, -side / 2)
    bolts = [(x * square / 2, y * square / 2) for x in (-1, 1) for y in (-1, 1)]
    plate = kernel.cut(plate, [kernel.through_hole(x, y, bolt, thickness) for x, y in bolts])
    plate = kernel.cut(plate, [kernel.through_hole(0, 0, pilot, thickness)])
    outline = shadow_from_above(plate)

    (profile,) = outline.profiles
    assert len(profile.holes) == 5
    assert all(hole.is_circle for hole in profile.holes)
    expected = side**2 - math.pi / 4 * (4 * bolt**2 + pilot**2)
    assert outline.area == pytest.approx(expected, rel=1e-9)
    for x, y in [*bolts, (0.0, 0.0)]:
        distances = [math.dist(hole.bounds.mean(axis=0), (x, y)) for hole in profile.holes]
        assert min(distances) < 1e-9
    drawing = measure_dxf(outline.to_dxf(tmp_path / "flange.dxf"))
    assert drawing.circles == pytest.approx([bolt] * 4 + [pilot], rel=1e-9)


def rail_outline(thickness: float, bend: float) -> list[tuple[tuple[float, float], ...]]:
    """The hat-shaped outline as lines and arcs: left and right of a middle line with rounded bends.

    The middle line runs in straight, square turns; ``bend`` is its radius in the turns, so the faces
    bend with ``bend`` -/+ half the thickness.
    """
    middle = [(-17.5, 0.5), (-13.0, 0.5), (-13.0, 7.0), (13.0, 7.0), (13.0, 0.5), (17.5, 0.5)]
    left = side_of(middle, bend, thickness / 2)
    right = side_of(middle, bend, -thickness / 2)
    back = [tuple(reversed(piece)) for piece in reversed(right)]
    return [
        *left,
        (left[-1][-1], back[0][0]),
        *back,
        (back[-1][-1], left[0][0]),
    ]


def side_of(
    middle: list[tuple[float, float]], bend: float, offset: float
) -> list[tuple[tuple[float, float], ...]]:
    """The lines and arcs at a distance to the left of a line with rounded square turns."""
    pieces: list[tuple[tuple[float, float], ...]] = []
    directions = [
        (
            (end[0] - start[0]) / math.dist(start, end),
            (end[1] - start[1]) / math.dist(start, end),
        )
        for start, end in itertools.pairwise(middle)
    ]

    def beside(point: tuple[float, float], direction: tuple[float, float]) -> tuple[float, float]:
        return (point[0] - offset * direction[1], point[1] + offset * direction[0])

    start = beside(middle[0], directions[0])
    for corner, before, after in zip(middle[1:-1], directions, directions[1:], strict=False):
        tangent_in = (corner[0] - bend * before[0], corner[1] - bend * before[1])
        tangent_out = (corner[0] + bend * after[0], corner[1] + bend * after[1])
        center = (tangent_in[0] + bend * after[0], tangent_in[1] + bend * after[1])
        turn = before[0] * after[1] - before[1] * after[0]
        radius = bend - turn * offset
        outward = (before[0] - after[0], before[1] - after[1])
        reach = radius / math.hypot(*outward)
        on_arc = (center[0] + reach * outward[0], center[1] + reach * outward[1])
        end = beside(tangent_in, before)
        resume = beside(tangent_out, after)
        pieces += [(start, end), (end, on_arc, resume)]
        start = resume
    pieces.append((start, beside(middle[-1], directions[-1])))
    return pieces


def test_rail_as_a_section() -> None:
    # EN 60715, TS 35 x 7.5 (from memory): 35 wide, 7.5 high, 27 across the hat, sheet of 1 mm, inner
    # bending radius 0.8 mm at most.
    thickness, inner_radius = 1.0, 0.8
    bend = inner_radius + thickness / 2
    rail = kernel.arc_prism(rail_outline(thickness, bend), 200.0)
    solids = planform.from_ocp(rail).solids
    outline = planform.section(solids, planform.Datum.xy(), offset=75.0)

    (profile,) = outline.profiles
    assert profile.holes == []
    # A strip of constant thickness has the area thickness x length of its middle line (Pappus).
    middle = 2 * 4.5 + 2 * 6.5 + 26.0 - 4 * (2 - math.pi / 2) * bend
    assert outline.area == pytest.approx(thickness * middle, rel=1e-9)
    # Left and right side differ from the middle line by turns that cancel out; the two ends are cut.
    assert outline.length == pytest.approx(2 * middle + 2 * thickness, rel=1e-9)
    width, height = outline.bounds[1] - outline.bounds[0]
    assert (width, height) == pytest.approx((35.0, 7.5), rel=1e-9)
    radii = sorted(
        curve.radius for curve in profile.outer.curves if isinstance(curve, planform.Arc)
    )
    assert radii == pytest.approx([inner_radius] * 4 + [inner_radius + thickness] * 4, rel=1e-9)
    assert len(profile.outer.curves) == 8 + 12

    shadow = planform.silhouette(solids, planform.Datum.xy())
    assert shadow.area == pytest.approx(outline.area, rel=1e-9)
    assert shadow.digest == outline.digest


@pytest.fixture(scope="module")
def same_in_three_units(tmp_path_factory: pytest.TempPathFactory) -> dict[str, planform.Model]:
    """One assembly, saved in three units."""
    folder = tmp_path_factory.mktemp("units")
    bracket = kernel.cut(
        kernel.prism([(0, 0), (90, 0), (90, 20), (30, 20), (30, 60), (0, 60)], 8.0),
        [kernel.through_hole(15.0, 45.0, 9.0, 8.0), kernel.through_hole(70.0, 10.0, 6.6, 8.0)],
    )
    ring = kernel.moved(kernel.torus(25.0, 4.0), 50.0, 50.0, 30.0)
    peg = kernel.moved(kernel.turned(kernel.cone(8.0, 3.0, 40.0), (1, 2, 3), 0.7), 10.0, 90.0, 5.0)
    parts = [("bracket", bracket), ("ring", ring), ("peg", peg)]
    return {
        word: planform.load(
            kernel.write_step(parts, folder / f"{word}.step", unit=keyword, assembly="set")
        )
        for word, keyword in (("mm", "MM"), ("inch", "INCH"), ("m", "M"))
    }


def test_the_unit_of_the_file_is_told(same_in_three_units: dict[str, planform.Model]) -> None:
    assert {word: model.unit for word, model in same_in_three_units.items()} == {
        "mm": "mm",
        "inch": "inch",
        "m": "m",
    }


@pytest.mark.parametrize("plane", ["xy", "xz", "yz"])
def test_the_unit_of_the_file_does_not_matter(
    same_in_three_units: dict[str, planform.Model], plane: str
) -> None:
    datum = getattr(planform.Datum, plane)()
    for number, name in enumerate(("bracket", "ring", "peg")):
        outlines = {
            word: planform.silhouette(model.solids[number], datum)
            for word, model in same_in_three_units.items()
        }
        metric = outlines.pop("mm")
        assert metric.area > 100.0
        for other in outlines.values():
            assert other.area == pytest.approx(metric.area, rel=1e-9), name
            assert other.length == pytest.approx(metric.length, rel=1e-9), name
            assert other.bounds == pytest.approx(metric.bounds, rel=1e-9, abs=1e-7), name
            contours = zip(all_contours(metric), all_contours(other), strict=True)
            for first, second in contours:
                assert second.area == pytest.approx(first.area, rel=1e-9), name
                kinds = [type(curve) for curve in first.curves]
                assert [type(curve) for curve in second.curves] == kinds, name


def all_contours(outline: planform.ProfileSet) -> list[planform.Contour]:
    contours = [
        contour for profile in outline.profiles for contour in (profile.outer, *profile.holes)
    ]
    return sorted(contours, key=lambda contour: contour.area)
