"""TOML files whose mistakes are told with the line and the key.

`Document` is a whole file, `Table` one table of it. Every key that nobody asked for is a mistake, so that
one that is misspelt can't be overlooked."""

from __future__ import annotations

import difflib
import math
import re
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from planform.errors import Error, GeometryError, LoadError

HEADER = re.compile(r"^\s*(\[\[?)\s*([^\[\]#]+?)\s*\]\]?\s*(#.*)?$")
KEY = re.compile(
    r"""^\s*((?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*')(?:\s*\.\s*(?:[A-Za-z0-9_-]+|"[^"]*"))*)\s*="""
)
LARGEST = 4 << 20
"""Bytes of a file that is read at most: one that is larger is none of ours."""


class Document:
    """A TOML file, read whole. Raises LoadError if it can't be read, GeometryError if it is no TOML."""

    def __init__(self, path: Path) -> None:
        self.path = path
        try:
            if path.stat().st_size > LARGEST:
                raise self.mistake((), "is larger than 4 MiB; this is no file of settings")
            self.text = path.read_text(encoding="utf-8")
        except FileNotFoundError as error:
            raise LoadError.of_kind("file_missing", f"{path}: the file does not exist") from error
        except OSError as error:
            raise LoadError.of_kind(
                "file_unreadable", f"{path}: can't be read: {error.strerror}"
            ) from error
        except UnicodeDecodeError as error:
            raise self.mistake((), "is no text in UTF-8") from error
        try:
            data = tomllib.loads(self.text)
        except tomllib.TOMLDecodeError as error:
            raise self.mistake((), f"is no TOML: {error}") from error
        except RecursionError as error:
            raise self.mistake((), "is nested too deeply") from error
        self.root = Table(self, (), data)

    def mistake(self, place: Sequence[str | int], message: str) -> Error:
        """The exception for what is wrong at a key: the file, the line, the key, what to do."""
        line = line_of(self.text, place) if place else None
        where = f", line {line}" if line else ""
        key = f"{key_text(place)}: " if place else ""
        return GeometryError.of_kind("invalid_argument", f"{self.path}{where}: {key}{message}")


def key_text(place: Sequence[str | int]) -> str:
    """``cut[2].speed`` of ("cut", 1, "speed"): tables of a list are counted from 1."""
    text = ""
    for part in place:
        if isinstance(part, int):
            text += f"[{part + 1}]"
        else:
            text += ("." if text else "") + part
    return text


def bare(key: str) -> tuple[str, ...]:
    """The parts of a dotted key without quotes."""
    return tuple(part.strip().strip("\"'") for part in key.split("."))


def line_of(text: str, place: Sequence[str | int]) -> int | None:
    """The line of a key, or of the table that it stands in; None if neither is found."""
    wanted = tuple(place)
    counts: dict[tuple[str | int, ...], int] = {}
    table: tuple[str | int, ...] = ()
    best: tuple[int, int] | None = None
    for number, line in enumerate(text.splitlines(), start=1):
        if header := HEADER.match(line):
            table = indexed(counts, bare(header[2]), header[1] == "[[")
            found = table
        elif key := KEY.match(line):
            found = (*table, *bare(key[1]))
        else:
            continue
        if wanted[: len(found)] == found and (best is None or len(found) > best[0]):
            best = len(found), number
    return best[1] if best else None


def indexed(
    counts: dict[tuple[str | int, ...], int], names: Sequence[str], is_list: bool
) -> tuple[str | int, ...]:
    """The place of a table with the numbers of the lists that it lies in."""
    place: tuple[str | int, ...] = ()
    for position, name in enumerate(names):
        place = (*place, name)
        if is_list and position == len(names) - 1:
            counts[place] = counts.get(place, -1) + 1
        if place in counts:
            place = (*place, counts[place])
    return place


class Table:
    """One table of a document. Each key is asked for by its kind; `done` names those that nobody asked
    for."""

    def __init__(
        self, document: Document, place: tuple[str | int, ...], data: Mapping[str, Any]
    ) -> None:
        self.document = document
        self.place = place
        self.data = data
        self.asked: set[str] = set()

    def mistake(self, key: str, message: str) -> Error:
        """The exception for what is wrong at a key of this table."""
        return self.document.mistake((*self.place, key) if key else self.place, message)

    def has(self, key: str) -> bool:
        """Does the key stand in the table?"""
        return key in self.data

    def raw(self, key: str) -> Any:
        """The value as it is; None if there is none."""
        self.asked.add(key)
        return self.data.get(key)

    def text(self, key: str, default: str = "") -> str:
        """A text that is not empty."""
        value = self.raw(key)
        if value is None:
            return default
        if not isinstance(value, str) or not value.strip():
            raise self.mistake(key, f'must be a text, such as {key} = "plywood"')
        return value

    def word(self, key: str, words: Sequence[str], default: str) -> str:
        """One of some words."""
        value = self.text(key, default)
        if value not in words:
            raise self.mistake(key, f"'{value}' is unknown; valid: {', '.join(words)}")
        return value

    def flag(self, key: str, default: bool = False) -> bool:
        """``true`` or ``false``."""
        value = self.raw(key)
        if value is None:
            return default
        if not isinstance(value, bool):
            raise self.mistake(key, "must be true or false")
        return value

    def whole(self, key: str, default: int, least: int = 0) -> int:
        """A whole number of at least so much."""
        value = self.raw(key)
        if value is None:
            return default
        if not isinstance(value, int) or isinstance(value, bool) or value < least:
            raise self.mistake(key, f"must be a whole number of {least} or more")
        return value

    def number(
        self, key: str, default: float | None = None, *, least: float = 0.0, above: bool = False
    ) -> float | None:
        """A finite number without unit."""
        value = self.raw(key)
        if value is None:
            return default
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise self.mistake(key, "must be a number")
        if not math.isfinite(value) or value < least or (above and value == least):
            words = f"above {least:g}" if above else f"of {least:g} or more"
            raise self.mistake(key, f"must be a finite number {words}")
        return float(value)

    def quantity(
        self,
        key: str,
        units: Mapping[str, float],
        default: float | None = None,
        *,
        plain: str = "",
        least: float = 0.0,
        above: bool = False,
    ) -> float | None:
        """A number with its unit, such as ``"20 mm/s"``, in the first of the units; a number alone is in
        ``plain``, or refused where that is empty."""
        value = self.raw(key)
        if value is None:
            return default
        names = ", ".join(units)
        if isinstance(value, int | float) and not isinstance(value, bool):
            if not plain:
                unit = next(iter(units))
                raise self.mistake(
                    key, f'has no unit; write {key} = "{value:g} {unit}" (valid: {names})'
                )
            number, factor = float(value), units[plain]
        elif isinstance(value, str) and (parts := re.match(r"^\s*([-+.\deE]+)\s*(\S+)\s*$", value)):
            if parts[2] not in units:
                raise self.mistake(key, f"'{parts[2]}' is no unit here; valid: {names}")
            try:
                number = float(parts[1])
            except ValueError as error:
                raise self.mistake(key, f"'{parts[1]}' is no number") from error
            factor = units[parts[2]]
        else:
            unit = plain or next(iter(units))
            raise self.mistake(key, f'must be a number with its unit, such as "20 {unit}"')
        number *= factor
        if not math.isfinite(number) or number < least or (above and number == least):
            words = f"above {least:g}" if above else f"{least:g} or more"
            raise self.mistake(key, f"must be {words}")
        return number

    def table(self, key: str) -> Table:
        """A table in this one; an empty one if there is none."""
        value = self.raw(key)
        if value is None:
            value = {}
        if not isinstance(value, Mapping):
            raise self.mistake(key, f"must be a table, [{key_text((*self.place, key))}]")
        return Table(self.document, (*self.place, key), value)

    def tables(self, key: str) -> list[Table]:
        """The tables of a list."""
        value = self.raw(key)
        if value is None:
            return []
        if not isinstance(value, list) or not all(isinstance(one, Mapping) for one in value):
            raise self.mistake(
                key,
                f"must be a list of tables, each with the head [[{key_text((*self.place, key))}]]",
            )
        return [
            Table(self.document, (*self.place, key, number), one)
            for number, one in enumerate(value)
        ]

    def texts(self, key: str) -> list[str]:
        """A list of texts, or one text alone."""
        value = self.raw(key)
        if value is None:
            return []
        values = [value] if isinstance(value, str) else value
        if not isinstance(values, list) or not all(
            isinstance(one, str) and one.strip() for one in values
        ):
            raise self.mistake(key, "must be a text or a list of texts")
        return values

    def point(self, key: str, default: tuple[float, float]) -> tuple[float, float]:
        """Two numbers, mm."""
        value = self.raw(key)
        if value is None:
            return default
        if not (
            isinstance(value, list)
            and len(value) == 2
            and all(isinstance(one, int | float) and not isinstance(one, bool) for one in value)
            and all(math.isfinite(one) for one in value)
        ):
            raise self.mistake(key, "must be two numbers in mm, such as [0, 0]")
        return float(value[0]), float(value[1])

    def required(self, key: str, example: str) -> None:
        """Raise an error if the key is not there."""
        if key not in self.data:
            raise self.mistake("", f"has no '{key}'; add {example}")

    def done(self) -> None:
        """Raise an error for the first key that nobody asked for; it names the one that is most like it."""
        for key in self.data:
            if key not in self.asked:
                raise self.mistake(key, unknown_key(key, sorted(self.asked)))


def unknown_key(key: str, valid: Iterable[str]) -> str:
    """What is said of a key that is none."""
    names = list(valid)
    near = difflib.get_close_matches(key, names, n=1)
    hint = f"; do you mean {near[0]}?" if near else ""
    return f"is unknown{hint} (valid: {', '.join(names)})"


LENGTHS = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4}
"""To mm; the inch exactly (international inch)."""
SPEEDS = {
    "mm/s": 1.0,
    "mm/min": 1 / 60,
    "m/min": 1000 / 60,
    "m/s": 1000.0,
    "in/s": 25.4,
    "in/min": 25.4 / 60,
}
"""To mm/s."""
ACCELERATIONS = {
    "mm/s2": 1.0,
    "mm/s²": 1.0,
    "m/s2": 1000.0,
    "m/s²": 1000.0,
    "in/s2": 25.4,
    "g": 9806.65,
}
"""To mm/s²; standard gravity is 9.80665 m/s² (3rd CGPM, 1901)."""
TIMES = {"s": 1.0, "ms": 1e-3, "min": 60.0}
"""To s."""
MASSES = {"kg": 1.0, "g": 1e-3, "lb": 0.45359237}
"""To kg; the pound exactly (international avoirdupois pound)."""
