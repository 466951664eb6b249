"""Where a drawing comes to lie in a picture: scaled to fit, its y upwards, the picture's downwards."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from numpy import float64
from numpy.typing import NDArray

from planform._planform import Contour, ProfileSet

PIXELS = 0.1
"""Polylines in pictures stay within so many pixels of their curves."""


def contours_of(profiles: ProfileSet) -> Iterable[Contour]:
    """All contours that are cut, outer ones and holes."""
    for profile in profiles.profiles:
        yield profile.outer
        yield from profile.holes


@dataclass(frozen=True)
class Placing:
    """From a drawing (mm) to a picture (CSS pixels).

    Attributes
    ----------
    scale : float
        Pixels a mm.
    x, y : float
        Where the drawing's origin lies in the picture.
    """

    scale: float
    x: float
    y: float

    @classmethod
    def fitted(
        cls,
        box: Sequence[Iterable[float]] | NDArray[float64],
        width: float,
        height: float,
        room: float,
    ) -> Placing:
        """The box of a drawing, its lower and upper corner, in the middle of a picture, with ``room`` beside
        and above it."""
        left, low = (float(value) for value in box[0])
        right, high = (float(value) for value in box[1])
        scale = min(
            (width - 2 * room) / max(right - left, 1e-9),
            (height - 2 * room) / max(high - low, 1e-9),
        )
        return cls(
            scale,
            width / 2 - scale * (left + right) / 2,
            height / 2 + scale * (low + high) / 2,
        )

    @property
    def tolerance(self) -> float:
        """How far polylines may lie from their curves, mm."""
        return PIXELS / self.scale

    def place(self, x: float, y: float) -> tuple[float, float]:
        """Where a point of the drawing lies."""
        return self.x + self.scale * float(x), self.y - self.scale * float(y)

    def way(self, points: Iterable[Iterable[float]], closed: bool = True) -> str:
        """Data of an SVG path along points of the drawing."""
        placed = (self.place(x, y) for x, y in points)
        return "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in placed) + ("Z" if closed else "")

    def contours(self, profiles: ProfileSet) -> str:
        """Data of an SVG path along all contours that are cut."""
        return "".join(self.way(c.points(self.tolerance)) for c in contours_of(profiles))


def path(kind: str, data: str, even_odd: bool = False) -> str:
    """A path of a class, filled by the rule of even and odd if that is wanted; nothing without data."""
    rule = ' fill-rule="evenodd"' if even_odd else ""
    return f'<path class="{kind}"{rule} d="{data}"/>' if data else ""


def svg(width: float, height: float, *pieces: str) -> str:
    """An ``<svg>`` element of a size with the pieces in it."""
    return (
        f'<svg viewBox="0 0 {width:g} {height:g}" width="{width:g}" height="{height:g}" role="img">'
        f"{''.join(pieces)}</svg>"
    )
