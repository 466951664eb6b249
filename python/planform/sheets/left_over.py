"""What stays of a sheet, as an outline that can go back into the stock."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from planform._planform import Profile, ProfileSet, _FreeSpace
from planform.errors import Error
from planform.sheets.fill import CELLS, FINEST_CELL
from planform.sheets.shapes import Placed, Rules, room_of, shape_of
from planform.sheets.values import Layout, Sheet, Stock, rectangle

LEAST_SHARE = 0.02
"""Left-overs below this share of the sheet are waste: nobody keeps them (common practice, no source)."""


@dataclass(frozen=True, eq=False)
class LeftOver:
    """What stays of one sheet: the largest clear rectangle along x and y, and the outline of the largest
    connected piece, each a gap away from what is cut; None where there is none worth keeping. mm on the
    sheet."""

    sheet: Sheet
    rectangle: ProfileSet | None
    outline: ProfileSet | None

    def as_stock(self, name: str, whole: bool = False) -> Stock | None:
        """The rectangle (or, with ``whole``, the outline) as left-over stock: as many as there are sheets."""
        outline = self.outline if whole else self.rectangle
        if outline is None:
            return None
        stock = self.sheet.stock
        return Stock(
            name,
            outline,
            stock.material if stock.material is not None else (self.sheet.material or None),
            stock.thickness if stock.thickness is not None else (self.sheet.thickness or None),
            self.sheet.count,
            None,
            stock.grain,
            left_over=True,
        )

    @cached_property
    def size(self) -> tuple[float, float] | None:
        """Of the rectangle, mm."""
        if self.rectangle is None:
            return None
        (left, low), (right, high) = (map(float, corner) for corner in self.rectangle.bounds)
        return right - left, high - low


def left_over(sheet: Sheet, gap: float) -> LeftOver:
    """What stays of a sheet when all on it is cut, ``gap`` mm away from it."""
    return LeftOver(sheet, clear_rectangle(sheet, gap), true_outline(sheet, gap))


def clear_rectangle(sheet: Sheet, gap: float) -> ProfileSet | None:
    """The largest clear rectangle along x and y; its sides lie ``gap`` mm from all pieces."""
    rules = Rules(2 * gap, 0.0)  # grown by the whole gap, as the rectangle itself is not
    stock = replace(sheet.stock, outline=sheet.outline, roll=False, keep_clear=ProfileSet())
    room = room_of(stock, Rules(0.0, 0.0))
    if room is None:
        return None
    cell = max(max(room.width, room.height) / CELLS, FINEST_CELL)
    spaces = [_FreeSpace(outline, cell) for outline in room.outlines]
    shapes = {id(p.piece): shape_of(p.piece, rules) for p in sheet.placements}
    for space in spaces:
        for obstacle in room.obstacles:
            space.occupy(obstacle)
        for p in sheet.placements:
            placed = Placed(shapes[id(p.piece)], p.mirrored, p.angle, p.x, p.y)
            space.occupy(placed.unit_rings()[:1])
    boxes = [box for space in spaces if (box := space.largest_rectangle()) is not None]
    if not boxes:
        return None
    box = max(boxes, key=lambda b: float((b[1] - b[0]).prod()))
    if float((box[1] - box[0]).prod()) < LEAST_SHARE * sheet.area:
        return None
    (left, low), (right, high) = (map(float, corner) for corner in box)
    return ProfileSet([rectangle(left, low, right, high)])


def true_outline(sheet: Sheet, gap: float) -> ProfileSet | None:
    """The largest connected piece that stays, exactly; None if it is too small to keep, or if outlines can't
    be told apart."""
    solid = filled(sheet)
    try:
        taken = solid.offset(gap) if gap > 0 else solid
        rest = sheet.outline - taken
    except Error:
        return None
    largest = max(rest.profiles, key=lambda profile: profile.area, default=None)
    if largest is None or largest.area < LEAST_SHARE * sheet.area:
        return None
    return ProfileSet([largest], tolerance=rest.tolerance, validate=False)


def filled(sheet: Sheet) -> ProfileSet:
    """All pieces with what falls out of their holes: that is cut loose and doesn't stay."""
    return ProfileSet(
        [
            Profile(profile.outer, validate=False)
            for placement in sheet.placements
            for profile in placement.outline.profiles
        ],
        tolerance=max((p.piece.outline.tolerance for p in sheet.placements), default=0.01),
        validate=False,
    )


def left_overs(layout: Layout) -> list[LeftOver]:
    """Of each sheet of a layout, in its order; of a roll none, as it is cut off where the pieces end."""
    return [
        LeftOver(sheet, None, None) if sheet.length is not None else left_over(sheet, layout.gap)
        for sheet in layout.sheets
    ]
