"""Stock as data: a TOML file, or a size.

One table for each kind of material::

    [[stock]]
    name = "whole sheet"
    size = [2440, 1220]          # mm, or "96inx48in"; or outline = "left_over.dxf" (DXF, SVG, JSON)
    material = "birch plywood"   # without it: serves for every material
    thickness = 6                # mm; without it: serves for every thickness
    count = 12                   # without it: as many as are needed
    price = 38.50                # of one
    grain = 0                    # direction of the grain, degrees from x
    keep_clear = [[0, 0, 80, 60], "clamps.dxf"]   # left, low, right, high in mm; outlines
    left_over = false            # true: used before whole sheets
    roll = false                 # true: cut off as long as it is needed, along x
"""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

from planform._planform import Profile, ProfileSet
from planform.drawings.reading import is_drawing, read_drawing
from planform.errors import Error, GeometryError
from planform.sheets.tables import Table, tables_of
from planform.sheets.values import Layout, Stock, rectangle
from planform.units.lengths import parse_size

KEYS = (
    "name",
    "size",
    "outline",
    "material",
    "thickness",
    "count",
    "price",
    "grain",
    "keep_clear",
    "left_over",
    "roll",
)


def read_stock(path_or_size: str | Path) -> tuple[Stock, ...]:
    """Stock from a TOML file, or of a size such as ``2440x1220`` (mm) or ``96inx48in``.

    Parameters
    ----------
    path_or_size : str or path-like
        A name that ends in ``.toml``, or a size: as many such sheets as are needed, of every material and
        thickness.

    Returns
    -------
    tuple of Stock

    Raises
    ------
    LoadError
        If the file can't be read, or something in it makes no sense: with file, line, key, and what to write.
    GeometryError
        If a size is none.

    Examples
    --------
    >>> from planform.sheets.stock_file import read_stock
    >>> read_stock("2440x1220")[0].size
    (2440.0, 1220.0)
    """
    text = str(path_or_size)
    if not isinstance(path_or_size, Path) and not text.lower().endswith(".toml"):
        try:
            width, height = parse_size(text)
        except ValueError as error:
            raise GeometryError.of_kind(
                "invalid_argument", f"stock: {error}; or give a file that ends in .toml"
            ) from error
        return (Stock.rectangle(width, height),)
    tables = tables_of(Path(path_or_size), "stock")
    return tuple(stock_of(table) for table in tables)


def stock_of(table: Table) -> Stock:
    """The stock of one table. Raises LoadError."""
    table.check_keys(KEYS)
    if ("size" in table.data) == ("outline" in table.data):
        raise table.wrong(
            "size",
            'give either size = [width, height] in mm or outline = "file.dxf" for each stock',
        )
    size = size_of(table) if "size" in table.data else None
    outline = outline_of(table) if size is None else ProfileSet([rectangle(0, 0, *size)])
    grain = table.number_of("grain", -math.inf)
    title = f"{size[0]:g} × {size[1]:g}" if size else Path(str(table.data["outline"])).stem
    try:
        return Stock(
            table.word("name") or title,
            outline,
            table.word("material"),
            table.length("thickness"),
            table.count("count", None),
            table.number_of("price"),
            None if grain is None else math.radians(grain),
            keep_clear_of(table),
            table.flag("left_over"),
            table.flag("roll"),
        )
    except GeometryError as error:
        raise table.wrong("roll" if table.data.get("roll") else "outline", str(error)) from error


def size_of(table: Table) -> tuple[float, float]:
    """Width and height in mm."""
    value = table.data["size"]
    if isinstance(value, str):
        try:
            return parse_size(value)
        except ValueError as error:
            raise table.wrong(
                "size", f'{error}; write size = [2440, 1220] in mm or "96inx48in"'
            ) from error
    if not isinstance(value, list) or len(value) != 2:
        raise table.wrong("size", "must be two lengths, such as size = [2440, 1220] in mm")
    return table.length_of("size", value[0]), table.length_of("size", value[1])


def outline_of(table: Table) -> ProfileSet:
    """The edge from a file: its one closed outline."""
    name = table.word("outline")
    assert name is not None
    found = outlines_from(table, "outline", name)
    outer = [profile for profile in found.profiles if not profile.is_island]
    if len(outer) != 1:
        raise table.wrong(
            "outline", f"{name} holds {len(outer)} outlines; it must be the one edge of the sheet"
        )
    return ProfileSet([Profile(outer[0].outer, outer[0].holes)], tolerance=found.tolerance)


def outlines_from(table: Table, key: str, name: str) -> ProfileSet:
    """The closed outlines of a DXF, SVG or JSON beside the file."""
    path = table.path.parent / name
    try:
        if path.suffix.lower() == ".json":
            return ProfileSet.from_json(path)
        if not is_drawing(path):
            raise table.wrong(key, f"{name}: outlines are read from .dxf, .svg and .json")
        return read_drawing(path).profile_set()
    except Error as error:
        if str(error).startswith(f"{table.path}, line"):
            raise
        raise table.wrong(key, str(error)) from error


def keep_clear_of(table: Table) -> ProfileSet:
    """Places to keep clear: rectangles and outlines."""
    places = table.data.get("keep_clear", [])
    hint = 'must be a list of [left, low, right, high] in mm and files, such as [[0, 0, 80, 60], "a.dxf"]'
    if not isinstance(places, list):
        raise table.wrong("keep_clear", hint)
    profiles: list[Profile] = []
    for place in places:
        if isinstance(place, str):
            profiles += outlines_from(table, "keep_clear", place).profiles
            continue
        if not isinstance(place, list) or len(place) != 4 or not all(map(is_finite, place)):
            raise table.wrong("keep_clear", hint)
        left, low, right, high = map(float, place)
        if left >= right or low >= high:
            raise table.wrong(
                "keep_clear", f"{place}: left must be below right, low below high (mm)"
            )
        profiles.append(rectangle(left, low, right, high))
    return ProfileSet([Profile(p.outer, p.holes) for p in profiles])


def is_finite(value: Any) -> bool:
    """A finite number?"""
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def left_over_toml(layout: Layout, outlines: list[tuple[Stock, str]]) -> str:
    """A stock file of left-overs: each with the file that holds its outline."""
    lines = [
        "# What stays of the sheets when all is cut. Measure before you put it back into the stock.",
        "",
    ]
    for stock, name in outlines:
        lines += ["[[stock]]", f"name = {quoted(stock.name)}", f"outline = {quoted(name)}"]
        if stock.material:
            lines.append(f"material = {quoted(stock.material)}")
        if stock.thickness:
            lines.append(f"thickness = {stock.thickness!r}")
        lines.append(f"count = {stock.count or 1}")
        if stock.grain is not None:
            lines.append(f"grain = {math.degrees(stock.grain)!r}")
        lines += ["left_over = true", ""]
    return "\n".join(lines)


def quoted(text: str) -> str:
    """A text as TOML writes it: a basic string (TOML 1.0)."""
    escaped = "".join(
        f"\\u{ord(c):04X}" if ord(c) < 0x20 or ord(c) == 0x7F else f"\\{c}" if c in '\\"' else c
        for c in text
    )
    return f'"{escaped}"'
