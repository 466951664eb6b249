"""A drawing of each sheet, DXF and SVG: the pieces as they are cut, the sheet's edge on a layer of its own,
the pieces' names on the layer of marks.

The cut contours are written as those of any drawing; the edge is written in the same way and goes under the
layer ``SHEET`` (in SVG the group ``sheet``), names are texts in the middle of their pieces. Layers and
colours are the machine's where it names some.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from html import escape
from pathlib import Path
from typing import Any, Literal

import numpy

from planform._planform import DrawingLayer, Line, Mark, Profile, ProfileSet, write_whole_file
from planform.allowances import notes_of_ways
from planform.layer_files import ROLES, LayerData, drawing_layers
from planform.naming import printable
from planform.sheets.values import Placement, Sheet

LAYER = "SHEET"
COLOR = 8
"""Index of a grey, legible on dark and light grounds: our own choice."""
LARGEST_LETTER = 12.0
"""mm."""
LETTER_WIDTH = 0.7
"""Of a letter as a share of its height, about (no font is known to the drawing)."""
INCH = 25.4


def sheet_outlines(sheet: Sheet) -> ProfileSet:
    """All pieces on a sheet as one profile set, mm: each profile under its piece's name, islands with their
    parents, marks too. Its notes say what allowances are in it."""
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
    notes = notes_of_ways((p.name, p.piece.outline) for p in sheet.placements)
    return ProfileSet(profiles, marks, tolerance=tolerance, notes=notes, validate=False)


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
    low, high = float(numpy.min(rings[0][:, 1])), float(numpy.max(rings[0][:, 1]))
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


def dxf_of_sheet(
    sheet: Sheet,
    title: str,
    unit: Literal["mm", "inch"] = "mm",
    layers: LayerData | None = None,
) -> str:
    """The DXF (AC1015) of a sheet; ``title`` is written above its upper left corner, ``layers`` are the
    machine's by "outer", "inner", "mark" and "sheet"."""
    own = layers_of(layers)
    edge_layer = own["sheet"]
    lines = sheet_outlines(sheet).to_dxf(unit=unit, layers=of_outlines(own)).split("\n")
    edge = sheet.outline.to_dxf(unit=unit, layers=dict.fromkeys(("outer", "inner"), edge_layer))
    edge_lines = edge.split("\n")
    scale = INCH if unit == "inch" else 1.0
    seed = place_of(lines, "$HANDSEED") + 2
    handle = int(lines[seed], 16)
    owner = "12"
    entities: list[str] = []
    sheet_layer = ""
    for entity in entities_of(edge_lines):
        groups = list(entity)
        for number in range(0, len(groups) - 1, 2):
            code = groups[number].strip()
            if code == "5":
                groups[number + 1] = f"{handle:X}"
                handle += 1
            elif code == "8":
                sheet_layer = groups[number + 1]
            elif code == "330":
                owner = groups[number + 1]
        entities += without_data(groups)
    mark_lines = one_mark().to_dxf(layers=of_outlines(own)).split("\n")
    mark_layer = layer_name(entities_of(mark_lines)[0])
    (left, _), (_, high) = (map(float, corner) for corner in sheet.outline.bounds)
    texts = [(mark_layer, *label(placement), True) for placement in sheet.placements]
    above = 0.3 * LARGEST_LETTER
    texts.append((sheet_layer, printable(title), left, high + above, LARGEST_LETTER, False))
    for layer, text, x, y, height, is_centred in texts:
        entities += text_entity(
            handle, owner, layer, text, x / scale, y / scale, height / scale, is_centred
        )
        handle += 1
    at = end_of_entities(lines)
    lines[at:at] = entities
    set_extents(lines, sheet.outline, scale)
    for source, layer in ((mark_lines, mark_layer), (edge_lines, sheet_layer)):
        handle += add_layer(lines, layer_record(source, layer), handle)
    lines[seed] = f"{handle:X}"
    return "\n".join(lines)


def layers_of(layers: LayerData | None) -> dict[str, DrawingLayer]:
    """The machine's layers by role; where it says nothing of the edge, ours. Raises GeometryError."""
    given = layers or {}
    edge = {"name": LAYER, "color": COLOR, **given.get("sheet", {})}
    return drawing_layers({**{r: given[r] for r in ROLES if r in given}, "sheet": edge})


def of_outlines(layers: Mapping[str, DrawingLayer]) -> dict[str, DrawingLayer]:
    """Those that outlines have."""
    return {role: layer for role, layer in layers.items() if role in ROLES}


def one_mark() -> ProfileSet:
    """A mark alone: its drawing tells which layer and colour marks have."""
    return ProfileSet([], [Mark.open([Line((0.0, 0.0), (1.0, 0.0))])])


def layer_name(entity: Sequence[str]) -> str:
    """The name of the layer that an entity lies on."""
    return next(entity[i + 1] for i in range(0, len(entity) - 1, 2) if entity[i].strip() == "8")


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


def layer_records(lines: Sequence[str]) -> list[tuple[int, int]]:
    """The records of the table of layers: where each begins and ends."""
    table = next(
        i
        for i in range(2, len(lines) - 1)
        if lines[i] == "LAYER" and lines[i - 1].strip() == "2" and lines[i - 2] == "TABLE"
    )
    end = place_of(lines, "ENDTAB", table) - 1
    starts = [
        i - 1 for i in range(table + 1, end) if lines[i] == "LAYER" and lines[i - 1].strip() == "0"
    ]
    return list(zip(starts, [*starts[1:], end], strict=True))


def record_name(record: Sequence[str]) -> str:
    """The name of a layer's record."""
    return next(record[i + 1] for i in range(0, len(record) - 1, 2) if record[i].strip() == "2")


def layer_record(lines: Sequence[str], name: str) -> list[str]:
    """The record of a layer, by the name that entities have."""
    records = [list(lines[start:end]) for start, end in layer_records(lines)]
    return next(record for record in records if record_name(record) == name)


def add_layer(lines: list[str], record: Sequence[str], handle: int) -> int:
    """Add a record to the table of layers, as its last one, unless there is one of its name; return how many
    handles that took."""
    records = layer_records(lines)
    if any(record_name(lines[start:end]) == record_name(record) for start, end in records):
        return 0
    own = list(record)
    own[next(i for i in range(0, len(own) - 1, 2) if own[i].strip() == "5") + 1] = f"{handle:X}"
    first, end = records[0][0], records[-1][1]
    count = next(i for i in range(first, 0, -1) if lines[i].strip() == "70")
    lines[count + 1] = str(int(lines[count + 1]) + 1)
    lines[end:end] = own
    return 1


def svg_of_sheet(sheet: Sheet, title: str, layers: LayerData | None = None) -> str:
    """The SVG of a sheet, its size that of the sheet, in mm; ``layers`` as for `dxf_of_sheet`."""
    own = layers_of(layers)
    is_ours = "sheet" not in (layers or {})
    edge = sheet.outline.to_svg(layers=None if is_ours else {"outer": own["sheet"]})
    pieces = sheet_outlines(sheet).to_svg(layers=of_outlines(own))
    head = edge[: edge.index("\n") + 1]
    shapes = re.findall(r"^ {4}<.*>$", edge, re.MULTILINE)
    body = pieces[pieces.index("\n") + 1 :]
    body = re.sub(r"^  <title>.*</title>\n", "", body)
    marked = one_mark().to_svg(layers=of_outlines(own))
    ink = re.findall(r'^  <g [^>]*stroke="([^"]*)".*>\n    <', marked, re.MULTILINE)[0]
    names = "".join(
        f'    <text x="{x:.3f}" y="{-y:.3f}" font-size="{height:.3f}">{escape(text)}</text>\n'
        for text, x, y, height in map(label, sheet.placements)
    )
    words = (
        f'  <g id="mark-names" fill="{ink}" stroke="none" text-anchor="middle" '
        f'dominant-baseline="central" font-family="sans-serif">\n{names}  </g>\n'
    )
    opened = '  <g id="sheet" stroke="#7b8791">'
    if not is_ours:
        opened = re.findall(r"^  <g .*>$", edge, re.MULTILINE)[0]
        if opened.split('stroke="')[0] in body:  # one layer for all: an id stands once
            opened = re.sub(r' id="[^"]*"', ' id="sheet"', opened)
    group = f"{opened}\n" + "".join(f"{shape}\n" for shape in shapes) + "  </g>\n"
    heading = f"  <title>{escape(printable(title))}</title>\n"
    if described := re.search(r"^  <desc>.*?</desc>\n", body, re.MULTILINE | re.DOTALL):
        heading += described[0]
        body = body.replace(described[0], "", 1)
    return head + heading + group + body.replace("</svg>", words + "</svg>")


def write_sheet(
    sheet: Sheet,
    path: Path,
    title: str,
    unit: Literal["mm", "inch"] = "mm",
    layers: LayerData | None = None,
) -> Path:
    """Write a sheet's drawing by the suffix of the path, ``.dxf`` or ``.svg``. Raises WriteError."""
    if path.suffix == ".svg":
        text = svg_of_sheet(sheet, title, layers)
    else:
        text = dxf_of_sheet(sheet, title, unit, layers)
    write_whole_file(path, text)
    return path
