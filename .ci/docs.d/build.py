"""Puts the sources of the site together, builds it, and looks at what came out. See `.ci/docs`.

The sources are README.md, DEVELOPERS.md, tests/benchmarks/README.md, notebooks/ (pages: notebooks/site),
the docstrings of python/ and the public headers of lib/. Pages of the reference are lists of names, made here
from subjects.toml.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import check
import names_table
import notebook_pages
from reference import cpp_pages, python_pages

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
BUILD = ROOT / ".build" / "docs"
SECTIONS = {"function": "func", "enum": "enum", "typedef": "typedef", "variable": "var"}
"""Kinds of members, and of the sections that hold them."""


def put_together(source: Path) -> None:
    """Everything as it lies in the repository, so that links hold; pages of the site at the top."""
    shutil.rmtree(source, ignore_errors=True)
    source.mkdir(parents=True)
    for name in ("README.md", "DEVELOPERS.md", "LICENSE", "tests/benchmarks/README.md"):
        (source / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(ROOT / name, source / name)
    notebooks = ROOT / "notebooks"
    shutil.copytree(
        notebooks, source / "notebooks", ignore=shutil.ignore_patterns("site", "*.py", ".*", "__*")
    )
    shutil.copytree(notebooks / "site", source, dirs_exist_ok=True)


def doxygen(folder: Path) -> Path:
    """The XML of the public headers."""
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    settings = (HERE / "Doxyfile").read_text(encoding="utf-8")
    done = subprocess.run(
        ["doxygen", "-"],
        input=f"{settings}\nOUTPUT_DIRECTORY = {folder}\n",
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    if done.stderr:
        sys.exit(f"docs: Doxygen warns of the headers:\n{done.stderr}")
    xml = folder / "xml"
    members_into_headers(xml)
    return xml


def members_into_headers(xml: Path) -> None:
    """Doxygen lists what a namespace holds in one file: each header gets its own share of it, in the order in
    which it is written there, and no namespace, which would be opened anew on every page."""
    namespace = ElementTree.parse(xml / "namespaceplanform.xml").getroot()
    by_header: dict[str, dict[str, list[ElementTree.Element]]] = {}
    for member in namespace.iter("memberdef"):
        place = member.find("location")
        assert place is not None
        # Outside of its namespace a member needs its full name.
        for name in member.findall("name"):
            name.text = f"planform::{name.text}"
        header = Path(place.get("declfile") or place.get("file") or "").name
        kinds = by_header.setdefault(header, {})
        kinds.setdefault(SECTIONS[member.get("kind") or ""], []).append(member)
    for path in xml.glob("*_8hpp.xml"):
        tree = ElementTree.parse(path)
        (header,) = tree.getroot().findall("compounddef")
        for inner in header.findall("innernamespace"):
            header.remove(inner)
        for kind, members in by_header.get(header.findtext("compoundname") or "", {}).items():
            section = ElementTree.SubElement(header, "sectiondef", kind=kind)
            section.extend(sorted(members, key=line_of))
        tree.write(path, encoding="utf-8", xml_declaration=True)


def line_of(member: ElementTree.Element) -> int:
    place = member.find("location")
    return int(place.get("line") or 0) if place is not None else 0


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--out", type=Path, default=ROOT / "out" / "docs")
    parser.add_argument("--notebooks", choices=["run", "as-stored"], default="run")
    options = parser.parse_args()
    source, xml = BUILD / "source", doxygen(BUILD / "doxygen")
    put_together(source)
    python_pages(source / "reference")
    cpp_pages(source / "cpp", xml)
    run = options.notebooks == "run"
    notebook_pages.write(source / "notebooks", source / "jobs.md", BUILD / "notebooks", execute=run)
    names_table.write(source / "reference" / "names.md", xml)
    environment = dict(os.environ, PLANFORM_DOXYGEN_XML=str(xml))
    subprocess.run(
        [sys.executable, "-m", "sphinx", "-W", "--keep-going", "-q", "-b", "html", "-c", HERE,
         "-d", BUILD / "doctrees", source, options.out],
        check=True,
        env=environment,
    )  # fmt: skip
    check.site(options.out, xml)
    print(f"docs: {options.out / 'index.html'}")


if __name__ == "__main__":
    main()
