#!/usr/bin/env python3
"""Holds includes and imports against the tree in DEVELOPERS.md, and draws it.

    .ci/floors.py            fails on an include or import that runs up, or round in a circle of files, or that names
                             a folder which the tree doesn't
    .ci/floors.py --picture  writes notebooks/pictures/floors.svg: the floors, and an arrow for each that uses another

The tree lists folders lowest first. A file may use its own folder and those above it in that list; a folder that has
rooms comes after them. Names in brackets are rooms of another floor.
"""

import argparse
import ast
import re
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
TREE = ROOT / "DEVELOPERS.md"
CPP, PYTHON = "lib/src", "python/planform"
PICTURE = ROOT / "notebooks" / "pictures" / "floors.svg"

# Public headers whose name is not that of their floor.
HEADERS = {
    "geometry": "error",
    "tolerance": "error",
    "datum": "profile",
    "part_view": "profile",
    "turning": "profile",
    "proof": "profile",
    "boolean": "merge",
    "bridges": "merge",
    "occt": "model",
    "side_up": "plate",
}
ALL_OF_IT = "planform.hpp"

Use = tuple[Path, Path, int]
"""A file, the one that it uses, and the line that says so."""


def folders_of_the_tree(text: str) -> list[str]:
    """The folders of C++ and Python that the tree names, in its order."""
    return [match[1] for match in re.finditer(rf"^((?:{CPP}|{PYTHON})/(?:[a-z_]+/)*)(?:\s|$)", text, re.MULTILINE)]


def cpp_uses(root: Path) -> list[Use]:
    """Includes among the sources of the library. A public header stands for the folder of its floor."""
    source, include = root / CPP, root / "lib" / "include"
    uses = []
    for path in sorted([*source.rglob("*.cpp"), *source.rglob("*.hpp"), *include.rglob("*.hpp")]):
        if path.name == ALL_OF_IT:
            continue
        for number, line in enumerate(path.read_text().splitlines(), 1):
            if match := re.match(r'#include "([^"]+)"', line):
                used = include / match[1] if match[1].startswith("planform/") else source / match[1]
                uses.append((path, used, number))
    return uses


def python_uses(root: Path) -> list[Use]:
    """Imports among the modules of the package, those inside of functions too."""
    package = root / PYTHON
    uses = []
    for path in sorted(package.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text())):
            if not isinstance(node, ast.ImportFrom):
                continue
            if node.level:
                uses.append((path, package / "__init__.py", node.lineno))
            elif node.module and node.module.split(".")[0] == "planform":
                base = package.joinpath(*node.module.split(".")[1:])
                for alias in node.names:
                    uses.extend((path, used, node.lineno) for used in module_file(base, alias.name))
    return uses


def module_file(base: Path, name: str) -> list[Path]:
    if name == "_planform" or base.name == "_planform":
        return []
    for candidate in (base / f"{name}.py", base / name / "__init__.py", base.with_suffix(".py"), base / "__init__.py"):
        if candidate.exists():
            return [candidate]
    return [base]


def floor_folder(path: Path, root: Path) -> str:
    """The folder of the tree that a file belongs to."""
    relative = path.relative_to(root)
    if relative.parts[:2] == ("lib", "include"):
        name = relative.stem
        return f"{CPP}/{HEADERS.get(name, name)}/"
    return f"{relative.parent.as_posix()}/"


def is_face(path: Path, root: Path) -> bool:
    return path == root / PYTHON / "__init__.py"


def faults_of_order(uses: list[Use], tree: list[str], root: Path) -> list[str]:
    place = {folder: number for number, folder in enumerate(tree)}
    faults = []
    for path, used, line in uses:
        where = f"{path.relative_to(root)}:{line}"
        if is_face(used, root):
            faults.append(f"{where}: imports from the package's face; import from the room")
            continue
        folder, other = floor_folder(path, root), floor_folder(used, root)
        for name in {folder, other} - place.keys():
            faults.append(f"{where}: {name} is not in the tree of DEVELOPERS.md")
        if is_face(path, root) or not {folder, other} <= place.keys():
            continue
        if used.relative_to(root).parts[:2] == ("lib", "include") and folder.startswith(other):
            continue  # what a floor says of itself, its rooms may know
        if place[other] > place[folder]:
            faults.append(f"{where}: {folder} uses {other}, which stands above it")
    return faults


def unit_of(path: Path) -> str:
    """A header and its source are one."""
    return path.with_suffix("").as_posix()


def circles(uses: list[Use]) -> list[list[str]]:
    """Files that use each other in a circle (R. Tarjan, SIAM Journal on Computing 1 (1972): strong components)."""
    graph: dict[str, set[str]] = {}
    for path, used, _ in uses:
        graph.setdefault(unit_of(path), set()).add(unit_of(used))
        graph.setdefault(unit_of(used), set())
    number: dict[str, int] = {}
    lowest: dict[str, int] = {}
    stack: list[str] = []
    found = []

    def visit(unit: str) -> None:
        number[unit] = lowest[unit] = len(number)
        stack.append(unit)
        for used in sorted(graph[unit]):
            if used not in number:
                visit(used)
                lowest[unit] = min(lowest[unit], lowest[used])
            elif used in stack:
                lowest[unit] = min(lowest[unit], number[used])
        if lowest[unit] == number[unit]:
            start = stack.index(unit)
            if len(stack) - start > 1:
                found.append(sorted(stack[start:]))
            del stack[start:]

    sys.setrecursionlimit(10_000)
    for unit in sorted(graph):
        if unit not in number:
            visit(unit)
    return found


def all_faults(root: Path) -> list[str]:
    tree = folders_of_the_tree((root / "DEVELOPERS.md").read_text())
    faults = []
    for uses in (cpp_uses(root), python_uses(root)):
        faults += faults_of_order(uses, tree, root)
        for circle in circles([use for use in uses if not is_face(use[1], root)]):
            names = ", ".join(Path(unit).relative_to(root).as_posix() for unit in circle)
            faults.append(f"in a circle: {names}")
    for folder in tree:
        if not (root / folder).is_dir():
            faults.append(f"DEVELOPERS.md: the tree names {folder}, which does not exist")
    return faults


def picture(root: Path) -> str:
    """The floors of the library from the lowest up, each with the floors that it uses. Which of these it would have
    through another anyway is left out."""
    tree = [f for f in folders_of_the_tree((root / "DEVELOPERS.md").read_text()) if f.startswith(CPP)]
    floors = [f.split("/")[2] for f in tree if f.count("/") == 3]
    used: dict[str, set[str]] = {floor: set() for floor in floors}
    for path, other, _ in cpp_uses(root):
        a, b = (floor_folder(p, root).split("/")[2] for p in (path, other))
        if a != b and a in used and b in used:
            used[a].add(b)
    reach: dict[str, set[str]] = {}
    level: dict[str, int] = {}
    for floor in floors:
        reach[floor] = used[floor].union(*(reach[u] for u in used[floor]))
        level[floor] = 1 + max((level[u] for u in used[floor]), default=-1)
    rows: dict[int, list[str]] = {}
    for floor in floors:
        rows.setdefault(level[floor], []).append(floor)
    width, height, step = 112, 28, 64
    across = max(len(row) for row in rows.values()) * (width + 24)
    down = len(rows) * step
    place = {}
    for number, row in rows.items():
        for i, floor in enumerate(row):
            place[floor] = (across * (i + 0.5) / len(row), down - step * (number + 0.5))
    lines, boxes = [], []
    for floor in floors:
        x, y = place[floor]
        for other in sorted(used[floor]):
            if any(other in reach[through] for through in used[floor] - {other}):
                continue
            u, v = place[other]
            lines.append(f'<path d="M{x:.0f} {y + height / 2:.0f}L{u:.0f} {v - height / 2 - 5:.0f}"/>')
        boxes.append(
            f'<rect x="{x - width / 2:.0f}" y="{y - height / 2:.0f}" width="{width}" height="{height}" rx="3"/>'
            f'<text x="{x:.0f}" y="{y + 4:.0f}">{floor}</text>'
        )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {across} {down}" width="{across}" height="{down}">\n'
        "<title>The floors of the library: an arrow leads to what a floor uses</title>\n"
        "<style>rect{fill:#f6f3ec;stroke:#4a5a4e}text{font:13px sans-serif;text-anchor:middle;fill:#222}"
        "path{stroke:#8a968c;fill:none;marker-end:url(#tip)}</style>\n"
        '<defs><marker id="tip" viewBox="0 0 8 8" refX="4" refY="4" markerWidth="7" markerHeight="7" orient="auto">'
        '<path d="M0 1L7 4L0 7z" style="fill:#8a968c;stroke:none;marker-end:none"/></marker></defs>\n'
        + "\n".join([*lines, *boxes])
        + "\n</svg>\n"
    )


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--picture", action="store_true", help="draw the floors instead")
    if parser.parse_args().picture:
        PICTURE.write_text(picture(ROOT))
        return 0
    faults = all_faults(ROOT)
    for fault in faults:
        print(f"floors: {fault}", file=sys.stderr)
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
