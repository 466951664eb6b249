"""SVG in: drawings made by drawsvg (by hand where it has no word for it), against closed forms to 1e-9."""

from __future__ import annotations

import math
import socket
from pathlib import Path

import drawsvg
import numpy as np
import planform
import pytest
from planform import GeometryError, LoadError

EXACT = 1e-9
HEAD = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '


def read_text(text: str, folder: Path, **options: object) -> planform.LooseCurves:
    path = folder / "drawing.svg"
    path.write_text(text)
    return planform.read_svg(path, **options)


def body(
    content: str, folder: Path, size: str = 'width="100mm" height="80mm"'
) -> planform.LooseCurves:
    return read_text(f'{HEAD}{size} viewBox="0 0 100 80">{content}</svg>', folder)


def made(*elements: drawsvg.DrawingElement, folder: Path) -> planform.LooseCurves:
    """A drawing of 100 by 80 mm by drawsvg."""
    sheet = drawsvg.Drawing(100, 80)
    sheet.set_render_size("100mm", "80mm")
    for element in elements:
        sheet.append(element)
    path = folder / "drawing.svg"
    sheet.save_svg(str(path))
    return planform.read_svg(path)


def area(loose: planform.LooseCurves) -> float:
    found = [f for f in planform.drawing_findings(loose.close()) if f.rule != "drawing_unit"]
    assert found == []
    return loose.profile_set().area


BASIC = {
    "rectangle": (drawsvg.Rectangle(5, 6, 30, 20), 600),
    # Corners of radius 4 lack 4 r^2 - pi r^2.
    "rounded rectangle": (drawsvg.Rectangle(5, 6, 30, 20, rx=4), 600 - (4 - math.pi) * 16),
    "elliptic corners": (drawsvg.Rectangle(5, 6, 30, 20, rx=4, ry=2), 600 - (4 - math.pi) * 8),
    "radius too large": (drawsvg.Rectangle(5, 6, 30, 20, rx=40), math.pi * 15 * 10),
    "circle": (drawsvg.Circle(40, 40, 7), 49 * math.pi),
    "ellipse": (drawsvg.Ellipse(40, 40, 9, 4), 36 * math.pi),
    "upright ellipse": (drawsvg.Ellipse(40, 40, 4, 9), 36 * math.pi),
    "polygon": (drawsvg.Lines(0, 0, 30, 0, 30, 40, close=True), 600),
    "ring": (drawsvg.Path().M(20, 10).A(10, 10, 0, 0, 1, 20, 30).A(10, 10, 0, 0, 1, 20, 10).Z(),
             100 * math.pi),
}  # fmt: skip


@pytest.mark.parametrize("name", BASIC)
def test_basic_shapes(name: str, tmp_path: Path) -> None:
    element, expected = BASIC[name]
    assert area(made(element, folder=tmp_path)) == pytest.approx(expected, rel=EXACT)


# Each transform with its determinant.
TRANSFORMS = {
    "translate(3 4)": 1,
    "scale(2)": 4,
    "scale(-2, .5)": 1,
    "rotate(33)": 1,
    "rotate(33 10 20)": 1,
    "skewX(30)": 1,
    "skewY(-20)": 1,
    "matrix(1 2 -3 .5 6 7)": 6.5,
    "translate(5,6) rotate(20) scale(3 2)": 6,
}


@pytest.mark.parametrize("transform", TRANSFORMS)
@pytest.mark.parametrize("name", BASIC)
def test_transforms(name: str, transform: str, tmp_path: Path) -> None:
    element, expected = BASIC[name]
    group = drawsvg.Group(transform=transform)
    group.append(element)
    outer = drawsvg.Group(transform="rotate(11)")
    outer.append(group)
    assert area(made(outer, folder=tmp_path)) == pytest.approx(
        expected * TRANSFORMS[transform], rel=EXACT
    )


# Path data with the area it encloses; a Bezier curve's area by Green's theorem on its polynomials.
PATHS = {
    "M0 0 H10 V10 H0 Z": 100,
    "m0 0 h10 v10 h-10 z": 100,
    "M0,0L10,0 10,10 0,10z": 100,
    "m 5 5 10 0 0 10 -10 0 z m 2 2 v 6 h 6 v -6 z": 100 - 36,
    "M0 0Q5 10 10 0Z": 100 / 3,  # two thirds of the chord times half of the pole's height
    "M0 0q5 10 10 0z": 100 / 3,
    "M0 0Q5 10 10 0T20 0V30H0Z": 600,  # the second arch is the first one turned
    "M0 0C0 10 10 10 10 0Z": 60,  # 3/4 of the poles' height times 8/10 of the width
    "M0 0c0 10 10 10 10 0z": 60,
    "M0 0C0 10 10 10 10 0S20 -10 20 0V30H0Z": 600,
    "M0 0A5 5 0 0 0 10 0Z": 12.5 * math.pi,
    "M0 0a5 5 0 0010 0z": 12.5 * math.pi,
    "M0 0A1 1 0 0 0 10 0Z": 12.5 * math.pi,  # radii that are too small grow (SVG 1.1, F.6.6)
    "M-6 0A6 3 0 1 1 6 0Z": 9 * math.pi,
    "M5 0A5 5 0 1 1 4.999999 0Z": 25 * math.pi,
    "M0-5.5.5-5.5v-.5h-.5z": 0.25,
    "M1e1 0 2E1 0 2e1 1e1 1.e1 10z": 100,
}


@pytest.mark.parametrize("data", PATHS)
def test_paths(data: str, tmp_path: Path) -> None:
    sheet = made(drawsvg.Raw(f'<path d="{data}"/>'), folder=tmp_path)
    rough = 1e-6 if "4.999999" in data else EXACT
    assert area(sheet) == pytest.approx(PATHS[data], rel=rough)


def test_y_points_up(tmp_path: Path) -> None:
    loose = made(drawsvg.Line(0, 0, 10, 20), folder=tmp_path)
    assert loose.curves[0].curve.end.tolist() == [10, -20]


def test_groups_use_symbols_and_nested_drawings(tmp_path: Path) -> None:
    loose = body(
        '<defs><circle id="c" r="2"/><g id="two"><use href="#c" x="5"/><use xlink:href="#c" y="9"/></g>'
        '<symbol id="s" viewBox="0 0 10 10"><rect width="10" height="10"/></symbol></defs>'
        '<g id="holes" transform="translate(10 10)"><use href="#two" transform="scale(2)"/></g>'
        '<use href="#s" x="50" y="40" width="5" height="5"/>'
        '<svg x="70" y="10" width="20" height="10" viewBox="0 0 2 2"><rect width="2" height="2"/></svg>',
        tmp_path,
    )
    # Two discs of radius 4; a symbol fitted into 5 by 5; a square fitted into the lower side.
    assert area(loose) == pytest.approx(2 * 16 * math.pi + 25 + 100, rel=EXACT)
    assert loose.bounds[0][1] == pytest.approx(-45, rel=EXACT)
    xs = sorted(float(c.curve.bounds[0][0]) for c in loose.curves)
    assert xs[-1] == pytest.approx(85, rel=EXACT)  # in the middle of the 20 mm
    assert {c.layer for c in loose.curves[:2]} == {"holes"}


def test_stretched_and_sliced_views(tmp_path: Path) -> None:
    square = '<rect width="10" height="10"/></svg>'
    for ratio, factor in (("none", 8 * 4), ("xMinYMin meet", 16), ("xMidYMax slice", 64)):
        loose = read_text(
            f'{HEAD} width="80mm" height="40mm" viewBox="0 0 10 10" preserveAspectRatio="{ratio}">{square}',
            tmp_path,
        )
        assert area(loose) == pytest.approx(100 * factor, rel=EXACT), ratio


@pytest.mark.parametrize(
    ("size", "millimetres", "known"),
    [
        ('width="100mm" height="80mm"', 1, True),
        ('width="10cm" height="8cm"', 1, True),
        ('width="4in" height="3.2in"', 1.016, True),
        ('width="288pt" height="230.4pt"', 1.016, True),
        ('width="24pc" height="19.2pc"', 1.016, True),
        ('width="100px" height="80px"', 25.4 / 96, False),
        ('width="100" height="80"', 25.4 / 96, False),
        ("", 25.4 / 96, False),
        ('width="100%" height="100%"', 25.4 / 96, False),
        ('width="100mm"', 1, True),
    ],
)
def test_units(size: str, millimetres: float, known: bool, tmp_path: Path) -> None:
    loose = body('<rect x="20" y="10" width="50" height="40"/>', tmp_path, size)
    low, high = np.array(loose.bounds)
    assert high - low == pytest.approx((50 * millimetres, 40 * millimetres), rel=EXACT)
    assert loose.unit_is_known == known
    found = planform.drawing_findings(loose.close())
    assert [f.rule for f in found] == ([] if known else ["drawing_unit"])
    if not known:
        assert "13.2292 x 10.5833 mm" in found[0].text and "50 x 40 mm" in found[0].text
        forced = planform.read_svg(tmp_path / "drawing.svg", unit="mm")
        assert np.ptp(forced.bounds, axis=0) == pytest.approx((50, 40), rel=EXACT)


def test_lengths_in_shapes_have_units(tmp_path: Path) -> None:
    """Without a viewBox a user unit is a px: 25.4 / 96 mm."""
    loose = read_text(
        f'{HEAD} width="100mm" height="100mm"><rect x="1cm" y="10%" width="1in" height="10mm"/></svg>',
        tmp_path,
    )
    assert area(loose) == pytest.approx(254, rel=EXACT)
    assert loose.bounds[0][0] == pytest.approx(10, rel=EXACT)
    assert loose.bounds[1][1] == pytest.approx(-10, rel=EXACT)


def test_roles_by_colour_style_and_group(tmp_path: Path) -> None:
    loose = body(
        "<style>.red { stroke: #f00 } #b { stroke: rgb(0, 0, 255) }</style>"
        '<circle class="red" r="1"/><g stroke="lime"><circle id="b" r="2"/><circle r="3"/></g>'
        '<circle r="4" style="stroke:#00f;fill:none"/>'
        '<g inkscape:label="Engrave 1" xmlns:inkscape="urn:x"><circle r="5"/></g>'
        '<circle r="6" display="none"/><circle r="7" visibility="hidden"/><text>bird</text>',
        tmp_path,
    )
    assert [c.color for c in loose.curves] == ["#ff0000", "#0000ff", "#00ff00", "#0000ff", ""]
    assert loose.roles({"color:#0000ff": "mark"}) == ["cut", "mark", "cut", "mark", "mark"]
    assert [item.kind for item in loose.left_over] == ["hidden", "hidden", "text"]
    assert loose.left_over[2].text == "bird"


# --- broken and hostile files --------------------------------------------------------------------

BOMB = """<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa">
<!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]><svg xmlns="http://www.w3.org/2000/svg">&b;</svg>"""
QUADRATIC = f"""<!DOCTYPE svg [<!ENTITY a "{"a" * 100_000}">]>
<svg xmlns="http://www.w3.org/2000/svg">{"&a;" * 10_000}</svg>"""
OUTSIDE = """<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>
<svg xmlns="http://www.w3.org/2000/svg"><text>&x;</text></svg>"""
PARAMETER = """<!DOCTYPE svg [<!ENTITY % p SYSTEM "http://127.0.0.1:9/x.dtd"> %p;]>
<svg xmlns="http://www.w3.org/2000/svg"/>"""


@pytest.mark.parametrize(
    "text", [BOMB, QUADRATIC, OUTSIDE, PARAMETER], ids=["bomb", "quadratic", "file", "net"]
)
def test_entities_that_grow_or_point_elsewhere_are_refused(
    text: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_network(*_arguments: object) -> None:
        raise AssertionError("the reader opened a connection")

    monkeypatch.setattr(socket, "socket", no_network)
    monkeypatch.setattr(socket, "create_connection", no_network)
    with pytest.raises(LoadError, match="entit") as caught:
        read_text(text, tmp_path)
    assert caught.value.kind == "file_damaged"
    assert [p.name for p in tmp_path.iterdir()] == ["drawing.svg"]


def test_harmless_doctype_and_short_entities_are_read(tmp_path: Path) -> None:
    text = (
        '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd" ['
        '<!ENTITY ns "http://www.w3.org/2000/svg">]><svg xmlns="&ns;" width="9mm" viewBox="0 0 9 9">'
        '<circle r="1"/></svg>'
    )
    assert area(read_text(text, tmp_path)) == pytest.approx(math.pi, rel=EXACT)


def test_external_references_are_not_followed(tmp_path: Path) -> None:
    loose = body(
        '<use href="http://127.0.0.1:9/a.svg#x"/><use href="other.svg#x"/><use href="#none"/>'
        '<image href="file:///etc/passwd"/>',
        tmp_path,
    )
    assert [item.kind for item in loose.left_over] == ["unread"] * 3 + ["other"]


@pytest.mark.parametrize(
    "content",
    [
        '<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>',
        '<use id="a" href="#a"/>',
        '<symbol id="a"><use href="#a"/></symbol><use href="#a"/>',
    ],
)
def test_use_that_refers_to_itself(content: str, tmp_path: Path) -> None:
    with pytest.raises(LoadError, match="refers to itself"):
        body(content, tmp_path)


def test_use_that_stands_for_too_much(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ten in ten in ten ...: 10^12 elements, with and without a shape in them."""
    monkeypatch.setattr(planform.drawings.svg_reader, "MOST_VISITS", 2_000)
    for seed in ('<circle id="l0" r="1"/>', '<g id="l0"/>'):
        levels = "".join(
            f'<g id="l{i}">' + f'<use href="#l{i - 1}"/>' * 10 + "</g>" for i in range(1, 13)
        )
        with pytest.raises(LoadError, match="stands for more"):
            body(f'<defs>{seed}{levels}</defs><use href="#l12"/>', tmp_path)


def test_deep_nesting_is_refused(tmp_path: Path) -> None:
    with pytest.raises(LoadError, match="nest deeper"):
        body("<g>" * 100_000 + "</g>" * 100_000, tmp_path)


@pytest.mark.parametrize(
    "shape",
    [
        '<circle r="nan"/>',
        '<circle r="1e300"/>',
        '<circle cx="1e999" r="1"/>',
        '<circle r="-3"/>',
        '<circle r="3em"/>',
        '<path d="M0 0L1e300 0 5 5z"/>',
        '<path d="M0 0L nan 3"/>',
        '<path d="M0 0 L 5 ; 3"/>',
        '<path d="M0 0 L 5"/>',
        '<polygon points="0 0 3"/>',
        '<polygon points="0 0 3 x"/>',
        '<rect width="-3" height="2"/>',
        '<circle r="1" transform="scale(1e300)"/>',
        '<circle r="1" transform="scale(0)"/>',
    ],
)
def test_shapes_that_make_no_sense_are_named(shape: str, tmp_path: Path) -> None:
    loose = body(shape + '<rect width="10" height="10"/>', tmp_path)
    assert [item.kind for item in loose.left_over] == ["unread"], shape
    with pytest.raises(LoadError, match="can't be read"):
        loose.profile_set()
    rest = loose.close().profile_set(allow_open=True)
    assert rest.area == pytest.approx(100, rel=EXACT)


def test_other_bytes(tmp_path: Path) -> None:
    path = tmp_path / "a.svg"
    good = f'{HEAD} width="9mm" viewBox="0 0 9 9"><circle r="1"/></svg>'
    for data, kind in (
        (b"", "file_empty"),
        (b"  0\nSECTION\n", "file_damaged"),
        (b"<html/>", "file_not_recognised"),
        (good[:-9].encode(), "file_damaged"),
        (good.encode("utf-16")[:-4], "file_damaged"),
        (b'<?xml version="1.0" encoding="klingon"?>' + good.encode(), "file_damaged"),
        (good.replace("r=", "\xff=").encode("latin-1"), "file_damaged"),
    ):
        path.write_bytes(data)
        with pytest.raises(LoadError, match=r"a\.svg") as caught:
            planform.read_svg(path)
        assert caught.value.kind == kind, data
    path.write_bytes(good.encode("utf-16"))
    assert planform.read_svg(path).profile_set().area == pytest.approx(math.pi, rel=EXACT)
    with pytest.raises(GeometryError, match="valid: mm, inch"):
        planform.read_svg(path, unit="ell")
    with pytest.raises(LoadError, match="does not exist"):
        planform.read_drawing(tmp_path / "no.svg")
    with pytest.raises(LoadError, match=r"end in \.dxf or \.svg"):
        planform.read_drawing(__file__)
