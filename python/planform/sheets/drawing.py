"""A drawing of each sheet, DXF and SVG: the pieces as they are cut, the sheet's edge on a layer of its own,
the pieces' names on the layer of marks.

The cut contours are written as those of any drawing; the edge is written in the same way and goes under the
layer ``SHEET`` (in SVG the group ``sheet``), names are texts in the middle of their pieces.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from html import escape
from pathlib import Path
from typing import Any, Literal

import numpy

from planform._planform import Mark, Profile, ProfileSet, write_whole_file
from planform.naming import printable
from planform.sheets.values import Placement, Sheet

LAYER = "SHEET"
COLOR = 8
"""Index of a grey, legible on dark and light grounds: our own choice."""
FORMATS = ("dxf", "svg")
LARGEST_LETTER = 12.0
"""mm."""
LETTER_WIDTH = 0.7
"""Of a letter as a share of its height, about (no font is known to the drawing)."""
INCH = 25.4


def sheet_outlines(sheet: Sheet) -> ProfileSet:
    """All pieces on a sheet as one profile set, mm: each profile under its piece's name, islands with their
    parents, marks too."""
    profiles: list[Profile] = []
    marks: list[Mark] = []
    for placement in sheet.placements:
        outline = placement.outline
        first = len(profiles)
        for profile in outline.profiles:
            parent = profile.parent + first if profile.parent >= 0 else -1
            profiles.append(
                Profile(profile.outer, profile.holes, placement.name, parent, validate=False)
            )
        marks += outline.marks
    tolerance = max((p.piece.outline.tolerance for p in sheet.placements), default=0.01)
    return ProfileSet(profiles, marks, tolerance=tolerance, validate=False)


def label(placement: Placement) -> tuple[str, float, float, float]:
    """The name of a piece as it is written on it: text, middle (x, y) and height in mm."""
    outer = max(placement.outline.profiles, key=lambda profile: profile.area)
    (left, low), (right, high) = (map(float, corner) for corner in outer.bounds)
    text = printable(placement.name) or "?"
    x, y = inner_point(outer)
    room = min(right - left, high - low)
    height = min(LARGEST_LETTER, 0.25 * room, 0.8 * (right - left) / (LETTER_WIDTH * len(text)))
    return text, x, y, max(height, 0.5)


def inner_point(profile: Profile) -> tuple[float, float]:
    """A point in the material: the middle of the longest stretch of material on one of a few lines across."""
    rings = [profile.outer.points(0.1), *(hole.points(0.1) for hole in profile.holes)]
    low, high = float(rings[0][:, 1].min()), float(rings[0][:, 1].max())
    best = (0.0, float(rings[0][:, 0].mean()), (low + high) / 2)
    for share in (0.5, 0.35, 0.65, 0.2, 0.8):
        y = low + share * (high - low) + 1e-7 * (high - low)
        crossings: list[float] = []
        for ring in rings:
            a, b = ring, numpy.roll(ring, -1, axis=0)
            cut = (a[:, 1] <= y) != (b[:, 1] <= y)
            t = (y - a[cut, 1]) / (b[cut, 1] - a[cut, 1])
            crossings += list(a[cut, 0] + t * (b[cut, 0] - a[cut, 0]))
        crossings.sort()
        for start, end in zip(crossings[::2], crossings[1::2], strict=False):
            if end - start > best[0] * 1.2:
                best = (end - start, (start + end) / 2, y)
    return float(best[1]), float(best[2])


def dxf_of_sheet(sheet: Sheet, title: str, unit: Literal["mm", "inch"] = "mm") -> str:
    """The DXF (AC1015) of a sheet; ``title`` is written above its upper left corner."""
    lines = sheet_outlines(sheet).to_dxf(unit=unit).split("\n")
    scale = INCH if unit == "inch" else 1.0
    edge = sheet.outline
    seed = place_of(lines, "$HANDSEED") + 2
    handle = int(lines[seed], 16)
    owner = "12"
    entities: list[str] = []
    for entity in entities_of(edge.to_dxf(unit=unit).split("\n")):
        groups = list(entity)
        for number in range(0, len(groups) - 1, 2):
            code = groups[number].strip()
            if code == "5":
                groups[number + 1] = f"{handle:X}"
                handle += 1
            elif code == "8":
                groups[number + 1] = LAYER
            elif code == "330":
                owner = groups[number + 1]
        entities += without_data(groups)
    (left, _), (_, high) = (map(float, corner) for corner in edge.bounds)
    texts = [("MARK", *label(placement), True) for placement in sheet.placements]
    above = 0.3 * LARGEST_LETTER
    texts.append((LAYER, printable(title), left, high + above, LARGEST_LETTER, False))
    for layer, text, x, y, height, is_centred in texts:
        entities += text_entity(
            handle, owner, layer, text, x / scale, y / scale, height / scale, is_centred
        )
        handle += 1
    at = end_of_entities(lines)
    lines[at:at] = entities
    lines[seed] = f"{handle + 1:X}"
    set_extents(lines, edge, scale)
    add_layer(lines, handle)
    return "\n".join(lines)


def place_of(lines: Sequence[str], word: str, start: int = 0) -> int:
    """The line that holds a word."""
    return next(i for i in range(start, len(lines)) if lines[i] == word)


def end_of_entities(lines: Sequence[str]) -> int:
    """The line before which entities are added: that of the end of their section."""
    return place_of(lines, "ENDSEC", place_of(lines, "ENTITIES")) - 1


def entities_of(lines: Sequence[str]) -> list[list[str]]:
    """The entities of a drawing, each as its lines."""
    start, end = place_of(lines, "ENTITIES") + 1, end_of_entities(lines)
    starts = [i for i in range(start, end, 2) if lines[i].strip() == "0"]
    return [list(lines[a:b]) for a, b in zip(starts, [*starts[1:], end], strict=True)]


def without_data(groups: Sequence[str]) -> list[str]:
    """An entity without what applications add to it."""
    for number in range(0, len(groups) - 1, 2):
        if groups[number].strip() == "1001":
            return list(groups[:number])
    return list(groups)


def text_entity(
    handle: int,
    owner: str,
    layer: str,
    text: str,
    x: float,
    y: float,
    height: float,
    is_centred: bool,
) -> list[str]:
    """A text in drawing units: in the middle of (x, y), or beginning there. Group codes: the published DXF
    reference for AC1015, from memory, judged by a reader."""
    groups: list[tuple[int, Any]] = [
        (0, "TEXT"),
        (5, f"{handle:X}"),
        (330, owner),
        (100, "AcDbEntity"),
        (8, layer),
        (100, "AcDbText"),
        (10, repr(x)),
        (20, repr(y)),
        (30, "0.0"),
        (40, repr(height)),
        (1, dxf_text(text)),
    ]
    if is_centred:
        groups += [(72, 1), (11, repr(x)), (21, repr(y)), (31, "0.0"), (100, "AcDbText"), (73, 2)]
    else:
        groups += [(100, "AcDbText")]
    return [line for code, value in groups for line in (f"{code:3d}", str(value))]


def dxf_text(text: str) -> str:
    """A text as the format holds it: ASCII, others as \\U+ and four digits, no control codes."""
    plain = text.replace("^", " ").replace("%%", "% %")
    return "".join(c if " " <= c <= "~" else f"\\U+{min(ord(c), 0xFFFF):04X}" for c in plain)


def set_extents(lines: list[str], edge: ProfileSet, scale: float) -> None:
    """Widen the drawing's extents to the sheet's edge."""
    for word, corner in zip(("$EXTMIN", "$EXTMAX"), edge.bounds, strict=True):
        at = place_of(lines, word)
        lines[at + 2], lines[at + 4] = (repr(float(value) / scale) for value in corner)


def add_layer(lines: list[str], handle: int) -> None:
    """Add the layer of the edge to the table of layers, as its last one."""
    table = next(
        i
        for i in range(len(lines) - 1)
        if lines[i] == "LAYER" and lines[i - 1].strip() == "2" and lines[i - 2] == "TABLE"
    )
    end = place_of(lines, "ENDTAB", table) - 1
    records = [i for i in range(table, end) if lines[i] == "LAYER" and lines[i - 1].strip() == "0"]
    record = lines[records[-1] - 1 : end]
    for number in range(0, len(record) - 1, 2):
        code = record[number].strip()
        if code == "5":
            record[number + 1] = f"{handle:X}"
        elif code == "2":
            record[number + 1] = LAYER
        elif code == "62":
            record[number + 1] = str(COLOR)
    count = next(i for i in range(table, end, 1) if lines[i].strip() == "70" and i < records[0])
    lines[count + 1] = str(int(lines[count + 1]) + 1)
    lines[end:end] = record


def svg_of_sheet(sheet: Sheet, title: str) -> str:
    """The SVG of a sheet, its size that of the sheet, in mm."""
    edge = sheet.outline.to_svg()
    pieces = sheet_outlines(sheet).to_svg()
    head = edge[: edge.index("\n") + 1]
    shapes = re.findall(r"^ {4}<.*>$", edge, re.MULTILINE)
    body = pieces[pieces.index("\n") + 1 :]
    body = re.sub(r"^  <title>.*</title>\n", "", body)
    names = "".join(
        f'    <text x="{x:.3f}" y="{-y:.3f}" font-size="{height:.3f}">{escape(text)}</text>\n'
        for text, x, y, height in map(label, sheet.placements)
    )
    words = (
        '  <g id="mark-names" fill="#2e7d32" stroke="none" text-anchor="middle" dominant-baseline="central" '
        f'font-family="sans-serif">\n{names}  </g>\n'
    )
    group = '  <g id="sheet" stroke="#7b8791">\n' + "".join(f"{s}\n" for s in shapes) + "  </g>\n"
    heading = f"  <title>{escape(printable(title))}</title>\n"
    return head + heading + group + body.replace("</svg>", words + "</svg>")


def write_sheet(sheet: Sheet, path: Path, title: str, unit: Literal["mm", "inch"] = "mm") -> Path:
    """Write a sheet's drawing by the suffix of the path, ``.dxf`` or ``.svg``. Raises WriteError."""
    text = svg_of_sheet(sheet, title) if path.suffix == ".svg" else dxf_of_sheet(sheet, title, unit)
    write_whole_file(path, text)
    return path
