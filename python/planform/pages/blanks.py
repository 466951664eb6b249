"""Blanks as an HTML page: one file without scripts or links, every blank with its bend table.

Whatever comes from a model is data: it is escaped, and the page allows itself no script and no network by
its content security policy.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from planform._planform import Bend, Blank, Finding, UnfoldRefusal
from planform.bending.bend_list import size_of
from planform.pages.render import picture, render
from planform.pictures.bends import blank_svg, overlap_svg
from planform.units.figures import MM_FIGURES, Figures

FOOT = (
    "Up is towards the reader. Angles are those by which the sheet is bent: 0 is flat. The allowance is what "
    "the bend takes of the blank, the deduction what the blank is shorter than the two outer lengths "
    "together. Lengths of bends depend on material and tool: try one before you cut many. Whether the press "
    "reaches every bend is not looked at."
)


@dataclass(frozen=True)
class UnfoldedPart:
    """One distinct part of a model: its blank, or why there is none.

    Attributes
    ----------
    name : str
    quantity : int
        How many the model has.
    blank : Blank or None
    refusal : UnfoldRefusal or None
    error : str
        What stopped it besides: a bend that the table lacks.
    findings : tuple of Finding
        What the rules of inspection say of the bends.
    """

    name: str
    quantity: int
    blank: Blank | None = None
    refusal: UnfoldRefusal | None = None
    error: str = ""
    findings: tuple[Finding, ...] = ()


def bend_columns(figures: Figures) -> tuple[tuple[str, str], ...]:
    """The headings of a table of bends, each with its kind."""
    return (
        ("No.", ""),
        ("Kind", "words"),
        ("Direction", "words"),
        ("Angle °", ""),
        (f"Inside radius {figures.symbol}", ""),
        (f"Length {figures.symbol}", ""),
        (f"Allowance {figures.symbol}", ""),
        (f"Deduction {figures.symbol}", ""),
        ("K factor", ""),
    )


def bend_rows(bends: Iterable[Bend], figures: Figures) -> list[list[str]]:
    """The figures of bends, a row each."""
    return [
        [
            str(bend.number),
            bend.kind,
            bend.direction,
            f"{math.degrees(bend.angle):.2f}",
            figures.length(bend.inside_radius),
            figures.length(bend.length) if bend.lines else "",
            figures.length(bend.allowance),
            figures.length(bend.deduction),
            f"{bend.k_factor:.3f}",
        ]
        for bend in bends
    ]


def part_data(part: UnfoldedPart) -> dict[str, Any]:
    """One part: picture, figures, bends, notes; or why it is not unfolded."""
    data: dict[str, Any] = {"name": part.name, "quantity": f"{part.quantity} ×", "bends": []}
    if part.blank is None:
        drawn = ""
        if part.refusal is not None and part.refusal.outline is not None:
            drawn = overlap_svg(part.refusal.outline, part.refusal.overlap)
        reason = f"{part.refusal.reason}: {part.refusal.text}" if part.refusal else part.error
        return {**data, "picture": picture(drawn), "notes": [f"Not unfolded: {reason}."]}
    width, height = size_of(part.blank.outline)
    size = (
        f"{width:.2f} × {height:.2f} mm, {part.blank.thickness:g} mm thick, "
        f"{part.blank.outline.area:.1f} mm²"
    )
    return {
        **data,
        "picture": picture(blank_svg(part.blank.outline, part.blank.bends, 520.0, 320.0)),
        "bends": bend_rows(part.blank.bends, MM_FIGURES),
        "notes": [
            size,
            *(f"{finding.severity}: {finding.text}" for finding in part.findings),
            *(f"{note}." for note in part.blank.notes),
        ],
    }


def blanks_html(source: str | Path, parts: Sequence[UnfoldedPart]) -> str:
    """The page as text. It holds no date: the same input gives the same page."""
    unfolded = [part for part in parts if part.blank is not None]
    return render(
        "blanks.html",
        title=Path(source).name,
        cells=[
            [("Blanks", len(unfolded))],
            [("Pieces to cut", sum(part.quantity for part in unfolded))],
            [("Bends", sum(p.quantity * len(p.blank.bends) for p in unfolded if p.blank))],
        ],
        columns=bend_columns(MM_FIGURES),
        blanks=[part_data(part) for part in (*unfolded, *others(parts))],
        foot=FOOT,
    )


NOT_BENT = ("no bend", "no sheet")
"""Reasons of what was never meant to be unfolded."""


def others(parts: Sequence[UnfoldedPart]) -> list[UnfoldedPart]:
    """What is not unfolded though it is bent, or fails. Flat parts and blocks are no news on this page,
    unless there is nothing else to tell."""
    refused = [part for part in parts if part.blank is None]
    bent = [p for p in refused if not (p.refusal and p.refusal.reason in NOT_BENT)]
    return bent if bent or len(refused) < len(parts) else refused
