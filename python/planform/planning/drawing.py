"""Drawings of a plan: entities in the order of cutting, each contour from its entry on.

DXF (AC1015) and SVG of one sheet. What is cut of a contour is a polyline of lines and arcs that begins
where the beam arrives, closed where it is cut all round; entries, exits and what is cut twice lie on a
layer of their own. There is no machine code in them: the machine's own software drives the beam."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape
from pathlib import Path
from typing import Any, Literal

from planform._planform import Arc, Line, ProfileSet, write_whole_file
from planform.allowances import notes_of_ways
from planform.errors import GeometryError
from planform.naming import printable
from planform.planning.sheet_plan import SheetPlan

__all__ = ["plan_dxf", "plan_svg", "write_plan"]

Role = Literal["outer", "inner", "mark", "entry", "sheet"]
LAYERS: dict[str, tuple[str, str]] = {
    "outer": ("CUT_OUTER", "0000ff"),
    "inner": ("CUT_INNER", "ff7f00"),
    "mark": ("MARK", "007f00"),
    "entry": ("ENTRY", "b000b0"),
    "sheet": ("SHEET", "808080"),
}
"""Names and colours where the machine file gives none: those of our other drawings, and two more."""
ARC_TOLERANCE = 0.01
"""mm within which arcs stand for ellipses and splines: that of outlines."""
LARGEST_BULGE = math.pi
"""Radians of an arc of a polyline: a bulge is tan(sweep / 4), well-conditioned up to half a turn."""
INCH = 25.4


@dataclass(frozen=True)
class Stroke:
    """Curves head to tail on one layer, lines and arcs of at most half a turn."""

    role: Role
    curves: tuple[Any, ...]
    is_closed: bool
    name: str


def lines_and_arcs(curves: Sequence[Any]) -> Iterator[Any]:
    """The curves as lines and arcs of at most half a turn."""
    for curve in curves:
        for piece in curve.fit_arcs(ARC_TOLERANCE):
            if isinstance(piece, Line):
                if piece.length > 0:
                    yield piece
                continue
            count = max(1, math.ceil(abs(piece.sweep) / LARGEST_BULGE - 1e-9))
            for number in range(count):
                start = piece.start_angle + piece.sweep * number / count
                yield Arc(tuple(piece.center), piece.radius, start, piece.sweep / count)


def strokes_of(plan: SheetPlan) -> Iterator[Stroke]:
    """All that is cut, in its order, then nothing: the sheet's edge comes first, as nobody cuts it."""
    for profile in plan.sheet.outline.profiles:
        for contour in (profile.outer, *profile.holes):
            yield Stroke("sheet", tuple(lines_and_arcs(contour.curves)), True, plan.name)
    for cut in plan.plan.cuts:
        name = plan.pieces[cut.piece].name
        role: Role = {"mark": "mark", "hole": "inner", "outer": "outer"}[cut.role]  # type: ignore[assignment]
        if cut.entry:
            yield Stroke("entry", tuple(lines_and_arcs(cut.entry)), False, name)
        whole = len(cut.stretches) == 1 and is_closed(cut.stretches[0])
        for stretch in cut.stretches:
            yield Stroke(role, tuple(lines_and_arcs(stretch)), whole, name)
        for extra in (cut.over_cut, cut.exit):
            if extra:
                yield Stroke("entry", tuple(lines_and_arcs(extra)), False, name)


def notes_of(plan: SheetPlan) -> list[str]:
    """What allowances are in what is cut."""
    return notes_of_ways((placement.name, placement.outline) for placement in plan.sheet.placements)


def is_closed(curves: Sequence[Any]) -> bool:
    """Does the last curve end where the first starts, to a millionth of a millimetre?"""
    return math.dist(curves[0].start, curves[-1].end) < 1e-6


def layer(role: str, layers: dict[str, dict[str, Any]]) -> tuple[str, str | int]:
    """Name and colour (six hexadecimal digits, or an index) of a role: the machine's, or ours."""
    name, color = LAYERS[role]
    wanted = layers.get(role, {})
    found = wanted.get("color", color)
    return wanted.get("name", name), found.lstrip("#") if isinstance(found, str) else found


INDEX = {
    1: (255, 0, 0),
    2: (255, 255, 0),
    3: (0, 255, 0),
    4: (0, 255, 255),
    5: (0, 0, 255),
    6: (255, 0, 255),
    7: (255, 255, 255),
    8: (128, 128, 128),
    30: (255, 127, 0),
    94: (0, 127, 0),
}
"""Colours by the index of a DXF that layers are mapped to (published DXF reference, from memory)."""


def color_index(digits: str | int) -> int:
    """The index whose colour is nearest to six hexadecimal digits; an index as it is."""
    if isinstance(digits, int):
        return digits
    wanted = tuple(int(digits[i : i + 2], 16) for i in (0, 2, 4))
    return min(
        INDEX, key=lambda i: (sum((a - b) ** 2 for a, b in zip(INDEX[i], wanted, strict=True)), i)
    )


class Skeleton:
    """A drawing without entities, as lines of group codes and values, that strokes are put into."""

    def __init__(self, unit: Literal["mm", "inch"], notes: Sequence[str] = ()) -> None:
        self.lines = ProfileSet(notes=list(notes)).to_dxf(unit=unit).split("\n")
        self.scale = INCH if unit == "inch" else 1.0
        seed = self.place("$HANDSEED") + 2
        self.seed, self.handle = seed, int(self.lines[seed], 16)

    def place(self, word: str, start: int = 0) -> int:
        """The line that holds a word."""
        return next(i for i in range(start, len(self.lines)) if self.lines[i] == word)

    def next_handle(self) -> str:
        """A handle that nothing has."""
        self.handle += 1
        return f"{self.handle - 1:X}"

    def set_layers(self, layers: Sequence[tuple[str, str | int]]) -> None:
        """The table of layers: each name once, the first colour counts."""
        start = next(
            i
            for i in range(2, len(self.lines))
            if self.lines[i] == "LAYER" and self.lines[i - 2] == "TABLE"
        )
        end = self.place("ENDTAB", start) - 1
        first = next(
            i
            for i in range(start + 1, end)
            if self.lines[i] == "LAYER" and self.lines[i - 1].strip() == "0"
        )
        second = next(
            (
                i
                for i in range(first + 1, end)
                if self.lines[i] == "LAYER" and self.lines[i - 1].strip() == "0"
            ),
            end + 1,
        )
        record = self.lines[first - 1 : second - 1]
        # Layer 0 has to be there, whatever else is.
        wanted: dict[str, str | int] = {"0": "ffffff"}
        wanted |= {dxf_text(name): color for name, color in reversed(layers)}
        records: list[str] = []
        for name, color in wanted.items():
            own = list(record)
            for number in range(0, len(own) - 1, 2):
                code = own[number].strip()
                if code == "5":
                    own[number + 1] = self.next_handle()
                elif code == "2":
                    own[number + 1] = name
                elif code == "62":
                    own[number + 1] = str(color_index(color))
            records += own
        count = next(i for i in range(start, first) if self.lines[i].strip() == "70")
        self.lines[count + 1] = str(len(wanted))
        self.lines[first - 1 : end] = records

    def text(self, entities: Sequence[str], low: Sequence[float], high: Sequence[float]) -> str:
        """The whole file."""
        at = self.place("ENDSEC", self.place("ENTITIES")) - 1
        self.lines[at:at] = entities
        self.lines[self.seed] = f"{self.handle:X}"
        for word, corner in (("$EXTMIN", low), ("$EXTMAX", high)):
            place = self.place(word)
            self.lines[place + 2], self.lines[place + 4] = (
                repr(float(value) / self.scale) for value in corner
            )
        return "\n".join(self.lines)


def dxf_text(text: str) -> str:
    """A text as the format holds it: ASCII, others as \\U+ and four digits, no control codes."""
    plain = printable(text).replace("^", " ").replace("%%", "% %")
    return "".join(c if " " <= c <= "~" else f"\\U+{min(ord(c), 0xFFFF):04X}" for c in plain)


def polyline(skeleton: Skeleton, stroke: Stroke, name: str, owner: str) -> list[str]:
    """A stroke as an LWPOLYLINE. Group codes: the published DXF reference for AC1015, from memory, judged
    by a reader."""
    groups: list[tuple[int, Any]] = [
        (0, "LWPOLYLINE"),
        (5, skeleton.next_handle()),
        (330, owner),
        (100, "AcDbEntity"),
        (8, name),
        (100, "AcDbPolyline"),
        (90, len(stroke.curves) + (0 if stroke.is_closed else 1)),
        (70, 1 if stroke.is_closed else 0),
        (43, "0.0"),
    ]
    for curve in stroke.curves:
        groups += [(10, repr(float(curve.start[0]) / skeleton.scale))]
        groups += [(20, repr(float(curve.start[1]) / skeleton.scale))]
        if isinstance(curve, Arc):
            groups.append((42, repr(math.tan(curve.sweep / 4))))
    if not stroke.is_closed:
        end = stroke.curves[-1].end
        groups += [
            (10, repr(float(end[0]) / skeleton.scale)),
            (20, repr(float(end[1]) / skeleton.scale)),
        ]
    if stroke.name:
        groups += [(1001, "PLANFORM"), (1000, dxf_text(stroke.name)[:255])]
    return [line for code, value in groups for line in (f"{code:3d}", str(value))]


def plan_dxf(
    plan: SheetPlan,
    *,
    unit: Literal["mm", "inch"] = "mm",
    layers: dict[str, dict[str, Any]] | None = None,
) -> str:
    """The DXF of a plan, lengths in its unit: the sheet's edge, then everything in the order of cutting."""
    skeleton = Skeleton(unit, notes_of(plan))
    owner = next(
        skeleton.lines[i - 1].strip()
        for i in range(2, len(skeleton.lines))
        if skeleton.lines[i].upper() == "*MODEL_SPACE"
        for i in range(i, 0, -1)
        if skeleton.lines[i - 2].strip() == "5"
    )
    names = {role: layer(role, layers or {}) for role in LAYERS}
    entities: list[str] = []
    for stroke in strokes_of(plan):
        if stroke.curves:
            entities += polyline(skeleton, stroke, dxf_text(names[stroke.role][0]), owner)
    skeleton.set_layers(list(names.values()))
    low, high = plan.sheet.outline.bounds
    return skeleton.text(entities, low, high)


def svg_path(stroke: Stroke, low: Sequence[float], high: Sequence[float]) -> str:
    """Path data, y downward, mm from the sheet's upper left corner. An arc is exact."""

    def place(point: Any) -> str:
        return f"{float(point[0] - low[0])!r} {float(high[1] - point[1])!r}"

    parts = [f"M{place(stroke.curves[0].start)}"]
    for curve in stroke.curves:
        if isinstance(curve, Arc):
            # y turns over, and so does the sense.
            sweep = 0 if curve.sweep > 0 else 1
            large = 1 if abs(curve.sweep) > math.pi * (1 + 1e-12) else 0
            radius = float(curve.radius)
            parts.append(f"A{radius!r} {radius!r} 0 {large} {sweep} {place(curve.end)}")
        else:
            parts.append(f"L{place(curve.end)}")
    return "".join(parts) + ("Z" if stroke.is_closed else "")


def plan_svg(
    plan: SheetPlan,
    *,
    layers: dict[str, dict[str, Any]] | None = None,
    stroke_width: float = 0.0254,
) -> str:
    """The SVG of a plan in mm, paths in the order of cutting: class and colour say what each is for."""
    low, high = plan.sheet.outline.bounds
    width, height = (float(value) for value in high - low)
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width!r}mm" height="{height!r}mm" '
        f'viewBox="0 0 {width!r} {height!r}" fill="none" stroke-width="{stroke_width!r}">',
        f"  <title>{escape(printable(plan.name))}</title>",
    ]
    if notes := notes_of(plan):
        lines.append(f"  <desc>{escape(chr(10).join(map(printable, notes)))}</desc>")
    for stroke in strokes_of(plan):
        if not stroke.curves:
            continue
        name, color = layer(stroke.role, layers or {})
        if isinstance(color, int):
            color = "".join(f"{value:02x}" for value in INDEX.get(color, (0, 0, 0)))
        lines.append(
            f'  <path class="{escape(printable(name), quote=True)}" stroke="#{color}" '
            f'd="{svg_path(stroke, low, high)}"><title>{escape(printable(stroke.name))}</title></path>'
        )
    return "\n".join([*lines, "</svg>", ""])


def write_plan(
    plan: SheetPlan,
    path: str | Path,
    *,
    unit: Literal["mm", "inch"] = "mm",
    layers: dict[str, dict[str, Any]] | None = None,
) -> Path:
    """Write a plan's drawing by the suffix, ``.dxf`` or ``.svg``; the file is whole or absent.

    Raises WriteError if that can't be done, GeometryError for another suffix.
    """
    path = Path(path)
    if path.suffix == ".dxf":
        write_whole_file(path, plan_dxf(plan, unit=unit, layers=layers))
    elif path.suffix == ".svg":
        write_whole_file(path, plan_svg(plan, layers=layers))
    else:
        raise GeometryError.of_kind(
            "unknown_option", f"{path}: drawings of a plan are .dxf or .svg"
        )
    return path
