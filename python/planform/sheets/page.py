"""A layout as an HTML page: a picture of each sheet, use, counts, what was not placed and why, cost."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from planform._planform import ProfileSet, write_whole_file
from planform.allowances import notes_of_ways
from planform.naming import printable
from planform.pages.render import picture, render
from planform.pictures.placing import contours_of
from planform.sheets.drawing import label, sheet_outlines
from planform.sheets.left_over import LeftOver
from planform.sheets.values import Layout, Piece, Sheet, Stock, price_of
from planform.units.figures import MM_FIGURES, Figures

FOOT = (
    "Outlines are those that are cut, with the width of cut where the cut list has one. Every placement was "
    "measured on the exact curves: gap, margin, edge, places to keep clear, turns and counts. Prices are "
    "those of the stock as it was given."
)
WIDTH, HEIGHT = 640.0, 420.0
"""Of a picture, CSS pixels."""
LEAST_LETTER = 6.0
"""CSS pixels: smaller names are left out of the picture."""


def sheet_names(layout: Layout) -> list[str]:
    """A name for each sheet: its number, or its numbers where several are equal."""
    names, number = [], 1
    for sheet in layout.sheets:
        last = number + sheet.count - 1
        names.append(f"Sheet {number}" if sheet.count == 1 else f"Sheets {number} to {last}")
        number = last + 1
    return names


def layout_html(
    layout: Layout,
    left_overs: Sequence[LeftOver],
    title: str,
    files: Sequence[Sequence[str]] = (),
    figures: Figures = MM_FIGURES,
) -> str:
    """Return the page as text; the same layout, the same page. ``files`` are the drawings of each sheet."""
    cost = layout.cost()
    allowed = notes_of_ways((p.name, p.piece.outline) for s in layout.sheets for p in s.placements)
    return render(
        "sheets.html",
        title=title,
        cells=[
            [
                ("Sheets", layout.sheet_count),
                ("Use", percent(layout.use) if layout.sheets else "-"),
            ],
            [
                ("Pieces placed", sum(len(s.placements) * s.count for s in layout.sheets)),
                ("Not placed", sum(one.count for one in layout.not_placed)),
            ],
            [
                ("Gap", f"{figures.exact(layout.gap)} {figures.symbol}"),
                ("Margin", f"{figures.exact(layout.margin)} {figures.symbol}"),
            ],
            [("Cost of the stock", "not known" if cost is None else f"{cost:.2f}")],
        ],
        notes=[f"{note[:1].upper()}{note[1:]}." for note in (*allowed, *layout.notes)],
        groups=groups_data(layout, left_overs, files, figures),
        piece_columns=(
            ("Name", "words"),
            ("Material", "words"),
            (f"Thickness {figures.symbol}", ""),
            (f"Area {figures.area_symbol}", ""),
            ("Wanted", ""),
            ("Placed", ""),
            ("Spares", ""),
        ),
        pieces=[piece_row(piece, layout, figures) for piece in layout.pieces],
        missing_columns=(("Name", "words"), ("Number", ""), ("Reason", "text")),
        missing=[(one.piece.name, one.count, f"{one.reason}.") for one in layout.not_placed],
        stock_columns=(
            ("Name", "words"),
            (f"Size {figures.symbol}", ""),
            ("There are", ""),
            ("Used", ""),
            ("Price of one", ""),
            ("Cost", ""),
        ),
        stock=[stock_row(stock, layout, figures) for stock in layout.stock],
        stock_sums=[
            "Sum",
            "",
            "",
            str(layout.sheet_count),
            "",
            "" if cost is None else f"{cost:.2f}",
        ],
        foot=FOOT,
    )


def percent(share: float) -> str:
    """A share as percent, to a tenth."""
    return f"{100 * share:.1f} %"


def groups_data(
    layout: Layout,
    left_overs: Sequence[LeftOver],
    files: Sequence[Sequence[str]],
    figures: Figures,
) -> list[dict[str, Any]]:
    """The sheets of each material and thickness."""
    groups: dict[str, list[dict[str, Any]]] = {}
    for number, (sheet, name, rest) in enumerate(
        zip(layout.sheets, sheet_names(layout), left_overs, strict=True)
    ):
        thickness = f"{figures.exact(sheet.thickness)} {figures.symbol}" if sheet.thickness else ""
        heading = ", ".join(word for word in (thickness, sheet.material) if word)
        own = files[number] if number < len(files) else ()
        groups.setdefault(heading or "Material not stated", []).append(
            sheet_record(sheet, name, rest, own, figures)
        )
    return [{"heading": heading, "sheets": sheets} for heading, sheets in groups.items()]


def sheet_record(
    sheet: Sheet, name: str, rest: LeftOver, files: Sequence[str], figures: Figures
) -> dict[str, Any]:
    """One sheet: picture, figures, what stays of it."""
    (left, low), (right, high) = (map(float, corner) for corner in sheet.outline.bounds)
    counts: dict[str, int] = {}
    for placement in sheet.placements:
        counts[placement.name] = counts.get(placement.name, 0) + 1
    contours = [c for p in sheet.placements for c in contours_of(p.outline)]
    rows = [
        ("Size", f"{figures.size(right - left, high - low)} {figures.symbol}", ""),
        ("Use", percent(sheet.use), ""),
        ("Pieces", str(len(sheet.placements)), ""),
        ("Pierces", str(len(contours)), ""),
        (
            "Cut length",
            f"{figures.run(math.fsum(c.length for c in contours))} {figures.symbol}",
            "",
        ),
        ("Stock", sheet.stock.name, ""),
    ]
    if sheet.stock.grain is not None:
        rows.append(("Grain", f"{math.degrees(sheet.stock.grain):g}° from x", ""))
    if rest.size is not None:
        rows.append(("Left over", f"{figures.size(*rest.size)} {figures.symbol}", ""))
    cost = price_of(sheet)
    if cost is not None:
        rows.append(("Cost", f"{cost:.2f}", ""))
    rows.append(("Holds", ", ".join(f"{n} × {piece}" for piece, n in counts.items()), "wide"))
    if files:
        rows.append(("Files", ", ".join(files), "wide"))
    return {
        "picture": picture(sheet_svg(sheet, rest.rectangle)),
        "heading": name,
        "quantity": f"{sheet.count} ×",
        "figures": rows,
        "notes": [],
    }


def piece_row(piece: Piece, layout: Layout, figures: Figures) -> list[str]:
    """Counts of one piece."""
    missing = sum(one.count for one in layout.not_placed if one.piece is piece)
    placed = layout.placed(piece)
    return [
        piece.name,
        piece.material,
        figures.exact(piece.thickness) if piece.thickness else "",
        figures.area(piece.area),
        str(piece.quantity),
        str(min(placed, piece.quantity - missing)),
        str(placed - (piece.quantity - missing)),
    ]


def stock_row(stock: Stock, layout: Layout, figures: Figures) -> list[str]:
    """Counts and cost of one kind of stock."""
    sheets = [sheet for sheet in layout.sheets if sheet.stock is stock]
    prices = [price_of(sheet) for sheet in sheets]
    cost = None if None in prices else math.fsum(p for p in prices if p is not None)
    return [
        stock.name + (" (left over)" if stock.left_over else ""),
        figures.size(*stock.size),
        "any number" if stock.count is None else str(stock.count),
        str(sum(sheet.count for sheet in sheets)),
        "" if stock.price is None else f"{stock.price:.2f}",
        "" if cost is None or not sheets else f"{cost:.2f}",
    ]


def sheet_svg(
    sheet: Sheet,
    rest: ProfileSet | None = None,
    width: float = WIDTH,
    height: float = HEIGHT,
) -> str:
    """Return an ``<svg>`` of a sheet to scale within ``width`` x ``height`` (CSS pixels): edge, places to
    keep clear, pieces with their names where they are large enough, the left-over rectangle dashed.

    It carries no style of its own, as `dimensioned_svg`; classes are ``sheet-edge``, ``keep-clear``,
    ``material``, ``cut``, ``mark``, ``rest`` and ``figure``. Names are made printable and escaped.
    """
    from html import escape

    (left, low), (right, high) = (map(float, corner) for corner in sheet.outline.bounds)
    room = 10.0
    scale = min((width - 2 * room) / (right - left), (height - 2 * room) / (high - low))
    total_width, total_height = scale * (right - left) + 2 * room, scale * (high - low) + 2 * room

    def path(profiles: ProfileSet) -> str:
        return "".join(contour_path(contour) for contour in contours_of(profiles))

    def contour_path(contour: Any, closed: bool = True) -> str:
        pairs = (
            f"{room + scale * (x - left):.2f} {total_height - room - scale * (y - low):.2f}"
            for x, y in contour.points(0.1 / scale)
        )
        return "M" + "L".join(pairs) + ("Z" if closed else "")

    outlines = sheet_outlines(sheet)
    marks = "".join(contour_path(mark, mark.is_closed) for mark in outlines.marks)
    parts = [
        f'<svg viewBox="0 0 {total_width:.2f} {total_height:.2f}" width="{total_width:.0f}" '
        f'height="{total_height:.0f}" role="img">',
        f'<path class="sheet-edge" fill-rule="evenodd" d="{path(sheet.outline)}"/>',
    ]
    if sheet.stock.keep_clear.profiles:
        parts.append(
            f'<path class="keep-clear" fill-rule="evenodd" d="{path(sheet.stock.keep_clear)}"/>'
        )
    parts.append(f'<path class="material cut" fill-rule="evenodd" d="{path(outlines)}"/>')
    if marks:
        parts.append(f'<path class="mark" d="{marks}"/>')
    if rest is not None:
        parts.append(f'<path class="rest" d="{path(rest)}"/>')
    for placement in sheet.placements:
        text, x, y, size = label(placement)
        if size * scale >= LEAST_LETTER:
            parts.append(
                f'<text class="figure" style="font-size:{min(size * scale, 12):.1f}px" '
                f'x="{room + scale * (x - left):.2f}" '
                f'y="{total_height - room - scale * (y - low) + 0.35 * min(size * scale, 12):.2f}">'
                f"{escape(printable(text))}</text>"
            )
    return "".join([*parts, "</svg>"])


def write_page(
    layout: Layout,
    left_overs: Sequence[LeftOver],
    path: Path,
    title: str,
    files: Sequence[Sequence[str]] = (),
) -> Path:
    """Write the page; the file is whole or absent. Raises WriteError."""
    write_whole_file(path, layout_html(layout, left_overs, title, files))
    return path
