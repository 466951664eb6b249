"""Plates and cut lists: figures against the kernel's properties and closed forms, files against readers that
others wrote (csv, pandas, ezdxf, a browser)."""

from __future__ import annotations

import csv
import itertools
import json
import math
from pathlib import Path

import ezdxf
import pandas
import planform
import pytest
from kernel_models import box, compound, cut, cylinder, moved, through_hole, turned, write_step
from OCP.BRepGProp import BRepGProp
from OCP.GProp import GProp_GProps
from planform import CutList, Material, MaterialRules
from planform.cli import main
from planform.cut_lists.cut_list import COLUMNS

SHELF = cut(box(180, 90, 9), [through_hole(20, 30, 8, 9), through_hole(150, 60, 14, 9)])
SPACER = cut(cylinder(25, 4), [through_hole(9, 0, 6, 4)])


@pytest.fixture(scope="module")
def model(tmp_path_factory: pytest.TempPathFactory) -> planform.Model:
    """Two shelves that are separate bodies, a renamed one, three spacers, a bolt."""
    path = tmp_path_factory.mktemp("plates") / "feeder.step"
    parts = [
        ("shelf", SHELF),
        ("shelf", moved(turned(SHELF, (1, 2, 3), 0.7), 300, 0, 50)),
        ('=board; left, "old"', moved(turned(SHELF, (0, 1, 0), 2.0), 0, 400)),
        ("spacer", moved(SPACER, 0, -100)),
        ("spacer b", moved(turned(SPACER, (1, 0, 0), 1.0), 100, -100)),
        ("bolt", moved(cylinder(4, 50), 0, -300)),
    ]
    return planform.load(write_step(parts, path, assembly="feeder"))


RULES = MaterialRules.from_data(
    {
        "density": {"plywood": 680, "steel": 7850},
        "rule": [{"name": "spacer", "material": "steel"}, {"material": "plywood"}],
    }
)


@pytest.fixture(scope="module")
def cut_list(model: planform.Model) -> CutList:
    return CutList.from_model(model, RULES)


def kernel_figures(shape: object) -> tuple[float, float]:
    """Volume and surface by another build of the kernel."""
    volume, surface = GProp_GProps(), GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, volume)
    BRepGProp.SurfaceProperties_s(shape, surface)
    return volume.Mass(), surface.Mass()


def test_the_same_bodies_are_one_plate_with_a_quantity(cut_list: CutList) -> None:
    assert [(e.name, e.quantity, round(e.plate.thickness, 9)) for e in cut_list.entries] == [
        ("spacer", 2, 4.0),
        ("shelf", 3, 9.0),
    ]
    assert [(o.name, o.quantity, o.word) for o in cut_list.others] == [("bolt", 1, "turned part")]
    assert cut_list.entries[1].names == ("shelf", '=board; left, "old"')
    assert cut_list.pieces == 5


def test_area_cut_length_and_mass_are_those_of_the_kernel(cut_list: CutList) -> None:
    for entry, shape, density in zip(cut_list.entries, (SPACER, SHELF), (7850, 680), strict=True):
        volume, surface = kernel_figures(shape)
        thickness = entry.plate.thickness
        area = volume / thickness
        assert entry.area == pytest.approx(area, rel=1e-9)
        # The surface is two faces and the walls: 2 A + L t.
        assert entry.cut_length == pytest.approx((surface - 2 * area) / thickness, rel=1e-9)
        assert entry.mass == pytest.approx(density * volume * 1e-9, rel=1e-9)
    total = sum(row["total mass [kg]"] for row in (e.row() for e in cut_list.entries))
    expected = (2 * 7850 * kernel_figures(SPACER)[0] + 3 * 680 * kernel_figures(SHELF)[0]) * 1e-9
    assert total == pytest.approx(expected, abs=1e-6)


def test_csv_is_read_by_csv_and_pandas(cut_list: CutList, tmp_path: Path) -> None:
    path = cut_list.write_csv(tmp_path / "cut_list.csv")
    with path.open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert tuple(rows[0]) == COLUMNS
    assert "thickness [mm]" in COLUMNS and "mass [kg]" in COLUMNS and "area [mm2]" in COLUMNS
    table = pandas.read_csv(path)
    assert list(table["quantity"]) == [2, 3]
    assert table["total pierces"].tolist() == [4, 9]
    assert table["total area [mm2]"].tolist() == pytest.approx(
        (table["quantity"] * table["area [mm2]"]).tolist(), abs=2e-3
    )
    # A name that a spreadsheet would take for a formula is a text.
    assert rows[1]["also named"].startswith("'=")
    assert [row["material"] for row in rows] == ["steel", "plywood"]


def test_json_holds_the_same_and_the_reasons(cut_list: CutList) -> None:
    data = json.loads(cut_list.json_text())
    assert [row["quantity"] for row in data["plates"]] == [2, 3]
    assert data["others"][0]["reason"] == "turned part"
    assert "diameter 8 mm" in data["others"][0]["text"]
    assert cut_list.json_text() == cut_list.json_text()


def test_the_page_opens_without_complaint_or_network(cut_list: CutList, tmp_path: Path) -> None:
    driver = pytest.importorskip("browser", reason="the helper that drives Chromium is missing")
    path = cut_list.write_html(tmp_path / "cut_list.html")
    with driver.Browser() as browser:
        browser.open(path)
        assert browser.evaluate("document.querySelectorAll('tbody tr').length") == 3
        assert browser.evaluate("document.querySelectorAll('figure svg').length") == 2
        text = browser.evaluate("document.body.innerText")
        assert browser.requests() == [path.resolve().as_uri()]
        assert browser.complaints() == []
    assert "spacer" in text and '=board; left, "old"' in text


def test_drawings_one_a_plate_and_rows_a_thickness(cut_list: CutList, tmp_path: Path) -> None:
    paths = cut_list.write_dxf(tmp_path)
    assert [path.name for path in paths] == [
        "spacer.dxf",
        "shelf.dxf",
        "rows_4mm_steel.dxf",
        "rows_9mm_plywood.dxf",
    ]
    rows = ezdxf.readfile(paths[3]).modelspace()
    assert len(rows.query("CIRCLE")) == 6
    outer = rows.query("LWPOLYLINE")
    assert len(outer) == 3
    boxes = sorted((min(p[0] for p in o), max(p[0] for p in o)) for o in outer)
    assert all(before[1] + 9.99 < after[0] for before, after in itertools.pairwise(boxes))
    assert boxes[-1][1] == pytest.approx(3 * 180 + 2 * 10)


def test_long_rows_wrap_and_islands_keep_their_parents() -> None:
    from planform.cut_lists.plate_rows import ROW_WIDTH, rows_drawing

    plates = planform.plates(
        planform.from_ocp(compound([moved(box(700, 100, 5), 0, 200 * i) for i in range(5)]))
    )
    solids = planform.from_ocp(compound([moved(box(700, 100, 5), 0, 200 * i) for i in range(5)]))
    cut_list = CutList.from_plates(plates, solids.solids)
    drawing = rows_drawing(cut_list.entries)
    assert len(drawing.profiles) == 5
    width, height = drawing.bounds[1] - drawing.bounds[0]
    assert width <= ROW_WIDTH and height == pytest.approx(3 * 100 + 2 * 10)
    assert drawing.area == pytest.approx(5 * 70000)


def part_of(bodies: list[object], path: Path, **options: object) -> planform.Model:
    """One part of several bodies, as a STEP file has it."""
    return planform.load(write_step([("part", compound(bodies))], path, **options))


RING = cut(box(60, 40, 3), [through_hole(30, 20, 20, 3)])


def test_a_body_loose_in_a_hole_is_an_island_of_the_plate(tmp_path: Path) -> None:
    """A disc of 4 mm is no plate of 3 mm by itself; in the hole of one it is cut with it."""
    disc = moved(cylinder(2, 3), 30, 20)
    found = planform.plates(part_of([disc, RING], tmp_path / "one.step"))
    assert found.others == []
    (plate,) = found.plates
    assert (plate.name, plate.quantity, plate.names) == ("part", 1, ("part",))
    assert [(i.solid, i.islands) for i in plate.instances] == [(1, [0])]
    area = 60 * 40 - math.pi * 100 + math.pi * 4
    assert plate.outline.area == pytest.approx(area, rel=1e-9)
    assert plate.volume == pytest.approx(3 * area, rel=1e-9)
    assert plate.volume_share == pytest.approx(1, rel=1e-9)
    assert plate.surface_share == pytest.approx(1, rel=1e-9)
    assert plate.wall_share == pytest.approx(1, rel=1e-9)
    assert [profile.name for profile in plate.outline.islands] == ["part (1)"]
    assert "islands of the drawing" in " ".join(plate.notes)
    cut_list = CutList.from_plates(found, part_of([disc, RING], tmp_path / "two.step").solids)
    assert [(e.name, e.quantity, e.pierces) for e in cut_list.entries] == [("part", 1, 3)]
    # Alone it is none.
    assert [o.word for o in planform.plates(planform.from_ocp(disc)).others] == ["turned part"]


@pytest.mark.parametrize(
    ("what", "body", "pieces"),
    [
        ("beside it", moved(box(30, 20, 3), 100, 0), 2),
        ("thinner than it", moved(cylinder(8, 2.9), 30, 20), 2),
        ("above it", moved(cylinder(8, 3), 30, 20, 0.1), 2),
        ("filling the hole", moved(cylinder(10, 3), 30, 20), 2),
        ("clear of the hole", moved(cylinder(8, 3), 31, 20), 1),
        ("a ring in the hole", moved(cut(cylinder(9, 3), [through_hole(0, 0, 8, 3)]), 30, 20), 1),
    ],
)
def test_what_is_no_island_is_a_piece_of_its_own(
    what: str, body: object, pieces: int, tmp_path: Path
) -> None:
    found = planform.plates(part_of([RING, body], tmp_path / "part.step"))
    assert sum(p.quantity for p in found.plates) == pieces, what
    assert found.others == []


@pytest.mark.parametrize(("y", "pieces"), [(21.9, 1), (22.0, 2)])
def test_what_shares_an_edge_with_the_plate_is_no_island(
    y: float, pieces: int, tmp_path: Path
) -> None:
    frame = cut(box(60, 40, 3), [moved(box(20, 20, 3), 20, 10)])
    body = moved(box(12, 8, 3), 24, y)
    found = planform.plates(part_of([frame, body], tmp_path / "part.step"))
    assert sum(p.quantity for p in found.plates) == pieces


def test_nested_islands_and_copies_of_a_part(tmp_path: Path) -> None:
    """Two instances, a third drawn again and mirrored: one plate, three pieces; the same bodies without an
    island are another plate."""
    ring = moved(cut(cylinder(8, 3), [through_hole(0, 0, 8, 3)]), 29, 21)
    core = moved(cylinder(2, 3), 29, 21)
    sign = compound([RING, ring, core])
    parts = [
        ("sign", sign),
        ("sign", moved(turned(sign, (1, 1, 0), 1.0), 200, 0, 30)),
        ("again", turned(moved(compound([core, RING, ring]), 0, 300), (0, 1, 0), math.pi)),
        ("open", moved(compound([RING, ring]), 0, 600)),
    ]
    found = planform.plates(
        planform.load(write_step(parts, tmp_path / "signs.step", assembly="signs"))
    )
    assert found.others == []
    assert sorted((p.quantity, len(p.instances[0].islands)) for p in found.plates) == [
        (1, 1),
        (3, 2),
    ]
    three = next(p for p in found.plates if p.quantity == 3)
    assert three.names == ("sign", "again")
    parents = [profile.parent for profile in three.outline]
    assert sum(parent >= 0 for parent in parents) == 2


def test_bodies_beside_each_other_are_counted(tmp_path: Path) -> None:
    pair = [box(50, 20, 4), moved(box(50, 20, 4), 0, 30), moved(box(50, 25, 4), 0, 60)]
    found = planform.plates(part_of(pair, tmp_path / "pair.step"))
    assert sorted(p.quantity for p in found.plates) == [1, 2]


def test_materials_by_layer_of_a_step_file(tmp_path: Path) -> None:
    parts = [("floor", SHELF), ("wall", moved(box(120, 60, 6), 0, 300)), ("lid", SPACER)]
    layers = {"floor": "01 Birch plywood", "wall": "02 larch"}
    path = write_step(parts, tmp_path / "layers.step", layers=layers)
    assert b"PRESENTATION_LAYER_ASSIGNMENT('02 larch'" in path.read_bytes()
    model = planform.load(path)
    assert [solid.layers for solid in model.solids] == [("01 Birch plywood",), ("02 larch",), ()]
    planform.load_cached(path, tmp_path / "cache")
    assert [s.layers for s in planform.load_cached(path, tmp_path / "cache").solids] == [
        solid.layers for solid in model.solids
    ]
    rules = MaterialRules.from_data(
        {
            "density": {"birch": 680.0, "larch": 590.0},
            "rule": [{"layer": "birch", "material": "birch"}, {"layer": "02", "material": "larch"}],
        }
    )
    listed = CutList.from_model(model, rules)
    assert {e.name: (e.material, e.density) for e in listed.entries} == {
        "floor": ("birch", 680.0),
        "wall": ("larch", 590.0),
        "lid": ("", None),
    }


def test_materials_by_colour_name_and_callable(model: planform.Model) -> None:
    by_path = MaterialRules.from_data({"rule": [{"path": "FEEDER", "material": "oak"}]})
    assert {e.material for e in CutList.from_model(model, by_path).entries} == {"oak"}
    split = CutList.from_model(
        model, lambda s: "old" if "board" in s.name else Material("new", 1000.0)
    )
    assert [(e.name, e.material, e.quantity) for e in split.entries][1:] == [
        ("shelf", "new", 2),
        ('=board; left, "old"', "old", 1),
    ]
    assert split.entries[2].mass is None
    demo = planform.load(planform.write_demo_assembly(Path(str(model.source)).parent / "demo.step"))
    colour = demo.solids[0].color
    digits = "".join(f"{round(255 * channel):02x}" for channel in colour)
    rules = MaterialRules.from_data({"rule": [{"color": f"#{digits}", "material": "painted"}]})
    listed = CutList.from_model(demo, rules)
    assert any(e.material == "painted" for e in listed.entries)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (
            "[[rule]]\nmaterial = 'oak'\nshade = 'red'",
            "'shade' is unknown; valid: name, part, path, layer",
        ),
        ("[[rule]]\nname = 'x'", "rule 1 names no material"),
        ("[density]\noak = -3", "must be positive"),
        ("[density]\noak = 'much'", "is no number"),
        ("colour = 3", "'colour' is unknown"),
        ("rule = 3", "a list of tables"),
        ("= =", "is no TOML or JSON"),
    ],
)
def test_wrong_rules_are_told(text: str, says: str, tmp_path: Path) -> None:
    path = tmp_path / "materials.toml"
    path.write_text(text)
    with pytest.raises(planform.GeometryError, match=r"materials\.toml") as caught:
        MaterialRules.read(path)
    assert says in str(caught.value)


def test_the_command(
    model: planform.Model, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rules = tmp_path / "materials.toml"
    rules.write_text("[density]\noak = 700\n[[rule]]\nmaterial = 'oak'\n")
    out = tmp_path / "cut"
    source = str(model.source)
    assert main(["plates", source, "--out", str(out), "--materials", str(rules)]) == 0
    said = capsys.readouterr().out
    assert "2 plates, 5 pieces to cut, 1 solid that is no plate" in said
    assert "turned part" in said
    names = {path.name for path in out.iterdir()}
    assert {
        "cut_list.csv",
        "cut_list.json",
        "cut_list.html",
        "shelf.dxf",
        "rows_9mm_oak.dxf",
    } <= names
    assert main(["plates", str(tmp_path / "none.step"), "--out", str(out)]) == 2


def test_words_of_the_library() -> None:
    found = planform.plates(planform.from_ocp(box(60, 50, 30)))
    assert [(o.reason, o.word, o.solids) for o in found.others] == [("block", "block", [0])]
    assert planform.plates(planform.from_ocp(box(60, 50, 30)), greatest_thickness=0.7).plates
    with pytest.raises(planform.GeometryError):
        planform.plates([], tolerance=math.nan)
    assert planform.plates([]).plates == []
