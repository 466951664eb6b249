"""The HTML page: complete, self-contained, and safe whatever the model's names are."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import kernel_models as kernel
import planform
import pytest
from planform.batch import Batch, Settings
from planform.pages.render import CAUTIONS
from planform.pages.report import report_html, write_report

VOID_ELEMENTS = {"meta", "br"}


class Page(HTMLParser):
    """Checks the nesting and collects what the tests ask for."""

    def __init__(self, source: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.text = ""
        self._open: list[str] = []
        self.feed(source)
        self.close()
        assert self._open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        if tag not in VOID_ELEMENTS:
            self._open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self._open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.text += data

    def count(self, tag: str) -> int:
        return sum(name == tag for name, _ in self.elements)


def finished_batch(sources: list[Path], folder: Path, settings: Settings) -> Batch:
    batch = Batch(sources, settings)
    folder.mkdir(exist_ok=True)
    assert len(list(batch.run(folder))) == batch.size
    return batch


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> tuple[Batch, str]:
    folder = tmp_path_factory.mktemp("demo")
    source = planform.write_demo_assembly(folder / "station.step")
    settings = Settings(formats=("dxf",))
    batch = finished_batch([source], folder / "cut", settings)
    return batch, report_html(batch.result, settings)


def test_shows_every_outline_with_its_figures(demo: tuple[Batch, str]) -> None:
    batch, source = demo
    page = Page(source)
    assert page.count("svg") == len(batch.result.drawings) >= 8
    for drawing in batch.result.drawings:
        assert drawing.profiles is not None
        width, height = drawing.profiles.bounds[1] - drawing.profiles.bounds[0]
        assert f"{width / 25.4:.3f} × {height / 25.4:.3f} in" in page.text
        assert f"{drawing.profiles.area:.1f} mm²" in page.text
        assert f"{drawing.profiles.length:.1f} mm" in page.text
        assert drawing.name in page.text
    pieces = sum(drawing.quantity for drawing in batch.result.drawings)
    assert re.search(rf"Pieces to cut{pieces}\D", page.text)


def test_pictures_have_the_outline_proportions(demo: tuple[Batch, str]) -> None:
    batch, source = demo
    for drawing, picture in zip(
        batch.result.drawings, re.findall(r"<svg.*?</svg>", source), strict=True
    ):
        path = ElementTree.fromstring(picture).find("path")
        assert path is not None
        numbers = [float(number) for number in re.findall(r"-?[\d.]+", path.attrib["d"])]
        shown = [max(numbers[axis::2]) - min(numbers[axis::2]) for axis in (0, 1)]
        assert drawing.profiles is not None
        extent = drawing.profiles.bounds[1] - drawing.profiles.bounds[0]
        # Coordinates have two decimals, chords are within a tenth of a pixel.
        assert shown[0] * extent[1] == pytest.approx(shown[1] * extent[0], rel=0.02)
        assert path.attrib["d"].count("M") == sum(
            1 + len(profile.holes) for profile in drawing.profiles.profiles
        )


def test_needs_no_network_and_no_script(demo: tuple[Batch, str]) -> None:
    page = Page(demo[1])
    assert page.count("script") == page.count("link") == page.count("img") == 0
    for _, attributes in page.elements:
        assert not {"src", "href", "xlink:href", "onload", "onclick"} & set(attributes)
    assert "http:" not in demo[1]
    assert "https:" not in demo[1]
    assert "url(" not in demo[1]
    policies = [attributes for tag, attributes in page.elements if "http-equiv" in attributes]
    assert policies[0]["content"] == "default-src 'none'; style-src 'unsafe-inline'"


def test_says_every_caution(demo: tuple[Batch, str]) -> None:
    text = Page(demo[1]).text
    for caution in CAUTIONS:
        assert caution in text
    for word in ("PVC", "interlock", "fire watch", "test piece", "manual", "codes", "licensed"):
        assert word in text


def test_names_from_a_model_are_text(tmp_path: Path) -> None:
    name = '"><script>alert(1)</script>'
    source = kernel.write_step([(name, kernel.box(10, 20, 3))], tmp_path / "evil.step")
    settings = Settings(formats=("svg",))
    batch = finished_batch([source], tmp_path / "cut", settings)
    page = Page(report_html(batch.result, settings))
    assert page.count("script") == 0
    assert name in page.text


def test_tells_of_what_failed(tmp_path: Path) -> None:
    settings = Settings(formats=("svg",))
    batch = finished_batch([tmp_path / "absent.step"], tmp_path / "cut", settings)
    page = Page(report_html(batch.result, settings))
    assert page.count("svg") == 0
    assert "Not read: " in page.text
    assert "absent.step" in page.text


def test_is_written_whole_or_not_at_all(demo: tuple[Batch, str], tmp_path: Path) -> None:
    batch, source = demo
    write_report(batch.result, batch.settings, tmp_path / "report.html")
    assert (tmp_path / "report.html").read_text(encoding="utf-8") == source
    with pytest.raises(planform.WriteError):
        write_report(batch.result, batch.settings, tmp_path / "absent" / "report.html")
    assert [entry.name for entry in tmp_path.iterdir()] == ["report.html"]
