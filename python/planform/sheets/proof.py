"""The proof of a layout: placements on the exact curves, turns, mirroring, counts.

Nothing that a search says is believed. What breaks a rule on a sheet is taken off it again, and goes where
there is room; a layout that breaks one is never handed out.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from planform._planform import _LayoutFault, _LayoutProof, _prove_layout
from planform.errors import GeometryError
from planform.naming import one_line
from planform.sheets.patterns import Pattern
from planform.sheets.shapes import Rules
from planform.sheets.values import Layout, Placement, Sheet

WORDS = {
    "outside_sheet": "reaches over the edge of the sheet",
    "in_margin": "comes nearer to the edge of the sheet than the margin",
    "not_clear": "lies on a place that is to be kept clear",
    "too_near": "comes nearer to another than the gap",
    "overlap": "overlaps another",
}


def proven(sheet: Sheet, gap: float, margin: float) -> _LayoutProof:
    """Hold the placements on a sheet against gap and margin (mm), on the exact curves."""
    return _prove_layout(
        sheet.outline,
        sheet.stock.keep_clear,
        [placement.outline for placement in sheet.placements],
        gap,
        margin,
    )


def repair(pattern: Pattern, rules: Rules) -> None:
    """Take off a sheet what breaks a rule there, until nothing does: of two that are too near, the later."""
    while pattern.spots:
        owners = [spot for spot, _ in pattern.placed()]
        sheet = pattern.sheet(rules.margin)
        faults = proven(sheet, rules.gap, rules.margin).faults
        if not faults:
            return
        wrong = {id(owners[max(fault.first, fault.second)]) for fault in faults}
        pattern.spots = [spot for spot in pattern.spots if id(spot) not in wrong]


def prove(layout: Layout) -> list[_LayoutProof]:
    """Hold a whole layout against its rules: each sheet by `proven`, turns, mirroring, counts, stock.

    Returns the proofs of the sheets. Raises GeometryError (law_broken) with the first rule that is broken,
    the sheet and the piece.
    """
    proofs = []
    for number, sheet in enumerate(layout.sheets, start=1):
        proof = proven(sheet, layout.gap, layout.margin)
        if proof.faults:
            raise broken(f"sheet {number}: {fault_text(sheet.placements, proof.faults[0])}")
        for placement in sheet.placements:
            check_motion(number, sheet, placement)
        proofs.append(proof)
    check_counts(layout)
    return proofs


def broken(message: str) -> Exception:
    """The exception for a layout that is none."""
    return GeometryError.of_kind("law_broken", one_line(f"layout: {message}"))


def fault_text(placements: Sequence[Placement], fault: _LayoutFault) -> str:
    """A fault in words."""
    other = f" ('{placements[fault.second].name}')" if fault.second >= 0 else ""
    x, y = fault.place
    return (
        f"'{placements[fault.first].name}' {WORDS[fault.kind]}{other} at ({x:.3f}, {y:.3f}): "
        f"{fault.measured:.6g} mm instead of {fault.limit:.6g} mm"
    )


def check_motion(number: int, sheet: Sheet, placement: Placement) -> None:
    """Is the piece turned and mirrored only as it may be, and of the sheet's material?"""
    piece = placement.piece
    if not piece.allows(placement.angle, sheet.stock.grain):
        raise broken(
            f"sheet {number}: '{piece.name}' is turned by {math.degrees(placement.angle):.6g} degrees, which "
            f"it may not be"
        )
    if placement.mirrored and not piece.may_mirror:
        raise broken(f"sheet {number}: '{piece.name}' is mirrored, which it may not be")
    if not sheet.stock.serves(*piece.group):
        raise broken(f"sheet {number}: '{piece.name}' lies on another material or thickness")


def check_counts(layout: Layout) -> None:
    """Are all pieces there as often as they should, or listed; and no more stock used than there is?"""
    for piece in layout.pieces:
        missing = sum(one.count for one in layout.not_placed if one.piece is piece)
        placed = sum(
            sheet.count
            for sheet in layout.sheets
            for placement in sheet.placements
            if placement.piece is piece and not placement.spare
        )
        if placed + missing != piece.quantity:
            raise broken(
                f"'{piece.name}' is wanted {piece.quantity} times, placed {placed} times, and "
                f"{missing} times not placed"
            )
        if layout.placed(piece) - placed > piece.spares:
            raise broken(f"'{piece.name}' has more spares than are wanted")
    known = {id(piece) for piece in layout.pieces}
    if any(id(p.piece) not in known for sheet in layout.sheets for p in sheet.placements):
        raise broken("a piece lies on a sheet that nobody asked for")
    for stock in layout.stock:
        used = sum(sheet.count for sheet in layout.sheets if sheet.stock is stock)
        if stock.count is not None and used > stock.count:
            raise broken(f"{used} sheets of '{stock.name}' are used, there are {stock.count}")
