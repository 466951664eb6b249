"""Figures of lengths and areas in the unit that an output is asked for: tables, pages, lists, file names."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from planform.units.lengths import INCH

Unit = Literal["mm", "inch"]


@dataclass(frozen=True)
class Figures:
    """How one unit shows lengths (given in mm) and areas (given in mm²).

    Attributes
    ----------
    unit : {"mm", "inch"}
        The word of the options.
    symbol, area_symbol, plain_area_symbol : str
        What stands behind a figure or in a heading; the last one without a raised digit, as for CSV.
    millimetres : float
        In one unit.
    """

    unit: Unit
    symbol: str
    area_symbol: str
    plain_area_symbol: str
    millimetres: float
    length_digits: int
    area_digits: int
    run_digits: int

    def length(self, value: float) -> str:
        """A length: mm to a hundredth without trailing zeros, inches to a thousandth."""
        figure = f"{value / self.millimetres:.{self.length_digits}f}"
        if self.unit == "mm":
            figure = figure.rstrip("0").rstrip(".")
        return figure.removeprefix("-") if float(figure) == 0 else figure

    def exact(self, value: float) -> str:
        """A length that somebody chose, a width of cut or a tolerance: to six digits, no trailing zeros."""
        return f"{value / self.millimetres:.6g}"

    def size(self, width: float, height: float) -> str:
        """Two lengths with a cross between them."""
        return f"{self.length(width)} × {self.length(height)}"

    def area(self, value: float) -> str:
        """An area: mm² to a tenth, square inches to a thousandth."""
        return f"{value / self.millimetres**2:.{self.area_digits}f}"

    def run(self, value: float) -> str:
        """A length of cut: mm to a tenth, inches to a hundredth."""
        return f"{value / self.millimetres:.{self.run_digits}f}"

    def rounded(self, value: float, digits: int = 3) -> float:
        """A length as a number, to ``digits`` decimals of a millimetre or one more of an inch."""
        return round(value / self.millimetres, digits + (self.unit == "inch"))

    def rounded_area(self, value: float, digits: int = 3) -> float:
        """An area as a number, to ``digits`` decimals of mm² or two more of square inches."""
        return round(value / self.millimetres**2, digits + 2 * (self.unit == "inch"))


MM_FIGURES = Figures("mm", "mm", "mm²", "mm2", 1.0, 2, 1, 1)
INCH_FIGURES = Figures("inch", "in", "in²", "in2", INCH, 3, 3, 2)


def figures_in(unit: str) -> Figures:
    """The figures of a unit: ``mm``, ``inch`` or ``in``. Raises ValueError for another word."""
    found = {"mm": MM_FIGURES, "inch": INCH_FIGURES, "in": INCH_FIGURES}.get(unit)
    if found is None:
        raise ValueError(f"unit = {unit!r} is unknown; valid: mm, inch (or in)")
    return found
