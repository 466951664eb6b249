"""The table of names in Python and C++: what is called the same, what is called otherwise, and why."""

from __future__ import annotations

import inspect
import types
from pathlib import Path
from xml.etree import ElementTree

import planform
from reference import cpp_names, subjects

ENUM = "words of options are texts in Python, the values of an `enum class` in C++"


def cpp_members(xml: Path) -> dict[str, set[str]]:
    """Members of the public classes."""
    found: dict[str, set[str]] = {}
    for compound in ElementTree.parse(xml / "index.xml").getroot().findall("compound"):
        name = compound.findtext("name") or ""
        if compound.get("kind") in ("class", "struct") and name.count("::") == 1:
            members = {member.findtext("name") or "" for member in compound.findall("member")}
            found[name.removeprefix("planform::")] = members
    return found


def python_members(name: str) -> list[str]:
    thing = getattr(planform, name)
    if not inspect.isclass(thing) or isinstance(thing, types.UnionType):
        return []
    return [member for member in dir(thing) if not member.startswith("_")]


def write(path: Path, xml: Path) -> None:
    settings = subjects()
    otherwise: dict[str, str] = settings["otherwise"]
    cpp, members = cpp_names(xml), cpp_members(xml)
    lines = [
        "# Names in Python and C++",
        "",
        "What does the same is called the same. Where a language wants it otherwise, the table says how "
        "and why; a name in one column alone is not in the other language.",
        "",
        f"Enumerations: {ENUM}. Options: named arguments in Python, a struct `...Options` in C++. What a "
        "class computes is a property in Python (`outline.area`), a function in C++ (`outline.area()`).",
        "",
    ]
    for page in settings["page"]:
        lines += [f"## {page['title']}", "", "| Python | C++ |", "| --- | --- |"]
        for name in page["names"]:
            other = otherwise.get(name, f"`{name}`" if name in cpp else "–")
            lines.append(f"| `{name}` | {other} |")
            for member in python_members(name):
                full = f"{name}.{member}"
                if full in otherwise:
                    lines.append(f"| `{full}` | {otherwise[full]} |")
                elif member in members.get(name, set()):
                    lines.append(f"| `{full}` | `{name}::{member}` |")
                elif member in cpp and name in cpp and cpp[member] == "function":
                    lines.append(f"| `{full}` | `{member}({name})` |")
        lines.append("")
    path.write_text("\n".join(lines), encoding="utf-8")
