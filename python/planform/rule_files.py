"""Rules in files: TOML or JSON, one table a rule.

Only what differs from the default set needs to be in a file::

    [web]
    limit = 2.0
    unit = "mm"
    severity = "warning"

    [sharp_corner]
    enabled = false
"""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any, Literal, cast

from planform._planform import Rule, RuleSet
from planform.errors import GeometryError, LoadError
from planform.units.lengths import INCH, parse_length

RuleUnit = Literal["thicknesses", "mm", "degrees", "points", ""]

KEYS = ("enabled", "severity", "limit", "unit")


def read_rules(path: str | Path) -> RuleSet:
    """Read the rules of an inspection from a TOML or JSON file.

    Parameters
    ----------
    path : str or pathlib.Path
        A name that ends in ``.toml`` or ``.json``. Tables (objects) are named like the rules; their keys
        are ``enabled``, ``severity``, ``limit`` and ``unit`` ("mm", "inch" or "in", or "thicknesses" where a
        rule takes both); a limit may be a text with its unit, too: ``"1/16in"``. What is not named keeps its
        default.

    Returns
    -------
    RuleSet

    Raises
    ------
    LoadError
        If the file can't be read, or names a rule, a key or a value that does not exist; the message gives
        file, rule and the valid words.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> path = pathlib.Path(tempfile.mkdtemp()) / "rules.toml"
    >>> _ = path.write_text('web.limit = "2 mm"')
    >>> rule = planform.read_rules(path)["web"]
    >>> rule.limit, rule.unit
    (2.0, 'mm')
    """
    path = Path(path)
    data = read_tables(path, "rules")
    rules = RuleSet()
    for name, table in data.items():
        rules = with_table(rules, path, name, table)
    return rules


def read_tables(path: Path, what: str) -> dict[str, Any]:
    """The content of a TOML or JSON file that holds a table. Raises LoadError, which calls it ``what``."""
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError as error:
        raise LoadError.of_kind("file_missing", f"{path}: the file does not exist", path) from error
    except (OSError, UnicodeDecodeError) as error:
        raise LoadError.of_kind("file_unreadable", f"{path}: can't be read: {error}") from error
    suffix = path.suffix.lower()
    try:
        if suffix == ".toml":
            data: Any = tomllib.loads(text)
        elif suffix == ".json":
            data = json.loads(text)
        else:
            raise LoadError.of_kind(
                "file_not_recognised", f"{path}: {what} are read from .toml and .json files"
            )
    except (tomllib.TOMLDecodeError, json.JSONDecodeError) as error:
        raise LoadError.of_kind("file_damaged", f"{path}: {error}") from error
    if not isinstance(data, dict):
        raise LoadError.of_kind(
            "file_damaged", f"{path}: {what}: one table a rule or role is needed"
        )
    return data


def with_table(rules: RuleSet, path: Path, name: str, table: Any) -> RuleSet:
    """The set with one rule changed as a table of the file says."""
    where = f"{path}: [{name}]"
    names = [rule.name for rule in rules]
    if name not in names:
        raise LoadError.of_kind("unknown_option", f"{where} is no rule; valid: {', '.join(names)}")
    if not isinstance(table, dict):
        raise LoadError.of_kind("file_damaged", f"{where} must be a table of {', '.join(KEYS)}")
    for key in table:
        if key not in KEYS:
            raise LoadError.of_kind(
                "unknown_option", f"{where}: '{key}' is unknown; valid: {', '.join(KEYS)}"
            )
    try:
        if "enabled" in table:
            rules = rules.with_enabled(name, typed(table["enabled"], bool, where, "enabled"))
        if "severity" in table:
            rules = rules.with_severity(name, typed(table["severity"], str, where, "severity"))
        if "unit" in table or "limit" in table:
            rules = rules.with_limit(name, *limit_of(table, rules[name], where))
    except GeometryError as error:
        raise LoadError.of_kind(error.kind, f"{where}: {error}") from error
    return rules


def limit_of(table: dict[str, Any], rule: Rule, where: str) -> tuple[float, RuleUnit]:
    """Limit and unit of a table: inches become mm, and so does a text like "1/16in"."""
    unit = typed(table.get("unit", rule.unit), str, where, "unit")
    limit = table.get("limit", rule.limit)
    if isinstance(limit, str):
        try:
            return parse_length(limit, unit if unit in ("in", "inch") else "mm"), "mm"
        except ValueError as error:
            raise LoadError.of_kind("invalid_argument", f"{where}: limit: {error}") from error
    number = typed(limit, float, where, "limit")
    if unit in ("in", "inch"):
        return (number if "limit" not in table else number * INCH), "mm"
    return number, cast(RuleUnit, unit)


def typed(value: Any, kind: type, where: str, key: str) -> Any:
    """The value, if it is of the kind; whole numbers count as numbers."""
    if kind is float and isinstance(value, int) and not isinstance(value, bool):
        value = float(value)
    if not isinstance(value, kind):
        words = {bool: "true or false", str: "a word in quotes", float: "a number"}
        raise LoadError.of_kind("invalid_argument", f"{where}: {key} must be {words[kind]}")
    return value


def rules_toml(rules: RuleSet | None = None) -> str:
    """All rules as TOML, each with what it looks for and its source: a file to start from.

    Examples
    --------
    >>> import planform
    >>> "[web]" in planform.rules_toml()
    True
    """
    lines = []
    for rule in RuleSet() if rules is None else rules:
        lines += [f"# {rule.description}", f"# Source: {rule.source}.", f"[{rule.name}]"]
        lines += [f"enabled = {str(rule.enabled).lower()}", f'severity = "{rule.severity}"']
        if rule.unit:
            lines += [f"limit = {rule.limit:g}", f'unit = "{rule.unit}"']
        lines.append("")
    return "\n".join(lines)
