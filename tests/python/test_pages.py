"""Every page in headless Chromium at four widths, light, dark and in print: nothing reaches out of the page,
no text is cut, no word or figure is broken. Measured by a script on the page, which is tried on faults."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import kernel_models as kernel
import planform
import pytest
from browser import Browser
from planform.batch.models import Batch
from planform.batch.settings import Settings
from planform.pages.inspection_report import Inspected, write_inspection_report
from planform.pages.render import picture, render
from planform.pages.report import write_report
from test_inspection_page import faulty_plate

WIDTHS = (360, 800, 1300, 2400)

FAULTS = """
(() => {
  const faults = [];
  const page = document.documentElement;
  const name = e => e.tagName + (e.className && !e.className.baseVal ? '.' + e.className : '') +
    ': ' + e.textContent.trim().slice(0, 40);
  const inFrame = e => e.closest('.frame') && getComputedStyle(e.closest('.frame')).overflowX === 'auto';
  if (page.scrollWidth > page.clientWidth) faults.push('page ' + page.scrollWidth);
  for (const e of document.body.querySelectorAll('*')) {
    const box = e.getBoundingClientRect();
    if (box.width === 0 && box.height === 0) continue;
    if (!e.closest('svg') && !inFrame(e) && (box.left < -0.5 || box.right > page.clientWidth + 0.5))
      faults.push('out of the page: ' + name(e));
    const style = getComputedStyle(e);
    if (style.overflowX !== 'visible' && style.overflowX !== 'auto' && !e.closest('svg'))
      faults.push('cuts: ' + name(e));
    if (!e.closest('svg') && e.scrollWidth > e.clientWidth + 1 && style.display !== 'inline' &&
        !e.matches('.frame') && !(e.matches('.findings, main, section') ))
      faults.push('too small for its content: ' + name(e));
  }
  const frame = e => e.closest('.frame');
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const range = document.createRange();
  while (walker.nextNode()) {
    const node = walker.currentNode;
    if (node.parentElement.closest('svg, style, title')) continue;
    for (const word of node.data.matchAll(/\\S+/g)) {
      range.setStart(node, word.index);
      range.setEnd(node, word.index + word[0].length);
      const lines = new Set([...range.getClientRects()].map(r => Math.round(r.top)));
      // What is longer than any line may break, what has a hyphen, and Chinese or Japanese anywhere.
      if (lines.size > 1 && word[0].length <= 30 && !/[-\\u2010\\u00ad/\\u3000-\\u9fff]/.test(word[0]))
        faults.push('broken: ' + word[0]);
    }
  }
  return faults.slice(0, 12);
})()
"""
"""What is wrong with the page as it is shown now."""

LONG_NAME = (
    "bird feeding station, gable of the north side with the opening for the tray, "
    "Rückwandverstrebung-unten, 前板と後板の補強材, " + "x" * 200
)[:200]


def write_demo(folder: Path) -> list[Path]:
    """The demo: outlines, cut list and an inspection with findings."""
    source = planform.write_demo_assembly(folder / "station.step")
    model = planform.load(source)
    settings = Settings(formats=("svg",), kerf=0.15, fit=0.05)
    batch = Batch([source, folder / "absent.step"], settings)
    list(batch.run(folder))
    write_report(batch.result, settings, folder / "report.html")
    cut_list = planform.CutList.from_model(model, lambda _: planform.Material("birch plywood", 680))
    cut_list.write_html(folder / "cut_list.html")
    found = planform.inspect(faulty_plate(), 3.0, sheet=(150, 100))
    write_inspection_report(
        [Inspected("perch board", found), Inspected("absent", error="absent.step: no such file")],
        folder / "inspection.html",
        680.0,
    )
    return [folder / name for name in ("report.html", "cut_list.html", "inspection.html")]


def write_large(folder: Path) -> list[Path]:
    """A part of 6,000 mm."""
    shape = kernel.cut(kernel.box(6000, 1250.25, 12), [kernel.through_hole(5990, 600, 8, 12)])
    return pages_of([("rail", shape)], folder)


def write_long_name(folder: Path) -> list[Path]:
    """A name of 200 characters, and one of them without a space."""
    assert len(LONG_NAME) == 200
    shapes = [(LONG_NAME, kernel.box(60, 40, 3)), ("w" * 200, kernel.box(61, 40, 3))]
    return pages_of(shapes, folder)


def write_many(folder: Path) -> list[Path]:
    """300 plates: the outlines of one size and name after the other, without their pictures' solids."""
    rows = [
        (str(i), f"slat {i}", "2", f"{50 + i}.25 × 40.00", "1234567.5", "12345.6", "3", "", "1.234",
         "2469135.0", "24691.2", "2.468")
        for i in range(1, 301)
    ]  # fmt: skip
    outline = planform.ProfileSet(
        [planform.Profile(planform.Contour([planform.Arc((0, 0), 20.125)]))]
    )
    from planform.cut_lists.page import columns
    from planform.pictures.outlines import dimensioned_svg
    from planform.units.figures import MM_FIGURES

    drawn = picture(dimensioned_svg(outline))
    plates = [
        {"picture": drawn, "heading": f"{i}. slat {i}", "quantity": "2 ×", "notes": [], "bends": []}
        for i in range(1, 301)
    ]
    groups = [{"heading": "3 mm, larch", "rows": rows, "sums": rows[0], "plates": plates}]
    text = render(
        "cut_list.html", title="slats.step", cells=[[("Plates", 300)]], allowance_notes=[],
        columns=columns(MM_FIGURES), bend_columns=(), groups=groups, other_columns=(), others=[], foot="",
    )  # fmt: skip
    (folder / "many.html").write_text(text, encoding="utf-8")
    return [folder / "many.html"]


def pages_of(parts: list[tuple[str, object]], folder: Path) -> list[Path]:
    """All pages that commands write of some parts."""
    source = kernel.write_step(parts, folder / "parts.step")
    settings = Settings(formats=("svg",))
    batch = Batch([source], settings)
    list(batch.run(folder))
    write_report(batch.result, settings, folder / "report.html")
    planform.CutList.from_model(planform.load(source)).write_html(folder / "cut_list.html")
    inspected = [
        Inspected(d.name, planform.inspect(d.profiles, 3.0, sheet=(50, 30)))
        for d in batch.result.drawings
        if d.profiles
    ]
    assert len(inspected) == len(parts)
    write_inspection_report(inspected, folder / "inspection.html")
    return [folder / name for name in ("report.html", "cut_list.html", "inspection.html")]


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with Browser() as browser:
        yield browser


def faults_at(browser: Browser, width: int, scheme: str, medium: str) -> list[str]:
    """What is wrong with the open page in a window of a width."""
    browser.call(
        "Emulation.setDeviceMetricsOverride", width=width, height=900, deviceScaleFactor=1,
        mobile=False,
    )  # fmt: skip
    browser.call(
        "Emulation.setEmulatedMedia", media=medium,
        features=[{"name": "prefers-color-scheme", "value": scheme}],
    )  # fmt: skip
    return list(browser.evaluate(FAULTS))


@pytest.mark.parametrize("write", [write_demo, write_large, write_long_name, write_many])
def test_nothing_overflows_and_no_text_is_cut(
    write: Callable[[Path], list[Path]], browser: Browser, tmp_path: Path
) -> None:
    faults: dict[tuple[str, int, str, str], list[str]] = {}
    measured = 0
    for page in write(tmp_path):
        browser.open(page)
        assert browser.evaluate("document.querySelectorAll('figure svg').length") >= 1
        for width in WIDTHS:
            for scheme, medium in (("light", "screen"), ("dark", "screen"), ("light", "print")):
                found = faults_at(browser, width, scheme, medium)
                measured += 1
                if found:
                    faults[page.name, width, scheme, medium] = found
    assert faults == {}
    assert measured >= 12


FAULTY = {
    "page": "<p style='width:5000px'>wide</p>",
    "out of the page": "<p style='margin-left:-40px'>left</p>",
    "cuts": "<p style='overflow:hidden;width:60px;white-space:nowrap'>a text that is cut off</p>",
    "too small": "<p style='width:40px'><b style='white-space:nowrap;display:block'>too long a text</b></p>",
    "broken": "<p style='width:40px;overflow-wrap:anywhere'>Verstrebung</p>",
}


@pytest.mark.parametrize("fault", FAULTY)
def test_the_script_would_tell(fault: str, browser: Browser, tmp_path: Path) -> None:
    page = tmp_path / "faulty.html"
    page.write_text(f"<!DOCTYPE html><body style='margin:0'>{FAULTY[fault]}</body>")
    browser.open(page)
    assert any(fault in found for found in faults_at(browser, 800, "light", "screen"))


def test_dark_and_light_differ_and_texts_can_be_read(browser: Browser, tmp_path: Path) -> None:
    """The contrast of text with its ground is 4.5 or more: Web Content Accessibility Guidelines 2.1, success
    criterion 1.4.3 (level AA); the formula is theirs, from memory."""
    page = write_demo(tmp_path)[2]
    browser.open(page)
    grounds = set()
    for scheme in ("light", "dark"):
        faults_at(browser, 800, scheme, "screen")
        colors = browser.evaluate(CONTRASTS)
        assert len(colors) > 20
        assert min(colors) >= 4.5, scheme
        grounds.add(
            browser.evaluate("getComputedStyle(document.querySelector('main')).backgroundColor")
        )
    assert len(grounds) == 2


CONTRASTS = """
(() => {
  const rgb = text => text.match(/[\\d.]+/g).map(Number);
  const light = text => {
    const [r, g, b] = rgb(text).map(v => v / 255).map(v =>
      v <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const ground = e => {
    for (; e; e = e.parentElement) {
      const color = getComputedStyle(e).backgroundColor;
      if (rgb(color)[3] !== 0) return color;
    }
    return 'rgb(255, 255, 255)';
  };
  return [...document.querySelectorAll('h1, h2, p, td, th, dt, dd, li, footer, .label')].map(e => {
    const a = light(getComputedStyle(e).color), b = light(ground(e));
    return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
  });
})()
"""
