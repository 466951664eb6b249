"""TOML files of tables, with errors that name the file, the line, the key, and what to write."""

from __future__ import annotations

import math
import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from planform.errors import Error, LoadError
from planform.units.lengths import parse_length


def read_toml(path: Path) -> tuple[str, dict[str, Any]]:
    """Text and content of a TOML file. Raises LoadError with the place of what is wrong."""
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError as error:
        raise LoadError.of_kind("file_missing", f"{path}: the file does not exist", path) from error
    except UnicodeDecodeError as error:
        raise LoadError.of_kind(
            "file_damaged", f"{path}: is no text in UTF-8; write it as one"
        ) from error
    except OSError as error:
        raise LoadError.of_kind(
            "file_unreadable", f"{path}: can't be read: {error.strerror}"
        ) from error
    try:
        return text, tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise LoadError.of_kind("file_damaged", f"{path}: is no TOML: {error}") from error


@dataclass(frozen=True)
class Table:
    """One table of a list, ``[[name]]``, of a file."""

    path: Path
    text: str
    name: str
    number: int
    """From 1."""
    data: Mapping[str, Any]

    def line(self, key: str = "") -> int:
        """The line of the table, or of a key in it, from 1."""
        lines = self.text.splitlines()
        heads = [
            i for i, line in enumerate(lines) if re.match(rf"\s*\[\[\s*{self.name}\s*\]\]", line)
        ]
        if len(heads) < self.number:
            return 1
        start = heads[self.number - 1]
        if key:
            for i in range(start + 1, len(lines)):
                if re.match(r"\s*\[", lines[i]) and not re.match(r"\s*\[[^\[\]]*,", lines[i]):
                    break
                if re.match(rf"""\s*["']?{re.escape(key)}["']?\s*=""", lines[i]):
                    return i + 1
        return start + 1

    def wrong(self, key: str, message: str) -> Error:
        """The exception for a key, with its line."""
        return LoadError.of_kind(
            "invalid_argument", f"{self.path}, line {self.line(key)}: {key}: {message}"
        )

    def check_keys(self, keys: Sequence[str], needed: Sequence[str] = ()) -> None:
        """Raise for a key that nobody knows, and for one that is missing."""
        for key in self.data:
            if key not in keys:
                raise self.wrong(key, f"is unknown; valid: {', '.join(keys)}")
        for key in needed:
            if key not in self.data:
                raise LoadError.of_kind(
                    "invalid_argument",
                    f"{self.path}, line {self.line()}: [[{self.name}]] has no {key}; add it",
                )

    def word(self, key: str, default: str | None = None) -> str | None:
        """A text."""
        value = self.data.get(key, default)
        if value is not None and not isinstance(value, str):
            raise self.wrong(key, f'must be a text in quotes, such as {key} = "birch plywood"')
        return value

    def flag(self, key: str) -> bool:
        """True or false."""
        value = self.data.get(key, False)
        if not isinstance(value, bool):
            raise self.wrong(key, "must be true or false")
        return value

    def count(self, key: str, default: int | None, least: int = 0) -> int | None:
        """A whole number."""
        value = self.data.get(key, default)
        if value is None or (
            isinstance(value, int) and not isinstance(value, bool) and value >= least
        ):
            return value
        raise self.wrong(key, f"must be a whole number of {least} or more, such as {key} = 3")

    def number_of(self, key: str, least: float = 0.0) -> float | None:
        """A finite number."""
        value = self.data.get(key)
        if value is None:
            return None
        if (
            isinstance(value, bool)
            or not isinstance(value, int | float)
            or not math.isfinite(value)
        ):
            raise self.wrong(key, f"must be a number, such as {key} = 38.5")
        if value < least:
            raise self.wrong(key, f"must be {least:g} or more")
        return float(value)

    def length(self, key: str) -> float | None:
        """A length above 0 in mm: a number, or a text such as "3/8in"."""
        if key not in self.data:
            return None
        return self.length_of(key, self.data[key])

    def length_of(self, key: str, value: Any) -> float:
        """One length in mm, above 0."""
        if isinstance(value, str):
            try:
                value = parse_length(value)
            except ValueError as error:
                raise self.wrong(key, f'{error}; write mm, or a text such as "3/8in"') from error
        if (
            isinstance(value, bool)
            or not isinstance(value, int | float)
            or not math.isfinite(value)
        ):
            raise self.wrong(key, 'must be a number of mm, or a text such as "3/8in"')
        if value <= 0:
            raise self.wrong(key, "must be above 0 (mm)")
        return float(value)


def tables_of(path: Path, name: str) -> list[Table]:
    """The tables ``[[name]]`` of a file, which may hold nothing else. Raises LoadError."""
    text, data = read_toml(path)
    for key in data:
        if key != name:
            lines = text.splitlines()
            line = next((i for i, one in enumerate(lines, 1) if key in one), 1)
            raise LoadError.of_kind(
                "invalid_argument",
                f"{path}, line {line}: '{key}' is unknown; the file holds tables [[{name}]] alone",
            )
    tables = data.get(name)
    if not isinstance(tables, list) or not all(isinstance(table, dict) for table in tables):
        raise LoadError.of_kind(
            "invalid_argument", f"{path}, line 1: holds no [[{name}]]; write one table for each"
        )
    return [Table(path, text, name, i, table) for i, table in enumerate(tables, start=1)]
