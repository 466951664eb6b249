"""The pages of the reference: lists of names, which autodoc and Breathe fill from docstrings and headers."""

from __future__ import annotations

import inspect
import re
import tomllib
import types
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import planform

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
HEADERS = ROOT / "lib" / "include" / "planform"


def subjects() -> dict[str, Any]:
    """What subjects.toml says."""
    return tomllib.loads((HERE / "subjects.toml").read_text(encoding="utf-8"))


def directive(name: str) -> list[str]:
    """The lines that document one name of `planform`."""
    thing = getattr(planform, name)
    if isinstance(thing, types.UnionType):
        kinds = ", ".join(f"`{kind.__name__}`" for kind in thing.__args__)
        return [f".. py:data:: planform.{name}", "", f"   Any of {kinds}; for annotations."]
    if isinstance(thing, str):
        return [f".. py:data:: planform.{name}", "", "   The version of the package, a text."]
    if not inspect.isclass(thing):
        return [f".. autofunction:: planform.{name}"]
    kind = "autoexception" if issubclass(thing, BaseException) else "autoclass"
    for member in dir(thing):
        getattr(thing, member, None)  # some are loaded when they are first asked for
    lines = [f".. {kind}:: planform.{name}", "   :members:", "   :undoc-members:"]
    told = ", ".join(attributes(inspect.getdoc(thing) or ""))
    return [*lines, f"   :exclude-members: {told}"] if told else lines


def attributes(text: str) -> list[str]:
    """The names in the section "Attributes" of a docstring: they are documented there."""
    section = re.search(
        r"^Attributes\n-+\n(.*?)(?=^\w[^\n]*\n-{3,}$|\Z)", text, re.DOTALL | re.MULTILINE
    )
    names = re.findall(r"^([\w, ]+?)(?: :.*)?$", section[1], re.MULTILINE) if section else []
    return [part.strip() for line in names for part in line.split(",") if part.strip()]


def python_pages(folder: Path) -> None:
    folder.mkdir(parents=True)
    pages = subjects()["page"]
    for page in pages:
        lines = [page["title"], "=" * len(page["title"]), "", page["text"], ""]
        for name in page["names"]:
            lines += [*directive(name), ""]
        (folder / f"{page['file']}.rst").write_text("\n".join(lines), encoding="utf-8")
    entries = "\n".join(page["file"] for page in pages)
    texts = "\n".join(f"- [{p['title']}]({p['file']}.rst): {p['text']}" for p in pages)
    (folder / "index.md").write_text(
        f"# Python\n\nEverything that `import planform` gives, in the order of the work. Lengths are mm, "
        f"angles radians.\n\n{texts}\n- [Names in Python and C++](names.md)\n\n"
        f"```{{toctree}}\n:hidden:\n\n{entries}\nnames\n```\n",
        encoding="utf-8",
    )


def headers() -> list[Path]:
    """The public headers; planform.hpp only includes the others."""
    return [path for path in sorted(HEADERS.glob("*.hpp")) if path.name != "planform.hpp"]


def first_sentence(path: Path) -> str:
    """What a header says of itself."""
    words: list[str] = []
    for line in path.read_text(encoding="utf-8").splitlines():
        if line.startswith("///"):
            words.append(line.removeprefix("///").strip())
            if line.rstrip().endswith("."):
                break
        elif words:
            break
    return " ".join(words)


def cpp_pages(folder: Path, _xml: Path) -> None:
    folder.mkdir(parents=True)
    rows, entries = [], []
    for path in headers():
        stem = path.stem
        title = f"planform/{path.name}"
        lines = [title, "=" * len(title), "", f".. doxygenfile:: {path.name}", ""]
        (folder / f"{stem}.rst").write_text("\n".join(lines), encoding="utf-8")
        rows.append(f"- [`{path.name}`]({stem}.rst): {first_sentence(path)}")
        entries.append(stem)
    (folder / "index.md").write_text(
        "# C++\n\n`#include <planform/planform.hpp>` includes all of these but `occt.hpp`. Everything is in "
        "the namespace `planform`; lengths are mm, angles radians.\n\n" + "\n".join(rows) +
        "\n\n```{toctree}\n:hidden:\n\n" + "\n".join(entries) + "\n```\n",
        encoding="utf-8",
    )  # fmt: skip


def cpp_names(xml: Path) -> dict[str, str]:
    """Names in the namespace planform with their kind, as Doxygen finds them."""
    names: dict[str, str] = {}
    for compound in ElementTree.parse(xml / "index.xml").getroot().findall("compound"):
        name = compound.findtext("name") or ""
        if compound.get("kind") in ("class", "struct") and name.count("::") == 1:
            names[name.removeprefix("planform::")] = "class"
        if compound.get("kind") == "namespace" and name == "planform":
            for member in compound.findall("member"):
                kind = member.get("kind") or ""
                text = member.findtext("name") or ""
                if kind != "enumvalue" and not text.startswith("operator"):
                    names.setdefault(text, kind)
    return names
