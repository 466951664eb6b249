"""What `planform inspect` says of drawings as they come: no outline that closes, layers, colours, notes."""

from __future__ import annotations

import json
import re
from pathlib import Path

import ezdxf
import planform
from planform.cli import main


def sketch(path: Path) -> Path:
    """Three sides of a tray and a bit: nothing closes."""
    document = ezdxf.new("R2010", units=4)
    for start, end in (((0, 0), (100, 0)), ((100, 0), (100, 60)), ((100, 60), (0, 60))):
        document.modelspace().add_line(start, end)
    document.saveas(path)
    return path


def tray(path: Path) -> Path:
    """A tray with centre lines far out, dimensions and a title."""
    document = ezdxf.new("R2010", units=4, setup=True)
    space = document.modelspace()
    space.add_lwpolyline([(0, 0), (120, 0), (120, 80), (0, 80)], close=True)
    space.add_line((300, 40), (400, 40), dxfattribs={"layer": "CENTER", "color": 3})
    space.add_linear_dim(base=(0, -10), p1=(0, 0), p2=(120, 0)).render()
    space.add_text("TRAY")
    document.saveas(path)
    return path


def test_a_drawing_without_a_closed_outline_has_page_picture_and_data(tmp_path: Path) -> None:
    source = sketch(tmp_path / "a.dxf")
    page, data = tmp_path / "a.html", tmp_path / "a.json"
    for picture in ("a.svg", "a.png"):
        status = main(
            ["inspect", str(source), "--html", str(page), "--json", str(data), "--picture",
             str(tmp_path / picture)]
        )  # fmt: skip
        assert status == 1
        assert (tmp_path / picture).stat().st_size > 500
    assert "none is closed" in page.read_text()
    # The open curves themselves are shown, and the size is that of all that is drawn.
    assert '<path class="open" d="M' in page.read_text()
    assert '<path class="open" d="M' in (tmp_path / "a.svg").read_text()
    assert not re.search(r"\bnan\b", page.read_text() + (tmp_path / "a.svg").read_text(), re.I)
    # Strict JSON has no NaN.
    (drawing,) = json.loads(data.read_text(), parse_constant=lambda word: 1 / 0)["drawings"]
    low, high = drawing["bounds"]
    assert all(a < b for a, b in zip(low, high, strict=True))
    assert [f["rule"] for f in drawing["findings"]] == ["open_end"]
    assert drawing["findings"][0]["measured"] == 60


def test_findings_beside_the_outline_are_in_the_picture(tmp_path: Path) -> None:
    inspected = planform.inspect_drawing(tray(tmp_path / "a.dxf"))
    picture = inspected.to_svg(tmp_path / "a.svg").read_text()
    width, height = map(float, re.search(r'viewBox="0 0 (\S+) (\S+)"', picture).groups())
    places = re.findall(r'<circle cx="(\S+)" cy="(\S+)" r="1.8"', picture)
    assert len(places) >= 3
    assert all(0 <= float(x) <= width and 0 <= float(y) <= height for x, y in places)


def test_a_stray_says_its_layer_and_annotations_are_no_text(tmp_path: Path) -> None:
    source = tray(tmp_path / "a.dxf")
    stray, dimension, text = planform.inspect_drawing(source)
    assert "on layer 'CENTER'" in stray.text and "role (mark, ignore)" in stray.text
    assert "is an annotation" in dimension.text and "is text" in text.text
    ignored = planform.inspect_drawing(source, roles={"center": "ignore"})
    assert [f.rule for f in ignored] == ["left_over", "left_over"]


def test_a_pattern_that_nothing_fits_is_a_finding(tmp_path: Path) -> None:
    source = tray(tmp_path / "a.dxf")
    roles = {"centre": "ignore", "color:9": "mark", "CENT*": "ignore", "Color:3": "mark"}
    found = [f for f in planform.inspect_drawing(source, roles=roles) if f.rule == "role"]
    assert [f.text for f in found] == [
        "no layer fits the pattern 'centre'; there are: '0', 'CENTER'",
        "no colour fits the pattern 'color:9'; there are: '3', '7'",
    ]
