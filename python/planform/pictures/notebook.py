"""How a profile set shows itself in a notebook."""

import math

from planform._planform import ProfileSet

__all__ = ["notebook_svg"]

# Strokes of the picture, relative to its larger side: thin, yet at least a pixel at any usual size.
RELATIVE_STROKE = 1 / 400


def notebook_svg(self: ProfileSet) -> str:
    """SVG for the screen: that of `to_svg`, one user unit = 1 mm, with strokes wide enough to be seen."""
    lower, upper = self.bounds
    larger_side = float(max(upper - lower))
    if not math.isfinite(larger_side) or larger_side <= 0.0:
        return self.to_svg()
    return self.to_svg(stroke_width=larger_side * RELATIVE_STROKE)
