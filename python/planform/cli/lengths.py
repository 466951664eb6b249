"""Lengths, sizes and units on the command line."""

from __future__ import annotations

from typing import Any

import click

from planform.units.lengths import parse_length, parse_size


class Length(click.ParamType):  # type: ignore[type-arg, unused-ignore]
    """A length in mm: a number alone, or with mm, cm, m, in or ft."""

    name = "length"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """The length in mm."""
        try:
            return float(value)  # also nan and inf, which the options refuse in words of their own
        except ValueError:
            pass
        try:
            return parse_length(str(value))
        except ValueError as error:
            self.fail(str(error), param, ctx)


class Size(click.ParamType):  # type: ignore[type-arg, unused-ignore]
    """Two lengths with an x between them, in mm."""

    name = "size"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> tuple[float, float]:
        """Width and height in mm."""
        if isinstance(value, tuple):
            return value
        try:
            return parse_size(str(value))
        except ValueError as error:
            self.fail(str(error), param, ctx)


class UnitWord(click.ParamType):  # type: ignore[type-arg, unused-ignore]
    """mm or inch; ``in`` is inch."""

    name = "unit"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> str:
        """``mm`` or ``inch``."""
        word = {"mm": "mm", "inch": "inch", "in": "inch"}.get(str(value).lower())
        if word is None:
            self.fail(f"'{value}' is unknown; valid: mm, inch (or in)", param, ctx)
        return word

    def get_metavar(self, param: click.Parameter, ctx: click.Context | None = None) -> str:
        """As shown in the help."""
        return "[mm|inch]"


LENGTH = Length()
SIZE = Size()
UNIT_WORD = UnitWord()

unit_option = click.option(
    "--unit",
    type=UNIT_WORD,
    default="mm",
    show_default=True,
    help="Unit of the DXF drawings and of all figures: tables, CSV, pages, file names. Lengths that you pass "
    "are mm unless they say otherwise (1/8in, 4ft).",
)
