"""Bent sheets in Python: unfold, bend tables, the command, plates and their bends."""

from __future__ import annotations

import csv
import io
import json
import math
from pathlib import Path

import ezdxf
import planform
import pytest
from kernel_models import prism
from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
from OCP.BRepTools import BRepTools
from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt, gp_Trsf
from planform.cli.command import main


@pytest.fixture(scope="module")
def station(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return planform.write_demo_assembly(tmp_path_factory.mktemp("bent") / "station.step")


@pytest.fixture(scope="module")
def gutter(station: Path) -> planform.Solid:
    return next(solid for solid in planform.load(station).solids if solid.name == "gutter")


def length(k_factor: float) -> float:
    """Of the gutter's blank: flat walls and bends of 90, 90 and 60 degrees, inside radius 2, 1 mm thick."""
    return 18 + 24 + 14 + 5 + (math.pi + math.pi / 3) * (2 + k_factor)


@pytest.mark.parametrize("k_factor", [0.0, 0.33, 0.44, 0.5, 1.0])
def test_the_blank_by_k_factor(gutter: planform.Solid, k_factor: float) -> None:
    blank = planform.unfold(gutter, k_factor=k_factor)
    size = blank.outline.bounds[1] - blank.outline.bounds[0]
    assert blank.thickness == 1.0
    assert sorted(size) == pytest.approx([length(k_factor), 180.0], abs=1e-9)
    assert [bend.direction for bend in blank.bends] == ["up"] * 3
    assert sorted(math.degrees(bend.angle) for bend in blank.bends) == pytest.approx([60, 90, 90])
    holes = math.pi * (2 * 2**2 + 4**2)
    assert blank.outline.area == pytest.approx(180 * length(k_factor) - holes, abs=1e-6)
    assert blank.outline.proof.largest_deviation < 1e-9
    assert {law.name for law in blank.outline.proof.laws} >= {"thickness times area is the volume"}


def test_without_a_rule_it_is_din_6935(gutter: planform.Solid) -> None:
    # k = 0.65 + 0.5 lg 2; K = k / 2.
    blank = planform.unfold(gutter)
    assert blank.bends[0].k_factor == pytest.approx((0.65 + 0.5 * math.log10(2)) / 2, abs=1e-9)


def test_bend_lines_are_marks_on_a_layer_of_their_own(
    gutter: planform.Solid, tmp_path: Path
) -> None:
    blank = planform.unfold(gutter, mark_limits=True)
    names = [mark.name for mark in blank.outline.marks]
    assert names.count("bend up") == 3
    assert names.count("bend limit") == 6
    drawing = ezdxf.readfile(blank.outline.to_dxf(tmp_path / "gutter.dxf"))
    layers = [entity.dxf.layer for entity in drawing.modelspace()]
    assert layers.count("BEND") == 9
    assert layers.count("CUT_OUTER") == 1
    assert layers.count("CUT_INNER") == 3
    for bend in blank.bends:
        assert bend.length == pytest.approx(180.0)
        assert len(bend.lines) == 1
        assert bend.allowance == pytest.approx(bend.angle * (2 + bend.k_factor))


def test_a_blank_is_a_profile_set_like_any_other(gutter: planform.Solid) -> None:
    blank = planform.unfold(gutter)
    assert blank.outline.offset(1.0).area > blank.outline.area
    assert planform.inspect(blank.outline, 1.0) is not None
    found = planform.bend_findings(blank.outline, blank.bends, blank.thickness, least_radius=2.5)
    assert [f.rule for f in found if f.rule == "bend_radius"] == ["bend_radius"] * 3


def test_flat_parts_are_refused_with_a_reason(station: Path) -> None:
    post = next(solid for solid in planform.load(station).solids if solid.name == "post")
    with pytest.raises(planform.UnfoldError, match=r"post.*no bend") as caught:
        planform.unfold(post)
    refusal = caught.value.refusal
    assert refusal is not None
    assert refusal.reason == "no bend"
    assert refusal.faces
    assert isinstance(caught.value, planform.GeometryError)


TABLE = """
[[bend]]
thickness = 1.0
inside_radius = 2.0
angle = 90
allowance = 3.9

[[bend]]
thickness = 1.0
inside_radius = 2.0
angle = 45
deduction = 0.6

[[least_radius]]
thickness = 1.0
inside_radius = 1.2
"""


def test_bend_tables(gutter: planform.Solid, tmp_path: Path) -> None:
    path = tmp_path / "bends.toml"
    path.write_text(TABLE)
    table = planform.read_bend_table(path)
    assert table.least_radius(1.0) == 1.2
    assert table.least_radius(2.0) is None
    blank = planform.unfold(gutter, table=path)
    at_45 = 2 * 3 * math.tan(math.radians(22.5)) - 0.6
    at_60 = at_45 + (3.9 - at_45) * 15 / 45
    assert sorted(bend.allowance for bend in blank.bends) == pytest.approx([at_60, 3.9, 3.9])
    with pytest.raises(planform.GeometryError, match="both"):
        planform.unfold(gutter, table=path, k_factor=0.4)
    path.write_text(TABLE.replace("thickness = 1.0", "thickness = 3.0"))
    with pytest.raises(planform.GeometryError, match="no row"):
        planform.unfold(gutter, table=path)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "no rows"),
        ("[[bent]]", "unknown"),
        ("[[bend]]\nthickness = 1", "either allowance or deduction"),
        (TABLE.replace("angle = 90", "angle = 200"), "degrees"),
        (TABLE.replace("allowance = 3.9", "allowance = -1"), "above 0"),
        (TABLE.replace("thickness = 1.0", "thickness = 'thin'", 1), "number"),
        (TABLE + "colour = 1", "unknown"),
        ("[[bend", "bends.toml"),
    ],
)
def test_tables_that_make_no_sense(tmp_path: Path, text: str, message: str) -> None:
    path = tmp_path / "bends.toml"
    path.write_text(text)
    with pytest.raises(planform.LoadError, match=message):
        planform.read_bend_table(path)
    with pytest.raises(planform.LoadError, match="does not exist"):
        planform.read_bend_table(tmp_path / "none.toml")


def test_the_command(station: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "out"
    options = ["--k-factor", "0.44", "--formats", "dxf,svg,json"]
    assert main(["unfold", str(station), "--out", str(folder), *options]) == 0
    said = capsys.readouterr().out
    assert "gutter (2): 180.00 ×" in said
    assert "1 blanks, 2 pieces to cut, 0 not unfolded" in said
    names = {path.name for path in folder.iterdir()}
    assert names == {
        "blanks.html",
        "gutter.bends.csv",
        "gutter.bends.json",
        "gutter.dxf",
        "gutter.json",
        "gutter.svg",
    }
    rows = list(csv.DictReader(io.StringIO((folder / "gutter.bends.csv").read_text())))
    assert [row["direction"] for row in rows] == ["up"] * 3
    data = json.loads((folder / "gutter.bends.json").read_text())
    assert data["thickness"] == 1.0
    assert sorted((data["width"], data["height"])) == pytest.approx([length(0.44), 180.0])
    assert [bend["number"] for bend in data["bends"]] == [1, 2, 3]
    page = (folder / "blanks.html").read_text()
    assert page.count("<svg") == 1
    assert "Allowance mm" in page
    # The same input, the same bytes.
    again = tmp_path / "again"
    assert main(["unfold", str(station), "--out", str(again), *options]) == 0
    for name in names:
        assert (folder / name).read_bytes() == (again / name).read_bytes()


@pytest.mark.parametrize("options", [["--k-factor", "1.5"], ["--k-factor", "nan"]])
def test_wrong_options(station: Path, tmp_path: Path, options: list[str]) -> None:
    assert main(["unfold", str(station), "--out", str(tmp_path / "out"), *options]) == 2


def test_plates_count_bent_sheets_with_their_bends(station: Path) -> None:
    found = planform.plates(planform.load(station))
    plate = next(plate for plate in found.plates if plate.name == "gutter")
    assert plate.quantity == 2
    assert plate.thickness == 1.0
    assert len(plate.bends) == 3
    assert any("3 bends" in note for note in plate.notes)
    assert all(not other.bends for other in found.plates if other.name != "gutter")
    assert not found.others
    wider = planform.plates(planform.load(station), bend_rule=planform.bend_rule(k_factor=1.0))
    assert next(p for p in wider.plates if p.name == "gutter").outline.area > plate.outline.area


def angle(path: Path, turned_by: float = 0.0) -> Path:
    """A model of an L of 50 and 40 mm outside, 2 mm thick and sharp inside and outside, 30 mm wide; turned in
    the plane of its larger wall."""
    turn = gp_Trsf()
    turn.SetRotation(gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 1, 0)), math.radians(turned_by))
    body = prism([(0, 0), (50, 0), (50, 40), (48, 40), (48, 2), (0, 2)], 30.0)
    BRepTools.Write_s(BRepBuilderAPI_Transform(body, turn, True).Shape(), str(path))
    return path


def angle_length(radius: float, k_factor: float) -> float:
    """Of its blank: outer lengths up to the tangents, and the neutral fibre."""
    return 90 - 2 * (radius + 2) + math.pi / 2 * (radius + 2 * k_factor)


def test_corners_that_are_drawn_sharp(tmp_path: Path) -> None:
    solid = planform.load(angle(tmp_path / "angle.brep")).solids[0]
    for radius, given in ((2.0, None), (0.0, 0.0), (3.5, 3.5)):
        blank = planform.unfold(solid, k_factor=0.4, sharp_radius=given)
        size = sorted(blank.outline.bounds[1] - blank.outline.bounds[0])
        assert size == pytest.approx([30.0, angle_length(radius, 0.4)], abs=1e-9)
        assert blank.bends[0].inside_radius == pytest.approx(radius)
        assert f"inside radius of {radius:g} mm, which is assumed" in blank.notes[0]
    with pytest.raises(planform.GeometryError, match="0 or more"):
        planform.unfold(solid, sharp_radius=-1.0)
    with pytest.raises(planform.UnfoldError, match="sharp corner") as caught:
        planform.unfold(solid, sharp_radius=60.0)
    assert caught.value.kind == "not_unfolded"


def test_the_command_passes_on_what_inspection_finds(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model = angle(tmp_path / "angle.brep")
    (tmp_path / "bends.toml").write_text("[[least_radius]]\nthickness = 2.0\ninside_radius = 2.5\n")
    (tmp_path / "rules.toml").write_text("[flange]\nlimit = 40\nunit = 'mm'\n")
    out = tmp_path / "out"
    known = ["--bend-table", str(tmp_path / "bends.toml"), "--rules", str(tmp_path / "rules.toml")]
    assert main(["unfold", str(model), "--out", str(out), *known]) == 0
    said = capsys.readouterr()
    assert "2 findings" in said.out
    for text in ("below the material's least, 2.5 mm", "A wall reaches 36 mm"):
        assert text in said.err
        assert text.replace("'", "&#39;") in (out / "blanks.html").read_text()
    wide = ["--sharp-radius", "2.5mm"]
    assert main(["unfold", str(model), "--out", str(tmp_path / "wide"), *known[:2], *wide]) == 0
    assert "0 findings" in capsys.readouterr().out


def test_bends_turn_with_their_outline(tmp_path: Path) -> None:
    model = planform.load(angle(tmp_path / "angle.brep", turned_by=25.0))
    rule = planform.bend_rule(k_factor=0.4)
    plain = planform.CutList.from_model(model, bend_rule=rule).entries[0]
    turned = planform.CutList.from_model(model, bend_rule=rule, turn="smallest").entries[0]
    assert plain.size[0] * plain.size[1] > 1.2 * turned.size[0] * turned.size[1]
    assert sorted(turned.size) == pytest.approx([30.0, angle_length(2.0, 0.4)], abs=1e-9)
    # The bend line goes from side to side of the rectangle, across its longer way.
    long_way = 0 if turned.size[0] > turned.size[1] else 1
    (line,) = turned.bends[0].lines
    ends = sorted((line.start, line.end), key=lambda end: float(end[1 - long_way]))
    assert ends[0][long_way] == pytest.approx(ends[1][long_way], abs=1e-9)
    assert [float(end[1 - long_way]) for end in ends] == pytest.approx([0.0, 30.0], abs=1e-9)
    (plain_line,) = plain.bends[0].lines
    assert math.dist(plain_line.start, plain_line.end) == pytest.approx(30.0)
    (mark,) = turned.outline.marks
    marked = sorted(mark.points(0.1), key=lambda end: float(end[1 - long_way]))
    for end, other in zip(marked, ends, strict=True):
        assert list(end) == pytest.approx(list(other), abs=1e-9)
