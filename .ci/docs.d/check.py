"""Looks at the site that was built: every public name is in its index, every link leads somewhere, nothing is
loaded from elsewhere."""

from __future__ import annotations

import html.parser
import sys
import urllib.parse
from pathlib import Path

import planform
from reference import cpp_names


class Page(html.parser.HTMLParser):
    """The places that can be linked to, the links, and what is loaded with the page."""

    def __init__(self) -> None:
        super().__init__()
        self.places: set[str] = set()
        self.links: list[str] = []
        self.loaded: list[str] = []

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        values = {name: value for name, value in attributes if value}
        self.places |= {values[name] for name in ("id", "name") if name in values}
        if tag == "a" and "href" in values:
            self.links.append(values["href"])
        if tag in ("img", "script", "iframe") and "src" in values:
            self.loaded.append(values["src"])
        if tag == "link" and values.get("rel") in ("stylesheet", "icon"):
            self.loaded.append(values["href"])


def missing_names(out: Path, xml: Path) -> list[str]:
    """Public names, Python and C++, that the index of the site lacks."""
    from sphinx.util.inventory import InventoryFile

    inventory = InventoryFile.loads((out / "objects.inv").read_bytes(), uri="")
    names: dict[str, set[str]] = {"py": set(), "cpp": set()}
    for kind in inventory.data:
        domain = kind.partition(":")[0]
        if domain in names:
            names[domain] |= set(inventory.data[kind])
    missing = [f"planform.{n}" for n in planform.__all__ if f"planform.{n}" not in names["py"]]
    return missing + [
        f"planform::{n}" for n in cpp_names(xml) if f"planform::{n}" not in names["cpp"]
    ]


def broken_links(out: Path) -> list[str]:
    """Links within the site that lead nowhere, and what a page would load from elsewhere."""
    pages: dict[Path, Page] = {}
    for path in sorted(out.rglob("*.html")):
        if "_static" not in path.parts:
            pages[path.resolve()] = page = Page()
            page.feed(path.read_text(encoding="utf-8"))
    faults = []
    for path, page in pages.items():
        for link in [*page.links, *page.loaded]:
            parts = urllib.parse.urlsplit(link)
            if parts.scheme or parts.netloc:
                if link in page.loaded:
                    faults.append(f"{path.name} loads {link}")
                continue
            target = (
                (path.parent / urllib.parse.unquote(parts.path)).resolve() if parts.path else path
            )
            if target.is_dir():
                target = target / "index.html"
            if not target.exists():
                faults.append(f"{path.name}: {link} leads nowhere")
            elif parts.fragment and target in pages:
                place = urllib.parse.unquote(parts.fragment)
                if place not in pages[target].places:
                    faults.append(f"{path.name}: {link} has no such place")
    return faults


def site(out: Path, xml: Path) -> None:
    """Ends the build with a list of what is wrong."""
    faults = [f"{name} stands nowhere" for name in missing_names(out, xml)] + broken_links(out)
    if faults:
        sys.exit("docs: " + "\ndocs: ".join(faults[:60]))
