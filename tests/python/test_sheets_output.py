"""What a layout writes: drawings through ezdxf's audit, JSON and back, the page in Chromium, the command."""

from __future__ import annotations

import json
import math
import re
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import planform
import pytest
import shapely
from browser import Browser
from drawing_judges import audited, measure_polyline, svg_area
from layout_jobs import box, disc, gear, judge, lens, letter, ring
from planform import Arc, Contour, Mark, Piece, ProfileSet, Stock
from planform.cli.command import main
from planform.sheets.document import layout_from_json, layout_json
from planform.sheets.drawing import label
from planform.sheets.output import write_all
from planform.sheets.values import Layout, rectangle
from test_pages import faults_at

NASTY = 'tray </svg><script>alert("1")</script> äöü 日本 %%d \\U+0041 ^'


@pytest.fixture(scope="module")
def layout() -> Layout:
    """All kinds of pieces on two kinds of stock, one missing, one with marks and a name of all kinds."""
    marked = replace_marks(box(70, 40))
    pieces = [
        Piece("gear", gear(9, 40), 4, "plywood", 6.0),
        Piece("letter", letter(60), 3, "plywood", 6.0, may_mirror=True),
        Piece("ring", ring(60, 45), 2, "plywood", 6.0),
        Piece("disc", disc(15), 9, "plywood", 6.0, spares=2),
        Piece(NASTY, marked, 2, "plywood", 6.0),
        Piece("lens", lens(60), 6, "birch", 4.0),
        Piece("too large", box(900, 900), 1, "birch", 4.0),
    ]
    clamps = ProfileSet([rectangle(0, 0, 40, 30)])
    stock = [
        Stock.rectangle(
            500, 300, "sheet", material="plywood", thickness=6.0, price=20.0, keep_clear=clamps
        ),
        Stock.rectangle(220, 110, "strip", material="birch", thickness=4.0, price=5.0, grain=0.0),
    ]
    return planform.lay_out(pieces, stock, gap=3, margin=4, plain=True)


def replace_marks(outline: ProfileSet) -> ProfileSet:
    return ProfileSet(outline.profiles, [Mark(Contour([Arc((20, 20), 8)]), "eye")])


@pytest.fixture(scope="module")
def folder(layout: Layout, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("sheets")
    assert write_all(layout, folder, "station") == []
    return folder


def drawings(folder: Path, suffix: str) -> list[Path]:
    return sorted(folder.glob(f"sheet_*.{suffix}"))


def test_drawings_pass_the_audit_and_hold_all_pieces(layout: Layout, folder: Path) -> None:
    paths = drawings(folder, "dxf")
    assert len(paths) == len(layout.sheets) == 2
    for sheet, path in zip(layout.sheets, paths, strict=True):
        document = audited(path)
        assert {layer.dxf.name for layer in document.layers} >= {
            "CUT_OUTER",
            "CUT_INNER",
            "MARK",
            "SHEET",
        }
        area, edges, texts, cut = 0.0, 0.0, [], Counter[str]()
        for entity in document.modelspace():
            if entity.dxftype() == "TEXT":
                texts.append((entity.dxf.layer, entity.dxf.text))
                continue
            if entity.dxftype() == "CIRCLE":
                size = math.pi * entity.dxf.radius**2
            else:
                assert entity.dxftype() == "LWPOLYLINE" and entity.closed
                size, _ = measure_polyline(list(entity.get_points("xyb")))
            layer = entity.dxf.layer
            cut[layer] += 1
            area += {"CUT_OUTER": size, "CUT_INNER": -size}.get(layer, 0.0)
            edges += size if layer == "SHEET" else 0.0
        # Ellipses become arcs within a tenth of a tolerance of 0.01 mm; all else is exact.
        curved = any(p.name == "lens" for p in sheet.placements)
        assert area == pytest.approx(sheet.used_area, rel=2e-4 if curved else 1e-9)
        assert edges == pytest.approx(sheet.area, rel=1e-12)
        contours = [
            1 + len(p.holes) for placement in sheet.placements for p in placement.outline.profiles
        ]
        assert cut["CUT_OUTER"] + cut["CUT_INNER"] == sum(contours)
        names = Counter(text for layer, text in texts if layer == "MARK")
        assert names.total() == len(sheet.placements)
        assert sum(layer == "SHEET" for layer, _ in texts) == 1


def test_counts_and_areas_are_those_of_the_cut_list(layout: Layout, folder: Path) -> None:
    judge(layout)
    wanted = {piece.name: piece.quantity for piece in layout.pieces}
    placed: Counter[str] = Counter()
    for sheet in layout.sheets:
        for placement in sheet.placements:
            placed[placement.name] += sheet.count
    assert placed["too large"] == 0
    for name in ("gear", "letter", "ring", NASTY, "lens"):
        assert placed[name] == wanted[name]
    assert 9 <= placed["disc"] <= 11


def test_handles_are_unique_and_the_drawing_can_be_written_in_inches(
    layout: Layout, tmp_path: Path
) -> None:
    assert write_all(layout, tmp_path, "station", ["dxf"], "inch") == []
    path = drawings(tmp_path, "dxf")[0]
    document = audited(path)
    assert document.header["$INSUNITS"] == 1
    handles = [e.dxf.handle for e in document.modelspace()]
    assert len(set(handles)) == len(handles)
    edge = next(
        e for e in document.modelspace() if e.dxf.layer == "SHEET" and e.dxftype() == "LWPOLYLINE"
    )
    assert max(x for x, _ in edge.get_points("xy")) == pytest.approx(500 / 25.4, rel=1e-12)


def test_drawings_lie_on_the_layers_of_the_machine(layout: Layout, tmp_path: Path) -> None:
    layers = {
        "outer": {"name": "BEAM", "color": "#123456"},
        "mark": {"name": "SCORE", "color": 4},
        "sheet": {"name": "EDGE ü", "color": 3},
    }
    assert write_all(layout, tmp_path, "station", layers=layers) == []
    for path in drawings(tmp_path, "dxf"):
        document = audited(path)
        found = {(e.dxftype() == "TEXT", e.dxf.layer) for e in document.modelspace()}
        edge = next(name for _, name in found if name.startswith("EDGE"))
        assert {name for _, name in found} <= {"BEAM", "CUT_INNER", "SCORE", edge}
        assert (True, "SCORE") in found and (True, edge) in found
        assert document.layers.get(edge).dxf.color == 3
        assert document.layers.get("SCORE").dxf.color == 4
        assert document.layers.get("BEAM").rgb == (0x12, 0x34, 0x56)
    for path in drawings(tmp_path, "svg"):
        text = path.read_text()
        assert '<g id="BEAM" stroke="#123456"' in text and 'id="EDGE_ü"' in text
    one = {role: {"name": "ALL"} for role in ("outer", "inner", "mark", "sheet")}
    write_all(layout, tmp_path, "station", layers=one)
    for path in drawings(tmp_path, "dxf"):
        assert {e.dxf.layer for e in audited(path).modelspace()} == {"ALL"}
    for path in drawings(tmp_path, "svg"):
        ids = re.findall(r' id="([^"]*)"', path.read_text())
        assert len(ids) == len(set(ids))


def test_svg_has_the_same_area_and_the_sheet_in_a_group_of_its_own(
    layout: Layout, folder: Path
) -> None:
    for sheet, path in zip(layout.sheets, drawings(folder, "svg"), strict=True):
        text = path.read_text()
        assert svg_area(path) == pytest.approx(sheet.used_area, rel=3e-4)
        assert text.count('<g id="sheet"') == 1 and "<script>" not in text
        (left, _), (right, _) = sheet.outline.bounds
        width = re.search(r'width="([\d.]+)mm"', text)
        assert width and float(width[1]) == pytest.approx(right - left)


def test_names_stand_in_the_material(layout: Layout) -> None:
    for sheet in layout.sheets:
        for placement in sheet.placements:
            _, x, y, height = label(placement)
            assert placement.outline.to_shapely().contains_properly(shapely.Point(x, y)), (
                placement.name
            )
            assert 0 < height <= 12


def test_json_reads_back_to_the_same_bytes(layout: Layout) -> None:
    text = layout_json(layout)
    again = layout_from_json(text)
    assert layout_json(again) == text
    assert [s.used_area for s in again.sheets] == [s.used_area for s in layout.sheets]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda d: d.pop("gap"), "has no 'gap'"),
        (lambda d: d.update(planform_sheets=9), "version 9 is unknown"),
        (lambda d: d["sheets"][0]["placements"][0].update(piece=99), "99 is none of"),
        (lambda d: d["sheets"][0]["placements"][0].update(x="a"), "must be int or float"),
        (lambda d: d["sheets"][0]["placements"][0].update(x=-500.0), "over the edge"),
        (lambda d: d["sheets"][0].update(count=2), "is wanted"),
        (lambda d: d["pieces"][0]["outline"].pop("profiles"), "pieces"),
        (lambda d: d.update(pieces=3), "must be list"),
    ],
)
def test_json_that_is_wrong_is_refused_with_its_place(
    layout: Layout, change: Callable[[dict], object], words: str
) -> None:
    data = json.loads(layout_json(layout))
    change(data)
    with pytest.raises(planform.GeometryError, match=words):
        layout_from_json(json.dumps(data))


def test_page_in_the_browser(layout: Layout, folder: Path) -> None:
    with Browser() as browser:
        browser.open(folder / "sheets.html")
        shown = browser.evaluate("document.body.innerText")
        assert browser.evaluate("document.querySelectorAll('figure svg').length") == len(
            layout.sheets
        )
        pieces = browser.evaluate("document.querySelectorAll('figure svg text.figure').length")
        assert 5 <= pieces <= sum(len(sheet.placements) for sheet in layout.sheets)
        assert browser.complaints() == []
        assert all(address.startswith("file:") for address in browser.requests())
        for width in (360, 1300):
            for scheme, medium in (("light", "screen"), ("dark", "screen"), ("light", "print")):
                assert faults_at(browser, width, scheme, medium) == [], (width, scheme, medium)
    assert "900.0 × 900.0 mm fit no stock" in shown
    assert f"{layout.cost():.2f}" in shown
    assert "Before you cut" in shown
    for sheet in layout.sheets:
        assert f"{100 * sheet.use:.1f} %" in shown


def test_a_second_run_leaves_no_drawing_of_the_first(layout: Layout, tmp_path: Path) -> None:
    write_all(layout, tmp_path, "a")
    before = {path.name for path in tmp_path.iterdir()}
    less = planform.lay_out(layout.pieces[:1], layout.stock, plain=True)
    write_all(less, tmp_path, "a")
    assert len(drawings(tmp_path, "dxf")) == len(less.sheets) == 1
    assert len(before) > len(list(tmp_path.iterdir()))


def test_nothing_is_drawn_of_an_unproven_layout(layout: Layout, tmp_path: Path) -> None:
    sheet = layout.sheets[0]
    heap = replace(sheet, placements=(*sheet.placements, sheet.placements[0]))
    with pytest.raises(planform.GeometryError, match="overlaps"):
        write_all(replace(layout, sheets=(heap, *layout.sheets[1:])), tmp_path, "a")
    assert list(tmp_path.iterdir()) == []


def test_left_overs_go_back_into_the_stock(layout: Layout, folder: Path) -> None:
    stock = planform.read_stock(folder / "left_overs.toml")
    assert stock and all(one.left_over for one in stock)
    assert {(one.material, one.thickness) for one in stock} <= {("plywood", 6.0), ("birch", 4.0)}
    tray = Piece("tray", disc(12), 2, "plywood", 6.0)
    again = planform.lay_out([tray], stock, gap=2, margin=2, plain=True)
    judge(again)
    assert again.placed(tray) == 2


def test_command_from_model_to_sheets_and_again(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    planform.write_demo_assembly(tmp_path / "station.step")
    disc(20).to_dxf(tmp_path / "tray.dxf")
    wishes = tmp_path / "pieces.toml"
    wishes.write_text('[[piece]]\nname = "tray"\nturns = 90\nspares = 1\n')
    call = [
        "sheets",
        str(tmp_path / "station.step"),
        f"3:{tmp_path / 'tray.dxf'}",
        "--stock",
        "600x400",
    ]
    call += ["--out", str(tmp_path / "cut"), "--plain", "--kerf", "0.2", "--thickness", "4"]
    assert main([*call, "--pieces", str(wishes)]) == 0
    out = capsys.readouterr()
    assert "27 pieces on" in out.out and "Sheet 1" in out.out
    first = {path.name: path.read_bytes() for path in (tmp_path / "cut").iterdir()}
    assert {"sheets.json", "sheets.html", "left_overs.toml"} <= set(first)
    again = [
        "sheets",
        "--again",
        str(tmp_path / "cut" / "sheets.json"),
        "--out",
        str(tmp_path / "two"),
    ]
    assert main(again) == 0
    second = {path.name: path.read_bytes() for path in (tmp_path / "two").iterdir()}
    for name in first:
        if name != "sheets.html":  # its title names the jobs
            assert first[name] == second[name], name
    jobs = [str(tmp_path / "station.step"), "--thickness", "4", "--kerf", "0.2"]
    assert main([*again[:1], *jobs, *again[1:]]) == 2
    assert "the jobs have changed since (tray)" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("arguments", "status", "words"),
    [
        (["a.step"], 2, "give JOBs and --stock"),
        (["a.step", "--stock", "100"], 2, "is no size"),
        (["a.step", "--stock", "100x100"], 2, "there is no such file"),
        (["--again", "a.json"], 2, "does not exist"),
        (["--again", "a.json", "--stock", "9x9"], 2, "--again takes the stock"),
        (["a.step", "--stock", "100x100", "--turns", "45"], 2, "45"),
        (["a.step", "--stock", "100x100", "--formats", "pdf"], 2, "'pdf' is unknown"),
    ],
)
def test_wrong_calls(
    arguments: list[str],
    status: int,
    words: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["sheets", *arguments, "--out", "cut"]) == status
    error = capsys.readouterr().err
    assert words in error and error.count("\n") == 1


def test_what_is_not_placed_is_an_error_of_the_command(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    box(300, 20).to_dxf(tmp_path / "rail.dxf")
    call = [
        "sheets",
        str(tmp_path / "rail.dxf"),
        "--stock",
        "200x100",
        "--out",
        str(tmp_path / "cut"),
    ]
    assert main(call) == 1
    assert "rail: 1 not placed: 300.0 × 20.0 mm fit no stock" in capsys.readouterr().err
