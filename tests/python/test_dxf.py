"""DXF, judged by ezdxf: nothing to complain of, and the same area, length and layers to 1e-9."""

from __future__ import annotations

import itertools
import math
from collections import Counter
from pathlib import Path

import ezdxf.entities
import numpy as np
import pytest
from drawing_judges import audited, measure_dxf
from ezdxf.lldxf.encoding import decode_dxf_unicode
from planform import (
    Contour,
    EllipticalArc,
    GeometryError,
    Line,
    Mark,
    Profile,
    ProfileSet,
    Spline,
    WriteError,
)
from sample_sets import (
    PLATE_AREA,
    PLATE_LENGTH,
    SAMPLES,
    half_ellipse,
    one,
    parabola,
    parabola_length,
    plate,
    rational_disc,
)

NODES, WEIGHTS = np.polynomial.legendre.leggauss(40)


def integrals(entity: ezdxf.entities.DXFEntity) -> tuple[np.ndarray, np.ndarray, float, float]:
    """Start, end, swept area (Green's theorem) and length of an entity, by Gauss quadrature of what
    ezdxf reads from it."""
    if entity.dxftype() == "LINE":
        start, end = np.array(entity.dxf.start)[:2], np.array(entity.dxf.end)[:2]
        return (
            start,
            end,
            float(start[0] * end[1] - start[1] * end[0]) / 2,
            float(np.linalg.norm(end - start)),
        )
    if entity.dxftype() == "SPLINE":
        tool = entity.construction_tool()
        knots = sorted(set(tool.knots()))

        def evaluate(t: float) -> tuple[np.ndarray, np.ndarray]:
            point, derivative = tool.derivative(t, 1)
            return np.array(point)[:2], np.array(derivative)[:2]

    else:
        assert entity.dxftype() == "ELLIPSE"
        tool = entity.construction_tool()
        span = (tool.end_param - tool.start_param) % (2 * math.pi) or 2 * math.pi
        knots = list(tool.start_param + np.linspace(0, span, 9))
        center, major, minor = (
            np.array(v)[:2] for v in (tool.center, tool.major_axis, tool.minor_axis)
        )

        def evaluate(t: float) -> tuple[np.ndarray, np.ndarray]:
            c, s = math.cos(t), math.sin(t)
            return center + c * major + s * minor, c * minor - s * major

    area = length = 0.0
    for first, last in itertools.pairwise(knots):
        for node, weight in zip(NODES, WEIGHTS, strict=True):
            point, derivative = evaluate((first + last) / 2 + node * (last - first) / 2)
            factor = weight * (last - first) / 2
            area += factor * (point[0] * derivative[1] - point[1] * derivative[0]) / 2
            length += factor * float(np.linalg.norm(derivative))
    return evaluate(knots[0])[0], evaluate(knots[-1])[0], area, length


@pytest.mark.parametrize("name", SAMPLES)
def test_lines_and_arcs_are_exact(name: str, tmp_path: Path) -> None:
    sample = SAMPLES[name]
    measured = measure_dxf(one(sample.contour).to_dxf(tmp_path / "a.dxf"))
    assert measured.area == pytest.approx(sample.area, rel=1e-9)
    assert measured.length == pytest.approx(sample.length, rel=1e-9)
    assert measured.layers == Counter({"CUT_OUTER": 1})


def test_plate_with_holes_island_and_mark(tmp_path: Path) -> None:
    profiles = plate()
    measured = measure_dxf(profiles.to_dxf(tmp_path / "plate.dxf"))
    mark_area, mark_length = 50.0, 20 + math.sqrt(200)
    assert measured.area - mark_area == pytest.approx(PLATE_AREA, rel=1e-9)
    assert measured.length - mark_length == pytest.approx(PLATE_LENGTH, rel=1e-9)
    assert profiles.area == pytest.approx(PLATE_AREA, rel=1e-12)
    assert measured.layers == Counter({"CUT_OUTER": 2, "CUT_INNER": 2, "MARK": 1})
    assert measured.circles == [20, 50]


@pytest.mark.parametrize(
    ("unit", "size", "units", "measurement"), [("mm", 1, 4, 1), ("inch", 25.4, 1, 0)]
)
def test_units(unit: str, size: float, units: int, measurement: int, tmp_path: Path) -> None:
    path = plate().to_dxf(tmp_path / "plate.dxf", unit=unit)
    header = audited(path).header
    assert header["$ACADVER"] == "AC1015"
    assert (header["$INSUNITS"], header["$MEASUREMENT"]) == (units, measurement)
    assert header["$EXTMIN"][:2] == pytest.approx((0, 0), abs=1e-12)
    assert header["$EXTMAX"][:2] == pytest.approx((120 / size, 80 / size), rel=1e-14)
    measured = measure_dxf(path)
    assert (measured.area - 50 / size**2) * size**2 == pytest.approx(PLATE_AREA, rel=1e-9)
    assert measured.circles == pytest.approx([20 / size, 50 / size], rel=1e-15)


@pytest.mark.parametrize("turn", [0.0, 0.7, 2.5, -1.9])
@pytest.mark.parametrize("unit", ["mm", "inch"])
def test_exact_half_ellipse(turn: float, unit: str, tmp_path: Path) -> None:
    factor = 25.4 if unit == "inch" else 1.0
    path = one(half_ellipse(20, 8, turn)).to_dxf(tmp_path / "a.dxf", curves="exact", unit=unit)
    entities = list(audited(path).modelspace())
    assert [entity.dxftype() for entity in entities] == ["ELLIPSE", "LINE"]
    (start, end, area, _), (line_start, line_end, line_area, _) = map(integrals, entities)
    assert np.linalg.norm(end - line_start) * factor < 1e-9
    assert np.linalg.norm(line_end - start) * factor < 1e-9
    assert (area + line_area) * factor**2 == pytest.approx(math.pi * 20 * 8 / 2, rel=1e-9)


def test_exact_full_ellipse_is_one_entity(tmp_path: Path) -> None:
    whole = Contour([EllipticalArc((3, 4), (0, 20), 0.3, 1.0, 2 * math.pi)])
    (entity,) = audited(one(whole).to_dxf(tmp_path / "a.dxf", curves="exact")).modelspace()
    assert entity.dxftype() == "ELLIPSE"
    _, _, area, length = integrals(entity)
    assert area == pytest.approx(math.pi * 20 * 6, rel=1e-9)
    assert length == pytest.approx(whole.length, rel=1e-9)


def test_exact_clockwise_ellipse_covers_the_same_arc(tmp_path: Path) -> None:
    """A hole runs clockwise; the format's ellipses don't."""
    hole = half_ellipse(20, 8).reversed()
    assert hole.area < 0
    profiles = ProfileSet(
        [type(plate().profiles[0])(SAMPLES["slot"].contour, [hole], validate=False)]
    )
    entities = list(audited(profiles.to_dxf(tmp_path / "a.dxf", curves="exact")).modelspace())
    (ellipse,) = (entity for entity in entities if entity.dxftype() == "ELLIPSE")
    assert ellipse.dxf.layer == "CUT_INNER"
    _, _, area, _ = integrals(ellipse)
    assert area == pytest.approx(math.pi * 20 * 8 / 2, rel=1e-9)


def test_exact_splines(tmp_path: Path) -> None:
    width, height = 30.0, 9.0
    path = one(parabola(width, height)).to_dxf(tmp_path / "a.dxf", curves="exact")
    arch, chord = audited(path).modelspace()
    assert arch.dxftype() == "SPLINE"
    start, end, area, length = integrals(arch)
    assert np.linalg.norm(end - integrals(chord)[0]) < 1e-9
    assert np.linalg.norm(start - integrals(chord)[1]) < 1e-9
    assert area == pytest.approx(2 / 3 * width * height, rel=1e-9)
    assert length == pytest.approx(parabola_length(width, height), rel=1e-9)

    disc = one(rational_disc(10)).to_dxf(tmp_path / "b.dxf", curves="exact")
    (entity,) = audited(disc).modelspace()
    assert list(entity.weights) == pytest.approx([1, math.sqrt(0.5)] * 4 + [1], rel=1e-15)
    _, _, area, length = integrals(entity)
    assert area == pytest.approx(100 * math.pi, rel=1e-9)
    assert length == pytest.approx(20 * math.pi, rel=1e-9)


@pytest.mark.parametrize("tolerance", [0.1, 0.01, 0.001])
def test_arcs_stay_within_tolerance(tolerance: float, tmp_path: Path) -> None:
    for contour in (half_ellipse(20, 8, 0.4), parabola(30, 9), rational_disc(10)):
        path = one(contour).to_dxf(tmp_path / "a.dxf", tolerance=tolerance)
        measured = measure_dxf(path)
        assert abs(measured.area - contour.area) < tolerance * contour.length
        assert abs(measured.length - contour.length) < 4 * tolerance * contour.length


def test_finer_tolerance_comes_closer(tmp_path: Path) -> None:
    contour = half_ellipse(20, 8)
    errors = [
        abs(measure_dxf(one(contour).to_dxf(tmp_path / "a.dxf", tolerance=t)).area - contour.area)
        for t in (0.1, 0.001)
    ]
    assert errors[1] < errors[0] / 10


def test_an_ellipse_too_flat_for_the_format_becomes_arcs(tmp_path: Path) -> None:
    flat = EllipticalArc((0, 0), (10, 0), 1e-7, 0, math.pi)
    contour = Contour([flat, Line(flat.end, (0, -5)), Line((0, -5), flat.start)])
    kinds = {
        e.dxftype()
        for e in audited(one(contour).to_dxf(tmp_path / "a.dxf", curves="exact")).modelspace()
    }
    assert "ELLIPSE" not in kinds
    assert "LINE" in kinds


def test_empty_set(tmp_path: Path) -> None:
    assert len(audited(ProfileSet().to_dxf(tmp_path / "empty.dxf")).modelspace()) == 0


def test_high_degree_spline(tmp_path: Path) -> None:
    """Degree 5 with an inner knot: what other programs hand over."""
    knots = [0] * 6 + [0.4] + [1] * 6
    poles = [(30, 0), (28, 6), (20, 12), (15, 3), (10, 12), (2, 6), (0, 0)]
    contour = Contour([Spline(5, knots, poles), Line((0, 0), (30, 0))])
    spline, _ = audited(one(contour).to_dxf(tmp_path / "a.dxf", curves="exact")).modelspace()
    assert integrals(spline)[2] == pytest.approx(contour.area, rel=1e-9)


def test_text_and_file_are_the_same_bytes(tmp_path: Path) -> None:
    path = plate().to_dxf(tmp_path / "plate.dxf")
    assert path.read_bytes() == plate().to_dxf().encode()
    assert [entry.name for entry in tmp_path.iterdir()] == ["plate.dxf"]


@pytest.mark.parametrize("option", ["curves", "unit"])
def test_wrong_words_list_the_valid_ones(option: str) -> None:
    with pytest.raises(GeometryError) as caught:
        plate().to_dxf(**{option: "furlong"})
    assert caught.value.kind == "unknown_option"
    valid = {"curves": "'arcs', 'exact'", "unit": "'mm', 'inch'"}[option]
    assert valid in str(caught.value)


@pytest.mark.parametrize("tolerance", [-1.0, math.nan, math.inf])
def test_tolerances_that_are_none(tolerance: float) -> None:
    with pytest.raises(GeometryError, match="tolerance") as caught:
        plate().to_dxf(tolerance=tolerance)
    assert caught.value.kind == "invalid_argument"


def test_a_folder_that_is_missing_is_named(tmp_path: Path) -> None:
    with pytest.raises(WriteError, match=r"missing.*No such file") as caught:
        plate().to_dxf(tmp_path / "missing" / "plate.dxf")
    assert caught.value.kind == "file_unwritable"
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("curves", ["arcs", "exact"])
def test_entities_carry_the_names_of_profiles_and_marks(tmp_path: Path, curves: str) -> None:
    ellipse = Contour([EllipticalArc((0, 0), (20, 0), 0.5)])
    names = ["plate", "Vögel 鳥", r"\U+0041", "two\nlines", "x" * 300, "bird 🐦"]
    profiles = ProfileSet(
        [Profile(ellipse, name=name) for name in names], [Mark(ellipse, "raised 8")]
    )
    profiles.to_dxf(tmp_path / "names.dxf", curves=curves)
    found = [
        (entity.dxf.layer, decode_dxf_unicode(entity.get_xdata("PLANFORM")[0].value))
        for entity in audited(tmp_path / "names.dxf").modelspace()
    ]
    expected = ["plate", "Vögel 鳥", r"\U+0041", "two lines", "x" * 255, "bird �"]
    assert found == [("MARK", "raised 8"), *(("CUT_OUTER", name) for name in expected)]
    unnamed = ProfileSet([Profile(ellipse)]).to_dxf()
    assert "1001" not in unnamed.split("ENTITIES")[1]
