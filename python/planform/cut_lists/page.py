"""The cut list as an HTML page: one file without scripts or links, a table and every outline."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from planform.cut_lists.entries import CutListEntry, ListedPlates
from planform.pages.blanks import bend_columns, bend_rows
from planform.pages.render import picture, render
from planform.pages.report import SIZES_AS_DRAWN, SIZES_OF_PARTS, allowance_notes
from planform.pictures.bends import blank_svg
from planform.pictures.outlines import dimensioned_svg
from planform.units.figures import Figures

MASSES = "Masses are those of the finished parts."

OTHER_COLUMNS = (("Name", "words"), ("Quantity", ""), ("Reason", "words"), ("Figures", "text"))


def columns(figures: Figures) -> tuple[tuple[str, str], ...]:
    """The headings of a table of plates, each with its kind."""
    return (
        ("No.", ""),
        ("Name", "words"),
        ("Quantity", ""),
        (f"Size {figures.symbol}", ""),
        (f"Area {figures.area_symbol}", ""),
        (f"Cut length {figures.symbol}", ""),
        ("Pierces", ""),
        ("Joints", ""),
        ("Mass kg", ""),
        (f"Total area {figures.area_symbol}", ""),
        (f"Total cut length {figures.symbol}", ""),
        ("Total mass kg", ""),
    )


def cut_list_html(cut_list: ListedPlates, figures: Figures) -> str:
    """Return the page as text. It holds no date: the same input gives the same page."""
    sizes = SIZES_AS_DRAWN if cut_list.allowances.is_none else SIZES_OF_PARTS
    return render(
        "cut_list.html",
        title=Path(cut_list.source).name,
        cells=[
            [("Plates", len(cut_list.entries))],
            [("Pieces to cut", cut_list.pieces)],
            [("Other parts", sum(other.quantity for other in cut_list.others))],
        ],
        allowance_notes=[*allowance_notes(cut_list.allowances, figures), *cut_list.notes],
        columns=columns(figures),
        bend_columns=bend_columns(figures),
        groups=groups_data(cut_list, figures, pictured=True),
        other_columns=OTHER_COLUMNS,
        others=[(o.name, o.quantity, o.word, o.text) for o in cut_list.others],
        foot=f"{sizes} {MASSES}",
    )


def cut_list_tables(cut_list: ListedPlates, figures: Figures) -> str:
    """The tables alone, for a notebook."""
    groups = groups_data(cut_list, figures, pictured=False)
    return render("cut_list_tables.html", columns=columns(figures), groups=groups)


def groups_data(cut_list: ListedPlates, figures: Figures, pictured: bool) -> list[dict[str, Any]]:
    """The plates of each thickness and material."""
    return [
        {
            "heading": f"{figures.exact(thickness)} {figures.symbol}"
            + (f", {material}" if material else ""),
            "rows": [row(entry, figures) for entry in entries],
            "sums": sums(entries, figures),
            "plates": [plate_data(entry, figures) for entry in entries] if pictured else [],
        }
        for thickness, material, entries in cut_list.groups()
    ]


def row(entry: CutListEntry, figures: Figures) -> list[str]:
    """The figures of one plate."""
    mass = entry.mass
    return [
        str(entry.position),
        entry.name,
        str(entry.quantity),
        figures.size(*entry.size)
        if figures.unit == "inch"
        else "{:.2f} × {:.2f}".format(*entry.size),
        figures.area(entry.area),
        figures.run(entry.cut_length),
        str(entry.pierces),
        "" if entry.joints is None else str(entry.joints),
        "" if mass is None else f"{mass:.3f}",
        figures.area(entry.quantity * entry.area),
        figures.run(entry.quantity * entry.cut_length),
        "" if mass is None else f"{entry.quantity * mass:.3f}",
    ]


def sums(entries: list[CutListEntry], figures: Figures) -> list[str]:
    """The last row of a table."""
    masses = [entry.mass for entry in entries]
    mass = sum(e.quantity * (e.mass or 0.0) for e in entries)
    return [
        "",
        "Sum",
        str(sum(entry.quantity for entry in entries)),
        *[""] * 6,
        figures.area(sum(e.quantity * e.area for e in entries)),
        figures.run(sum(e.quantity * e.cut_length for e in entries)),
        "" if any(m is None for m in masses) else f"{mass:.3f}",
    ]


def plate_data(entry: CutListEntry, figures: Figures) -> dict[str, Any]:
    """One plate: picture, name, quantity, what to know."""
    also = [f"Also named {', '.join(entry.names[1:])}."] if len(entry.names) > 1 else []
    return {
        "picture": picture(
            blank_svg(entry.outline, entry.bends, figures=figures)
            if entry.bends
            else dimensioned_svg(entry.outline, mating=entry.mating, figures=figures)
        ),
        "bends": bend_rows(entry.bends, figures),
        "heading": f"{entry.position}. {entry.name}",
        "quantity": f"{entry.quantity} ×",
        "notes": [
            *also,
            *(f"{note}." for note in entry.remarks),
            *(feature.text for feature in entry.plate.cut.features),
        ],
    }
