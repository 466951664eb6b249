"""The sources of the documentation: every name has a place, every page a way to it, every link an end.

`.ci/docs` builds the site and looks at what came out: all public names in its index, no warning, no broken
link. `.ci/long` looks at the pages in Chromium. Both need what the tests don't: Sphinx and Doxygen. This is
what can be told without.
"""

from __future__ import annotations

import doctest
import json
import re
import tomllib
from collections import Counter
from pathlib import Path

import planform
import pytest

ROOT = Path(__file__).resolve().parents[2]
PAGES = ROOT / "notebooks" / "site"
SETTINGS = tomllib.loads((ROOT / ".ci/docs.d/subjects.toml").read_text(encoding="utf-8"))


def text_of(page: str) -> str:
    return (PAGES / page).read_text(encoding="utf-8")


def test_every_public_name_has_one_page() -> None:
    named = Counter(name for page in SETTINGS["page"] for name in page["names"])
    assert set(named) == set(planform.__all__)
    assert max(named.values()) == 1


def test_names_that_are_called_otherwise_are_there() -> None:
    for name in SETTINGS["otherwise"]:
        thing: object = planform
        for part in name.split("."):
            thing = getattr(thing, part)


def test_every_public_header_says_what_it_is() -> None:
    """Its first comment is what the site's page of it begins with."""
    headers = list((ROOT / "lib/include/planform").glob("*.hpp"))
    assert len(headers) > 30
    for header in headers:
        assert re.match(r"#pragma once\n\n/// \w", header.read_text(encoding="utf-8")), header.name


def test_every_page_is_reached() -> None:
    """From the page that opens; that of the jobs and those of the reference are made by `.ci/docs`."""
    listed = set(re.findall(r"^(?:[\w ]+ <)?([\w/]+)>?$", text_of("index.md"), re.MULTILINE))
    assert {path.stem for path in PAGES.glob("*.md")} - {"index"} <= listed
    assert {"README", "DEVELOPERS", "jobs", "reference/index", "cpp/index"} <= listed


@pytest.mark.parametrize("page", sorted(path.name for path in PAGES.glob("*.md")))
def test_links_and_pictures_lead_somewhere(page: str) -> None:
    text = text_of(page)
    made = {"jobs.md", "reference/index.md", "cpp/index.md", "reference/names.md"}
    targets = re.findall(r"\]\(([^)#\s]+)", text) + re.findall(r"\{include\} (\S+)", text)
    for target in targets:
        assert target in made or (PAGES / target).exists() or (ROOT / target).exists(), target


def test_sections_that_are_shown_elsewhere_are_there() -> None:
    developers = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    headings = re.findall(r':(?:start-after|end-before): "(.*)"', text_of("schemas.md"))
    assert len(headings) >= 6
    for heading in headings:
        assert f"\n{heading}\n" in developers, heading


@pytest.mark.parametrize("page", ["proofs.md"])
def test_sessions_run(page: str) -> None:
    (session,) = re.findall(r"^```pycon\n(.*?)^```$", text_of(page), re.MULTILINE | re.DOTALL)
    test = doctest.DocTestParser().get_doctest(session, {}, page, page, 0)
    result = doctest.DocTestRunner().run(test)
    assert result.attempted > 3 and result.failed == 0


def test_what_is_promised_of_versions_is_so() -> None:
    """The versions that the page of stability names are those that are written."""
    text = text_of("stability.md")
    disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), 9)]))])
    mark = planform.Mark.open([planform.Line((0, 0), (1, 0))])
    written = [
        json.loads(outline.to_json())["planform"]
        for outline in (disc, disc.with_marks([mark]), disc.with_data({"order": 1}))
    ]
    assert written == [1, 3, 4]
    assert (
        "| `planform` | 1; 2 with an allowance; 3 with an open mark or a depth; 4 with data |"
        in text
    )
    digest = (ROOT / "lib/src/profile/digest.cpp").read_text(encoding="utf-8")
    (version,) = re.findall(r"constexpr std::int64_t version = (\d+);", digest)
    assert f"(now {version})" in text
    assert f"digests {version}." in text_of("changelog.md")
    layout = planform.lay_out(
        [planform.Piece("disc", disc)], planform.Stock.rectangle(50, 50), plain=True
    )
    from planform.sheets.document import layout_json

    document = json.loads(layout_json(layout))
    assert f"| `planform_sheets` | {document['planform_sheets']} |" in text


def test_a_link_that_leads_nowhere_is_found(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.syspath_prepend(ROOT / ".ci" / "docs.d")
    from check import broken_links

    other = '<h1 id="top">Perches</h1><a href="index.html">back</a><a href="https://a.example/">away</a>'
    (tmp_path / "other.html").write_text(other)
    page = tmp_path / "index.html"
    page.write_text('<p id="here"><a href="#here">a</a><a href="other.html#top">b</a></p>')
    assert broken_links(tmp_path) == []
    page.write_text('<a href="#there">a</a><a href="other.html#end">b</a><a href="no.html">c</a>')
    faults = broken_links(tmp_path)
    assert len(faults) == 3
    assert all(
        link in fault for link, fault in zip(("#there", "#end", "no.html"), faults, strict=True)
    )
    page.write_text('<img src="https://a.example/x.png">')
    assert broken_links(tmp_path) == ["index.html loads https://a.example/x.png"]


def test_the_changes_know_this_version() -> None:
    assert f"\n## {planform.__version__}" in text_of("changelog.md")
