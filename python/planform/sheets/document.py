"""A layout as JSON, and back: all that is needed to draw it again without a search.

The schema stands in DEVELOPERS.md. What is read is proven like what was searched.
"""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from planform._planform import ProfileSet, write_whole_file
from planform.errors import Error, GeometryError, LoadError
from planform.sheets.proof import prove
from planform.sheets.values import Layout, NotPlaced, Piece, Placement, Sheet, Stock

VERSION = 1


def layout_json(layout: Layout) -> str:
    """The layout as JSON: lossless, the same layout gives the same bytes."""
    pieces = {id(piece): number for number, piece in enumerate(layout.pieces)}
    stocks = {id(stock): number for number, stock in enumerate(layout.stock)}
    data = {
        "planform_sheets": VERSION,
        "unit": "mm",
        "gap": layout.gap,
        "margin": layout.margin,
        "seed": layout.seed,
        "notes": list(layout.notes),
        "pieces": [piece_data(piece) for piece in layout.pieces],
        "stock": [stock_data(stock) for stock in layout.stock],
        "sheets": [sheet_data(sheet, pieces, stocks) for sheet in layout.sheets],
        "not_placed": [
            {
                "piece": pieces[id(one.piece)],
                "count": one.count,
                "reason": one.reason,
                "fits_nowhere": one.fits_nowhere,
            }
            for one in layout.not_placed
        ],
    }
    return json.dumps(data, indent=1, ensure_ascii=False) + "\n"


def write_layout(layout: Layout, path: str | Path) -> Path:
    """Write `layout_json`; the file is whole or absent. Raises WriteError.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> import pathlib, tempfile
    >>> board = planform.Stock.rectangle(200, 100)
    >>> layout = planform.lay_out([planform.Piece("roof", roof, 2)], board, plain=True)
    >>> path = pathlib.Path(tempfile.mkdtemp()) / "sheets.json"
    >>> _ = planform.write_layout(layout, path)
    >>> planform.read_layout(path) == layout
    True
    """
    write_whole_file(Path(path), layout_json(layout))
    return Path(path)


def piece_data(piece: Piece) -> dict[str, Any]:
    """A piece, its outline as `ProfileSet.to_json` has it."""
    return {
        "name": piece.name,
        "quantity": piece.quantity,
        "material": piece.material,
        "thickness": piece.thickness,
        "turns": piece.turns,
        "may_mirror": piece.may_mirror,
        "priority": piece.priority,
        "spares": piece.spares,
        "outline": json.loads(piece.outline.to_json()),
    }


def stock_data(stock: Stock) -> dict[str, Any]:
    """A kind of stock; angles in radians."""
    return {
        "name": stock.name,
        "material": stock.material,
        "thickness": stock.thickness,
        "count": stock.count,
        "price": stock.price,
        "grain": stock.grain,
        "left_over": stock.left_over,
        "roll": stock.roll,
        "outline": json.loads(stock.outline.to_json()),
        "keep_clear": json.loads(stock.keep_clear.to_json()),
    }


def sheet_data(sheet: Sheet, pieces: dict[int, int], stocks: dict[int, int]) -> dict[str, Any]:
    """A sheet with its placements; angles in radians."""
    return {
        "stock": stocks[id(sheet.stock)],
        "count": sheet.count,
        "material": sheet.material,
        "thickness": sheet.thickness,
        "length": sheet.length,
        "placements": [
            {
                "piece": pieces[id(p.piece)],
                "x": p.x,
                "y": p.y,
                "angle": p.angle,
                "mirrored": p.mirrored,
                "spare": p.spare,
            }
            for p in sheet.placements
        ],
    }


class _Reader:
    """Takes values out of the document; errors name the place."""

    def __init__(self, source: str) -> None:
        self.source = source

    def wrong(self, place: str, message: str) -> Error:
        return GeometryError.of_kind("json_invalid", f"{self.source}: {place}: {message}")

    def value(self, data: Any, key: str, kinds: Any, place: str, optional: bool = False) -> Any:
        """One value of an object."""
        if not isinstance(data, dict) or key not in data:
            raise self.wrong(place, f"has no '{key}'")
        value = data[key]
        if value is None and optional:
            return None
        is_flag = isinstance(value, bool)
        kinds = kinds if isinstance(kinds, tuple) else (kinds,)
        if not isinstance(value, kinds) or (is_flag and bool not in kinds):
            raise self.wrong(
                f"{place}.{key}", f"must be {' or '.join(kind.__name__ for kind in kinds)}"
            )
        if isinstance(value, float) and not math.isfinite(value):
            raise self.wrong(f"{place}.{key}", "must be finite")
        return value

    def number(self, data: Any, key: str, place: str, optional: bool = False) -> Any:
        """A finite number as float; None only if it may be."""
        value = self.value(data, key, (int, float), place, optional)
        return None if value is None else float(value)

    def entry(self, data: Any, key: str, entries: Sequence[Any], place: str) -> Any:
        """That of a list which a number names."""
        number = self.value(data, key, int, place)
        if not 0 <= number < len(entries):
            raise self.wrong(f"{place}.{key}", f"{number} is none of {len(entries)} entries")
        return entries[number]

    def outline(self, data: Any, key: str, place: str) -> ProfileSet:
        """A profile set."""
        try:
            return ProfileSet.from_json(json.dumps(self.value(data, key, dict, place)))
        except Error as error:
            raise self.wrong(f"{place}.{key}", str(error)) from error


def layout_from_json(text: str, source: str = "layout") -> Layout:
    """Read `layout_json` back and prove it again.

    Raises GeometryError (json_invalid) with the place in the document, (law_broken) if the layout breaks one
    of its own rules.
    """
    read = _Reader(source)
    try:
        data = json.loads(text)
    except ValueError as error:
        raise read.wrong("document", f"is no JSON: {error}") from error
    version = read.value(data, "planform_sheets", int, "document")
    if version != VERSION:
        raise read.wrong("planform_sheets", f"version {version} is unknown; this reads {VERSION}")
    if read.value(data, "unit", str, "document") != "mm":
        raise read.wrong("unit", "must be mm")
    try:
        pieces = tuple(
            piece_from(read, one, f"pieces[{i}]")
            for i, one in enumerate(read.value(data, "pieces", list, "document"))
        )
        stock = tuple(
            stock_from(read, one, f"stock[{i}]")
            for i, one in enumerate(read.value(data, "stock", list, "document"))
        )
    except GeometryError as error:
        raise (
            read.wrong("document", str(error)) if error.kind != "json_invalid" else error
        ) from error
    sheets = tuple(
        sheet_from(read, one, f"sheets[{i}]", pieces, stock)
        for i, one in enumerate(read.value(data, "sheets", list, "document"))
    )
    missing = tuple(
        NotPlaced(
            read.entry(one, "piece", pieces, f"not_placed[{i}]"),
            read.value(one, "count", int, f"not_placed[{i}]"),
            read.value(one, "reason", str, f"not_placed[{i}]"),
            read.value(one, "fits_nowhere", bool, f"not_placed[{i}]"),
        )
        for i, one in enumerate(read.value(data, "not_placed", list, "document"))
    )
    notes = read.value(data, "notes", list, "document")
    layout = Layout(
        pieces,
        stock,
        sheets,
        missing,
        read.number(data, "gap", "document"),
        read.number(data, "margin", "document"),
        read.value(data, "seed", int, "document"),
        tuple(str(note) for note in notes),
    )
    prove(layout)
    return layout


def read_layout(path: str | Path) -> Layout:
    """Read a file of `write_layout`. Raises LoadError if it can't be read, else as `layout_from_json`.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> import pathlib, tempfile
    >>> board = planform.Stock.rectangle(200, 100)
    >>> layout = planform.lay_out([planform.Piece("roof", roof, 2)], board, plain=True)
    >>> path = pathlib.Path(tempfile.mkdtemp()) / "sheets.json"
    >>> _ = planform.write_layout(layout, path)
    >>> len(planform.read_layout(path).sheets[0].placements)
    2
    """
    path = Path(path)
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError as error:
        raise LoadError.of_kind("file_missing", f"{path}: the file does not exist", path) from error
    except (OSError, UnicodeDecodeError) as error:
        raise LoadError.of_kind("file_unreadable", f"{path}: can't be read: {error}") from error
    return layout_from_json(text, str(path))


def piece_from(read: _Reader, data: Any, place: str) -> Piece:
    """A piece of the document."""
    return Piece(
        read.value(data, "name", str, place),
        read.outline(data, "outline", place),
        read.value(data, "quantity", int, place),
        read.value(data, "material", str, place),
        read.number(data, "thickness", place),
        read.value(data, "turns", str, place),
        read.value(data, "may_mirror", bool, place),
        read.value(data, "priority", int, place),
        read.value(data, "spares", int, place),
    )


def stock_from(read: _Reader, data: Any, place: str) -> Stock:
    """A kind of stock of the document."""
    return Stock(
        read.value(data, "name", str, place),
        read.outline(data, "outline", place),
        read.value(data, "material", str, place, optional=True),
        read.number(data, "thickness", place, optional=True),
        read.value(data, "count", int, place, optional=True),
        read.number(data, "price", place, optional=True),
        read.number(data, "grain", place, optional=True),
        read.outline(data, "keep_clear", place),
        read.value(data, "left_over", bool, place),
        read.value(data, "roll", bool, place),
    )


def sheet_from(
    read: _Reader, data: Any, place: str, pieces: Sequence[Piece], stock: Sequence[Stock]
) -> Sheet:
    """A sheet of the document."""
    placements = tuple(
        Placement(
            read.entry(one, "piece", pieces, f"{place}.placements[{i}]"),
            read.number(one, "x", f"{place}.placements[{i}]"),
            read.number(one, "y", f"{place}.placements[{i}]"),
            read.number(one, "angle", f"{place}.placements[{i}]"),
            read.value(one, "mirrored", bool, f"{place}.placements[{i}]"),
            read.value(one, "spare", bool, f"{place}.placements[{i}]"),
        )
        for i, one in enumerate(read.value(data, "placements", list, place))
    )
    count = read.value(data, "count", int, place)
    if count < 1 or not placements:
        raise read.wrong(place, "must have a count of 1 or more and placements")
    return Sheet(
        read.entry(data, "stock", stock, place),
        placements,
        read.value(data, "material", str, place),
        read.number(data, "thickness", place),
        count,
        read.number(data, "length", place, optional=True),
    )
