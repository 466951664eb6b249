"""The four kinds of curve as one type."""

from planform._planform import Arc, EllipticalArc, Line, Spline

Curve = Line | Arc | EllipticalArc | Spline
"""Any of the four kinds of curve, for annotations and isinstance."""
