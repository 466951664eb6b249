"""DXF in: drawings made by ezdxf with every entity and placement, against closed forms to 1e-9."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from pathlib import Path

import ezdxf
import ezdxf.document
import numpy as np
import planform
import planform.drawings.dxf_reader
import planform.drawings.source_file
import pytest
from dxf_documents import EXACT, SQUARE, drawing, read
from ezdxf.layouts import BaseLayout
from ezdxf.math import Matrix44, Vec3
from planform import GeometryError
from sample_sets import parabola_length


def total_length(loose: planform.LooseCurves) -> float:
    return sum(curve.curve.length for curve in loose.curves)


# --- single entities: what is drawn, area enclosed (None: open), length ---------------------------


def lines(space: BaseLayout) -> None:
    for start, end in itertools.pairwise([*SQUARE, SQUARE[0]]):
        space.add_line((*start, 7), (*end, -3))  # heights don't count


def circle(space: BaseLayout) -> None:
    space.add_circle((3, 4, 5), 6)


def arcs(space: BaseLayout) -> None:
    space.add_arc((1, 2), 5, 90, 270)
    space.add_arc((1, 2), 5, 270, 450)


def arc_across_zero(space: BaseLayout) -> None:
    space.add_arc((1, 2), 5, 350, 20)


def ellipse(space: BaseLayout) -> None:
    space.add_ellipse((2, 3), (6, 3), 0.4)


def half_ellipse(space: BaseLayout) -> None:
    space.add_ellipse((0, 0), (6, 0), 0.5, math.pi, math.tau)
    space.add_line((-6, 0), (6, 0))


def light_polyline(space: BaseLayout) -> None:
    # Two half circles of radius 3 (bulge 1) on the ends of a rectangle 10 by 6.
    space.add_lwpolyline([(0, 0, 0), (10, 0, 1), (10, 6, 0), (0, 6, 1)], "xyb", close=True)


def clockwise_polyline(space: BaseLayout) -> None:
    # A quarter circle that is cut out of a square's corner: bulge of a quarter is tan(pi / 8).
    bulge = -math.tan(math.pi / 8)
    space.add_lwpolyline(
        [(0, 0, 0), (10, 0, 0), (10, 6, bulge), (6, 10, 0), (0, 10, 0)], "xyb", close=True
    )


def old_polyline(space: BaseLayout) -> None:
    polyline = space.add_polyline2d([(0, 0), (10, 0), (10, 6), (0, 6)], close=True)
    polyline.vertices[1].dxf.bulge = 1
    polyline.vertices[3].dxf.bulge = 1


def polyline_in_space(space: BaseLayout) -> None:
    space.add_polyline3d([(x, y, x * y) for x, y in SQUARE], close=True)


def parabola_spline(space: BaseLayout) -> None:
    space.add_spline(degree=2)
    entity = space[-1]
    entity.control_points = [(9, 0), (4.5, 8), (0, 0)]
    entity.knots = [0, 0, 0, 1, 1, 1]
    space.add_line((0, 0), (9, 0))


def rational_circle(space: BaseLayout) -> None:
    # Nine poles, weights 1 and sqrt(1/2): Piegl, Tiller, "The NURBS Book", section 7.5.
    entity = space.add_spline(degree=2)
    corners = [(1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1), (1, 0)]
    entity.control_points = [(4 * x, 4 * y, 0) for x, y in corners]
    entity.knots = [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4]
    entity.weights = [1, math.sqrt(0.5)] * 4 + [1]


def hatch_of_edges(space: BaseLayout) -> None:
    hatch = space.add_hatch()
    path = hatch.paths.add_edge_path()
    path.add_line((0, 0), (10, 0))
    path.add_arc((10, 3), 3, 270, 90)
    path.add_line((10, 6), (0, 6))
    path.add_ellipse((0, 3), (0, 3), 0.5, 0, 180)


def hatch_of_polylines(space: BaseLayout) -> None:
    hatch = space.add_hatch()
    hatch.paths.add_polyline_path([(0, 0, 0), (10, 0, 1), (10, 6, 0), (0, 6, 1)], is_closed=True)


CUT = {"*": "cut"}
"""Whatever is drawn is cut, also the boundary of a hatch."""


def half_perimeter(a: float, b: float) -> float:
    """Half the circumference of an ellipse, by the series of Gauss and Kummer (it ends to 1e-16 here)."""
    h = ((a - b) / (a + b)) ** 2
    term, total = 1.0, 1.0
    for n in range(1, 60):
        term *= (0.5 - n + 1) / n
        total += term**2 * h**n
    return math.pi * (a + b) * total / 2


FORMS: dict[Callable[[BaseLayout], None], tuple[float | None, float]] = {
    lines: (100, 40),
    circle: (36 * math.pi, 12 * math.pi),
    arcs: (25 * math.pi, 10 * math.pi),
    arc_across_zero: (None, 5 * math.pi / 6),
    ellipse: (math.pi * 45 * 0.4, 2 * half_perimeter(math.sqrt(45), 0.4 * math.sqrt(45))),
    half_ellipse: (math.pi * 9, half_perimeter(6, 3) + 12),
    light_polyline: (60 + 9 * math.pi, 20 + 6 * math.pi),
    clockwise_polyline: (100 - 4 * math.pi, 32 + 2 * math.pi),
    old_polyline: (60 + 9 * math.pi, 20 + 6 * math.pi),
    polyline_in_space: (100, 40),
    # Two thirds of base by height; arc length in closed form.
    parabola_spline: (24, 9 + parabola_length(9, 4)),
    rational_circle: (16 * math.pi, 8 * math.pi),
    hatch_of_edges: (
        60 + 4.5 * math.pi + 2.25 * math.pi,
        20 + 3 * math.pi + half_perimeter(3, 1.5),
    ),
    hatch_of_polylines: (60 + 9 * math.pi, 20 + 6 * math.pi),
}


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.__name__)
def test_entity(form: Callable[[BaseLayout], None], tmp_path: Path) -> None:
    area, length = FORMS[form]
    document = drawing()
    form(document.modelspace())
    loose = read(document, tmp_path)
    assert total_length(loose) == pytest.approx(length, rel=EXACT)
    assert {item.kind for item in loose.left_over} <= {"off_plane"}
    if area is not None:
        # The boundary of a hatch is a cut only if a role says so.
        assert loose.profile_set(roles=CUT).area == pytest.approx(area, rel=EXACT)
        found = planform.drawing_findings(loose.close(roles=CUT))
        assert {finding.rule for finding in found} <= {"off_plane"}


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.__name__)
def test_entity_in_a_stretched_mirrored_block(
    form: Callable[[BaseLayout], None], tmp_path: Path
) -> None:
    """The area of an affine image is that of the original times the determinant."""
    area, _ = FORMS[form]
    document = drawing()
    form(document.blocks.new("PART", base_point=(1, 1)))
    document.modelspace().add_blockref(
        "PART", (30, -20), dxfattribs={"xscale": -2.5, "yscale": 0.7, "rotation": 33}
    )
    loose = read(document, tmp_path)
    kinds = [item.kind for item in loose.left_over if item.kind != "off_plane"]
    assert kinds == ["block", "uneven"]
    if area is not None:
        assert loose.profile_set(roles=CUT).area == pytest.approx(area * 2.5 * 0.7, rel=EXACT)


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.__name__)
def test_entity_seen_from_below(form: Callable[[BaseLayout], None], tmp_path: Path) -> None:
    """A half turn about the x axis (ezdxf turns the entities) mirrors the drawing and keeps its size."""
    area, length = FORMS[form]
    document = drawing()
    form(document.modelspace())
    for entity in document.modelspace():
        if entity.dxftype() != "HATCH" or form is hatch_of_polylines:
            entity.transform(Matrix44.x_rotate(math.pi) * Matrix44.translate(5, 6, 7))
    if form is hatch_of_edges:
        return  # ezdxf does not turn its elliptic edges: see the next test
    loose = read(document, tmp_path)
    assert total_length(loose) == pytest.approx(length, rel=EXACT)
    if area is not None:
        assert loose.profile_set(roles=CUT).area == pytest.approx(area, rel=EXACT)


def hatch_of_splines(space: BaseLayout) -> None:
    """The parabola y = 4 h x (b - x) / b^2 over its chord, b = 9, h = 4, off the axes."""
    path = space.add_hatch().paths.add_edge_path()
    path.add_spline(
        control_points=[(2, 1), (6.5, 9), (11, 1)], degree=2, knot_values=[0, 0, 0, 1, 1, 1]
    )
    path.add_line((11, 1), (2, 1))


def hatch_of_clockwise_edges(space: BaseLayout) -> None:
    """As hatch_of_edges, but arcs and ellipses are given clockwise."""
    path = space.add_hatch().paths.add_edge_path()
    path.add_line((0, 6), (10, 6))
    path.add_arc((10, 3), 3, 270, 90, ccw=False)
    path.add_line((10, 0), (0, 0))
    path.add_ellipse((0, 3), (0, 3), 0.5, 0, 180, ccw=False)


@pytest.mark.parametrize(
    ("form", "area", "right"),
    [
        (hatch_of_edges, FORMS[hatch_of_edges][0], 13),
        (hatch_of_clockwise_edges, FORMS[hatch_of_edges][0], 13),
        (hatch_of_polylines, FORMS[hatch_of_polylines][0], 13),
        (hatch_of_splines, 24, 11),
    ],
)
def test_hatch_seen_from_below_or_aslant(
    form: Callable[[BaseLayout], None], area: float, right: float, tmp_path: Path
) -> None:
    """By the arbitrary axis algorithm of the DXF reference the x axis of the plane with the normal
    (0, 0, -1) is -x, its y axis stays; with (0, -sin, cos) x stays and y shrinks by the cosine."""
    for normal, first, last, share in (
        ((0, 0, 1), None, right, 1.0),
        ((0, 0, -1), -right, None, 1.0),
        ((0, -0.6, 0.8), None, right, 0.8),
        ((0, 0.6, -0.8), -right, None, 0.8),
    ):
        document = drawing()
        form(document.modelspace())
        (hatch,) = document.modelspace()
        hatch.dxf.extrusion, hatch.dxf.elevation = normal, (0, 0, 5)
        loose = read(document, tmp_path)
        assert {item.kind for item in loose.left_over} <= {"off_plane"}
        assert loose.profile_set(roles=CUT).area == pytest.approx(area * share, rel=EXACT), normal
        (x0, _), (x1, _) = loose.bounds
        assert first is None or x0 == pytest.approx(first, rel=EXACT), normal
        assert last is None or x1 == pytest.approx(last, rel=EXACT), normal


def test_tilted_circle_is_an_ellipse(tmp_path: Path) -> None:
    """Seen from above, a disc tilted by 60 degrees has half its area (cosine)."""
    document = drawing()
    tilt = Vec3(0, -math.sin(math.pi / 3), math.cos(math.pi / 3))
    document.modelspace().add_circle((0, 0, 9), 4, dxfattribs={"extrusion": tilt})
    profiles = read(document, tmp_path).profile_set()
    assert profiles.area == pytest.approx(8 * math.pi, rel=EXACT)
    edge_on = drawing()
    edge_on.modelspace().add_circle((0, 0), 4, dxfattribs={"extrusion": (1, 0, 0)})
    (unread,) = read(edge_on, tmp_path).left_over
    assert unread.kind == "unread" and "CIRCLE" in unread.entity


def test_circle_under_two_scales_is_an_exact_ellipse(tmp_path: Path) -> None:
    document = drawing()
    document.blocks.new("B").add_circle((0, 0), 1)
    document.modelspace().add_blockref("B", (0, 0), dxfattribs={"xscale": 6, "yscale": 3})
    (loose,) = read(document, tmp_path).curves
    assert isinstance(loose.curve, planform.EllipticalArc)
    assert np.hypot(*loose.curve.major) == pytest.approx(6, rel=EXACT)
    assert loose.curve.ratio == pytest.approx(0.5, rel=EXACT)


def test_nested_blocks_and_arrays(tmp_path: Path) -> None:
    """2 x 3 instances of a block that holds two discs of radius 1 in blocks scaled by 2."""
    document = drawing()
    document.blocks.new("DISC").add_circle((0, 0), 1, dxfattribs={"layer": "0"})
    pair = document.blocks.new("PAIR")
    pair.add_blockref("DISC", (0, 0), dxfattribs={"xscale": 2, "yscale": 2})
    pair.add_blockref("DISC", (5, 0), dxfattribs={"xscale": -2, "yscale": 2, "rotation": 77})
    document.modelspace().add_blockref(
        "PAIR",
        (100, 50),
        dxfattribs={
            "layer": "HOLES", "row_count": 2, "column_count": 3, "row_spacing": 20,
            "column_spacing": 30, "rotation": 90,
        },
    )  # fmt: skip
    loose = read(document, tmp_path)
    assert len(loose) == 12
    assert {curve.layer for curve in loose.curves} == {"0"} or {
        curve.layer for curve in loose.curves
    } == {"HOLES"}
    assert loose.profile_set().area == pytest.approx(12 * 4 * math.pi, rel=EXACT)
    centers = sorted(
        (round(c.curve.center[0], 6), round(c.curve.center[1], 6)) for c in loose.curves
    )
    # Columns go along the turned x axis, which is y; rows along -x.
    assert centers == sorted(
        (100 - 20 * row, 50 + 30 * column + shift)
        for row in range(2)
        for column in range(3)
        for shift in (0, 5)
    )


def test_fit_points_alone(tmp_path: Path) -> None:
    """The spline passes through the points (there is no closed form for what lies between)."""
    document = drawing()
    points = [(0, 0), (10, 5), (20, -3), (30, 8)]
    document.modelspace().add_spline(points)
    (loose,) = read(document, tmp_path).curves
    sampled = loose.curve.points(1e-6)
    for point in points:
        assert np.min(np.hypot(*(sampled - point).T)) < 1e-2
    assert loose.curve.start == pytest.approx(points[0], abs=1e-9)
    assert loose.curve.end == pytest.approx(points[-1], abs=1e-9)


def test_periodic_spline_is_clamped_exactly(tmp_path: Path) -> None:
    """Uniform knots that run over both ends; the judge is ezdxf's own evaluation."""
    document = drawing()
    poles = [(10 * math.cos(a), 7 * math.sin(a), 0) for a in np.arange(6) * math.tau / 6]
    entity = document.modelspace().add_spline(degree=3)
    entity.control_points = [*poles, *poles[:3]]
    entity.knots = list(range(-3, 10))
    entity.closed = True
    tool = ezdxf.math.BSpline(
        entity.control_points, order=4, knots=[float(k + 3) for k in entity.knots]
    )
    (loose,) = read(document, tmp_path).curves
    low, high = loose.curve.domain
    for share in np.linspace(0, 1, 41):
        expected = tool.point(3 + 6 * share * (1 - 1e-15))
        assert loose.curve.point_at(low + share * (high - low)) == pytest.approx(
            (expected.x, expected.y), abs=1e-9
        )
    assert len(planform.close_contours([loose.curve]).contours) == 1


# --- roles ---------------------------------------------------------------------------------------


def test_roles_by_layer_and_colour(tmp_path: Path) -> None:
    document = drawing()
    document.layers.add("Engraving", color=5)
    space = document.modelspace()
    space.add_circle((0, 0), 20)
    space.add_circle((0, 0), 5, dxfattribs={"color": 1})
    space.add_circle((0, 9), 2, dxfattribs={"layer": "Engraving"})
    space.add_circle((0, 0), 40, dxfattribs={"layer": "frame"})
    loose = read(document, tmp_path)
    assert loose.roles() == ["cut", "cut", "mark", "cut"]
    rule = {"color:1": "mark", "Fr*": "ignore"}
    assert loose.roles(rule) == ["cut", "mark", "mark", "ignore"]
    profiles = loose.profile_set(roles=rule)
    assert (profiles.area, len(profiles.marks)) == (pytest.approx(400 * math.pi, rel=EXACT), 2)
    assert loose.roles({"color:5": "cut", "0": "outer"}) == ["outer", "outer", "cut", "cut"]
    with pytest.raises(GeometryError, match="valid: cut, outer, inner, mark, ignore"):
        loose.roles({"0": "burn"})


def test_layers_that_contradict_the_outlines_are_named(tmp_path: Path) -> None:
    document = drawing()
    document.modelspace().add_circle((0, 0), 20, dxfattribs={"layer": "CUT_INNER"})
    document.modelspace().add_circle((0, 0), 5, dxfattribs={"layer": "CUT_INNER"})
    (found,) = planform.drawing_findings(read(document, tmp_path).close())
    assert found.rule == "role" and "CUT_INNER" in found.text


# --- units ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("code", "size", "known"),
    [
        (None, 10, False),
        (0, 10, False),
        (1, 254, True),
        (4, 10, True),
        (6, 10_000, True),
        (3, 10, False),
    ],
)
def test_units(code: int | None, size: float, known: bool, tmp_path: Path) -> None:
    document = drawing(units=code or 0)
    document.modelspace().add_lwpolyline(SQUARE, close=True)
    if code is None:
        del document.header["$INSUNITS"]
    loose = read(document, tmp_path)
    assert loose.bounds[1] == pytest.approx((size, size), rel=EXACT)
    assert loose.unit_is_known == known
    found = planform.drawing_findings(loose.close())
    assert [f.rule for f in found] == ([] if known else ["drawing_unit"])
    if not known:
        assert "10 x 10 mm" in found[0].text and "254 x 254 mm" in found[0].text
        forced = planform.read_dxf(tmp_path / "drawing.dxf", unit="inch")
        assert forced.unit_is_known and forced.bounds[1] == pytest.approx((254, 254), rel=EXACT)
    with pytest.raises(GeometryError, match="valid: mm, inch"):
        planform.read_dxf(tmp_path / "drawing.dxf", unit="ell")


def test_text_points_and_hidden_layers_are_listed(tmp_path: Path) -> None:
    document = drawing()
    document.layers.add("OLD").off()
    space = document.modelspace()
    space.add_lwpolyline(SQUARE, close=True)
    space.add_text("bird").set_placement((3, 4))
    space.add_mtext("seed\\Ptray")
    space.add_point((5, 6))
    space.add_circle((0, 0), 1, dxfattribs={"layer": "OLD"})
    space.add_solid([(0, 0), (1, 0), (0, 1)])
    loose = read(document, tmp_path)
    assert [item.kind for item in loose.left_over] == ["text", "text", "point", "hidden", "unread"]
    assert loose.left_over[0].text == "bird" and loose.left_over[0].place == (3, 4)
    rules = sorted(f.rule for f in planform.drawing_findings(loose.close()))
    assert rules == ["left_over"] * 4 + ["unread"]
