"""A width of cut on its way through files: from a part to its drawings, from drawings to sheets, jobs and
plans. On none of them is it lost or put in twice. Sizes are sums by hand, files are read by ezdxf."""

from __future__ import annotations

import math
import re
from pathlib import Path
from typing import Any

import ezdxf
import planform as pf
import pytest
from ezdxf.entities import LWPolyline
from job_files import MACHINE, roof, tray, write_job
from kernel_models import arc_prism, cut, cylinder, moved, through_hole, turned, write_step
from planform import Allowance, GeometryError, ProfileSet
from planform.allowances import Allowances, allowance_of, notes_of_ways
from planform.cli.command import main
from planform.jobs.run import run_job
from planform.sheets.document import layout_from_json, layout_json
from random_outlines import circle, polygon

KERF = 0.2
SAID = f"the width of cut, {KERF} mm, is in it"


def plate(name: str = "plate") -> ProfileSet:
    """60 x 40 mm with a hole of 20 x 6."""
    edge = polygon([(0, 0), (60, 0), (60, 40), (0, 40)])
    hole = polygon([(10, 10), (30, 10), (30, 16), (10, 16)])
    return ProfileSet([pf.Profile(edge, [hole], name)], name=name)


def sizes(path: Path) -> list[tuple[float, ...]]:
    """Longer and shorter side of the closed polylines of a drawing on the layers of cuts, mm."""
    found = []
    for entity in ezdxf.readfile(path).modelspace():
        if isinstance(entity, LWPolyline) and entity.dxf.layer.startswith("CUT"):
            points = [(p[0], p[1]) for p in entity.get_points()]
            extents = [max(p[i] for p in points) - min(p[i] for p in points) for i in (0, 1)]
            found.append(tuple(round(float(value), 6) for value in sorted(extents, reverse=True)))
    return sorted(found, reverse=True)


def cut_sizes(kerf: float, fit: float = 0.0) -> list[tuple[float, float]]:
    """Of the plate, by hand."""
    wider = 2 * fit - kerf
    return [
        (round(60 + kerf, 6), round(40 + kerf, 6)),
        (round(20 + wider, 6), round(6 + wider, 6)),
    ]


def laid_out(source: Path, folder: Path, *options: str) -> int:
    stock = ["--stock", "200x100", "--plain", "--thickness", "3", "--out", str(folder)]
    return int(main(["sheets", str(source), *stock, *options]))


@pytest.mark.parametrize("options", [(), ("--kerf", str(KERF))])
def test_an_outline_brings_its_allowance_with_it(tmp_path: Path, options: tuple[str, ...]) -> None:
    allowance = Allowance(kerf=KERF, fit=0.05, fits=pf.inner_fits(plate(), 0.05))
    source = plate().to_json(tmp_path / "plate.json", allowance=allowance)
    assert laid_out(source, tmp_path / "out", *options) == 0
    assert sizes(tmp_path / "out" / "sheet_01_3mm.dxf") == cut_sizes(KERF, 0.05)


def test_an_outline_whose_allowance_is_another(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = plate().to_json(tmp_path / "plate.json", allowance=Allowance(kerf=KERF))
    assert laid_out(source, tmp_path / "out", "--kerf", "0.3") != 0
    errors = capsys.readouterr().err
    assert (
        "plate.json: the outline comes with a width of cut of its own, 0.2 mm, and 0.3 mm" in errors
    )
    # What it does not have is taken from the command line.
    assert laid_out(source, tmp_path / "fit", "--fit", "0.05") == 0
    assert sizes(tmp_path / "fit" / "sheet_01_3mm.dxf") == cut_sizes(KERF, 0.05)


@pytest.mark.parametrize("suffix", ["dxf", "svg"])
def test_a_drawing_with_a_width_of_cut_in_it_gets_no_second(
    tmp_path: Path, suffix: str, capsys: pytest.CaptureFixture[str]
) -> None:
    source = tmp_path / f"plate.{suffix}"
    way = plate().as_cut(kerf=KERF)
    way.to_dxf(source) if suffix == "dxf" else way.to_svg(source)
    read = pf.read_drawing(source)
    assert read.notes == way.notes and pf.allowance_notes(read.profile_set()) == list(way.notes)
    assert laid_out(source, tmp_path / "twice", "--kerf", str(KERF)) != 0
    assert "the width of cut is in the outline already" in capsys.readouterr().err
    assert laid_out(source, tmp_path / "once") == 0
    drawing = tmp_path / "once" / "sheet_01_3mm.dxf"
    assert sizes(drawing) == cut_sizes(KERF)
    assert SAID in drawing.read_text()
    # Nor from a sheet that was drawn.
    assert laid_out(drawing, tmp_path / "sheet", "--kerf", str(KERF)) != 0
    # Other words are nobody's business.
    other = plate().with_notes(["the width of cut was forgotten"])
    other.to_dxf(source) if suffix == "dxf" else other.to_svg(source)
    assert pf.read_drawing(source).profile_set().notes == ()
    assert laid_out(source, tmp_path / "other", "--kerf", str(KERF)) == 0


def test_drawings_of_sheets_and_their_page_say_what_is_in_them(tmp_path: Path) -> None:
    source = plate().to_json(tmp_path / "plate.json")
    assert laid_out(source, tmp_path / "out", "--kerf", str(KERF)) == 0
    for name in ("sheet_01_3mm.dxf", "sheet_01_3mm.svg"):
        assert SAID in (tmp_path / "out" / name).read_text(encoding="utf-8")
    page = (tmp_path / "out" / "sheets.html").read_text(encoding="utf-8")
    assert SAID.capitalize() in page[: page.index("<section>")]
    # Drawn again from the layout.
    again = [
        "sheets",
        "--again",
        str(tmp_path / "out" / "sheets.json"),
        "--out",
        str(tmp_path / "again"),
    ]
    assert main(again) == 0
    for name in ("sheet_01_3mm.dxf", "sheet_01_3mm.svg"):
        drawn, out = tmp_path / "again" / name, tmp_path / "out" / name
        assert drawn.read_bytes() == out.read_bytes()
    assert SAID.capitalize() in (tmp_path / "again" / "sheets.html").read_text(encoding="utf-8")
    assert main([*again, "--kerf", str(KERF)]) == 2


def test_pieces_with_and_without_a_width_of_cut_on_one_sheet() -> None:
    way = plate().as_cut(kerf=KERF)
    both = notes_of_ways([("a", way), ("b", way)])
    assert len(both) == 1 and both[0].startswith(SAID)
    mixed = notes_of_ways([("a", way), ("b", plate()), ("b", plate())])
    assert mixed == [f"a: {way.notes[0]}", "no width of cut is in: b"]
    assert notes_of_ways([("b", plate())]) == []
    # As they are read back from a drawing of the sheet.
    assert pf.allowance_notes(plate().with_notes(mixed)) == mixed[:1]


def test_a_job_says_what_is_in_its_drawings_and_keeps_the_allowance(tmp_path: Path) -> None:
    summary = run_job(write_job(tmp_path), tmp_path / "out")
    assert summary.errors == []
    for name in ("outlines/tray.dxf", "outlines/roof.svg", "sheet_01_4mm_larch.dxf",
                 "sheet_01_4mm_larch.svg", "cuts_01.dxf", "cuts_01.svg"):  # fmt: skip
        assert SAID in (tmp_path / "out" / name).read_text(encoding="utf-8"), name
    for name in ("job.html", "sheets.html"):
        page = (tmp_path / "out" / name).read_text(encoding="utf-8")
        assert SAID.capitalize() in page[: page.index("<section>")], name
    for name, part in (("tray", tray()), ("roof", roof())):
        path = tmp_path / "out" / "outlines" / f"{name}.json"
        assert ProfileSet.from_json(path).digest == part.digest
        allowance = Allowance.from_json(path)
        assert allowance is not None and allowance.kerf == KERF
        # And so it can be taken on from there.
        way = pf.as_cut(ProfileSet.from_json(path), allowance)
        assert way.area == pytest.approx(
            ProfileSet.from_json(path).as_cut(kerf=KERF).area, rel=1e-12
        )
    assert ezdxf.readfile(tmp_path / "out" / "cuts_01.dxf").audit().errors == []
    # Kept pieces are read anew: the same.
    (tmp_path / "out" / "outlines" / "tray.json").unlink()
    assert run_job(tmp_path / "job.toml", tmp_path / "out").errors == []
    assert Allowance.from_json(tmp_path / "out" / "outlines" / "tray.json") is not None


def test_outlines_of_a_job_bring_their_allowances(tmp_path: Path) -> None:
    job = write_job(tmp_path)
    # Two parts in one outline, the fit on the hole of the second alone.
    low = tray().profiles[0]
    disc = pf.Profile(circle((200, 0), 25), [circle((200, 0), 5)], "disc")
    allowance = Allowance(fit=0.1, fits=[(1, 1, 0, 0.1)])
    ProfileSet([low, disc], name="two").to_json(tmp_path / "tray.json", allowance=allowance)
    assert run_job(job, tmp_path / "out").errors == []
    first, second = (
        Allowance.from_json(tmp_path / "out" / "outlines" / f"{name}.json")
        for name in ("tray", "disc")
    )
    assert first is not None and first.fits == [] and first.kerf == KERF
    assert second is not None and second.fits == [(0, 1, 0, 0.1)] and second.kerf == KERF
    drawing = ezdxf.readfile(tmp_path / "out" / "outlines" / "disc.dxf")
    radii = sorted(e.dxf.radius for e in drawing.modelspace() if e.dxftype() == "CIRCLE")
    assert radii == pytest.approx([5 + 0.1 - KERF / 2, 25 + KERF / 2], abs=1e-9)
    # A width of cut of its own that is not the machine's.
    tray().to_json(tmp_path / "tray.json", allowance=Allowance(kerf=0.3))
    errors = run_job(job, tmp_path / "out").errors
    assert any(
        "tray: the outline comes with a width of cut of its own, 0.3 mm" in e for e in errors
    )


def test_a_machine_without_a_width_of_cut_for_a_piece_is_a_note(tmp_path: Path) -> None:
    job = write_job(tmp_path)
    (tmp_path / "machine.toml").write_text(MACHINE.replace("thickness = 4", "thickness = 5"))
    notes = run_job(job, tmp_path / "out").notes
    assert (
        "tray: the machine file has no width of cut for larch, 4 mm: none is in its drawings"
        in notes
    )
    (tmp_path / "machine.toml").write_text(MACHINE)
    assert not any("no width of cut" in note for note in run_job(job, tmp_path / "out").notes)


def test_what_a_command_would_pass_over_is_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = write_job(tmp_path)
    out = ["--out", str(tmp_path / "out")]
    assert main(["sheets", str(job), *out, "--kerf", "0.5"]) == 2
    assert "--kerf: a job file has widths of cut" in capsys.readouterr().err
    model = pf.write_demo_assembly(tmp_path / "station.step")
    with job.open("a", encoding="utf-8") as file:
        file.write(f'[[model]]\nfile = "{model.name}"\nmaterial = "larch"\n')
    main(["flatten", str(job), *out])
    assert "widths of cut stand in the machine file" in capsys.readouterr().err
    text = job.read_text(encoding="utf-8")
    job.write_text(text + "[allowances]\nkerf = 0.2\n", encoding="utf-8")
    assert main(["flatten", str(job), *out]) == 0
    assert "machine file" not in capsys.readouterr().err
    assert SAID in (tmp_path / "out" / "base_plate.dxf").read_text(encoding="utf-8")


def test_a_drawing_has_no_tabs(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    source = plate().to_dxf(tmp_path / "plate.dxf")
    assert laid_out(source, tmp_path / "out", "--fit", "0.1", "--fit-on", "tab") != 0
    assert "no tab is known" in capsys.readouterr().err
    with pytest.raises(GeometryError, match="no tab is known"):
        allowance_of(plate(), None, Allowances(fit=0.1, fit_on="tab"))


def test_layouts_keep_what_is_said() -> None:
    piece = pf.Piece("plate", plate().as_cut(kerf=KERF), 2)
    layout = pf.lay_out([piece], pf.Stock.rectangle(200, 100), plain=True)
    back = layout_from_json(layout_json(layout))
    assert pf.allowance_notes(back.pieces[0].outline) == list(piece.outline.notes)


def angle_with_pegs() -> list[tuple[str, Any]]:
    """An L of sheet, 1 mm thick, bent by a radius of 2 mm, with a hole for a peg in each of its walls."""
    half = math.sqrt(0.5)
    section = [
        ((0, 0), (30, 0)),
        ((30, 0), (30 + 3 * half, 3 - 3 * half), (33, 3)),
        ((33, 3), (33, 30)),
        ((33, 30), (32, 30)),
        ((32, 30), (32, 3)),
        ((32, 3), (30 + 2 * half, 3 - 2 * half), (30, 1)),
        ((30, 1), (0, 1)),
        ((0, 1), (0, 0)),
    ]

    def along_x(shape: Any) -> Any:
        return moved(turned(shape, (0, 1, 0), math.pi / 2), 30.5, 20, 20)  # type: ignore[arg-type]

    def along_y(shape: Any) -> Any:
        return moved(turned(shape, (1, 0, 0), -math.pi / 2), 15, -1, 20)  # type: ignore[arg-type]

    drill, peg = through_hole(0, 0, 6, 3), cylinder(3, 10)
    sheet = cut(arc_prism(section, 40), [along_x(drill), along_y(drill)])  # type: ignore[arg-type]
    return [("angle", sheet), ("peg", along_x(peg)), ("other peg", along_y(peg))]


def test_what_is_not_looked_at_of_a_bent_sheet_is_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = write_step(angle_with_pegs(), tmp_path / "angle.step", assembly="angle")
    assert main(["plates", str(source), "--out", str(tmp_path / "out"), "--fit", "0.1"]) == 0
    drawing = tmp_path / "out" / "angle.dxf"
    circles = [e for e in ezdxf.readfile(drawing).modelspace() if e.dxftype() == "CIRCLE"]
    assert sorted(e.dxf.radius for e in circles) == pytest.approx([3.0, 3.1], abs=1e-9)
    said = "of a bent sheet only what one wall meets was looked at"
    assert said in capsys.readouterr().err and said in drawing.read_text()
    assert main(["flatten", str(source), "--out", str(tmp_path / "f"), "--fit", "0.1"]) == 0
    assert said in capsys.readouterr().err and said in (tmp_path / "f" / "angle.dxf").read_text()
    assert main(["flatten", str(source), "--out", str(tmp_path / "k"), "--kerf", "0.1"]) == 0
    assert said not in capsys.readouterr().err


def test_drawings_are_inspected_as_they_are_cut(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = plate().to_dxf(tmp_path / "plate.dxf")

    def slot(*options: str) -> float:
        main(["inspect", str(source), *options, "--thickness", "20", "--fail-on", "never"])
        found = re.search(r"inner_width +\S+ \S+ +(\S+) mm", capsys.readouterr().out)
        assert found is not None
        return float(found[1])

    assert slot() == slot("--kerf", "0.2") == pytest.approx(6.0)
    assert slot("--kerf", "0.2", "--as-cut") == pytest.approx(5.8, abs=1e-9)
    plate().as_cut(kerf=KERF).to_dxf(source)
    assert slot("--as-cut") == pytest.approx(5.8, abs=1e-9)
    assert main(["inspect", str(source), "--kerf", "0.2", "--as-cut", "--fail-on", "never"]) != 0
    assert "in the outline already" in capsys.readouterr().err
