"""Drawings from elsewhere and their mended copies: unit, scale, arcs, and what is said of the rest. Copies
are read back by ezdxf; areas are closed forms."""

from __future__ import annotations

import itertools
import json
import math
from pathlib import Path

import ezdxf
import ezdxf.path
import numpy
import planform
import pytest
from drawing_judges import audited
from ezdxf.document import Drawing
from planform.cli import main

OUTER, HOLE = (120.0, 80.0), 9.0
AREA = OUTER[0] * OUTER[1] - math.pi * HOLE**2


def tray(path: Path, units: int = 4, factor: float = 1.0, gap: float = 0.02) -> Path:
    """A tray with a hole, its lower edge a gap short, one edge drawn twice; text on it."""
    document = ezdxf.new("R2010", units=units)
    space = document.modelspace()
    x, y = OUTER
    corners = [(gap, 0), (x, 0), (x, y), (0, y), (0, 0)]
    for a, b in itertools.pairwise(corners):
        space.add_line(numpy.multiply(a, factor), numpy.multiply(b, factor))
    space.add_line((x * factor, 0), (x * factor, y * factor))
    space.add_circle((50 * factor, 40 * factor), HOLE * factor)
    space.add_text("TRAY", height=3 * factor)
    document.saveas(path)
    return path


def measured(document: Drawing) -> float:
    """Area inside of all lines, arcs and circles of a drawing, holes off, in the square of its unit: by
    Green's theorem on ezdxf's own entities."""
    loops: list[list[numpy.ndarray]] = []
    pieces = []
    for entity in document.modelspace().query("LINE ARC CIRCLE LWPOLYLINE"):
        if entity.dxf.layer == "STRAY":
            continue
        points = numpy.array(
            [(p.x, p.y) for p in ezdxf.path.make_path(entity).flattening(1e-5, segments=64)]
        )
        pieces.append(points)
    while pieces:
        loop = [pieces.pop()]
        while not numpy.allclose(loop[0][0], loop[-1][-1], atol=1e-6):
            for index, piece in enumerate(pieces):
                if numpy.allclose(piece[0], loop[-1][-1], atol=1e-6):
                    loop.append(pieces.pop(index))
                    break
                if numpy.allclose(piece[-1], loop[-1][-1], atol=1e-6):
                    loop.append(pieces.pop(index)[::-1])
                    break
            else:
                raise AssertionError("open")
        loops.append(loop)
    areas = []
    for loop in loops:
        x, y = numpy.vstack(loop).T
        areas.append(abs(0.5 * float(numpy.sum(x * numpy.roll(y, -1) - numpy.roll(x, -1) * y))))
    areas.sort()
    return areas[-1] - sum(areas[:-1])


def inspect(*arguments: object) -> int:
    return main(["inspect", *map(str, arguments)])


CODES = {"mm": 4, "inch": 1, "cm": 5, "foot": 2}


@pytest.mark.parametrize("scale", [1.0, 10.0])
@pytest.mark.parametrize("stated", [0, 4])
@pytest.mark.parametrize("unit", ["mm", "inch", "cm"])
def test_unit_and_scale_are_in_the_copy(
    unit: str, stated: int, scale: float, tmp_path: Path
) -> None:
    source = tray(tmp_path / "tray.dxf", units=stated, gap=0.001)
    copy = tmp_path / "mended.dxf"
    mended = planform.repair(source, copy, unit=unit, scale=scale, gap=0.5)
    document = audited(copy)
    assert document.units == CODES[unit]
    # Numbers as they were, times the scale; the area in the declared unit.
    assert measured(document) == pytest.approx(AREA * scale**2, rel=1e-4)
    said = " ".join(mended.changes)
    assert ("the unit of the numbers is" in said) == (stated == 0 or unit != "mm")
    assert (f"multiplied by {scale:g}" in said) == (scale != 1)
    # Read back, it needs neither.
    again = planform.read_dxf(copy)
    assert again.unit == unit and again.unit_is_known
    factor = {"mm": 1.0, "inch": 25.4, "cm": 10.0}[unit]
    assert again.profile_set().area == pytest.approx(AREA * (scale * factor) ** 2, rel=1e-9)
    (title,) = document.modelspace().query("TEXT")
    assert title.dxf.height == pytest.approx(3 * scale)


def test_unit_and_scale_of_an_svg_are_in_the_copy(tmp_path: Path) -> None:
    source = tmp_path / "roof.svg"
    source.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 6"><rect width="9" height="6"/></svg>'
    )
    mended = planform.repair(source, tmp_path / "mended.svg", unit="inch", scale=2)
    assert planform.read_svg(mended.path).profile_set().area == pytest.approx(54 * 4 * 25.4**2)
    assert planform.read_svg(mended.path).unit_is_known


def test_what_is_inspected_after_a_repair_is_the_copy(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = tray(tmp_path / "tray.dxf", units=0)
    assert inspect(source) == 1
    said = capsys.readouterr().out
    assert "--read-unit inch" in said and "option" not in said
    page, data = tmp_path / "a.html", tmp_path / "a.json"
    status = inspect(
        source,
        "--repair",
        tmp_path / "mended.dxf",
        "--read-unit",
        "mm",
        "--html",
        page,
        "--json",
        data,
    )
    assert status == 0
    said = capsys.readouterr().out
    assert "3 changes" in said
    (drawing,) = json.loads(data.read_text())["drawings"]
    assert drawing["name"] == "mended.dxf"
    assert [finding["rule"] for finding in drawing["findings"]] == ["left_over"]
    assert len(drawing["changes"]) == 3
    text = page.read_text()
    assert "Changes of the repair" in text and "the unit of the numbers is mm" in text
    assert "doubled" not in text.split("</style>")[1]


def test_doubled_and_open_curves_are_in_the_picture(tmp_path: Path) -> None:
    source = tray(tmp_path / "tray.dxf", gap=5.0)
    inspected = planform.inspect_drawing(source)
    assert inspected.drawn is not None
    assert len(inspected.drawn.open) == 4 and len(inspected.drawn.doubled) == 1
    # Sizes are of all that is drawn, though only the hole is closed.
    (x0, y0), (x1, y1) = inspected.bounds
    assert (x0, y0, x1, y1) == pytest.approx((0, 0, *OUTER))
    assert inspected.profiles.area == pytest.approx(math.pi * HOLE**2)
    picture = inspected.to_svg(tmp_path / "a.svg").read_text()
    assert (
        picture.count('<path class="open" d="M') == picture.count('<path class="doubled" d="M') == 1
    )


def flattened_disc(path: Path, segments: int, radius: float = 30.0) -> Path:
    """A rounded tray as an exporter writes it: many short lines."""
    document = ezdxf.new("R2010", units=4)
    angles = numpy.linspace(0, math.tau, segments, endpoint=False)
    points = radius * numpy.column_stack([numpy.cos(angles), numpy.sin(angles)])
    document.modelspace().add_lwpolyline(points, close=True)
    ends = numpy.linspace(-math.pi / 2, math.pi / 2, segments // 10)
    right = [(10 + 4 * math.cos(a), 4 * math.sin(a)) for a in ends]
    left = [(-10 - 4 * math.cos(a), -4 * math.sin(a)) for a in ends]
    for a, b in zip([*right, *left], [*right[1:], *left, right[0]], strict=True):
        document.modelspace().add_line(a, b)
    document.saveas(path)
    return path


@pytest.mark.parametrize("suffix", ["dxf", "svg"])
def test_flattened_curves_are_offered_and_put_in(
    suffix: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    source = flattened_disc(tmp_path / "a.dxf", 4000)
    if suffix == "svg":
        source = planform.read_dxf(source).profile_set().to_svg(tmp_path / "a.svg")
    found = [f for f in planform.inspect_drawing(source) if f.rule == "flattened"]
    assert len(found) == 2 and {f.severity for f in found} == {"note"}
    assert "4,000 curves" in found[0].text + found[1].text
    assert "--fit-arcs 0.02" in found[0].text
    copy = tmp_path / f"mended.{suffix}"
    assert inspect(source, "--repair", copy, "--fit-arcs", "0.02", "--fail-on", "warning") == 0
    assert "now it has 1 curve, 1 arc among them, within 0.02 mm" in capsys.readouterr().out
    mended = planform.read_drawing(copy)
    kinds = [type(loose.curve).__name__ for loose in mended.curves]
    # An SVG has its arcs in pieces of a third of a turn at most.
    assert kinds.count("Line") == 2
    assert len(kinds) == 5 if suffix == "dxf" else len(kinds) <= 12
    area = math.pi * 30**2 - (20 * 8 + math.pi * 16)
    assert mended.profile_set().area == pytest.approx(area, rel=1e-5)
    if suffix == "dxf":
        entities = audited(copy).modelspace()
        assert [e.dxf.radius for e in entities.query("CIRCLE")] == pytest.approx([30.0])
        assert [e.dxf.radius for e in entities.query("ARC")] == pytest.approx([4.0, 4.0], rel=1e-6)


def test_the_command_fits_arcs_within_the_limit_of_its_rules(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Chords of 4,000 to the turn leave an arc of 30 mm by 30 (1 - cos(pi / 4000)), 9.3e-6 mm."""
    source = flattened_disc(tmp_path / "a.dxf", 4000)
    rules = tmp_path / "rules.toml"
    rules.write_text("[flattened]\nlimit = 0.05\n", encoding="utf-8")
    inspect(source, "--rules", rules)
    assert "--fit-arcs 0.05" in "".join(capsys.readouterr().out.split("\n"))
    rules.write_text("[flattened]\nlimit = 1e-7\n", encoding="utf-8")
    inspect(source, "--rules", rules)
    assert "--fit-arcs" not in capsys.readouterr().out


def test_fit_arcs_needs_a_repair(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert inspect(tray(tmp_path / "a.dxf"), "--fit-arcs", "0.02") == 2
    assert "--repair" in capsys.readouterr().err


def drawn(path: Path) -> Drawing:
    document = ezdxf.new("R2010", units=4)
    document.modelspace().add_lwpolyline([(0, 0), (60, 0), (60, 40), (0, 40)], close=True)
    document.saveas(path)
    return document


def rules_of(path: Path, **options: object) -> dict[str, str]:
    return {found.rule: found.text for found in planform.inspect_drawing(path, **options)}


def test_a_hatch_is_no_cut_unless_a_role_says_so(tmp_path: Path) -> None:
    document = drawn(tmp_path / "a.dxf")
    hatch = document.modelspace().add_hatch(dxfattribs={"layer": "FILL"})
    hatch.paths.add_polyline_path([(10, 10), (20, 10), (20, 20), (10, 20)], is_closed=True)
    document.saveas(tmp_path / "a.dxf")
    found = rules_of(tmp_path / "a.dxf")
    assert found.keys() == {"hatch"} and "--role 'FILL=cut'" in found["hatch"]
    loose = planform.read_dxf(tmp_path / "a.dxf")
    assert loose.profile_set().area == 2400
    assert loose.profile_set(roles={"fill": "cut"}).area == 2300
    assert "hatch" not in rules_of(tmp_path / "a.dxf", roles={"FILL": "cut"})


def test_an_empty_drawing_is_an_error(tmp_path: Path) -> None:
    document = ezdxf.new("R2010", units=4)
    document.saveas(tmp_path / "a.dxf")
    (found,) = planform.inspect_drawing(tmp_path / "a.dxf")
    assert (found.rule, found.severity, found.text) == ("empty", "error", "the drawing is empty")
    assert inspect(tmp_path / "a.dxf") == 1
    document.modelspace().add_circle((0, 0), 5, dxfattribs={"layer": "ENGRAVE"})
    document.saveas(tmp_path / "a.dxf")
    assert rules_of(tmp_path / "a.dxf") == {"empty": "there are marks and nothing to cut"}


def test_curves_off_the_plane_are_found(tmp_path: Path) -> None:
    document = drawn(tmp_path / "a.dxf")
    space = document.modelspace()
    for start, end in (
        ((10, 10, 0), (20, 10, 3)),
        ((20, 10, 3), (15, 20, 0)),
        ((15, 20, 0), (10, 10, 0)),
    ):
        space.add_line(start, end)
    space.add_circle((40, 20), 5, dxfattribs={"layer": "HIGH", "extrusion": (0, 0.6, 0.8)})
    space.add_circle((40, 30, 2.5), 3, dxfattribs={"layer": "LEVEL"})
    document.saveas(tmp_path / "a.dxf")
    texts = [f.text for f in planform.inspect_drawing(tmp_path / "a.dxf") if f.rule == "off_plane"]
    assert len(texts) == 3
    assert "runs from z = 0 to 3 mm, 1 more entity on the layer" in texts[0] + texts[1] + texts[2]
    assert any("tilted by 36.8699°" in text and "'HIGH'" in text for text in texts)
    assert any("lies at z = 2.5 mm" in text for text in texts)


def test_blocks_that_are_scaled_unevenly_are_found(tmp_path: Path) -> None:
    document = ezdxf.new("R2010", units=4)
    document.blocks.new("HOLE").add_circle((0, 0), 1)
    for x, y_scale in ((0, 2.0), (20, 1.0), (40, -1.0)):
        document.modelspace().add_blockref(
            "HOLE", (x, 0), dxfattribs={"xscale": 1.0, "yscale": y_scale}
        )
    document.saveas(tmp_path / "a.dxf")
    found = rules_of(tmp_path / "a.dxf")
    assert "placed with scale 1 along x and 2 along y: circles in it" in found["uneven_scale"]


def test_the_last_role_is_the_caller_s(tmp_path: Path) -> None:
    drawn(tmp_path / "a.dxf")
    loose = planform.read_dxf(tmp_path / "a.dxf")
    assert len(loose.profile_set(roles={"*": "mark"}).marks) == 1
    assert len(loose.profile_set(roles={"*": "mark"}).profiles) == 0


def test_svg_is_mended_with_each_open_mark_once(tmp_path: Path) -> None:
    source, copy = tmp_path / "a.svg", tmp_path / "b.svg"
    source.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="40mm" viewBox="0 0 80 40">'
        '<path d="M0 0H80V40H0V.07"/><g id="mark"><path d="M10 10H30C40 10 40 20 50 20"/></g></svg>'
    )
    before = [c for c in planform.read_svg(source).curves if c.layer == "mark"]
    planform.repair(source, copy, gap=0.1)
    after = [c for c in planform.read_svg(copy).curves if c.layer == "mark"]
    assert [type(c.curve) for c in after] == [type(c.curve) for c in before]
    # A cubic curve stays one: the points of both are the same.
    for old, new in zip(before, after, strict=True):
        assert numpy.allclose(old.curve.points(1e-3), new.curve.points(1e-3), atol=1e-9)
