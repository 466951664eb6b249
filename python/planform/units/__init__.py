"""Lengths as people write them and as the outputs show them. Inside, a length is always millimetres."""

from .figures import INCH_FIGURES, MM_FIGURES, Figures, figures_in
from .lengths import parse_length, parse_size

__all__ = [
    "INCH_FIGURES",
    "MM_FIGURES",
    "Figures",
    "figures_in",
    "parse_length",
    "parse_size",
]
