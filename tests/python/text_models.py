"""Text as solids, made with the font builder of the kernel and DejaVu Sans Bold (fonts-dejavu-core)."""

from __future__ import annotations

import string
from functools import cache
from pathlib import Path

from kernel_models import box, moved
from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
from OCP.gp import gp_Vec
from OCP.NCollection import NCollection_String
from OCP.StdPrs import StdPrs_BRepFont, StdPrs_BRepTextBuilder
from OCP.TopoDS import TopoDS_Shape

FONT = Path("/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf")
LETTERS = string.digits + string.ascii_uppercase
# Counters of DejaVu Sans Bold, counted on its specimen: one or two closed insides a letter.
COUNTERS = dict.fromkeys("0469ADOPQR", 1) | {"8": 2, "B": 2}
SIZE = 30.0  # mm an em, roughly
CELL = 32.0  # mm from letter to letter


@cache
def font() -> StdPrs_BRepFont:
    """The font, read once."""
    builder = StdPrs_BRepFont()
    assert builder.Init(NCollection_String(str(FONT)), SIZE, 0), f"no font in {FONT}"
    return builder


def letter(character: str, x: float, y: float, bottom: float, height: float) -> TopoDS_Shape:
    """A letter as a straight prism; lines and quadratic splines, as the font has them."""
    face = StdPrs_BRepTextBuilder().Perform(font(), NCollection_String(character))
    prism = BRepPrimAPI_MakePrism(face, gp_Vec(0.0, 0.0, height)).Shape()
    return moved(prism, x, y, bottom)


def row(characters: str, bottom: float, height: float) -> list[tuple[str, TopoDS_Shape]]:
    """Named letters in lines of nine, in the plate's frame."""
    return [
        (
            character,
            letter(character, 6.0 + CELL * (i % 9), 6.0 + 36.0 * (i // 9), bottom, height),
        )
        for i, character in enumerate(characters)
    ]


def plate(characters: str, thickness: float) -> TopoDS_Shape:
    """A plate from z = 0 up that is large enough for the row."""
    lines = (len(characters) + 8) // 9
    return box(6.0 + CELL * 9, 6.0 + 36.0 * lines, thickness)
