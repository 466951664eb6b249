"""Pages of a plan: the order as numbers with a slider to follow it, and the quote to be printed.

Plain SVG and a few lines of script inside; no network. Lengths are mm.
"""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Sequence
from html import escape
from pathlib import Path
from typing import Any

from planform._planform import write_whole_file
from planform.allowances import notes_of_ways
from planform.naming import counted, printable
from planform.pages.render import picture, render, template_folder
from planform.pictures.outlines import dimensioned_svg, millimetres
from planform.pictures.placing import contours_of
from planform.planning.quote import COST_KINDS, PieceLine, Quote, SheetLine
from planform.planning.sheet_plan import SheetPlan

__all__ = ["plan_html", "plan_svg_picture", "quote_html", "write_plan_page", "write_quote_page"]

WIDTH, HEIGHT = 1180.0, 760.0
"""Of a picture, CSS pixels."""
NUMBERS = 400
"""So many cuts have their numbers in the picture; of more every so-manieth."""
FOOT = (
    "There is no machine code here: the machine's own software drives the beam, and may choose another "
    "order. Give it drawings whose entities stand in the order of cutting, or set the order by this page. "
    "Every entry was measured on the exact curves, and the order replayed."
)
COST_WORDS = {
    "machine": "Machine at work",
    "pierces": "Pierces",
    "metres": "Metres of cut",
    "sheets": "Putting sheets on",
    "handling": "Taking pieces off",
    "stock": "Material",
}


def duration(seconds: float) -> str:
    """For people: ``75 s`` as ``1:15 min``."""
    whole = round(seconds)
    if seconds < 60:
        return f"{seconds:.1f} s"
    if whole < 3600:
        return f"{whole // 60}:{whole % 60:02d} min"
    return f"{whole // 3600}:{whole // 60 % 60:02d}:{whole % 60:02d} h"


def money(value: float | None, currency: str) -> str:
    """With the currency; empty if it is not known."""
    return "" if value is None else f"{value:.2f} {currency}".strip()


def plan_svg_picture(plan: SheetPlan, width: float = WIDTH, height: float = HEIGHT) -> str:
    """Return an ``<svg>`` of a sheet within ``width`` x ``height`` CSS pixels: pieces, what is cut in which
    order, travel as thin lines, pierces as dots, places of findings as circles.

    Each cut is a group with its number from 1 on as ``data-step``. It carries no style of its own. Names
    are made printable and escaped."""
    (left, low), (right, high) = (map(float, corner) for corner in plan.sheet.outline.bounds)
    room = 12.0
    scale = min((width - 2 * room) / (right - left), (height - 2 * room) / (high - low))
    total_width, total_height = scale * (right - left) + 2 * room, scale * (high - low) + 2 * room

    def at(point: Any) -> str:
        x, y = (
            room + scale * (float(point[0]) - left),
            total_height - room - scale * (float(point[1]) - low),
        )
        return f"{x:.2f} {y:.2f}"

    def path(points: Any, closed: bool) -> str:
        return "M" + "L".join(at(point) for point in points) + ("Z" if closed else "")

    def way(curves: Sequence[Any]) -> str:
        points = [point for curve in curves for point in curve.points(0.1 / scale)]
        return path(points, False) if points else ""

    edge = "".join(path(c.points(0.1 / scale), True) for c in contours_of(plan.sheet.outline))
    parts = [
        f'<svg viewBox="0 0 {total_width:.2f} {total_height:.2f}" width="{total_width:.0f}" '
        f'height="{total_height:.0f}" role="img" aria-label="cuts of {escape(printable(plan.name))}">',
        f'<path class="sheet-edge" fill-rule="evenodd" d="{edge}"/>',
    ]
    for piece in plan.pieces:
        shape = "".join(path(c.points(0.1 / scale), True) for c in contours_of(piece.outline))
        parts.append(f'<path class="piece" fill-rule="evenodd" d="{shape}"/>')
    every = max(1, -(-len(plan.plan.cuts) // NUMBERS))
    last = plan.plan.home
    numbers = []
    for number, cut in enumerate(plan.plan.cuts, start=1):
        name = printable(plan.pieces[cut.piece].name)
        what = {"mark": "mark on", "hole": "hole of", "outer": "outline of"}[cut.role]
        says = escape(f"{what} {name}", quote=True)
        parts.append(
            f'<path class="travel" data-step="{number}" d="M{at(last)}L{at(cut.pierce)}"/>'
        )
        parts.append(f'<g data-step="{number}" data-says="{says}"><title>{number}: {says}</title>')
        kind = "way mark" if cut.role == "mark" else "way"
        parts += [f'<path class="{kind}" d="{way(stretch)}"/>' for stretch in cut.stretches]
        for extra in (cut.entry, cut.over_cut, cut.exit):
            if extra:
                parts.append(f'<path class="way entry" d="{way(extra)}"/>')
        x, y = at(cut.pierce).split()
        if cut.role != "mark":
            parts.append(f'<circle class="pierce" cx="{x}" cy="{y}" r="1.6"/>')
        parts.append("</g>")
        if number % every == 0 or number == 1:
            numbers.append(
                f'<text class="number" data-step="{number}" x="{x}" y="{float(y) - 3:.2f}">{number}</text>'
            )
        last = cut.end
    parts += numbers
    for finding in plan.plan.findings:
        x, y = at(finding.place).split()
        parts.append(
            f'<circle class="found" cx="{x}" cy="{y}" r="7">'
            f"<title>{escape(printable(finding.text))}</title></circle>"
        )
    return "".join([*parts, "</svg>"])


FINDING_COLUMNS = (("Cut", ""), ("Rule", "words"), ("Weight", "words"), ("What to do", "text"))


FIT_COLUMNS = (
    ("Piece", "words"),
    ("Joints", ""),
    ("Curves moved", ""),
    ("Fit mm", ""),
    ("Width of cut mm", ""),
)


def finding_rows(plan: SheetPlan) -> list[tuple[Any, ...]]:
    """The findings of a sheet."""
    return [
        (
            finding.cut + 1 if finding.cut >= 0 else "",
            finding.rule.replace("_", " "),
            finding.severity,
            f"{finding.text[:1].upper()}{finding.text[1:]}.",
        )
        for finding in plan.plan.findings
    ]


def sheet_data(plan: SheetPlan, line: SheetLine, quote: Quote) -> dict[str, Any]:
    """What the page says of a sheet."""
    cuts = plan.plan
    rooms = {
        room: sum(cut.room == room for cut in cuts.cuts)
        for room in ("moved", "shortened", "left_out")
    }
    figures = [
        ("Stock", getattr(getattr(plan.sheet, "stock", None), "name", ""), ""),
        ("Material", plan.title or "not known", ""),
        ("Pieces", str(len(plan.pieces)), ""),
        ("Cuts", str(len(cuts.cuts)), ""),
        ("Pierces", str(cuts.pierces), ""),
        ("Cut length", f"{cuts.cut_length:.0f} mm", ""),
        ("Travel", f"{cuts.travel:.0f} mm", ""),
        ("Time of one", "not known" if plan.seconds is None else duration(plan.seconds), ""),
        ("Entries moved", str(rooms["moved"]), ""),
        ("Entries shortened", str(rooms["shortened"]), ""),
        ("Without entry", str(rooms["left_out"]), ""),
        ("Price of all", money(line.price, quote.currency), ""),
    ]
    if cuts.mark_length:
        figures.append(("Marked", f"{cuts.mark_length:.0f} mm", ""))
    return {
        "picture": picture(plan_svg_picture(plan)),
        "steps": len(cuts.cuts),
        "heading": plan.name,
        "quantity": f"{plan.sheet.count} ×",
        "figures": figures,
        "notes": [f"{text[:1].upper()}{text[1:]}." for text in plan.missing],
        "findings": finding_rows(plan),
    }


def plan_html(
    plans: Sequence[SheetPlan],
    quote: Quote,
    title: str,
    *,
    links: Sequence[tuple[str, str]] = (),
    problems: Sequence[str] = (),
    notes: Sequence[str] = (),
    outline_findings: Sequence[tuple[str, str, str, str]] = (),
    fits: Sequence[tuple[str, str, int, str, str]] = (),
) -> str:
    """The page of the cuts of a job, as text; it holds no date: the same input gives the same page."""
    script = (template_folder / "plan.js").read_text(encoding="utf-8")
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    allowed = notes_of_ways((p.name, p.outline) for plan in plans for p in plan.sheet.placements)
    return render(
        "plan.html",
        title=title,
        script=picture(script),
        script_hash=picture(digest),
        cells=head_cells(quote),
        notes=[
            *(f"{text[:1].upper()}{text[1:]}." for text in allowed),
            *notes,
            *source_note(quote),
        ],
        links=links,
        problems=problems,
        sheets=[
            sheet_data(plan, line, quote) for plan, line in zip(plans, quote.sheets, strict=True)
        ],
        finding_columns=FINDING_COLUMNS,
        outline_findings=outline_findings,
        fits=fits,
        fit_columns=FIT_COLUMNS,
        outline_columns=(("Piece", "words"), *FINDING_COLUMNS[1:]),
        line_columns=line_columns("Sheet"),
        lines=[line_row(line, line.count, quote) for line in quote.sheets],
        sums=line_row(quote, quote.effort.sheets, quote),
        assumptions=quote.assumptions,
        foot=FOOT,
    )


def head_cells(quote: Quote) -> list[list[tuple[str, Any]]]:
    """The figures of the heading."""
    effort = quote.effort
    time = duration(effort.seconds) if quote.has_times else "not known"
    return [
        [("Sheets", effort.sheets), ("Pieces", effort.pieces)],
        [("Cut", f"{effort.cut_length / 1000:.2f} m"), ("Pierces", effort.pierces)],
        [("Time", time), ("Machine", quote.machine.name or "without a name")],
        [
            (price_label(quote), money(quote.price, quote.currency)),
            ("Left out", counted(len(quote.missing), "figure")),
        ],
    ]


def source_note(quote: Quote) -> list[str]:
    """Where the figures come from, and what is missing."""
    source = quote.machine.source
    return [f"Figures of the machine: {source or 'no source is given'}.", *missing_notes(quote)]


def missing_notes(quote: Quote) -> list[str]:
    """What the sums lack, sentences."""
    return [f"{text[:1].upper()}{text[1:]}." for text in quote.missing]


def line_columns(what: str) -> tuple[tuple[str, str], ...]:
    """The heads of a table of lines."""
    return (
        (what, "words"),
        ("Material", "words"),
        ("mm thick", ""),
        ("Size mm", ""),
        ("Number", ""),
        ("Cut m", ""),
        ("Pierces", ""),
        ("Cutting", ""),
        ("Piercing", ""),
        ("Travel", ""),
        ("Time", ""),
        ("Each", ""),
        ("Price", ""),
    )


def line_row(line: PieceLine | SheetLine | Quote, number: int, quote: Quote) -> list[Any]:
    """One row of such a table."""
    effort = line.effort
    size = getattr(line, "size", None)
    times = (effort.cutting_time, effort.pierce_time, effort.travel_time, effort.seconds)
    thickness = getattr(line, "thickness", 0.0)
    return [
        getattr(line, "name", "All"),
        getattr(line, "material", ""),
        f"{thickness:g}" if thickness else "",
        " × ".join(millimetres(extent) for extent in size) if size else "",
        number,
        f"{effort.cut_length / 1000:.2f}",
        effort.pierces,
        *(duration(time) if quote.has_times else "" for time in times),
        money(line.price / number, quote.currency) if size and number else "",
        money(line.price, quote.currency),
    ]


def quote_html(plans: Sequence[SheetPlan], quote: Quote, title: str) -> str:
    """The quote as a page to be printed."""
    costs = [
        (COST_WORDS[kind], money(quote.costs.get(kind), quote.currency) or "left out")
        for kind in COST_KINDS
    ]
    findings = [(plan.name, *row) for plan in plans for row in finding_rows(plan)]
    return render(
        "quote.html",
        title=title,
        cells=head_cells(quote),
        facts=quote_facts(quote),
        price=money(quote.price, quote.currency),
        price_label=price_label(quote),
        remarks=quote.head.remarks,
        missing=source_note(quote),
        piece_columns=line_columns("Piece"),
        pieces=[line_row(line, line.quantity, quote) for line in quote.pieces],
        piece_sums=line_row(quote, quote.effort.pieces, quote),
        sheet_columns=line_columns("Sheet"),
        sheets=[line_row(line, line.count, quote) for line in quote.sheets],
        sheet_sums=line_row(quote, quote.effort.sheets, quote),
        cost_columns=(("Cost", "words"), ("Price", "")),
        costs=costs,
        cost_sums=(price_label(quote), money(quote.price, quote.currency)),
        pictures=piece_pictures(plans, quote),
        findings=findings,
        finding_columns=(("Sheet", "words"), *FINDING_COLUMNS),
        assumptions=quote.assumptions,
        foot=FOOT,
    )


def price_label(quote: Quote) -> str:
    """What the sum of a quote is."""
    return "Price of what is known" if quote.missing else "Price"


def quote_facts(quote: Quote) -> list[tuple[str, str]]:
    """Whom the quote is for, and what it is made of."""
    head = quote.head
    materials = dict.fromkeys(
        f"{line.material or 'material not known'}, {line.thickness:g} mm" for line in quote.sheets
    )
    facts = [
        ("For", head.customer),
        ("Number", head.number),
        ("Date", head.date),
        ("Valid until", head.valid_until),
        ("Material", "; ".join(materials)),
    ]
    return [(name, text) for name, text in facts if text]


def piece_pictures(plans: Sequence[SheetPlan], quote: Quote) -> list[dict[str, Any]]:
    """Each piece once, with its size."""
    outlines: dict[tuple[str, str, float], Any] = {}
    for plan in plans:
        for piece, part in zip(plan.pieces, plan.parts, strict=True):
            key = (piece.name, plan.sheet.material, plan.sheet.thickness)
            outlines.setdefault(key, part)
    return [
        {
            "picture": picture(
                dimensioned_svg(outlines[line.name, line.material, line.thickness], 250.0, 150.0)
            ),
            "heading": line.name,
            "quantity": f"{line.quantity} ×",
            "figures": [
                ("Material", f"{line.material}, {line.thickness:g} mm".strip(", "), "wide"),
                ("Each", money(line.price / max(1, line.quantity), quote.currency), ""),
                ("All", money(line.price, quote.currency), ""),
            ],
            "notes": (),
        }
        for line in quote.pieces
    ]


def write_plan_page(
    plans: Sequence[SheetPlan], quote: Quote, path: str | Path, title: str, **options: Any
) -> Path:
    """Write `plan_html`; the file is whole or absent. Raises WriteError."""
    write_whole_file(Path(path), plan_html(plans, quote, title, **options))
    return Path(path)


def write_quote_page(
    plans: Sequence[SheetPlan], quote: Quote, path: str | Path, title: str
) -> Path:
    """Write `quote_html`; the file is whole or absent. Raises WriteError."""
    write_whole_file(Path(path), quote_html(plans, quote, title))
    return Path(path)
