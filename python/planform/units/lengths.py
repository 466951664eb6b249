"""Lengths and sizes as a person types them: ``12.5``, ``3/8in``, ``1 1/2"``, ``4ft``, ``96inx48in``."""

from __future__ import annotations

import math
import re
from fractions import Fraction

INCH = 25.4
"""Millimetres in an inch, exactly (international inch, BIPM SI Brochure appendix of non-SI units; from
memory)."""

_INCH = Fraction(254, 10)

MILLIMETRES: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": _INCH,
    "inch": _INCH,
    '"': _INCH,
    "″": _INCH,
    "ft": 12 * _INCH,
    "foot": 12 * _INCH,
    "'": 12 * _INCH,
    "′": 12 * _INCH,
}
"""By what a length may be followed. Fractions, so that 96in is the number that 2438.4 is."""

_NUMBER = r"[-+]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?"
_UNIT = "|".join(sorted(map(re.escape, MILLIMETRES), key=len, reverse=True))
_VALUE = re.compile(
    rf"(?P<sign>[-+]?)(?:(?P<whole>\d+)[ -])?(?P<above>\d+)/(?P<below>\d+)|(?P<number>{_NUMBER})"
)
_LENGTH = re.compile(rf"(?P<value>[-+.\d/eE ]*[\d.])\s*(?P<unit>{_UNIT})?", re.IGNORECASE)


def parse_length(text: str, unit: str = "mm") -> float:
    """A length in mm.

    Parameters
    ----------
    text : str
        A number or a fraction (``3/8``, ``1 1/2``, ``1-1/2``), followed by mm, cm, m, in, inch, ft, ``"`` or
        ``'``, or by nothing; or feet with inches (``4'6"``, ``4ft6in``).
    unit : str, optional
        What a number without a unit is in.

    Raises
    ------
    ValueError
        If the text is no length, or not finite.

    Examples
    --------
    >>> from planform.units.lengths import parse_length
    >>> parse_length("3/8in"), parse_length("4ft"), parse_length("12.5")
    (9.525, 1219.2, 12.5)
    """
    try:
        length = float(_fraction(text, unit))
    except OverflowError:
        length = math.inf
    if not math.isfinite(length):
        raise ValueError(f"'{text}' is not finite")
    return length


def _fraction(text: str, unit: str) -> Fraction:
    """The length in mm, exactly."""
    text = text.strip()
    feet = re.fullmatch(r"(.*?\s*(?:ft|foot|'|′))\s*(\d.*)", text, re.IGNORECASE)
    if feet:
        return _fraction(feet[1], unit) + _fraction(feet[2], "in")
    found = _LENGTH.fullmatch(text)
    value = _VALUE.fullmatch(found["value"].strip()) if found else None
    if found is None or value is None:
        raise ValueError(f"'{text}' is no length: a number, alone (mm) or with mm, cm, m, in or ft")
    if value["number"] is not None:
        if not math.isfinite(float(value["number"])):
            raise ValueError(f"'{text}' is not finite")
        number = Fraction(value["number"])
    elif int(value["below"]) == 0:
        raise ValueError(f"'{text}' divides by 0")
    else:
        share = int(value["whole"] or 0) + Fraction(int(value["above"]), int(value["below"]))
        number = -share if value["sign"] == "-" else share
    return number * MILLIMETRES[(found["unit"] or unit).lower()]


def parse_size(text: str, unit: str = "mm") -> tuple[float, float]:
    """Width and height in mm: two lengths with an x between them. A unit at the end alone holds for both.

    Raises
    ------
    ValueError
        If the text is no such pair, or one of the two is not above 0.

    Examples
    --------
    >>> from planform.units.lengths import parse_size
    >>> parse_size("3000x1500"), parse_size("96inx48in") == parse_size("8ftx4ft") == parse_size("8x4ft")
    ((3000.0, 1500.0), True)
    """
    parts = [part.strip() for part in re.split("[x×*]", text.strip(), flags=re.IGNORECASE)]
    if len(parts) != 2 or not all(parts):
        raise ValueError(
            f"'{text}' is no size: two lengths such as 3000x1500, 96inx48in or 8ftx4ft"
        )
    second = _LENGTH.fullmatch(parts[1])
    first_unit = unit
    first = _LENGTH.fullmatch(parts[0])
    if second and second["unit"] and first and not first["unit"]:
        first_unit = second["unit"].lower()
    width, height = parse_length(parts[0], first_unit), parse_length(parts[1], unit)
    if width <= 0 or height <= 0:
        raise ValueError(f"'{text}': both lengths must be above 0")
    return width, height
