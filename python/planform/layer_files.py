"""Layers of the user's machine, in TOML or JSON: one table a role.

::

    [outer]
    name = "LASER_2"
    color = 1              # as DXF counts colours, or "#ff0000"
    line_width = 0.1       # mm, or a text such as "0.004in"

    [mark]
    name = "ENGRAVE"
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from planform._planform import DrawingLayer
from planform.errors import GeometryError, LoadError
from planform.rule_files import read_tables
from planform.units.lengths import parse_length

ROLES = ("outer", "inner", "mark", "bend")
KEYS = ("name", "color", "line_width")

LayerData = Mapping[str, Mapping[str, Any]]
"""By role what a file may hold: ``name``, ``color``, ``line_width`` (mm)."""


def read_layers(path: str | Path) -> dict[str, DrawingLayer]:
    """The layers of a TOML or JSON file, for `ProfileSet.to_dxf` and `ProfileSet.to_svg`.

    Parameters
    ----------
    path : str or pathlib.Path
        A table (object) a role, ``outer``, ``inner`` or ``mark``, with ``name``, ``color`` (an index from 1
        to 255 or ``"#rrggbb"``) and ``line_width`` (mm, or a text with its unit). The rest stays ours.

    Returns
    -------
    dict of str to DrawingLayer

    Raises
    ------
    LoadError
        If the file can't be read or holds something else; the message gives file, role and the valid words.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> path = pathlib.Path(tempfile.mkdtemp()) / "layers.toml"
    >>> _ = path.write_text('outer = {name = "CUT_2", color = 1}')
    >>> planform.read_layers(path)["outer"].name
    'CUT_2'
    """
    return drawing_layers(layer_data(path))


def layer_data(path: str | Path) -> dict[str, dict[str, Any]]:
    """The same as plain data. Raises LoadError."""
    path = Path(path)
    return checked_tables(read_tables(path, "layers"), str(path))


def checked_layers(data: Any) -> dict[str, dict[str, Any]]:
    """Plain data from a program, looked at as a file is. Raises GeometryError."""
    if not isinstance(data, Mapping):
        raise GeometryError.of_kind(
            "invalid_argument", f"layers must be a mapping of roles ({', '.join(ROLES)}) to tables"
        )
    try:
        return checked_tables(data, "layers")
    except LoadError as error:
        raise GeometryError.of_kind(error.kind, str(error)) from error


def checked_tables(tables: Mapping[Any, Any], source: str) -> dict[str, dict[str, Any]]:
    """The tables of all roles, widths in mm. Raises LoadError that begins with the source."""
    data = {}
    for role, table in tables.items():
        where = f"{source}: [{role}]"
        if role not in ROLES:
            raise LoadError.of_kind(
                "unknown_option", f"{where} is no role; valid: {', '.join(ROLES)}"
            )
        if not isinstance(table, dict):
            raise LoadError.of_kind("file_damaged", f"{where} must be a table of {', '.join(KEYS)}")
        for key in table:
            if key not in KEYS:
                raise LoadError.of_kind(
                    "unknown_option", f"{where}: '{key}' is unknown; valid: {', '.join(KEYS)}"
                )
        data[role] = {key: checked_value(key, value, where) for key, value in table.items()}
    try:
        drawing_layers(data)
    except GeometryError as error:
        raise LoadError.of_kind(error.kind, f"{source}: {error}") from error
    return data


def checked_value(key: str, value: Any, where: str) -> Any:
    """A value of the right kind, a width in mm. Raises LoadError."""
    if key == "line_width" and isinstance(value, str):
        try:
            value = parse_length(value)
        except ValueError as error:
            raise LoadError.of_kind("invalid_argument", f"{where}: line_width: {error}") from error
    kinds: dict[str, tuple[type, ...]] = {
        "name": (str,),
        "color": (int, str),
        "line_width": (int, float),
    }
    words = {
        "name": "a text",
        "color": 'an index from 1 to 255 or a text like "#ff0000"',
        "line_width": "a number of mm above 0",
    }
    right = isinstance(value, kinds[key]) and not isinstance(value, bool)
    if key == "name":
        right = right and bool(value.strip())
    elif key == "line_width":
        right = right and 0 < value < float("inf")
    elif isinstance(value, int):
        right = right and 1 <= value <= 255
    if not right:
        raise LoadError.of_kind("invalid_argument", f"{where}: {key} must be {words[key]}")
    return value


def drawing_layers(data: LayerData) -> dict[str, DrawingLayer]:
    """Plain data as layers. Raises GeometryError for a colour that is none."""
    return {
        role: DrawingLayer(
            table.get("name", ""), color=table.get("color"), line_width=table.get("line_width")
        )
        for role, table in data.items()
    }
