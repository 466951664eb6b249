"""Text as outlines of a font, or as single strokes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from pathlib import Path
from typing import Any

from planform._planform import Contour, Line, Mark, Profile, ProfileSet, Spline
from planform.curves import Curve
from planform.errors import Error, GeometryError
from planform.extras import needed
from planform.lettering.strokes import plain, strokes_of

__all__ = ["text"]

CAPITAL = "H"
"""Flat on top and bottom: its height is that of the text."""


def text(
    letters: str,
    height: float,
    *,
    font: str | Path | None = None,
    single_stroke: bool = False,
) -> ProfileSet:
    """Letters of a font as outlines to cut, or as single strokes to engrave.

    The text starts in the origin and runs along x on its base line. Letters stand at the font's own widths,
    without kerning. Outlines are the font's own curves, quadratic and cubic splines; letters that overlap
    are united. Insides of letters are holes; to hold what would fall out, see `bridges`.

    Parameters
    ----------
    letters : str
        One line.
    height : float
        Of a capital, mm.
    font : path-like, optional
        A TrueType or OpenType file; without it DejaVu Sans (as matplotlib brings it).
    single_stroke : bool, optional
        Marks of one stroke a stem instead of outlines: the simplest of the letters that A. V. Hershey drew,
        in the public domain, which have the characters of ASCII; accents are left out.

    Returns
    -------
    ProfileSet
        In mm: profiles named by their letters, or open marks; its name is the text.

    Raises
    ------
    GeometryError
        For a height that is not positive and finite, a font that can't be read or has no such letter.

    Examples
    --------
    >>> import planform
    >>> round(float(planform.text("A7", height=5).bounds[1][1]), 2)
    5.0
    >>> planform.text("A7", height=5, single_stroke=True).marks[0].is_closed
    False
    """
    if isinstance(height, bool) or not isinstance(height, int | float):
        raise wrong(f"height = {height!r} is no number (mm)")
    if not (math.isfinite(height) and height > 0):
        raise wrong(f"height = {height!r} is no finite number above 0 (mm)")
    if not isinstance(letters, str):
        raise wrong(f"letters = {letters!r} is no text")
    if not letters.isprintable():
        raise wrong(f"the text {letters!r} has characters that are not printed; pass one line")
    if single_stroke:
        if font is not None:
            raise wrong("font and single_stroke don't go together; leave out one")
        return ProfileSet([], stroke_marks(letters, height), name=letters)
    return font_outlines(letters, float(height), font)


def wrong(message: str) -> Error:
    """The exception for an argument that makes no sense."""
    return GeometryError.of_kind("invalid_argument", message)


def stroke_marks(letters: str, height: float) -> list[Mark]:
    """One open mark a stroke. Raises GeometryError for a character without strokes."""
    known = plain(letters)
    if known is None:
        unknown = next(c for c in letters if plain(c) is None)
        raise wrong(f"there is no single-stroke letter for {unknown!r}; use a font")
    return [stroke_mark(stroke, letters) for stroke in strokes_of(known, height)[0]]


def stroke_mark(stroke: Sequence[tuple[float, float]], name: str) -> Mark:
    """Straight lines from point to point."""
    lines: list[Curve] = [Line(a, b) for a, b in pairwise(stroke) if a != b]
    return Mark.open(lines, name)


def font_outlines(letters: str, height: float, font: str | Path | None) -> ProfileSet:
    """The letters as united profiles."""
    opened = opened_font(font)
    glyphs, names = opened.getGlyphSet(), opened.getBestCmap() or {}
    for letter in {CAPITAL, *letters}:
        if ord(letter) not in names:
            raise wrong(f"the font has no letter {letter!r}")
    scale = height / capital_height(glyphs, names[ord(CAPITAL)])
    result = ProfileSet(name=letters)
    x = 0.0
    for letter in letters:
        glyph = glyphs[names[ord(letter)]]
        pen = CurvesPen(glyphs, scale, x)
        glyph.draw(pen)
        result = result | letter_profiles(pen.contours, letter)
        x += scale * glyph.width
    return result.with_name(letters)


def opened_font(font: str | Path | None) -> Any:
    """The font file. Raises GeometryError if it is none."""
    with needed():
        from fontTools.ttLib import TTFont, TTLibError

    if font is None:
        with needed():
            import matplotlib

        font = Path(matplotlib.get_data_path()) / "fonts" / "ttf" / "DejaVuSans.ttf"
    try:
        return TTFont(str(font), fontNumber=0, lazy=True)
    except (OSError, TTLibError, TypeError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise wrong(f"{font}: is no font that can be read: {reason}") from error


def capital_height(glyphs: Any, name: str) -> float:
    """Of a glyph, in units of the font."""
    with needed():
        from fontTools.pens.boundsPen import BoundsPen

    pen = BoundsPen(glyphs)
    glyphs[name].draw(pen)
    return float(pen.bounds[3])


class CurvesPen:
    """Takes the contours of a glyph as curves in mm; made on the font library's pen when first used."""

    def __new__(cls, glyphs: Any, scale: float, x: float) -> Any:
        with needed():
            from fontTools.pens.basePen import BasePen

        class Pen(BasePen):  # type: ignore[misc]
            def __init__(self) -> None:
                super().__init__(glyphs)
                self.contours: list[list[Curve]] = []

            def place(self, point: tuple[float, float]) -> tuple[float, float]:
                return (x + scale * point[0], scale * point[1])

            def _moveTo(self, point: tuple[float, float]) -> None:  # noqa: N802
                self.start = self.at = self.place(point)
                self.contours.append([])

            def _lineTo(self, point: tuple[float, float]) -> None:  # noqa: N802
                end = self.place(point)
                if end != self.at:
                    self.contours[-1].append(Line(self.at, end))
                self.at = end

            def bezier(self, points: list[tuple[float, float]]) -> None:
                poles = [self.at, *(self.place(point) for point in points)]
                degree = len(points)
                knots = [0.0] * (degree + 1) + [1.0] * (degree + 1)
                if any(pole != poles[0] for pole in poles):
                    self.contours[-1].append(Spline(degree, knots, poles))
                self.at = poles[-1]

            def _qCurveToOne(self, control: Any, end: Any) -> None:  # noqa: N802
                self.bezier([control, end])

            def _curveToOne(self, first: Any, second: Any, end: Any) -> None:  # noqa: N802
                self.bezier([first, second, end])

            def _closePath(self) -> None:  # noqa: N802
                if self.at != self.start:
                    self.contours[-1].append(Line(self.at, self.start))
                if not self.contours[-1]:
                    self.contours.pop()

        return Pen()


def letter_profiles(contours: Sequence[Sequence[Curve]], letter: str) -> ProfileSet:
    """Fonts turn holes the other way round than what is around them; contours of one way may overlap."""
    closed = [Contour(curves, validate=False) for curves in contours]
    closed = [contour for contour in closed if contour.area]
    if not closed:
        return ProfileSet()
    way = math.copysign(1.0, max(closed, key=lambda contour: abs(contour.area)).area)
    filled, holes = ProfileSet(), ProfileSet()
    for contour in closed:
        whole = contour if contour.area > 0 else contour.reversed()
        profile = ProfileSet([Profile(whole, [], letter, validate=False)])
        if contour.area * way > 0:
            filled = filled | profile
        else:
            holes = holes | profile
    return filled - holes if holes.profiles else filled
