"""Single-stroke letters: those that A. V. Hershey drew (Calligraphy for Computers, U.S. Naval Weapons
Laboratory, 1967), in the public domain, as the library Hershey-Fonts (MIT licence) holds them."""

from __future__ import annotations

import unicodedata
from functools import cache

from planform.extras import needed

Stroke = list[tuple[float, float]]

FACE = "futural"
"""The simplest of the sans-serif sets: one stroke a stem."""
CAP, BASE = -12, 9
"""Heights of capitals' top and of the base line in the library's units, which run downwards."""


@cache
def glyphs() -> dict[str, tuple[float, tuple[tuple[tuple[float, float], ...], ...]]]:
    """By character: how far it moves on, and its strokes, for capitals of height 1 above y = 0."""
    with needed():
        from HersheyFonts import HersheyFonts

    font = HersheyFonts()
    font.load_default_font(FACE)
    scale = 1.0 / (BASE - CAP)
    result = {}
    for code in range(32, 127):
        character = chr(code)
        for glyph in font.glyphs_for_text(character):
            left = glyph.left_offset
            strokes = tuple(
                tuple(((x - left) * scale, (BASE - y) * scale) for x, y in stroke)
                for stroke in glyph.strokes
                if len(stroke) > 1
            )
            result[character] = (glyph.char_width * scale, strokes)
    return result


def plain(text: str) -> str | None:
    """The text in characters that there are strokes for, accents left out; None if one has none."""
    letters = [c for c in unicodedata.normalize("NFKD", text) if not unicodedata.combining(c)]
    known = glyphs()
    return "".join(letters) if all(c in known for c in letters) else None


def strokes_of(text: str, height: float) -> tuple[list[Stroke], float]:
    """The strokes of a text in known characters, mm, from the origin on the base line; and how wide it is."""
    known = glyphs()
    strokes: list[Stroke] = []
    x = 0.0
    for character in text:
        advance, drawn = known[character]
        strokes += [[(height * (x + u), height * v) for u, v in stroke] for stroke in drawn]
        x += advance
    return strokes, height * x
