"""What a job takes and costs: by piece, by sheet, in all.

Every sum is that of its parts. A rate that is not known leaves its cost out, and the quote says so.
"""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Sequence
from dataclasses import asdict, dataclass, field, fields
from pathlib import Path
from typing import Any

from planform._planform import CutTime, write_whole_file
from planform.errors import ArgumentError
from planform.grouping import grouped
from planform.naming import printable
from planform.planning.effort import (
    COST_KINDS,
    Effort,
    Priced,
    costs_of,
    costs_together,
    effort_of,
    scaled,
    sum_of,
)
from planform.planning.machine import Machine, Rates
from planform.planning.sheet_plan import SheetPlan
from planform.sheets.values import price_of

__all__ = ["COST_KINDS", "Effort", "PieceLine", "Quote", "QuoteHead", "SheetLine"]


@dataclass(frozen=True, kw_only=True)
class QuoteHead:
    """Whom a quote is for, and what else stands on it, in the user's words; empty: nothing.

    Attributes
    ----------
    customer, number, date, valid_until : str
    remarks : tuple of str
        A line each.
    """

    customer: str = field(default_factory=lambda: "")
    number: str = field(default_factory=lambda: "")
    date: str = field(default_factory=lambda: "")
    valid_until: str = field(default_factory=lambda: "")
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class SheetLine(Priced):
    """One sheet, all equal ones together. ``costs`` are by kind, ``price`` their sum."""

    name: str
    material: str
    thickness: float
    size: tuple[float, float]
    count: int
    use: float
    findings: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class PieceLine(Priced):
    """All pieces of one name, material and thickness. Sheets and material are shared out by area."""

    name: str
    material: str
    thickness: float
    size: tuple[float, float]
    quantity: int


@dataclass(frozen=True, kw_only=True)
class Quote(Priced):
    """Times and costs of a job.

    Attributes
    ----------
    pieces : tuple of PieceLine
    sheets : tuple of SheetLine
    effort : Effort
        Of all sheets.
    costs : dict
        By kind, of all sheets.
    machine : Machine
        Whose figures they are.
    missing : tuple of str
        What is not in the sums, a sentence each.
    assumptions : tuple of str
        What the figures rest on, a sentence each.
    head : QuoteHead
        Whom it is for.

    Examples
    --------
    >>> import planform
    >>> quote = planform.Quote.of([], planform.Machine())
    >>> quote.sheets, quote.costs
    ((), {})
    """

    pieces: tuple[PieceLine, ...]
    sheets: tuple[SheetLine, ...]
    machine: Machine
    has_times: bool = True
    missing: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = field(default_factory=tuple)
    head: QuoteHead = field(default_factory=QuoteHead)

    @property
    def currency(self) -> str:
        """That of the rates."""
        return self.machine.rates.currency

    @classmethod
    def of(cls, plans: Sequence[SheetPlan], machine: Machine) -> Quote:
        """The quote of planned sheets. Raises ArgumentError for what is none."""
        if not all(isinstance(plan, SheetPlan) for plan in plans):
            raise ArgumentError(
                "Quote.of: plans hold what is no SheetPlan; pass those of plan_sheet"
            )
        sheets: list[SheetLine] = []
        shares: list[PieceShare] = []
        for plan in plans:
            line, pieces = sheet_lines(plan, machine.rates)
            sheets.append(line)
            shares += pieces
        has_times = all(plan.times is not None for plan in plans)
        return cls(
            pieces=tuple(piece_lines(shares)),
            sheets=tuple(sheets),
            effort=sum_of(line.effort for line in sheets),
            costs=costs_together(line.costs for line in sheets),
            machine=machine,
            has_times=has_times,
            missing=tuple(missing_of(plans, machine.rates)),
            assumptions=tuple(assumptions_of(plans, machine)),
        )

    def rows(self) -> list[dict[str, Any]]:
        """One row a piece, then a sheet, then the job, by `COLUMNS`."""
        rows = [line_row("piece", line, line.quantity) for line in self.pieces]
        rows += [line_row("sheet", line, line.count) for line in self.sheets]
        whole = line_row("job", self, self.effort.pieces)
        return [*rows, whole]

    def csv_text(self) -> str:
        """As CSV (RFC 4180): a header, then `rows`; empty where a cost is not known."""
        text = io.StringIO()
        writer = csv.DictWriter(text, COLUMNS, lineterminator="\r\n")
        writer.writeheader()
        for row in self.rows():
            writer.writerow({key: plain_cell(value) for key, value in row.items()})
        return text.getvalue()

    def to_data(self) -> dict[str, Any]:
        """As plain data; lengths in mm, times in s. See "The JSON of a quote" in DEVELOPERS.md."""
        return {
            "planform_quote": 1,
            "head": {**asdict(self.head), "remarks": list(self.head.remarks)},
            "currency": self.currency,
            "machine": self.machine.name,
            "source_of_figures": self.machine.source,
            "pieces": [{**line_data(line), "quantity": line.quantity} for line in self.pieces],
            "sheets": [
                {
                    **line_data(line),
                    "count": line.count,
                    "use": line.use,
                    "findings": list(line.findings),
                }
                for line in self.sheets
            ],
            "job": {**effort_data(self.effort), "costs": self.costs, "price": self.price},
            "has_times": self.has_times,
            "missing": list(self.missing),
            "assumptions": list(self.assumptions),
        }

    def write_csv(self, path: str | Path) -> Path:
        """Write `csv_text`; the file is whole or absent. Raises WriteError."""
        write_whole_file(Path(path), self.csv_text())
        return Path(path)

    def write_json(self, path: str | Path) -> Path:
        """Write `to_data` as JSON; the file is whole or absent. Raises WriteError."""
        write_whole_file(
            Path(path), json.dumps(self.to_data(), ensure_ascii=False, indent=1) + "\n"
        )
        return Path(path)


COLUMNS = (
    "kind",
    "name",
    "material",
    "thickness [mm]",
    "width [mm]",
    "height [mm]",
    "number",
    "cut length [mm]",
    "mark length [mm]",
    "pierces",
    "cutting [s]",
    "piercing [s]",
    "travel [s]",
    "time [s]",
    *(f"cost of {kind}" for kind in COST_KINDS),
    "price",
)
"""The header of the CSV: every figure is that of all pieces, or all sheets, of the row."""


def line_row(kind: str, line: Any, number: int) -> dict[str, Any]:
    """One row; lengths and times to 0.001, money to 0.0001."""
    effort: Effort = line.effort
    width, height = getattr(line, "size", (None, None))
    values = (
        kind,
        getattr(line, "name", "job"),
        getattr(line, "material", ""),
        getattr(line, "thickness", None),
        width,
        height,
        number,
        effort.cut_length,
        effort.mark_length,
        effort.pierces,
        effort.cutting_time,
        effort.pierce_time,
        effort.travel_time,
        effort.seconds,
    )
    row = dict(zip(COLUMNS, values, strict=False))
    row |= {f"cost of {kind}": line.costs.get(kind) for kind in COST_KINDS}
    row["price"] = line.price
    return {
        key: round(value, 4) if isinstance(value, float) else value for key, value in row.items()
    }


def plain_cell(value: Any) -> Any:
    """Names are data: one printable line, and nothing that a spreadsheet would take for a formula."""
    if not isinstance(value, str):
        return value
    text = printable(value)
    return f"'{text}" if text[:1] in ("=", "+", "-", "@") else text


def effort_data(effort: Effort) -> dict[str, Any]:
    """Lengths in mm, times in s."""
    return {one.name: getattr(effort, one.name) for one in fields(Effort)} | {
        "seconds": effort.seconds
    }


def line_data(line: PieceLine | SheetLine) -> dict[str, Any]:
    """What pieces and sheets have in common."""
    return {
        "name": line.name,
        "material": line.material,
        "thickness": line.thickness,
        "size": list(line.size),
        **effort_data(line.effort),
        "costs": line.costs,
        "price": line.price,
    }


@dataclass(frozen=True, kw_only=True)
class PieceShare(Priced):
    """What one piece on a sheet takes, all equal sheets together."""

    name: str
    material: str
    thickness: float
    size: tuple[float, float]
    count: int


def sheet_lines(plan: SheetPlan, rates: Rates) -> tuple[SheetLine, list[PieceShare]]:
    """The line of a sheet, and what each piece on it takes. The sheet itself is shared out by area."""
    sheet, count = plan.sheet, plan.sheet.count
    times: Sequence[CutTime | None] = plan.times or [None] * len(plan.plan.cuts)
    by_piece: list[list[Effort]] = [[] for _ in plan.pieces]
    for cut, time in zip(plan.plan.cuts, times, strict=True):
        by_piece[cut.piece].append(effort_of(cut, time))
    areas = [piece.outline.area for piece in plan.pieces]
    whole = math.fsum(areas)
    stock = stock_price(sheet)
    once = costs_of(Effort(sheets=count), Rates(sheet=rates.sheet), False)
    if stock is not None:
        once["stock"] = stock
    shares: list[PieceShare] = []
    for piece, efforts, area in zip(plan.pieces, by_piece, areas, strict=True):
        effort = scaled(sum_of([*efforts, Effort(pieces=1)]), count)
        costs = costs_of(effort, rates, plan.times is not None)
        costs.pop("sheets", None)
        costs |= {kind: cost * area / whole for kind, cost in once.items()}
        shares.append(
            PieceShare(
                name=piece.name,
                material=sheet.material,
                thickness=sheet.thickness,
                size=own_size(plan, len(shares)),
                count=count,
                effort=effort,
                costs=costs,
            )
        )
    low, high = sheet.outline.bounds
    effort = sum_of([*(share.effort for share in shares), Effort(sheets=count)])
    line = SheetLine(
        name=plan.name,
        material=sheet.material,
        thickness=sheet.thickness,
        size=(float(high[0] - low[0]), float(high[1] - low[1])),
        count=count,
        use=whole / sheet.outline.area,
        effort=effort,
        costs=costs_together([share.costs for share in shares]) if shares else once,
        findings=tuple(finding.text for finding in plan.plan.findings),
    )
    return line, shares


def own_size(plan: SheetPlan, number: int) -> tuple[float, float]:
    """Width and height of a piece as it was drawn, not as it is turned on the sheet."""
    low, high = plan.parts[number].bounds
    return float(high[0] - low[0]), float(high[1] - low[1])


def stock_price(sheet: Any) -> float | None:
    """Of all sheets of a line; None if it is not known."""
    return price_of(sheet) if getattr(sheet, "stock", None) is not None else None


def piece_lines(shares: Sequence[PieceShare]) -> list[PieceLine]:
    """Pieces of one name, material and thickness together, in the order in which they come first."""
    groups = grouped(shares, lambda share: (share.name, share.material, share.thickness))
    return [
        PieceLine(
            name=name,
            material=material,
            thickness=thickness,
            size=group[0].size,
            quantity=sum(share.count for share in group),
            effort=sum_of(share.effort for share in group),
            costs=costs_together(share.costs for share in group),
        )
        for (name, material, thickness), group in groups.items()
    ]


LEFT_OUT = {
    "hour": "hours of the machine",
    "pierce": "pierces",
    "metre": "metres of cut",
    "sheet": "putting sheets on the table",
    "part": "taking pieces off",
}
"""What a rate that is missing leaves out."""


def missing_of(plans: Sequence[SheetPlan], rates: Rates) -> list[str]:
    """What is not in the sums."""
    lines = [
        f"no rate for {what}: left out"
        for key, what in LEFT_OUT.items()
        if getattr(rates, key) is None
    ]
    if any(stock_price(plan.sheet) is None for plan in plans):
        lines.append("no price for some of the material: left out")
    lines += [line for plan in plans for line in plan.missing]
    return list(dict.fromkeys(lines))


def assumptions_of(plans: Sequence[SheetPlan], machine: Machine) -> list[str]:
    """What the figures rest on."""
    lines = [f"The machine's figures: {machine.source or 'no source is given'}."]
    if machine.acceleration is None:
        lines.append(
            "No acceleration is given: every speed counts as had at once, times are too short."
        )
    else:
        lines.append(
            f"The beam gathers speed with {machine.acceleration:g} mm/s² and rests at corners; on arcs it is "
            "no faster than the square root of acceleration times radius."
        )
    for figures in dict.fromkeys(plan.figures for plan in plans):
        parts = [
            "no cutting speed" if figures.speed is None else f"{figures.speed:g} mm/s",
            "no pierce time"
            if figures.pierce_time is None
            else f"{figures.pierce_time:g} s a pierce",
            "no width of cut" if figures.kerf is None else f"a cut {figures.kerf:g} mm wide",
        ]
        lines.append(f"{figures.title[:1].upper()}{figures.title[1:]}: {', '.join(parts)}.")
    lines.append(
        "A sheet and its material are shared out among its pieces by their area. Setting up, waiting, scrap "
        "and tax are not in the figures."
    )
    return lines
