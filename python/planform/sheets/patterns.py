"""Ways of filling a sheet, while they are being made."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planform.sheets.shapes import Placed, Room, Spot, Unit, placed_pieces
from planform.sheets.values import Placement, Sheet

Counts = dict[Unit, int]


@dataclass(eq=False)
class Pattern:
    """One way of filling a sheet, and how many are cut so."""

    room: Room
    spots: list[Spot]
    count: int = 1

    @property
    def area(self) -> float:
        """Of the pieces on one sheet, mm²."""
        return sum(spot.unit.area for spot in self.spots)

    @property
    def room_used(self) -> float:
        """What the pieces take of the room: the area of their search polygons, mm²."""
        return sum(spot.unit.room for spot in self.spots)

    @property
    def use(self) -> float:
        """Share of the room that is used."""
        return self.area / self.room.reference

    def counts(self) -> Counts:
        """How many of each unit are on one sheet."""
        counts: Counts = {}
        for spot in self.spots:
            counts[spot.unit] = counts.get(spot.unit, 0) + 1
        return counts

    def placed(self) -> list[tuple[Spot, Placed]]:
        """All pieces with the spot that each belongs to."""
        return [(spot, one) for spot in self.spots for one in placed_pieces(spot)]

    def placements(self) -> tuple[Placement, ...]:
        """All pieces as values of the layout."""
        return tuple(
            Placement(p.piece, p.x, p.y, p.angle, p.mirrored, spare=spot.unit.spare)
            for spot, one in self.placed()
            for p in [one.placement()]
        )

    def sheet(self, margin: float) -> Sheet:
        """The sheet that it makes; of a roll as long as the pieces and the margin (mm) need."""
        placements = self.placements()
        stock = self.room.stock
        first = placements[0].piece if placements else None
        length = None
        if stock.roll:
            left = float(stock.outline.bounds[0][0])
            ends = [
                float(profile.bounds[1][0])
                for placement in placements
                for profile in placement.outline.profiles
            ]
            length = min(max(ends, default=left) - left + margin, stock.size[0])
        return Sheet(
            stock,
            placements,
            material=first.material if first else "",
            thickness=first.thickness if first else 0.0,
            count=self.count,
            length=length,
        )


def equal_contents_once(patterns: Sequence[Pattern]) -> list[Pattern]:
    """The same sheets with a pattern less for each that holds what another does: that one is cut instead."""
    kept: list[Pattern] = []
    for pattern in patterns:
        counts = pattern.counts()
        equal = next((p for p in kept if p.room is pattern.room and p.counts() == counts), None)
        if equal is None:
            kept.append(pattern)
        else:
            equal.count += pattern.count
    return kept
