"""SVG, judged by svgelements and by an XML parser: area, orientation, size in mm, names."""

from __future__ import annotations

import itertools
import math
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
import svgelements
from planform import Contour, GeometryError, Line, ProfileSet, Spline
from sample_sets import (
    PLATE_AREA,
    SAMPLES,
    half_ellipse,
    one,
    parabola,
    plate,
    polygon,
    rational_disc,
)

NAMESPACE = "{http://www.w3.org/2000/svg}"
NODES, WEIGHTS = np.polynomial.legendre.leggauss(12)


def paths_of(profiles: ProfileSet, folder: Path) -> dict[str, list[svgelements.Path]]:
    """The shapes of each group as svgelements reads them, in user units.

    Its factor from mm to pixels has six digits only, so that the page's transform is left out; the tests
    of the page see to that.
    """
    path = profiles.to_svg(folder / "a.svg")
    document = svgelements.SVG.parse(str(path), reify=False)
    groups = [group for group in document if isinstance(group, svgelements.Group)]
    return {
        group.id: [in_user_units(shape) for shape in group.select() if hasattr(shape, "d")]
        for group in groups
    }


def in_user_units(shape: svgelements.Shape) -> svgelements.Path:
    return svgelements.Path(*shape.segments(transformed=False))


def signed_area(path: svgelements.Path) -> float:
    """Green's theorem in SVG's own axes (y down): arcs in closed form, Bezier curves by quadrature."""
    total = 0.0
    for segment in path:
        if isinstance(segment, svgelements.Move):
            continue
        start, end = segment.start, segment.end
        if isinstance(segment, svgelements.Arc):
            # Chord, then the circular or elliptical segment: rx ry / 2 (angle - sin angle).
            angle = float(segment.sweep)
            rx, ry = float(segment.rx), float(segment.ry)
            total += (start.x * end.y - end.x * start.y) / 2
            total += rx * ry * (angle - math.sin(angle)) / 2
        elif isinstance(segment, svgelements.QuadraticBezier | svgelements.CubicBezier):
            total += bezier_area(segment)
        else:
            total += (start.x * end.y - end.x * start.y) / 2
    return total


def bezier_area(segment: svgelements.QuadraticBezier | svgelements.CubicBezier) -> float:
    poles = [np.array([point.x, point.y]) for point in segment]
    total = 0.0
    for node, weight in zip((NODES + 1) / 2, WEIGHTS / 2, strict=True):
        point = casteljau(poles, node)
        steps = [(len(poles) - 1) * (b - a) for a, b in itertools.pairwise(poles)]
        derivative = casteljau(steps, node)
        total += weight * (point[0] * derivative[1] - point[1] * derivative[0]) / 2
    return float(total)


def casteljau(poles: list[np.ndarray], t: float) -> np.ndarray:
    while len(poles) > 1:
        poles = [(1 - t) * a + t * b for a, b in itertools.pairwise(poles)]
    return poles[0]


@pytest.mark.parametrize("name", SAMPLES)
def test_lines_and_arcs_are_exact(name: str, tmp_path: Path) -> None:
    (shape,) = paths_of(one(SAMPLES[name].contour), tmp_path)["cut-outer"]
    # A circle element is drawn by the parser as four arcs in its own direction.
    assert abs(signed_area(shape)) == pytest.approx(SAMPLES[name].area, rel=1e-9)


@pytest.mark.parametrize("turn", [0.0, 0.7, 2.5, -1.9])
def test_elliptical_arcs_are_exact(turn: float, tmp_path: Path) -> None:
    (shape,) = paths_of(one(half_ellipse(20, 8, turn)), tmp_path)["cut-outer"]
    assert abs(signed_area(shape)) == pytest.approx(math.pi * 20 * 8 / 2, rel=1e-9)
    left, top, right, bottom = shape.bbox()
    lower, upper = half_ellipse(20, 8, turn).bounds
    assert (left, -bottom) == pytest.approx(tuple(lower), abs=1e-6)
    assert (right, -top) == pytest.approx(tuple(upper), abs=1e-6)


def test_direction_and_y_up(tmp_path: Path) -> None:
    """An outer contour runs counter-clockwise as seen: negative in axes whose y points down."""
    groups = paths_of(plate(), tmp_path)
    (slot,) = (shape for shape in groups["cut-inner"] if shape.bbox()[0] > 70)
    (rectangle,) = (shape for shape in groups["cut-outer"] if signed_area(shape) < -5000)
    assert signed_area(rectangle) == pytest.approx(-120 * 80, rel=1e-12)
    assert signed_area(slot) == pytest.approx(240 + 36 * math.pi, rel=1e-9)
    # The mark stands at the lower edge of the plate, so far down on the page.
    assert groups["mark"][0].bbox()[3] == pytest.approx(-5, abs=1e-9)


def test_plate(tmp_path: Path) -> None:
    groups = paths_of(plate(), tmp_path)
    assert {name: len(shapes) for name, shapes in groups.items()} == {
        "cut-outer": 2,
        "cut-inner": 2,
        "mark": 1,
    }
    outer, inner = (
        sum(abs(signed_area(shape)) for shape in groups[name])
        for name in ("cut-outer", "cut-inner")
    )
    assert outer - inner == pytest.approx(PLATE_AREA, rel=1e-9)


def test_polynomial_splines_are_exact(tmp_path: Path) -> None:
    (shape,) = paths_of(one(parabola(30, 9)), tmp_path)["cut-outer"]
    assert abs(signed_area(shape)) == pytest.approx(2 / 3 * 30 * 9, rel=1e-9)
    cubic = Spline(
        3, [0, 0, 0, 0, 1, 1, 3, 3, 3, 3], [(30, 0), (28, 6), (20, 12), (15, -3), (2, 6), (0, 0)]
    )
    contour = Contour([cubic, Line((0, 0), (0, -9)), Line((0, -9), (30, 0))])
    (shape,) = paths_of(one(contour), tmp_path)["cut-outer"]
    assert sum(isinstance(segment, svgelements.CubicBezier) for segment in shape) == 2
    assert abs(signed_area(shape)) == pytest.approx(contour.area, rel=1e-9)


def test_other_splines_stay_within_tolerance(tmp_path: Path) -> None:
    contour = rational_disc(10)
    profiles = one(contour)
    (shape,) = paths_of(profiles, tmp_path)["cut-outer"]
    assert abs(abs(signed_area(shape)) - 100 * math.pi) < profiles.tolerance * contour.length


def test_page_is_in_millimetres() -> None:
    root = ElementTree.fromstring(one(polygon((10, 20), (40, 20), (10, 60))).to_svg())
    assert root.tag == f"{NAMESPACE}svg"
    assert (root.get("width"), root.get("height")) == ("30.0mm", "40.0mm")
    assert root.get("viewBox") == "10.0 -60.0 30.0 40.0"


@pytest.mark.parametrize(
    ("name", "title"),
    [
        ("../../x", "../../x"),
        ('"><script>alert(1)</script>', '"><script>alert(1)</script>'),
        ("nest \N{BIRD} box", "nest \N{BIRD} box"),
        ("bell \x07 null \x00", "bell \N{REPLACEMENT CHARACTER} null \N{REPLACEMENT CHARACTER}"),
        ("x" * 300, "x" * 300),
        ("\ufffe", "\N{REPLACEMENT CHARACTER}"),
        ("'&amp;]]>", "'&amp;]]>"),
    ],
)
def test_names_are_escaped(name: str, title: str) -> None:
    root = ElementTree.fromstring(plate().with_name(name).to_svg())
    assert root.findtext(f"{NAMESPACE}title") == title
    assert root.findall(f".//{NAMESPACE}script") == []


def test_empty_set() -> None:
    root = ElementTree.fromstring(ProfileSet().to_svg())
    assert root.get("viewBox") == "0.0 -1.0 1.0 1.0"
    assert [len(group) for group in root] == [0, 0, 0]


def test_strokes() -> None:
    assert 'stroke-width="0.0254"' in plate().to_svg()
    assert 'stroke-width="0.5"' in plate().to_svg(stroke_width=0.5)
    with pytest.raises(GeometryError, match="stroke width"):
        plate().to_svg(stroke_width=math.nan)


def test_notebook_picture_has_strokes_one_can_see() -> None:
    assert 'stroke-width="0.3"' in plate()._repr_svg_()
    ElementTree.fromstring(ProfileSet()._repr_svg_())
