"""The pages of the built site in headless Chromium, on a phone and on a desk, light and dark: nothing reaches
out of the page but in frames that scroll, text stands out from what is behind it, nothing is asked from
elsewhere.

`.ci/docs` builds it; PLANFORM_SITE is its folder, out/docs without it.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from browser import Browser

SITE = Path(os.environ.get("PLANFORM_SITE", Path(__file__).resolve().parents[3] / "out" / "docs"))
PAGES = sorted(path for path in SITE.rglob("*.html") if "_static" not in path.parts)

FAULTS = """
(() => {
  const faults = [];
  const page = document.documentElement;
  const name = e => e.tagName + (typeof e.className === 'string' && e.className ? '.' + e.className : '') +
    ': ' + e.textContent.trim().slice(0, 40);
  if (page.scrollWidth > page.clientWidth) faults.push('page ' + page.scrollWidth);
  const scrolls = e => {
    for (let up = e; up; up = up.parentElement)
      if (['auto', 'scroll', 'hidden'].includes(getComputedStyle(up).overflowX)) return true;
    return false;
  };
  const article = document.querySelector('article');
  if (!article) return ['no article'];
  const light = color => {
    const part = (color.match(/[\\d.]+/g) || []).map(Number);
    if (part.length < 3 || (part.length > 3 && part[3] < 0.5)) return null;
    const linear = part.slice(0, 3).map(c => c / 255).map(
      c => c <= 0.03928 ? c / 12.92 : Math.pow((c + 0.055) / 1.055, 2.4));
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2];
  };
  const behind = e => {
    for (let up = e; up; up = up.parentElement) {
      const found = light(getComputedStyle(up).backgroundColor);
      if (found !== null) return found;
    }
    return 1;
  };
  for (const e of article.querySelectorAll('*')) {
    const box = e.getBoundingClientRect();
    if (box.width === 0 || box.height === 0 || e.closest('svg')) continue;
    if ((box.left < -0.5 || box.right > page.clientWidth + 0.5) && !scrolls(e))
      faults.push('out of the page: ' + name(e));
    const own = [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim());
    const ink = light(getComputedStyle(e).color);
    if (own && ink !== null && getComputedStyle(e).visibility === 'visible') {
      const back = behind(e);
      const contrast = (Math.max(ink, back) + 0.05) / (Math.min(ink, back) + 0.05);
      if (contrast < 3 && !e.matches('.headerlink'))
        faults.push('faint ' + contrast.toFixed(1) + ': ' + name(e));
    }
  }
  return faults.slice(0, 8);
})()
"""
"""What is wrong with the page as it is shown. Contrast: WCAG 2.2, 1.4.3; 3 is its bound for large text."""


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with Browser() as browser:
        yield browser


def test_there_is_a_site() -> None:
    assert len(PAGES) > 60, "run .ci/docs first"


@pytest.mark.parametrize("path", PAGES, ids=lambda path: str(path.relative_to(SITE)))
def test_page(path: Path, browser: Browser) -> None:
    browser.events.clear()
    for width, height in ((390, 844), (1280, 900)):
        browser.call(
            "Emulation.setDeviceMetricsOverride",
            width=width,
            height=height,
            deviceScaleFactor=1,
            mobile=False,
        )
        for scheme in ("light", "dark"):
            features = [{"name": "prefers-color-scheme", "value": scheme}]
            browser.call("Emulation.setEmulatedMedia", features=features)
            browser.open(path)
            assert browser.evaluate(FAULTS) == [], (width, scheme)
    assert all(address.startswith(("file:", "data:")) for address in browser.requests())
    assert browser.complaints() == []
