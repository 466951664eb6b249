"""Width of cut, fits and reliefs at the command line, in files and on pages: sizes by closed forms from the
numbers that the demo's plates were drawn with, files read by ezdxf."""

from __future__ import annotations

import csv
import math
import re
from pathlib import Path
from typing import Any

import ezdxf
import planform
import pytest
from ezdxf.entities import Circle, LWPolyline
from kernel_models import box, cut, moved, through_hole, write_step
from planform import Allowances, CutList, GeometryError, ProfileSet
from planform.batch import Settings
from planform.cli import main

KERF, FIT = 0.15, 0.05


@pytest.fixture(scope="module")
def station(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return planform.write_demo_assembly(tmp_path_factory.mktemp("station") / "station.step")


@pytest.fixture(scope="module")
def drawn(station: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("drawn")
    options = ["--kerf", str(KERF), "--fit", str(FIT), "--formats", "dxf,svg,json", "--report"]
    assert main(["flatten", str(station), "--out", str(folder), *options]) == 0
    return folder


def outlines_of(path: Path) -> tuple[list[tuple[float, float]], list[float]]:
    """Width and height of the closed polylines of a DXF, radii of its circles, mm, sorted."""
    sizes, radii = [], []
    for entity in ezdxf.readfile(path).modelspace():
        if isinstance(entity, Circle):
            radii.append(round(float(entity.dxf.radius), 9))
        elif isinstance(entity, LWPolyline):
            points = [(p[0], p[1]) for p in entity.get_points()]
            sizes.append(
                tuple(
                    round(max(p[i] for p in points) - min(p[i] for p in points), 9) for i in (0, 1)
                )
            )
    return sorted(sizes), sorted(radii)


def test_drawings_have_kerf_and_fit_in_them(drawn: Path) -> None:
    sizes, radii = outlines_of(drawn / "base_plate.dxf")
    # 240 x 160 and holes of 3 mm meet nothing; slots of 14 x 6 hold tabs: wider by the fit on each side.
    slot = (14 + 2 * FIT - KERF, 6 + 2 * FIT - KERF)
    assert sizes == [pytest.approx(slot, abs=1e-9)] * 4 + [
        pytest.approx((240 + KERF, 160 + KERF), abs=1e-9)
    ]
    assert radii == [pytest.approx(3 - KERF / 2, abs=1e-9)] * 4
    sizes, _ = outlines_of(drawn / "post.dxf")
    # The slot for the brace's tab; with the fit on the slots a post's own tabs are as they were drawn.
    # Drawn upright, as the front view shows it.
    slot = (3 + 2 * FIT - KERF, 20 + 2 * FIT - KERF)
    assert sizes == [
        pytest.approx(slot, abs=1e-9),
        pytest.approx((30 + KERF, 162 + KERF), abs=1e-9),
    ]


def test_files_and_page_say_so(drawn: Path) -> None:
    said = f"the width of cut, {KERF} mm, is in it"
    for name in ("base_plate.dxf", "base_plate.svg", "post.dxf", "perch_disc.svg"):
        assert said in (drawn / name).read_text(encoding="utf-8")
    assert "a fit of" in (drawn / "base_plate.dxf").read_text(encoding="utf-8")
    assert "a fit of" not in (drawn / "perch_disc.dxf").read_text(encoding="utf-8")
    page = (drawn / "report.html").read_text(encoding="utf-8")
    head = page[: page.index("<section>")]
    assert f"The width of cut, {KERF} mm, is in the drawings" in head
    assert f"A fit of {FIT} mm on each side is in the drawings" in head
    assert "Sizes are those of the parts" in page and "240 × 160 mm" in page
    # Base plate, post, brace, floor, side, end, hanger, gable, roof panel meet others; a number plate and a
    # ring do not.
    assert page.count('class="mating"') == 9
    assert page.count("<dt>Joints</dt>") == 12


def test_json_keeps_the_part_and_the_allowance(drawn: Path, station: Path) -> None:
    path = drawn / "tray_end.json"
    outline = ProfileSet.from_json(path)
    allowance = planform.Allowance.from_json(path)
    assert allowance is not None
    assert (allowance.kerf, allowance.fit, allowance.relief) == (KERF, FIT, 0.0)
    # Fingers of the ends lie around those of the sides: the gaps' flanks give all of the fit.
    assert sorted(fit for *_, fit in allowance.fits) == [FIT] * 4
    solid = next(s for s in planform.load(station).solids if s.name == "tray end")
    assert outline == planform.silhouette(solid, planform.auto_datum(solid))
    way = planform.as_cut(outline, allowance)
    assert len(way.notes) == len(outline.notes) + 2
    sizes, _ = outlines_of(drawn / "tray_end.dxf")
    width, height = way.bounds[1] - way.bounds[0]
    assert sizes == [pytest.approx((width, height), abs=1e-9)]
    assert planform.Allowance.from_json(outline.to_json()) is None


def test_no_allowance_changes_no_byte(station: Path, tmp_path: Path) -> None:
    for folder, options in (("a", []), ("b", ["--kerf", "0", "--fit", "0", "--relief", "0"])):
        arguments = ["flatten", str(station), "--out", str(tmp_path / folder), *options]
        assert main([*arguments, "--formats", "dxf,svg,json", "--report"]) == 0
    names = sorted(path.name for path in (tmp_path / "a").iterdir())
    assert len(names) == 37
    for name in names:
        assert (tmp_path / "a" / name).read_bytes() == (tmp_path / "b" / name).read_bytes()


def test_the_cut_list_counts_joints(station: Path, tmp_path: Path) -> None:
    options = ["--kerf", str(KERF), "--fit", str(FIT), "--fit-on", "both"]
    assert main(["plates", str(station), "--out", str(tmp_path), *options]) == 0
    with (tmp_path / "cut_list.csv").open(encoding="utf-8", newline="") as stream:
        rows = {row["name"]: row for row in csv.DictReader(stream)}
    joints = {name: int(row["joints"]) for name, row in rows.items()}
    assert joints == {
        "base plate": 4,
        "post": 3,
        "cross brace": 2,
        "tray floor": 18,
        "tray side": 4,
        "tray end": 4,
        "gable": 4,
        "roof panel": 2,
        "hanger": 1,
        "perch disc": 0,
        "house number": 0,
        "gutter": 0,
    }
    # Sizes and areas are those of the parts, cut lengths those of the way.
    disc = rows["perch disc"]
    assert float(disc["width [mm]"]) == 48 and float(disc["area [mm2]"]) == pytest.approx(
        math.pi * (24**2 - 16**2), abs=1e-3
    )
    assert float(disc["cut length [mm]"]) == pytest.approx(2 * math.pi * 40, abs=1e-3)
    page = (tmp_path / "cut_list.html").read_text(encoding="utf-8")
    assert "half on each part" in page and page.count('class="mating"') == 9
    # A post's tab of 14 gives half of the fit on each flank: seen in its shoulders, 8 beside it.
    entry = next(
        e
        for e in CutList.from_model(
            planform.load(station), kerf=KERF, fit=FIT, fit_on="both"
        ).entries
        if e.name == "post"
    )
    assert entry.mating is not None and entry.way is not None
    assert sorted(c.share for c in entry.mating.curves if not c.is_seat) == [0.5] * 6 + [1.0] * 2
    rows_drawing = (tmp_path / "rows_6mm.dxf").read_text(encoding="utf-8")
    assert f"the width of cut, {KERF} mm, is in it" in rows_drawing


def test_what_has_no_room_is_an_error_with_name_and_place(
    station: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["flatten", str(station), "--out", str(tmp_path)]) == 0
    assert (tmp_path / "post.dxf").exists()
    assert main(["flatten", str(station), "--out", str(tmp_path), "--kerf", "3.5"]) == 1
    errors = capsys.readouterr().err
    found = re.search(r"post: the hole or slot at \((.*?), (.*?)\) is 3 mm wide, narrower", errors)
    assert found, errors
    # The brace's slot is in the middle of the post, 60 to 80 mm of 150 above its shoulders.
    assert (float(found[1]), float(found[2])) in [(15.0, 76.0), (15.0, 86.0)]
    assert not (tmp_path / "post.dxf").exists(), "an old drawing must not pass for a new one"
    assert (tmp_path / "base_plate.dxf").exists()
    assert main(["plates", str(station), "--out", str(tmp_path / "p"), "--kerf", "3.5"]) == 1
    assert "post: the hole or slot" in capsys.readouterr().err
    assert (tmp_path / "p" / "base_plate.dxf").exists()
    assert not (tmp_path / "p" / "post.dxf").exists()
    assert not (tmp_path / "p" / "rows_6mm.dxf").exists()


def test_a_fit_larger_than_the_tab_names_the_part(
    station: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    # The hanger's tab is 12 mm wide: 6.5 mm on each flank leave nothing.
    arguments = ["flatten", str(station), "--out", str(tmp_path), "--fit", "6.5", "--fit-on", "tab"]
    assert main(arguments) == 1
    errors = capsys.readouterr().err
    assert re.search(r"hanger: the fit .*(larger|nothing)", errors), errors
    assert not (tmp_path / "hanger.dxf").exists()


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--kerf", "-0.1"], "must be 0 or more"),
        (["--kerf", "nan"], "must be a finite number"),
        (["--fit", "inf"], "must be a finite number"),
        (["--relief", "-1"], "must be 0 or more"),
        (["--kerf", "6", "--relief", "6"], "--relief is no wider than --kerf"),
        (["--fit", "0.1", "--fit-at", "inner", "--fit-on", "tab"], "--fit-on tab has no meaning"),
    ],
)
@pytest.mark.parametrize("command", ["flatten", "plates", "batch"])
def test_numbers_that_make_no_sense(
    command: str,
    options: list[str],
    said: str,
    station: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main([command, str(station), "--out", str(tmp_path / "out"), *options]) == 2
    assert said in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


def test_the_same_from_python() -> None:
    wrong: list[dict[str, Any]] = [
        {"kerf": -1.0},
        {"fit": math.nan},
        {"relief": 2.0, "kerf": 2.0},
        {"fit_on": "peg"},
    ]
    for bad in wrong:
        with pytest.raises(GeometryError):
            Allowances(**bad)
        with pytest.raises(GeometryError):
            Settings(**bad)
    disc = ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), 5)]))])
    assert disc.as_cut() == disc
    with pytest.raises(GeometryError):
        disc.as_cut(kerf=-0.1)
    with pytest.raises(GeometryError, match="leave out"):
        disc.as_cut(planform.Allowance(kerf=0.1), kerf=0.1)


def test_a_single_solid_gets_the_fit_on_all_inner_contours(tmp_path: Path) -> None:
    plate = cut(box(60, 40, 3), [through_hole(20, 20, 10, 3), through_hole(45, 20, 6, 3)])
    source = write_step([("lid", plate)], tmp_path / "lid.step", assembly="lid")
    assert main(["flatten", str(source), "--out", str(tmp_path / "o"), "--fit", "0.1"]) == 0
    _, radii = outlines_of(tmp_path / "o" / "lid.dxf")
    assert radii == pytest.approx([3.1, 5.1], abs=1e-9)
    text = (tmp_path / "o" / "lid.dxf").read_text(encoding="utf-8")
    assert "a single solid has no joints: the fit is on all inner contours" in text
    # An assembly whose parts don't meet: nowhere, and it says so; by choice, everywhere.
    parts = [("lid", plate), ("other", moved(plate, 100, 0))]
    source = write_step(parts, tmp_path / "two.step", assembly="two")
    assert main(["flatten", str(source), "--out", str(tmp_path / "t"), "--fit", "0.1"]) == 0
    assert outlines_of(tmp_path / "t" / "lid.dxf")[1] == pytest.approx([3.0, 5.0], abs=1e-9)
    assert "no wall touches another" in (tmp_path / "t" / "lid.dxf").read_text(encoding="utf-8")
    options = ["--fit", "0.1", "--fit-at", "inner", "--fit-on", "both"]
    assert main(["flatten", str(source), "--out", str(tmp_path / "i"), *options]) == 0
    assert outlines_of(tmp_path / "i" / "lid.dxf")[1] == pytest.approx([3.05, 5.05], abs=1e-9)


def test_reliefs_make_room_in_the_corners_of_slots(station: Path, tmp_path: Path) -> None:
    options = ["--kerf", "1", "--relief", "1.2"]
    assert main(["plates", str(station), "--out", str(tmp_path), *options]) == 0
    path = tmp_path / "base_plate.dxf"
    slots = [
        entity
        for entity in ezdxf.readfile(path).modelspace()
        if isinstance(entity, LWPolyline) and entity.dxf.layer == "CUT_INNER"
    ]
    assert len(slots) == 4
    for slot in slots:
        arcs = [p for p in slot.get_points("xyb") if p[2]]
        assert len(arcs) == 4
    assert "inner corners are relieved for a tool of 1.2 mm" in path.read_text(encoding="utf-8")


def test_inspection_is_of_the_part_or_of_the_way(
    station: Path, drawn: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    def slot_width(*arguments: str) -> float:
        main(["inspect", *arguments, "--thickness", "6", "--fail-on", "never"])
        output = capsys.readouterr().out
        part = output[output.index("post") :].split("mm thick", 2)[1]
        found = re.search(r"inner_width +\S+ \S+ +(\S+) mm", part)
        return float(found[1]) if found else math.inf

    wanted = ["--kerf", "0.15", "--fit", "0.05"]
    # A slot of 3 mm in a sheet of 6: just wide enough, and then not, by kerf less twice the fit.
    assert slot_width(str(station), *wanted) == math.inf
    assert slot_width(str(station), *wanted, "--as-cut") == pytest.approx(2.95, abs=1e-9)
    assert slot_width(str(drawn / "post.json")) == math.inf
    assert slot_width(str(drawn / "post.json"), "--as-cut") == pytest.approx(2.95, abs=1e-9)


def test_other_allowances_make_records_out_of_date(station: Path, tmp_path: Path) -> None:
    models = tmp_path / "models"
    models.mkdir()
    (models / "station.step").write_bytes(station.read_bytes())
    out = tmp_path / "out"

    def run(kerf: float = 0.0, fit: float = 0.0) -> list[str]:
        settings = Settings(kerf=kerf, fit=fit)
        summary = planform.flatten_all(models, out, settings, workers=1, cache=False)
        return [result.action for result in summary.results]

    assert run() == ["new"]
    assert run(kerf=0.0) == ["current"]
    assert run(kerf=KERF) == ["changed"]
    text = next(out.rglob("base_plate.dxf")).read_text(encoding="utf-8")
    assert f"the width of cut, {KERF} mm, is in it" in text
    assert run(kerf=KERF) == ["current"]
    assert run(kerf=KERF, fit=FIT) == ["changed"]


def test_contacts_of_two_boxes(tmp_path: Path) -> None:
    parts = [("block", box(40, 30, 10)), ("bar", moved(box(20, 50, 10), 40, 10, 2))]
    model = planform.load(write_step(parts, tmp_path / "boxes.step", assembly="boxes"))
    (contact,) = planform.contacts(model)
    assert tuple(contact.solids) == (0, 1)
    assert contact.area == pytest.approx(20 * 8, rel=1e-9)
    assert contact.normals.tolist() == [[pytest.approx(1.0), 0.0, 0.0]]
    (border,) = contact.borders
    assert border.shape == (4, 3)
    assert border.min(axis=0).tolist() == pytest.approx([40, 10, 2])
    assert border.max(axis=0).tolist() == pytest.approx([40, 30, 10])


def test_tips_that_would_meet_are_gone_round(station: Path, tmp_path: Path) -> None:
    # The digit 8 is two rings: where they join, tips of 51 degrees look at each other. Led on
    # by a cut of 2 mm they would meet half-way; arcs around them leave the way open.
    options = ["--kerf", "2", "--formats", "json"]
    assert main(["flatten", str(station), "--out", str(tmp_path), *options]) == 0
    outline = ProfileSet.from_json(tmp_path / "house_number.json")
    way = outline.as_cut(kerf=2.0)
    assert len(way.profiles) == len(outline.profiles)
    assert [len(p.holes) for p in way.profiles] == [len(p.holes) for p in outline.profiles]
    assert way.offset(-1.0).area == pytest.approx(outline.area, rel=5e-3)


def test_islands_grow_and_marks_stay() -> None:
    def circle(radius: float) -> planform.Contour:
        return planform.Contour([planform.Arc((0, 0), radius)])

    ring = planform.Profile(circle(20), [circle(12)])
    island = planform.Profile(circle(8), name="button", parent=0)
    outline = ProfileSet([ring, island], [planform.Mark(circle(16), "line")])
    way = outline.as_cut(kerf=0.3)
    assert [p.outer.curves[0].radius for p in way.profiles] == pytest.approx([20.15, 8.15])
    assert way.profiles[0].holes[0].curves[0].radius == pytest.approx(11.85)
    assert [p.parent for p in way.profiles] == [p.parent for p in outline.profiles] == [-1, 0]
    assert [mark.contour.curves[0].radius for mark in way.marks] == [16.0]
