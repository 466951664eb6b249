"""What ``planform inspect`` does with drawings: options, what is read, the mended copy."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from planform._planform import Finding, ProfileSet, RuleSet
from planform.cli.lengths import LENGTH
from planform.cli.options import positive_or_none
from planform.drawings.findings import drawing_findings
from planform.drawings.loose import GAP_LIMIT
from planform.drawings.reading import read_drawing
from planform.drawings.roles import ROLES, checked_roles
from planform.errors import GeometryError
from planform.measured_outline import DrawnCurves
from planform.naming import counted, printable

if TYPE_CHECKING:
    from planform.drawings.repairing import Repair

__all__ = ["drawing_options", "mended_copy", "read_outlines", "role_rule"]


def role_rule(
    _context: click.Context, _option: click.Parameter, values: tuple[str, ...]
) -> dict[str, str]:
    """PATTERN=ROLE, several times, as a mapping."""
    rule = {}
    for value in values:
        pattern, sign, role = value.rpartition("=")
        if not sign or not pattern:
            raise click.BadParameter(f"'{value}' is not PATTERN=ROLE")
        rule[pattern] = role
    try:
        checked_roles(rule)
    except GeometryError as error:
        raise click.BadParameter(str(error)) from error
    return rule


def gap_limit(
    _context: click.Context, _option: click.Parameter, value: float | None
) -> float | None:
    """A finite number of mm, not negative."""
    if value is not None and not 0 <= value < float("inf"):
        raise click.BadParameter("must be a finite number, 0 or more")
    return value


def drawing_options(function: Callable[..., Any]) -> Callable[..., Any]:
    """Add the options that concern drawings to a command."""
    for option in (
        click.option(
            "--role",
            "roles",
            multiple=True,
            metavar="PATTERN=ROLE",
            callback=role_rule,
            help=f"Role of a layer or colour (color:1, color:#ff0000): {', '.join(ROLES)}.",
        ),
        click.option(
            "--gap",
            type=LENGTH,
            metavar="LENGTH",
            callback=gap_limit,
            help=f"Gaps of a drawing up to this count as closed; with --repair {GAP_LIMIT} by default.",
        ),
        click.option(
            "--repair",
            "repair_file",
            metavar="OUT",
            type=click.Path(path_type=Path),
            help="Write a mended copy of the drawing: gaps closed, doubles removed, strays on a layer; "
            "it is the copy that is inspected.",
        ),
        click.option(
            "--fit-arcs",
            type=LENGTH,
            metavar="LENGTH",
            callback=positive_or_none,
            help="With --repair: runs of short lines become as few arcs and lines as stay so near: 0.02.",
        ),
    ):
        function = option(function)
    return function


def read_outlines(
    source: Path,
    *,
    gap: float | None,
    roles: dict[str, str],
    unit: str,
    scale: float,
    tolerance: float,
    rules: RuleSet,
) -> tuple[ProfileSet, Sequence[Finding], DrawnCurves]:
    """The closed outlines of a drawing, what was found in it under the rules, and what else it shows. Raises
    LoadError, GeometryError."""
    loose = read_drawing(source, unit=unit or None, scale=scale)
    closed = loose.close(gap=gap or 0.0, roles=roles)
    profiles = closed.profile_set(tolerance=tolerance, allow_open=True)
    return profiles, drawing_findings(closed, rules), closed.drawn


def mended_copy(
    sources: Sequence[Path],
    path: Path,
    *,
    gap: float | None,
    roles: dict[str, str],
    unit: str,
    scale: float,
    fit_arcs: float | None,
) -> Repair:
    """Write the copy of the one drawing; print each change. Raises planform's errors."""
    from planform.drawings.repairing import (
        repair,  # its libraries take longer to load than all else
    )

    if len(sources) != 1:
        raise click.UsageError("--repair takes one drawing")
    mended = repair(
        sources[0],
        path,
        gap=GAP_LIMIT if gap is None else gap,
        unit=unit or None,
        scale=scale,
        roles=roles,
        fit_arcs=fit_arcs,
    )
    print(f"{printable(str(mended.path))}: {counted(len(mended.changes), 'change')}")
    for change in mended.changes:
        print(f"  {printable(change)}")
    return mended
