"""Is it fit to cut? ``inspect`` measures a profile set against rules; the result draws and prints itself."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal, Protocol

from . import _planform
from ._planform import Finding, ProfileSet, RuleSet, Sheet

Severity = Literal["note", "warning", "error"]
SEVERITIES: tuple[Severity, ...] = ("note", "warning", "error")


class HasFinding(Protocol):
    """Something that knows how it is found, such as a feature that a straight cut can't make."""

    def finding(self, rules: RuleSet) -> Finding | None:
        """The finding under these rules, or None if its rule is off."""


@dataclass(frozen=True)
class Inspection(Sequence[Finding]):
    """The findings of one inspection, errors first, and what was inspected.

    Attributes
    ----------
    profiles : ProfileSet
    thickness : float or None
        In mm.
    rules : RuleSet
    sheet : Sheet or None
    findings : tuple of Finding
        By severity (errors first), rule, place.
    """

    profiles: ProfileSet
    thickness: float | None
    rules: RuleSet
    sheet: Sheet | None
    findings: tuple[Finding, ...]

    def __len__(self) -> int:
        return len(self.findings)

    def __getitem__(self, index):  # type: ignore[no-untyped-def]
        return self.findings[index]

    def __iter__(self) -> Iterator[Finding]:
        return iter(self.findings)

    def at_least(self, severity: Severity) -> tuple[Finding, ...]:
        """The findings that weigh as much as `severity`, or more."""
        least = SEVERITIES.index(severity)
        return tuple(f for f in self.findings if SEVERITIES.index(f.severity) >= least)


def inspect(
    profile_set: ProfileSet,
    thickness: float | None = None,
    *,
    rules: RuleSet | None = None,
    sheet: Sheet | tuple[float, float] | None = None,
    features: Iterable[Finding | HasFinding] = (),
) -> Inspection:
    """Measure a profile set against rules: is it fit to cut?

    Parameters
    ----------
    profile_set : ProfileSet
    thickness : float, optional
        Of the sheet, in mm. Without it the rules that count in thicknesses are left out.
    rules : RuleSet, optional
        The documented default set if not given; `read_rules` reads one from a file.
    sheet : Sheet or (width, height), optional
        To cut from, in mm.
    features : iterable of findings, or of what has a method ``finding(rules)``
        What a straight cut can't make of the solid: `straight_cut(solid, datum).features`; sorted in.

    Returns
    -------
    Inspection
        A sequence of `Finding`: rule, severity, place, measured, limit, what to do.

    Raises
    ------
    GeometryError
        If the thickness or the sheet is not positive and finite.

    Examples
    --------
    >>> import planform
    >>> hole = planform.Contour([planform.Arc((0, 0), 0.745)])
    >>> plate = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), 20)]), [hole])])
    >>> [(f.severity, f.rule, round(f.measured, 3), f.limit) for f in planform.inspect(plate, 3.0)]
    [('error', 'inner_width', 1.49, 1.5)]
    """
    rules = RuleSet() if rules is None else rules
    if sheet is not None and not isinstance(sheet, Sheet):
        sheet = Sheet(*sheet)
    further = []
    for feature in features:
        finding = feature if isinstance(feature, Finding) else feature.finding(rules)
        if finding is not None:
            further.append(finding)
    findings = _planform.find_findings(profile_set, thickness, rules, sheet, further)
    return Inspection(profile_set, thickness, rules, sheet, tuple(findings))
