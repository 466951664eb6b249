"""Blanks as an HTML page: one file without scripts or links, every blank with its bend table.

Whatever comes from a model is data: it is escaped, and the page allows itself no script and no network by
its content security policy.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from planform._planform import Bend, Blank, Finding, UnfoldRefusal
from planform.bending.bend_list import size_of
from planform.pages.report import page, text
from planform.pictures.bends import BEND_STYLE, blank_svg, overlap_svg

TABLE_STYLE = """
table { border-collapse: collapse; width: 100%; background: #fff; font-variant-numeric: tabular-nums; }
th, td { border: 1px solid var(--thin); padding: 4px 8px; text-align: right; }
th { font-weight: 600; font-size: 12px; text-align: center; }
"""

HEADINGS = (
    "No.",
    "Kind",
    "Direction",
    "Angle °",
    "Inside radius mm",
    "Length mm",
    "Allowance mm",
    "Deduction mm",
    "K factor",
)

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


def bends_table(bends: Iterable[Bend]) -> str:
    """The bends as an HTML table."""
    head = "".join(f"<th>{heading}</th>" for heading in HEADINGS)
    rows = ""
    for bend in bends:
        cells = (
            str(bend.number),
            bend.kind,
            bend.direction,
            f"{math.degrees(bend.angle):.2f}",
            f"{bend.inside_radius:.3f}",
            f"{bend.length:.2f}" if bend.lines else "",
            f"{bend.allowance:.3f}",
            f"{bend.deduction:.3f}",
            f"{bend.k_factor:.3f}",
        )
        rows += "<tr>" + "".join(f"<td>{cell}</td>" for cell in cells) + "</tr>"
    return f"<table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"


def part_section(part: UnfoldedPart) -> str:
    """One part: picture, figures, bends, notes; or why it is not unfolded."""
    heading = f"<figcaption><h3><span>{text(part.name)}</span><span>{part.quantity} ×</span></h3>"
    if part.blank is None:
        picture = ""
        if part.refusal is not None and part.refusal.outline is not None:
            picture = overlap_svg(part.refusal.outline, part.refusal.overlap)
        reason = f"{part.refusal.reason}: {part.refusal.text}" if part.refusal else part.error
        return (
            f'<figure class="failed">{picture}{heading}<p class="note">Not unfolded: {text(reason)}.</p>'
            "</figcaption></figure>"
        )
    width, height = size_of(part.blank.outline)
    notes = "".join(f'<p class="note">{text(note)}.</p>' for note in part.blank.notes)
    found = "".join(
        f'<p class="note">{text(finding.severity)}: {text(finding.text)}</p>'
        for finding in part.findings
    )
    return (
        f"<figure>{blank_svg(part.blank.outline, part.blank.bends, 520.0, 320.0)}{heading}"
        f'<p class="note">{width:.2f} × {height:.2f} mm, {part.blank.thickness:g} mm thick, '
        f"{part.blank.outline.area:.1f} mm²</p>{bends_table(part.blank.bends)}{found}{notes}"
        "</figcaption></figure>"
    )


def blanks_html(source: str | Path, parts: Sequence[UnfoldedPart]) -> str:
    """The page as text. It holds no date: the same input gives the same page."""
    title = text(Path(source).name)
    unfolded = [part for part in parts if part.blank is not None]
    bends = sum(part.quantity * len(part.blank.bends) for part in unfolded if part.blank)
    sections = "".join(part_section(part) for part in (*unfolded, *others(parts)))
    content = (
        '<header class="block">'
        f'<div><span class="label">Blanks of</span><h1>{title}</h1></div>'
        f'<div><span class="label">Blanks</span>{len(unfolded)}</div>'
        f'<div><span class="label">Pieces to cut</span>{sum(p.quantity for p in unfolded)}</div>'
        f'<div><span class="label">Bends</span>{bends}</div></header>\n<div class="sheets">{sections}</div>'
    )
    return page(f"Blanks of {title}", content, style=TABLE_STYLE + BEND_STYLE, foot=FOOT)


def others(parts: Iterable[UnfoldedPart]) -> list[UnfoldedPart]:
    """What is not unfolded though it is bent, or fails: flat parts are no news on this page."""
    return [
        part
        for part in parts
        if part.blank is None and not (part.refusal and part.refusal.reason == "no bend")
    ]
