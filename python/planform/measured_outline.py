"""An outline with its findings, as pictures and pages see it; `planform.inspections` makes them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Protocol

from planform._planform import Finding, ProfileSet, RuleSet, Sheet
from planform.curves import Curve
from planform.words import WORDS

SEVERITIES = WORDS["severity"]


@dataclass(frozen=True)
class DrawnCurves:
    """What a drawing from elsewhere shows beside closed outlines.

    Attributes
    ----------
    open : tuple of curves
        Of outlines that stay open, and strays, mm.
    doubled : tuple of curves
        That lie on others, mm.
    bounds : tuple of two corners
        Of all that is to be cut or marked, closed or not, mm; NaN throughout without a curve.
    """

    open: tuple[Curve, ...]
    doubled: tuple[Curve, ...]
    bounds: tuple[tuple[float, float], tuple[float, float]]


class MeasuredOutline(Protocol):
    """What was inspected, by which rules, and what was found: lengths in mm."""

    @property
    def profiles(self) -> ProfileSet: ...
    @property
    def thickness(self) -> float | None: ...
    @property
    def rules(self) -> RuleSet: ...
    @property
    def sheet(self) -> Sheet | None: ...
    @property
    def findings(self) -> tuple[Finding, ...]: ...
    @property
    def drawn(self) -> DrawnCurves | None: ...
    @property
    def bounds(self) -> tuple[tuple[float, float], tuple[float, float]] | None: ...
    def at_least(self, severity: str) -> tuple[Finding, ...]: ...
    def __iter__(self) -> Iterator[Finding]: ...
