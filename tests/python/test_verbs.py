"""Sets moved, changed and annotated, read as sequences, taken from bytes and from other libraries."""

from __future__ import annotations

import io
import math
import pickle
import re
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import planform
import public_values
import pytest
import sample_sets as sample
import shapely
from planform import Arc, Contour, Datum, GeometryError, LoadError, Profile, ProfileSet


@pytest.fixture(scope="module")
def tray() -> ProfileSet:
    return public_values.tray()


@pytest.fixture(scope="module")
def station(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return planform.write_demo_assembly(tmp_path_factory.mktemp("verbs") / "station.step")


def kept(changed: ProfileSet, outline: ProfileSet) -> None:
    """What no motion touches."""
    assert (changed.name, changed.notes, changed.data) == (
        outline.name,
        outline.notes,
        outline.data,
    )
    assert changed.datum == outline.datum
    for new, old in zip(changed, outline, strict=True):
        assert (new.name, new.parent) == (old.name, old.parent)
        for a, b in zip((new.outer, *new.holes), (old.outer, *old.holes), strict=True):
            assert sorted(p.entity for p in a.provenance) == sorted(p.entity for p in b.provenance)


def test_motions(tray: ProfileSet) -> None:
    places = np.random.default_rng(1).uniform(-10, 100, (500, 2))
    inside = tray.contains(places)
    turn = np.array([[math.cos(0.3), -math.sin(0.3)], [math.sin(0.3), math.cos(0.3)]])
    about = np.array([7.0, -2.0])
    for changed, image in [
        (tray.moved((3, -4)), places + np.array([3, -4])),
        (tray.rotated(0.3, about), (places - about) @ turn.T + about),
        (tray.mirrored("x"), places * (1, -1)),
        (tray.mirrored("y"), places * (-1, 1)),
        (tray.mirrored([(0, 0), (2, 2)]), places[:, ::-1]),
    ]:
        kept(changed, tray)
        assert np.array_equal(changed.contains(image), inside)
        assert changed.area == pytest.approx(tray.area, rel=1e-12)
        assert changed.tolerance == tray.tolerance
        assert [(m.name, m.depth) for m in changed.marks] == [(m.name, m.depth) for m in tray.marks]
        # Marks move with the outline: their distance from it stays.
        for new, old in zip(changed.marks, tray.marks, strict=True):
            before = tray.distance([old.curves[0].start])
            assert changed.distance([new.curves[0].start]) == pytest.approx(before, abs=1e-9)
    larger = tray.scaled(2.5, (1, 1))
    kept(larger, tray)
    assert np.array_equal(larger.contains((places - 1) * 2.5 + 1), inside)
    assert larger.tolerance == 2.5 * tray.tolerance
    assert [mark.depth for mark in larger.marks] == [2.5 * mark.depth for mark in tray.marks]
    for wrong in (0, -1, math.nan, math.inf):
        with pytest.raises(GeometryError, match="factor"):
            tray.scaled(wrong)
    with pytest.raises(GeometryError, match="valid: 'x', 'y'"):
        tray.mirrored("z")


def test_proofs_of_scaled_flattenings_stay_true(station: Path) -> None:
    outline = planform.silhouette(planform.load(station)[0], "auto")
    larger = outline.scaled(10)
    for new, old in zip(larger.proof.laws, outline.proof.laws, strict=True):
        assert (new.name, new.checks) == (old.name, old.checks)
        assert new.largest_deviation == 10 * old.largest_deviation
    assert outline.moved((1, 1)).proof == outline.proof
    assert not outline.with_profiles(outline.profiles).proof.laws


def test_curves_of_one_kind(tray: ProfileSet) -> None:
    for kind, allowed in (("arcs", {"Line", "Arc"}), ("lines", {"Line"})):
        simple = tray.with_curves(kind, 0.02)
        curves = [c for p in simple for contour in (p.outer, *p.holes) for c in contour]
        assert {type(curve).__name__ for curve in curves} == allowed
        assert simple.tolerance == pytest.approx(tray.tolerance + 0.02)
        places = np.vstack(
            [contour.points(1e-3) for p in simple for contour in (p.outer, *p.holes)]
        )
        assert tray.distance(places).max() <= 0.02 + 1e-9
        back = np.vstack([contour.points(1e-3) for p in tray for contour in (p.outer, *p.holes)])
        assert simple.distance(back).max() <= 0.02 + 1e-9
        lens = simple[0].holes[1]
        assert {p.entity for p in lens.provenance} == {3, 7}
        assert len(lens.provenance) == len(lens)
    with pytest.raises(GeometryError, match="arcs"):
        tray.with_curves("exact", 0.02)


def test_metadata_goes_through_json(tray: ProfileSet, tmp_path: Path) -> None:
    text = tray.to_json()
    assert '"data"' in text
    again = ProfileSet.from_json(text)
    assert again.data == tray.data
    assert again.to_json() == text
    plain = tray.with_data({})
    assert plain.data == {}
    assert '"data"' not in plain.to_json()
    assert plain == tray
    assert plain.digest == tray.digest
    changed = tray.data
    changed["order"] = 18
    assert tray.data["order"] == 17
    for wrong in ({"a": math.nan}, {"a": {1, 2}}, {"a": object()}):
        with pytest.raises(GeometryError, match="JSON"):
            tray.with_data(wrong)
    with pytest.raises(GeometryError, match="later ones only"):
        ProfileSet.from_json(text.replace('"planform": 4', '"planform": 3'))
    with pytest.raises(GeometryError, match="expected an object"):
        ProfileSet.from_json(re.sub(r'"data": .*\}', '"data": 3', text))


def test_sequences(tray: ProfileSet, station: Path) -> None:
    assert tray[0] == tray.profiles[0] == next(iter(tray))
    assert tray[-1].name == tray["perch"].name == "perch"
    assert len(tray) == len(tray.profiles) == 2
    contour = tray[0].outer
    assert list(contour) == list(contour.curves)
    assert contour[1] == contour.curves[1]
    assert contour[-1].end == pytest.approx(contour[0].start)
    assert contour.curves[1:3] == [contour[1], contour[2]]
    assert tray[0].holes[1].provenance[0].entity == 7
    assert list(reversed(tray.profiles)) == [tray[1], tray[0]]
    assert tray[1] in tray.profiles
    assert tray.profiles.index(tray[1]) == 1
    assert [*tray.profiles, *tray.profiles] == tray.profiles + tray.profiles
    assert pickle.loads(pickle.dumps(tray.profiles)) == tray.profiles
    model = planform.load(station)
    assert model[0] == model.solids[0]
    names = [solid.name for solid in model]
    single = next(name for name in names if names.count(name) == 1)
    assert model[single] == model[names.index(single)]
    assert [solid.name for solid in model[1:3]] == [solid.name for solid in model.solids[1:3]]
    plates = planform.plates(model)
    assert plates[0] == plates.plates[0]
    assert len(list(plates)) == len(plates)
    cut_list = planform.CutList.from_model(model)
    assert len(list(cut_list)) == len(cut_list) == len(cut_list.entries)
    assert cut_list[cut_list[0].name] == cut_list[0]
    several = next(s.name for s in model if [t.name for t in model].count(s.name) > 1)
    with pytest.raises(KeyError, match="ask by number"):
        model[several]
    for sequence in (tray, contour, model, plates, tray.profiles, tray[0].holes):
        with pytest.raises(IndexError):
            sequence[999]
    for names in (tray, model, plates, cut_list):
        with pytest.raises(KeyError, match="nobody"):
            names["nobody"]


def test_parts_live_as_long_as_they_are_held() -> None:
    curves = public_values.tray()[0].holes[0].curves
    again = public_values.tray()
    assert curves == again[0].holes[0].curves
    assert [curve.length for curve in curves] == [c.length for c in again[0].holes[0]]


def test_datums_by_word_and_of_planes(station: Path) -> None:
    model = planform.load(station)
    solid = model[0]
    assert planform.silhouette(solid, "xz") == planform.silhouette(solid, Datum.xz())
    assert planform.silhouette(solid, "auto") == planform.silhouette(
        solid, planform.auto_datum(solid)
    )
    assert ProfileSet(datum="yz").datum == Datum.yz()
    assert ProfileSet().with_datum("xz").datum == Datum.xz()
    assert (
        planform.SectionStack(solid, "xy").extent == planform.SectionStack(solid, Datum.xy()).extent
    )
    assert len(list(planform.sections(solid, "xy", [1.0]))) == 1
    with pytest.raises(GeometryError, match="'auto', 'xy', 'xz', 'yz'"):
        planform.silhouette(solid, "zx")
    with pytest.raises(GeometryError, match="valid: 'xy', 'xz', 'yz'"):
        ProfileSet(datum="auto")
    assert Datum.of("xz") == Datum.of(Datum.xz()) == Datum.xz()
    plane = SimpleNamespace(origin=(1, 2, 3), z_dir=(0, 0, 2), x_dir=(0, 1, 0))
    assert Datum.of(plane) == Datum((1, 2, 3), (0, 0, 1), (0, 1, 0))
    from OCP.gp import gp_Ax3, gp_Dir, gp_Pln, gp_Pnt

    frame = gp_Ax3(gp_Pnt(1, 2, 3), gp_Dir(0, 0, 1), gp_Dir(0, 1, 0))
    assert Datum.of(frame) == Datum.of(gp_Pln(frame)) == Datum.of(plane)
    with pytest.raises(GeometryError, match=r"Datum\.of takes"):
        Datum.of(3)


def test_models_from_bytes_and_streams(station: Path) -> None:
    expected = planform.load(station)
    data = station.read_bytes()
    with station.open("rb") as stream:
        models = [planform.load(data), planform.load(bytearray(data)), planform.load(stream)]
    models.append(planform.load(io.BytesIO(data), unit="inch"))
    for model in models:
        assert model.source == "memory"
        assert [solid.name for solid in model] == [solid.name for solid in expected]
    assert models[0][0].volume == expected[0].volume
    assert models[3][0].volume == pytest.approx(25.4**3 * expected[0].volume)
    with station.open() as text, pytest.raises(GeometryError, match="binary mode"):
        planform.load(text)
    with pytest.raises(LoadError, match="memory"):
        planform.load(b"nothing of ours")
    with pytest.raises(LoadError, match="no bytes"):
        planform.load(b"")
    (again,) = planform.from_brep(expected[0].to_brep())
    assert again.volume == pytest.approx(expected[0].volume, rel=1e-12)
    np.testing.assert_allclose(again.bounds, expected[0].bounds, atol=1e-9)


def test_drawings_from_text_and_bytes(tmp_path: Path) -> None:
    outline = sample.plate()
    path = outline.to_dxf(tmp_path / "plate.dxf")
    expected = planform.read_dxf(path)
    for content in (path.read_bytes(), path.read_text()):
        loose = planform.read_dxf(content)
        assert loose.source is None
        assert loose.curves == expected.curves
    with pytest.raises(LoadError) as caught:
        planform.read_dxf(b"0\nSECTION\n")
    assert "memory" in str(caught.value)
    assert str(tmp_path.parent) not in str(caught.value)


def test_arcs_from_polygons() -> None:
    washer = shapely.Point(0, 0).buffer(10, quad_segs=64) - shapely.Point(0, 0).buffer(
        4, quad_segs=64
    )
    outline = ProfileSet.from_shapely(washer, fit_arcs=0.005)
    assert outline[0].outer.is_circle
    assert outline[0].holes[0].is_circle
    assert outline.tolerance == pytest.approx(0.015)
    assert outline[0].outer[0].radius == pytest.approx(10, abs=0.005)
    boxes = [shapely.box(0, 0, 3, 2), shapely.box(5, 0, 8, 2)]
    assert ProfileSet.from_shapely(boxes).area == 12
    pandas = pytest.importorskip("pandas")
    series = pandas.Series(boxes, index=["roof", "tray"])
    assert [profile.name for profile in ProfileSet.from_shapely(series)] == ["roof", "tray"]
    table = SimpleNamespace(geometry=pandas.Series(boxes))
    assert [profile.name for profile in ProfileSet.from_shapely(table)] == ["", ""]
    with pytest.raises(GeometryError, match="Shapely"):
        ProfileSet.from_shapely(3)


@pytest.mark.parametrize("make", ["outline", "model", "plates", "inspection", "cut list"])
def test_notebook_views(make: str, station: Path, tray: ProfileSet) -> None:
    import xml.etree.ElementTree as ElementTree

    model = planform.load(station)
    value: Any = {
        "outline": lambda: tray.with_name("<tray & perch>"),
        "model": lambda: model,
        "plates": lambda: planform.plates(model),
        "inspection": lambda: planform.inspect(tray, 30.0),
        "cut list": lambda: planform.CutList.from_model(model),
    }[make]()
    html = value._repr_html_()
    assert "<tray &" not in html
    assert len(html) < 400_000
    if make != "cut list":
        # Well formed, without scripts or a background that hides the notebook's own.
        ElementTree.fromstring(f"<div>{html}</div>")
        assert "script" not in html and "white" not in html and "#000" not in html
    assert ProfileSet()._repr_html_()


def test_empty_views() -> None:
    assert "nothing" in ProfileSet()._repr_html_()
    disc = ProfileSet([Profile(Contour([Arc((0, 0), 1e-3)]))])
    assert "<svg" in disc._repr_html_()
