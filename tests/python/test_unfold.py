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
