"""The Python API: values, shapes of arrays, sequences, immutability, threads."""

from __future__ import annotations

import inspect
import math
import pickle
import threading
import time
from pathlib import Path

import kernel_models as kernel
import numpy as np
import planform
import pytest
from planform import (
    Arc,
    Contour,
    Datum,
    EllipticalArc,
    GeometryError,
    Line,
    Mark,
    Profile,
    ProfileSet,
    Provenance,
    Spline,
)
from sample_sets import PLATE_AREA, PLATE_LENGTH, circle, one, plate, polygon

SPLINE = Spline(2, [0, 0, 0, 2, 2, 2], [(0, 0), (1, 2), (2, 0)])
RATIONAL = Spline(2, [0, 0, 0, 1, 1, 1], [(1, 0), (1, 1), (0, 1)], [1, math.sqrt(0.5), 1])
CURVES = {
    "line": Line((1, 2), (4, 6)),
    "arc": Arc((1, 2), 3, 0.5, -2.0),
    "ellipse": EllipticalArc((1, 2), (3, 4), 0.5, 0.5, 4.0),
    "spline": SPLINE,
    "rational": RATIONAL,
}


@pytest.mark.parametrize("name", CURVES)
def test_every_curve_has_the_common_members(name: str) -> None:
    curve = CURVES[name]
    first, last = curve.domain
    assert curve.start.shape == curve.end.shape == (2,)
    assert curve.point_at(first).tolist() == curve.start.tolist()
    assert curve.point_at(last) == pytest.approx(curve.end, abs=1e-14)
    step = 1e-6
    middle = (first + last) / 2
    slope = (curve.point_at(middle + step) - curve.point_at(middle - step)) / (2 * step)
    assert curve.derivative_at(middle) == pytest.approx(slope, rel=1e-8, abs=1e-8)
    points = curve.points(0.001)
    assert points.shape[1] == 2
    chords = float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())
    assert chords <= curve.length * (1 + 1e-12)
    assert chords == pytest.approx(curve.length, rel=0.01)
    lower, upper = curve.bounds
    assert (points.min(axis=0) >= lower - 1e-12).all()
    assert (points.max(axis=0) <= upper + 1e-12).all()
    back = curve.reversed()
    assert type(back) is type(curve)
    assert back.start == pytest.approx(curve.end, abs=1e-14)
    assert back.length == pytest.approx(curve.length, rel=1e-12)
    pieces = curve.fit_arcs(0.001)
    assert {type(piece) for piece in pieces} <= {Line, Arc}
    assert pieces[0].start == pytest.approx(curve.start, abs=1e-12)
    assert repr(curve).startswith(type(curve).__name__ + "(")


def test_parameters_of_curves() -> None:
    arc, ellipse = CURVES["arc"], CURVES["ellipse"]
    assert isinstance(arc, Arc)
    assert isinstance(ellipse, EllipticalArc)
    assert (arc.center.tolist(), arc.radius, arc.start_angle, arc.sweep) == ([1, 2], 3, 0.5, -2)
    assert (ellipse.major.tolist(), ellipse.ratio) == ([3, 4], 0.5)
    assert (SPLINE.degree, SPLINE.knots.tolist()) == (2, [0, 0, 0, 2, 2, 2])
    assert SPLINE.poles.shape == (3, 2)
    assert SPLINE.weights.shape == (0,)
    assert RATIONAL.weights.shape == (3,)
    assert arc.length == pytest.approx(6, rel=1e-15)
    assert RATIONAL.length == pytest.approx(math.pi / 2, rel=1e-11)


def test_reprs_of_lines_and_arcs_are_code() -> None:
    names = {"Line": Line, "Arc": Arc, "EllipticalArc": EllipticalArc}
    for name in ("line", "arc", "ellipse"):
        assert repr(eval(repr(CURVES[name]), names)) == repr(CURVES[name])
    assert repr(Line((0, 0), (1, 0.1))) == "Line(start=(0.0, 0.0), end=(1.0, 0.1))"


def test_affine_map_turns_an_arc_into_an_ellipse() -> None:
    stretched = Arc((0, 0), 1, 0, math.pi).transformed([[2, 0, 1], [0, 1, 0]])
    assert isinstance(stretched, EllipticalArc)
    assert stretched.bounds == pytest.approx(np.array([[-1, 0], [3, 1]]), abs=1e-14)


@pytest.mark.parametrize(
    "make",
    [
        lambda: Arc((0, 0), -1),
        lambda: Arc((0, 0), math.nan),
        lambda: Arc((0, 0), 1, 0, 7),
        lambda: Arc((0, 0), 1, 0, 0),
        lambda: EllipticalArc((0, 0), (0, 0), 0.5),
        lambda: EllipticalArc((0, 0), (1, 0), 1.5),
        lambda: Spline(2, [0, 0, 0, 1, 1], [(0, 0), (1, 1), (2, 0)]),
        lambda: Spline(2, [0, 0, 0.5, 1, 1, 1], [(0, 0), (1, 1), (2, 0)]),
        lambda: Spline(2, [0, 0, 0, 1, 1, 1], [(0, 0), (1, 1), (2, 0)], [1, 0, 1]),
        lambda: Spline(0, [0, 1], [(0, 0)]),
        lambda: Contour([]),
        lambda: Contour([Line((0, 0), (math.nan, 1))]),
        lambda: ProfileSet(tolerance=0),
        lambda: ProfileSet([Profile(circle(0, 0, 1), parent=0)]),
        lambda: plate().transformed([[1, 0], [0, 1]]),
        lambda: plate().transformed(np.full((2, 3), math.nan)),
        lambda: plate().transformed([[1, 0, 0], [0, 1, 0], [0, 0, 2]]),
    ],
)
def test_values_that_make_no_sense(make: object) -> None:
    with pytest.raises(GeometryError) as caught:
        make()
    assert caught.value.kind == "invalid_argument"


def test_an_open_contour_names_the_gap() -> None:
    with pytest.raises(GeometryError, match=r"0\.5") as caught:
        Contour([Line((0, 0), (10, 0)), Line((10, 0), (10, 10)), Line((10, 10), (0.5, 0))])
    assert caught.value.kind == "contour_not_closed"


def test_contours() -> None:
    ring = circle(1, 2, 3)
    assert ring.is_circle
    assert ring.area == pytest.approx(9 * math.pi, rel=1e-15)
    assert ring.reversed().area == -ring.area
    assert ring.bounds.tolist() == [[-2, -1], [4, 5]]
    triangle = polygon((0, 0), (3, 0), (3, 4))
    assert not triangle.is_circle
    assert (triangle.length, len(triangle), triangle.provenance) == (12, 3, [])
    assert triangle.points(0.1).tolist() == [[0, 0], [3, 0], [3, 4]]
    assert triangle.transformed([[2, 0, 0], [0, 2, 0]]).area == 24


def test_profiles_turn_their_contours() -> None:
    profile = Profile(circle(0, 0, 5).reversed(), [circle(0, 0, 2)], name="ring")
    assert profile.outer.area > 0 > profile.holes[0].area
    assert profile.area == pytest.approx(21 * math.pi, rel=1e-15)
    assert profile.length == pytest.approx(14 * math.pi, rel=1e-15)
    assert (profile.name, profile.parent, profile.is_island) == ("ring", -1, False)
    assert profile.bounds.tolist() == [[-5, -5], [5, 5]]


def test_profile_sets() -> None:
    profiles = plate()
    assert len(profiles) == 2
    assert [profile.name for profile in profiles] == ["perch", "token"]
    assert profiles.profiles[1].is_island
    assert profiles.area == pytest.approx(PLATE_AREA, rel=1e-14)
    assert profiles.length == pytest.approx(PLATE_LENGTH, rel=1e-14)
    assert profiles.bounds.tolist() == [[0, 0], [120, 80]]
    assert [mark.name for mark in profiles.marks] == ["sun"]
    assert isinstance(profiles.marks[0], Mark)
    assert np.isnan(ProfileSet().bounds).all()
    assert profiles.with_name("other").name == "other"
    assert "profiles=2" in repr(profiles)
    assert ProfileSet(notes=["a note"]).notes == ("a note",)


def test_equality_goes_by_geometry() -> None:
    assert plate() == plate().with_name("other")
    assert hash(plate()) == hash(plate().with_name("other"))
    moved = plate().transformed([[1, 0, 1], [0, 1, 0]])
    assert moved != plate()
    assert moved.transformed([[1, 0, -1], [0, 1, 0]]) == plate()
    assert plate() != "plate"
    assert len(plate().digest) == 32


def test_mirror_keeps_the_sign_of_areas() -> None:
    mirrored = plate().transformed([[-1, 0, 0], [0, 1, 0], [0, 0, 1]])
    assert mirrored.area == pytest.approx(PLATE_AREA, rel=1e-14)
    assert mirrored.bounds.tolist() == [[-120, 0], [0, 80]]


def test_parts_outlive_the_whole() -> None:
    curves = plate().profiles[0].holes[0].curves
    outer = plate().profiles[1].outer
    assert curves[0].radius == 25
    assert outer.curves[0].center.tolist() == [40, 40]


def test_arrays_are_copies() -> None:
    line = Line((0, 0), (1, 0))
    line.start[0] = 99
    SPLINE.poles[0] = 99
    assert line.start.tolist() == [0, 0]
    assert SPLINE.poles[0].tolist() == [0, 0]
    with pytest.raises(AttributeError):
        line.start = (1, 1)


def test_provenance_words() -> None:
    assert Provenance("edge", 1, 2).kind == "edge"
    assert Provenance().kind == "unknown"
    with pytest.raises(GeometryError, match="'unknown', 'edge', 'fold', 'section'") as caught:
        Provenance("face")
    assert caught.value.kind == "unknown_option"


def test_datum_takes_one_point_or_many() -> None:
    datum = Datum(origin=(1, 2, 3), normal=(0, 0, 2), x=(0, 1, 5))
    assert datum.x.tolist() == [0, 1, 0]
    assert datum.y.tolist() == [-1, 0, 0]
    points = np.array([[1, 2, 3], [4, 5, 6], [0.5, 0, 0]])
    mapped = datum.to_datum(points)
    assert mapped.shape == (3, 3)
    for point, image in zip(points, mapped, strict=True):
        assert datum.to_datum(point).tolist() == image.tolist()
        assert datum.to_model(image[:2], height=image[2]) == pytest.approx(point, abs=1e-14)
    assert datum.to_model(mapped[:, :2]).shape == (3, 3)
    assert datum.to_model(np.zeros((1, 2)), height=4).tolist() == [[1, 2, 7]]
    assert datum.moved(5).origin.tolist() == [1, 2, 8]
    assert pickle.loads(pickle.dumps(datum)).x.tolist() == [0, 1, 0]
    assert repr(Datum.xz()).startswith("Datum(origin=(0.0, 0.0, 0.0), normal=(0.0, -1.0, 0.0)")
    assert datum.to_datum(np.empty((0, 3))).shape == (0, 3)
    for wrong in ([1, 2], np.zeros((3, 2)), np.zeros((2, 2, 3)), 1.0):
        with pytest.raises(TypeError, match=r"\(3,\) or \(n, 3\)"):
            datum.to_datum(wrong)


@pytest.fixture(scope="module")
def station(tmp_path_factory: pytest.TempPathFactory) -> planform.Model:
    path = tmp_path_factory.mktemp("station") / "station.step"
    assert planform.write_demo_assembly(path) == path
    return planform.load(path)


def test_model_and_solids(station: planform.Model) -> None:
    assert station.unit == "mm"
    assert station.source.endswith("station.step")
    assert len(station) == len(station.solids) > 10
    assert [solid.name for solid in station] == [solid.name for solid in station.solids]
    assert 0 < station.shape_count < len(station)
    for solid in station.solids:
        assert isinstance(solid.path, tuple)
        assert solid.name in solid.path[-1]
        assert solid.placement.shape == (4, 4)
        assert solid.placement[3].tolist() == [0, 0, 0, 1]
        assert solid.bounds.shape == (2, 3)
        box = np.diff(solid.bounds, axis=0).ravel()
        assert 0 < solid.volume <= np.prod(box) * (1 + 1e-6)
        assert solid.surface_area > 0
        assert solid.face_count > 2
        assert solid.edge_count > 2
        assert 0 <= solid.shape_index < station.shape_count
        assert isinstance(solid.notes, tuple)
        assert solid.color is None or len(solid.color) == 3
    assert "station.step" in repr(station)


def test_solids_as_one_as_model_and_as_sequence(station: planform.Model) -> None:
    datum = Datum.xy()
    first = station.solids[0]
    alone = planform.section(first, planform.auto_datum(first), 0.5)
    assert planform.section([first], planform.auto_datum(first), 0.5) == alone
    assert planform.section((s for s in [first]), planform.auto_datum(first), 0.5) == alone
    whole = planform.silhouette(station, datum)
    assert planform.silhouette(tuple(station.solids), datum) == whole
    kept = planform.silhouette(station, datum, merge="keep")
    names = [profile.name for profile in kept] + [mark.name for mark in kept.marks]
    assert set(names) == {solid.name for solid in station}
    assert kept.area >= whole.area
    for wrong in (None, "station", [first, None], 3):
        with pytest.raises(TypeError):
            planform.silhouette(wrong, datum)
    with pytest.raises(GeometryError, match="'union', 'keep'") as caught:
        planform.silhouette(first, datum, merge="both")
    assert caught.value.kind == "unknown_option"


def test_datums_of_faces(station: planform.Model) -> None:
    solid = station.solids[0]
    datum = planform.face_datum(solid, 1)
    assert np.linalg.norm(datum.normal) == pytest.approx(1, abs=1e-15)
    with pytest.raises(GeometryError):
        planform.face_datum(solid, 0)
    with pytest.raises(GeometryError):
        planform.face_datum(solid, solid.face_count + 1)
    lower, _ = planform.silhouette(solid, planform.auto_datum(solid)).bounds
    assert lower == pytest.approx((0, 0), abs=1e-6)


def test_from_brep_bytes_and_options(tmp_path: Path) -> None:
    data = kernel.write_brep(kernel.box(10, 20, 30), tmp_path / "box.brep").read_bytes()
    model = planform.from_brep(data)
    assert (model.source, model.unit) == ("memory", "mm (assumed)")
    assert model.solids[0].volume == pytest.approx(6000, rel=1e-12)
    inches = planform.from_brep(data, unit="inch", scale=2)
    assert inches.solids[0].volume == pytest.approx(6000 * 50.8**3, rel=1e-9)
    with pytest.raises(GeometryError, match="inch") as caught:
        planform.from_brep(data, unit="furlong")
    assert caught.value.kind == "unknown_option"
    assert "mm" in planform.unit_names()


def test_long_calls_let_other_threads_run(station: planform.Model) -> None:
    """If the call kept the interpreter's lock, this thread would not get a turn before its end."""
    many = [solid for solid in station for _ in range(20)]
    thread = threading.Thread(target=planform.silhouette, args=(many, Datum.xy(), 0.01, "keep"))
    thread.start()
    turns = 0
    while thread.is_alive():
        turns += 1
        time.sleep(0.001)
    assert turns > 10


def test_files_are_whole(tmp_path: Path) -> None:
    path = planform.write_whole_file(tmp_path / "a.html", "caf\N{LATIN SMALL LETTER E WITH ACUTE}")
    assert path.read_bytes() == b"caf\xc3\xa9"
    planform.write_whole_file(path, b"\xff\x00")
    assert path.read_bytes() == b"\xff\x00"
    assert one(circle(0, 0, 1)).to_dxf(str(tmp_path / "b.dxf")) == tmp_path / "b.dxf"
    assert sorted(entry.name for entry in tmp_path.iterdir()) == ["a.html", "b.dxf"]


def test_healing_everything_gives_the_same_solids(tmp_path: Path) -> None:
    path = planform.write_demo_assembly(tmp_path / "station.step")
    spared, full = planform.load(path), planform.load(path, heal="always")
    assert [solid.volume for solid in spared] == pytest.approx([solid.volume for solid in full])
    assert spared.healed.shapes == full.healed.shapes == full.healed.shapes_in_full > 0
    assert spared.healed.shapes_in_full == 0
    assert spared.healed.faces == full.healed.faces
    with pytest.raises(planform.GeometryError, match="needed"):
        planform.load(path, heal="never")  # type: ignore[call-overload]


def test_signatures_are_shown() -> None:
    """Of what is compiled, as of what is written in Python: `inspect.signature` is what editors go by."""
    assert list(inspect.signature(planform.section).parameters)[:3] == ["solids", "datum", "offset"]
    silhouette = inspect.signature(planform.silhouette).parameters
    assert silhouette["at"].kind is inspect.Parameter.KEYWORD_ONLY
    assert silhouette["at"].default == "shadow"
    assert str(inspect.signature(planform.ProfileSet.moved)) == "(self, by)"
    assert str(inspect.signature(planform.ProfileSet([]).moved)) == "(by)"
    assert list(inspect.signature(planform.Datum).parameters) == ["origin", "normal", "x"]
    shown = several = 0
    for name in planform.__all__:
        thing = getattr(planform, name)
        members = vars(thing) if isinstance(thing, type) else {}
        routines = [thing, *(getattr(thing, member) for member in members if member[:1] != "_")]
        for routine in filter(callable, filter(inspect.isroutine, routines)):
            try:
                inspect.signature(routine)
                shown += 1
            except ValueError:
                assert "Overloaded function" in (routine.__doc__ or ""), (name, routine)
                several += 1
    assert shown > 150 and several < 5
    # One with several signatures of the same names.
    assert inspect.signature(planform.ProfileSet.to_svg).parameters["path"].default is None
