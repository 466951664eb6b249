"""The inspection's page in headless Chromium: silent, alone, every mark inside its picture."""

from __future__ import annotations

import io
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import matplotlib.image
import numpy
import planform as pf
import pytest
from browser import Browser
from planform.pages.inspection_report import Inspected, write_inspection_report
from planform.pictures.inspection import COLORS, inspection_png, inspection_svg
from random_outlines import circle, polygon

MARKS_OUTSIDE = """
[...document.querySelectorAll('svg')].flatMap(svg => {
  const box = svg.getBoundingClientRect();
  return [...svg.querySelectorAll('.finding')].filter(mark => {
    const own = mark.getBoundingClientRect();
    return own.width === 0 || own.left < box.left || own.right > box.right ||
           own.top < box.top || own.bottom > box.bottom;
  }).map(mark => mark.id);
})
"""
COUNT = "document.querySelectorAll('svg .finding').length"


def faulty_plate() -> pf.ProfileSet:
    """A perch board of a bird-feeding station with a fault of many a kind, also at its very corners."""
    outer = polygon([(0, 0), (160, 0), (160, 80), (98, 80), (97, 40), (96, 80), (0, 80)])
    holes = [
        circle((20, 20), 0.7),
        circle((1.7, 1.7), 1.0),
        circle((158.5, 1.6), 1.2),
        circle((40, 40), 12),
        circle((65, 40), 12.4),
        polygon([(110, 20), (110, 21), (150, 21), (150, 20)]),
        pf.Contour([pf.EllipticalArc((125, 55), (9, 2), 0.12)]),
    ]
    return pf.ProfileSet([pf.Profile(outer, holes, "perch board")], name="perch board <&>")


@pytest.fixture(scope="module")
def inspection() -> pf.Inspection:
    return pf.inspect(faulty_plate(), 3.0, sheet=(150, 100))


def test_page_in_a_browser(inspection: pf.Inspection, tmp_path: Path) -> None:
    many = pf.inspect(
        pf.ProfileSet(
            [
                pf.Profile(
                    polygon([(0, 0), (100, 0), (100, 60), (0, 60)]),
                    [circle((x, y), 1.0) for x in range(5, 100, 10) for y in range(5, 60, 10)],
                )
            ]
        ),
        5.0,
    )
    page = tmp_path / "page.html"
    write_inspection_report(
        [Inspected("perch board", inspection), Inspected("screen", many)], page, density=7.85
    )
    with Browser() as browser:
        browser.open(page)
        assert browser.evaluate(COUNT) == len(inspection) + len(many) > 60
        assert browser.evaluate(MARKS_OUTSIDE) == []
        rows = "document.querySelectorAll('.findings tr').length"
        assert browser.evaluate(rows) == len(inspection) + len(many) + 2
        assert browser.evaluate("document.title") == "Inspection of perch board, screen"
        assert browser.requests() == [page.resolve().as_uri()]
        assert browser.complaints() == []
        picture = browser.screenshot()
    pixels = matplotlib.image.imread(io.BytesIO(picture))
    assert pixels.shape[0] > 1000  # the whole page, not the window alone
    assert float(pixels[..., :3].std()) > 0.05


def test_the_browser_would_tell(tmp_path: Path) -> None:
    # The checks above are worth nothing if a faulty page passed them.
    page = tmp_path / "page.html"
    page.write_text(
        "<script>console.error('x')</script><img src='http://127.0.0.1:9/x.png'>"
        "<svg width='100' height='100' style='overflow:visible'><g class='finding' id='out'>"
        "<circle cx='95' cy='50' r='9'/></g></svg>"
    )
    with Browser() as browser:
        browser.open(page)
        assert browser.evaluate(MARKS_OUTSIDE) == ["out"]
        assert len(browser.requests()) == 2
        assert browser.complaints() != []


def test_pictures(inspection: pf.Inspection) -> None:
    rules = {finding.rule for finding in inspection}
    assert {"inner_width", "web", "sheet", "sharp_corner"} <= rules
    tree = ElementTree.fromstring(inspection_svg(inspection))
    marks = [element for element in tree.iter() if "finding" in element.get("class", "").split()]
    assert [mark.get("id") for mark in marks] == [f"mark-{i + 1}" for i in range(len(inspection))]
    pixels = matplotlib.image.imread(io.BytesIO(inspection_png(inspection)))
    red = numpy.array([int(COLORS["error"][i : i + 2], 16) / 255 for i in (1, 3, 5)])
    assert int((abs(pixels[..., :3] - red).max(axis=2) < 0.02).sum()) > 50
    assert inspection_png(inspection) == inspection_png(inspection)
