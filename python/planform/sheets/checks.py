"""Are values that come from outside what they should be?"""

from __future__ import annotations

import math

from planform.errors import Error, GeometryError


def wrong(message: str) -> Error:
    """The exception for a value that makes no sense."""
    return GeometryError.of_kind("invalid_argument", message)


def need(condition: bool, message: str) -> None:
    """Raise GeometryError with the message unless the condition holds."""
    if not condition:
        raise wrong(message)


def is_number(value: object) -> bool:
    """A finite int or float."""
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def is_count(value: object, least: int = 0) -> bool:
    """A whole number of at least so much."""
    return isinstance(value, int) and not isinstance(value, bool) and value >= least
