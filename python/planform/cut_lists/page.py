"""The cut list as an HTML page: one file without scripts or links, a table and every outline.

Whatever comes from a model or a rule is data: it is escaped, and the page allows itself no script and no
network by its content security policy.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from planform.pages.blanks import bends_table
from planform.pages.report import SIZES_AS_DRAWN, SIZES_OF_PARTS, allowance_notes, page, text
from planform.pictures.bends import BEND_STYLE, blank_svg
from planform.pictures.outlines import dimensioned_svg

if TYPE_CHECKING:
    from planform.cut_lists.cut_list import CutList, CutListEntry

TABLE_STYLE = """
table { border-collapse: collapse; width: 100%; background: #fff; font-variant-numeric: tabular-nums; }
th, td { border: 1px solid var(--thin); padding: 4px 8px; text-align: right; overflow-wrap: anywhere; }
th { font-weight: 600; font-size: 12px; text-align: center; }
th.words, td.words { text-align: left; }
tfoot td { font-weight: 600; }
"""

MASSES = "Masses are those of the finished parts."

HEADINGS = (
    ("No.", ""),
    ("Name", "words"),
    ("Quantity", ""),
    ("Size mm", ""),
    ("Area mm²", ""),
    ("Cut length mm", ""),
    ("Pierces", ""),
    ("Joints", ""),
    ("Mass kg", ""),
    ("Total area mm²", ""),
    ("Total cut length mm", ""),
    ("Total mass kg", ""),
)


def cut_list_html(cut_list: CutList) -> str:
    """Return the page as text. It holds no date: the same input gives the same page."""
    title = text(Path(cut_list.source).name)
    groups = "".join(group_section(*group) for group in cut_list.groups())
    content = (
        '<header class="block">'
        f'<div><span class="label">Cut list of</span><h1>{title}</h1></div>'
        f'<div><span class="label">Plates</span>{len(cut_list.entries)}</div>'
        f'<div><span class="label">Pieces to cut</span>{cut_list.pieces}</div>'
        f'<div><span class="label">Other parts</span>{sum(o.quantity for o in cut_list.others)}</div>'
        f"</header>{allowance_notes(cut_list.allowances)}\n{groups}\n{others_section(cut_list)}"
    )
    sizes = SIZES_AS_DRAWN if cut_list.allowances.is_none else SIZES_OF_PARTS
    return page(
        f"Cut list of {title}", content, style=TABLE_STYLE + BEND_STYLE, foot=f"{sizes} {MASSES}"
    )


def group_section(thickness: float, material: str, entries: list[CutListEntry]) -> str:
    """The plates of one thickness and material."""
    heading = f"{thickness:g} mm" + (f", {text(material)}" if material else "")
    sheets = "".join(sheet(entry) for entry in entries)
    return (
        f"<section><h2>{heading}</h2>{table_of(entries)}"
        f'<h2>Outlines, {heading}</h2><div class="sheets">{sheets}</div></section>'
    )


def entries_table(cut_list: CutList) -> str:
    """The tables alone, for a notebook."""
    return "".join(
        f"<p>{thickness:g} mm {text(material)}</p>{table_of(entries)}"
        for thickness, material, entries in cut_list.groups()
    )


def table_of(entries: list[CutListEntry]) -> str:
    """One row a plate, the sums below."""
    head = "".join(f'<th class="{kind}">{title}</th>' for title, kind in HEADINGS)
    rows = "".join(table_row(entry) for entry in entries)
    masses = [entry.mass for entry in entries]
    mass = (
        ""
        if any(m is None for m in masses)
        else f"{sum(e.quantity * (e.mass or 0.0) for e in entries):.3f}"
    )
    sums = (
        '<td></td><td class="words">Sum</td>',
        f"<td>{sum(entry.quantity for entry in entries)}</td><td></td><td></td><td></td>",
        f"<td></td><td></td><td></td><td>{sum(e.quantity * e.area for e in entries):.1f}</td>",
        f"<td>{sum(e.quantity * e.cut_length for e in entries):.1f}</td><td>{mass}</td>",
    )
    return (
        f"<table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody>"
        f"<tfoot><tr>{''.join(sums)}</tr></tfoot></table>"
    )


def table_row(entry: CutListEntry) -> str:
    """The figures of one plate."""
    width, height = entry.size
    mass = entry.mass
    cells = (
        str(entry.position),
        text(entry.name),
        str(entry.quantity),
        f"{width:.2f} × {height:.2f}",
        f"{entry.area:.1f}",
        f"{entry.cut_length:.1f}",
        str(entry.pierces),
        "" if entry.joints is None else str(entry.joints),
        "" if mass is None else f"{mass:.3f}",
        f"{entry.quantity * entry.area:.1f}",
        f"{entry.quantity * entry.cut_length:.1f}",
        "" if mass is None else f"{entry.quantity * mass:.3f}",
    )
    row = "".join(
        f'<td class="{kind}">{cell}</td>' for (_, kind), cell in zip(HEADINGS, cells, strict=True)
    )
    return f"<tr>{row}</tr>"


def sheet(entry: CutListEntry) -> str:
    """One plate: picture, name, quantity, what to know."""
    notes = "".join(f'<p class="note">{text(note)}.</p>' for note in entry.remarks)
    features = "".join(
        f'<p class="note">{text(feature.text)}</p>' for feature in entry.plate.cut.features
    )
    also = (
        f'<p class="note">Also named {text(", ".join(entry.names[1:]))}.</p>'
        if len(entry.names) > 1
        else ""
    )
    bends = entry.plate.bends
    picture = (
        blank_svg(entry.outline, bends)
        if bends
        else dimensioned_svg(entry.outline, mating=entry.mating)
    )
    table = bends_table(bends) if bends else ""
    return (
        f"<figure>{picture}<figcaption><h3><span>{entry.position}. "
        f"{text(entry.name)}</span><span>{entry.quantity} ×</span></h3>{table}{also}{notes}{features}"
        "</figcaption></figure>"
    )


def others_section(cut_list: CutList) -> str:
    """What is no plate, with the reasons."""
    if not cut_list.others:
        return ""
    rows = "".join(
        f'<tr><td class="words">{text(other.name)}</td><td>{other.quantity}</td>'
        f'<td class="words">{text(other.word)}</td><td class="words">{text(other.text)}</td></tr>'
        for other in cut_list.others
    )
    return (
        '<section><h2>No plates</h2><table><thead><tr><th class="words">Name</th><th>Quantity</th>'
        '<th class="words">Reason</th><th class="words">Figures</th></tr></thead>'
        f"<tbody>{rows}</tbody></table></section>"
    )
