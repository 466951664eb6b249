"""Why pieces were not placed."""

from __future__ import annotations

import math
from collections.abc import Sequence

from planform.sheets.values import Layout, NotPlaced, Piece, Stock, direction

STEPS = 720
"""So many directions are looked at for a piece that may be turned freely."""


def not_placed(layout: Layout) -> tuple[NotPlaced, ...]:
    """What of each piece is missing on the sheets, and why."""
    result = []
    for piece in layout.pieces:
        placed = sum(
            sheet.count
            for sheet in layout.sheets
            for placement in sheet.placements
            if placement.piece is piece and not placement.spare
        )
        if placed < piece.quantity:
            reason, nowhere = reason_for(piece, layout)
            result.append(NotPlaced(piece, piece.quantity - placed, reason, nowhere))
    return tuple(result)


def reason_for(piece: Piece, layout: Layout) -> tuple[str, bool]:
    """The reason in words, and whether it is that the piece fits no stock."""
    material, thickness = piece.group
    serving = [stock for stock in layout.stock if stock.serves(material, thickness)]
    if not serving:
        of = f"{material or 'unknown material'}, {thickness:g} mm"
        return (
            f"there is no stock of {of}; add it to the stock, or leave material and thickness out of it",
            True,
        )
    if all(is_too_large(piece, stock, layout.margin) for stock in serving):
        (left, low), (right, high) = profile_bounds(piece)
        return (
            f"{right - left:.1f} × {high - low:.1f} mm fit no stock with a margin of {layout.margin:g} mm",
            True,
        )
    if all(is_used_up(stock, layout) for stock in serving):
        return "the stock is used up", False
    return "no room found", False


def is_used_up(stock: Stock, layout: Layout) -> bool:
    """Are all sheets of it in use?"""
    used = sum(sheet.count for sheet in layout.sheets if sheet.stock is stock)
    return stock.count is not None and used >= stock.count


def profile_bounds(piece: Piece) -> tuple[tuple[float, float], tuple[float, float]]:
    """The box of what is cut, mm; marks don't count."""
    boxes = [profile.bounds for profile in piece.outline.profiles]
    low = tuple(min(float(box[0][axis]) for box in boxes) for axis in (0, 1))
    high = tuple(max(float(box[1][axis]) for box in boxes) for axis in (0, 1))
    return (low[0], low[1]), (high[0], high[1])


def is_too_large(piece: Piece, stock: Stock, margin: float) -> bool:
    """True only if the piece can't lie on the stock in any way that it may be turned: for its area, or as its
    box is larger. Between two directions a box changes by no more than its diagonal times the angle."""
    width, height = stock.size
    width, height = width - 2 * margin, height - 2 * margin
    if stock.count == 0 or width <= 0 or height <= 0 or piece.area > stock.area * (1 + 1e-9):
        return True
    slack = 1e-6 + 1e-9 * max(width, height)
    if piece.turns != "any":
        step = {"90": math.pi / 2, "180": math.pi, "none": 2 * math.pi}[piece.turns]
        angles: Sequence[float] = [
            (stock.grain or 0.0) + i * step for i in range(round(2 * math.pi / step))
        ]
    else:
        angles = [i * math.pi / STEPS for i in range(STEPS)]
        (left, low), (right, high) = profile_bounds(piece)
        slack += math.hypot(right - left, high - low) * math.pi / STEPS
    for angle in angles:
        (left, low), (right, high) = turned_bounds(piece, angle)
        if right - left <= width + slack and high - low <= height + slack:
            return False
    return True


def turned_bounds(piece: Piece, angle: float) -> tuple[tuple[float, float], tuple[float, float]]:
    """The box of what is cut when it is turned, mm."""
    cosine, sine = direction(angle)
    matrix = [[cosine, -sine, 0.0], [sine, cosine, 0.0]]
    outline = piece.outline.transformed(matrix)
    boxes = [profile.bounds for profile in outline.profiles]
    low = tuple(min(float(box[0][axis]) for box in boxes) for axis in (0, 1))
    high = tuple(max(float(box[1][axis]) for box in boxes) for axis in (0, 1))
    return (low[0], low[1]), (high[0], high[1])
