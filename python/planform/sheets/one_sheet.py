"""One sheet filled with some of the units that are left: by searching strips as high as it, and by hand."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy

from planform._planform import _separated
from planform.sheets.choices import (
    by_size,
    chosen,
    distinct,
    in_turn,
    near_by_size,
    room_taken,
)
from planform.sheets.fill import Filling, on_shelves
from planform.sheets.frames import Frame, frame_of
from planform.sheets.patterns import Counts, Pattern
from planform.sheets.search import Clock, StripItem, StripPlace, StripResult, StripTask
from planform.sheets.shapes import Ring, Room, Rules, Spot, Unit, extent, turned
from planform.sheets.strips import Searcher

FIRST_DENSITY = 0.8
"""Share of a sheet that pieces are thought to fill before anything is known."""
LEAST_SECONDS = 1
"""Whole seconds are what the library counts in."""
TRACE = 1e-5
"""Overlaps up to this share of a sheet's size are rounding: the library counts in single precision, which
keeps 1e-7 of it."""
FIRST_STEP, LEAST_STEP = 0.03, 0.008
"""Shares of a sheet by which a round asks for more than what has been reached."""
PIECES_A_SECOND = 15
"""So many pieces more make a round of searching a second longer."""
MOST_ROUNDS = 12
"""Of searching for one sheet."""
MOST_TRIES = 200
"""Orders in which a sheet is filled piece by piece at most."""
MOST_GREEDY = 400
"""So many pieces at most are laid by the plain way beside a search, to have something to compare with."""


Sides = list[tuple[Unit, bool, int]]
"""What a strip is searched for: units, turned over or not, and how many of each."""


@dataclass(eq=False)
class SheetSearch:
    """The search for one sheet at a time. ``density`` is what searches have reached so far."""

    rules: Rules
    searcher: Searcher
    seed: int
    plain: bool
    clock: Clock
    density: float = field(default_factory=lambda: FIRST_DENSITY)
    random: random.Random = field(init=False)
    frames: dict[Room, Frame | None] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.random = random.Random(self.seed)

    def fill(self, room: Room, counts: Counts, seconds: float) -> Pattern:
        """The best filling of a sheet with some of the units that is found in this time."""
        fitting = {unit: n for unit, n in counts.items() if n > 0 and may_fit(unit, room)}
        if not fitting:
            return Pattern(room, [])
        patterns: list[Pattern] = []
        hand: list[Pattern] = []
        is_small = sum(fitting.values()) <= MOST_GREEDY
        shelf = on_shelves(fitting, room, self.rules.gap, self.rules.growth)
        if shelf is not None:
            patterns.append(Pattern(room, shelf))
        elif not self.plain:
            # How full an odd shape can be nobody knows before: what is laid by hand is to be beaten.
            if not room.is_plain and is_small:
                hand = self.by_hand(room, fitting, 0.0)
            least = max((pattern.room_used for pattern in hand), default=0.0)
            patterns += self.by_strips(room, fitting, seconds, least)
        if not hand and (not patterns or (is_small and not room.stock.roll)):
            hand = self.by_hand(room, fitting, 0.0 if patterns or self.plain else seconds)
        patterns += hand
        return max(patterns, key=lambda pattern: worth(pattern, fitting))

    def by_hand(self, room: Room, counts: Counts, seconds: float) -> list[Pattern]:
        """Piece by piece: in the order of size, and with all sizes in turn; then in orders near these as long
        as there is time."""
        best = greedy(room, by_size(counts))
        total = sum(counts.values())
        clock = Clock(seconds)
        tries = 0
        while len(best.spots) < total and tries < MOST_TRIES:
            tries += 1
            if tries > 1 and (clock.left <= 0 or self.clock.stopped):
                break
            order = in_turn(counts) if tries == 1 else near_by_size(counts, self.random)
            pattern = greedy(room, order)
            if worth(pattern, counts) > worth(best, counts):
                best = pattern
        return [best]

    def by_strips(
        self, room: Room, counts: Counts, seconds: float, beaten: float = 0.0
    ) -> list[Pattern]:
        """By searching strips for choices of the pieces, two side by side: the first round shows how dense a
        strip can be, each later one tries a little more than what has fitted so far, and more than what is to
        be beaten (mm²)."""
        if seconds < LEAST_SECONDS:
            return []
        if room.stock.roll:
            return self.on_roll(room, counts, seconds)
        frame = self.frame(room)
        if not room.is_plain and frame is None:
            return []
        width = frame.width if frame else room.width
        patterns: list[Pattern] = []
        clock = Clock(seconds)
        wanted = beaten / room.reference + LEAST_STEP if beaten else self.density
        step = LEAST_STEP if beaten else FIRST_STEP
        total = sum(counts.values())
        while clock.left >= LEAST_SECONDS and not self.clock.stopped:
            shares = [wanted + step * i for i in range(min(self.searcher.workers, 2))]
            choices = distinct(
                [chosen(counts, min(share, 1.0) * room.reference, self.random) for share in shares]
            )
            pieces = max(sum(choice.values()) for choice in choices)
            quantum = max(LEAST_SECONDS + pieces / PIECES_A_SECOND, seconds / MOST_ROUNDS)
            results = self.search(room, choices, max(1, int(min(quantum, clock.left))))
            fitted = [0.0]
            kept: list[Filling] = []
            for choice, (offer, result) in zip(choices, results, strict=True):
                if result is None:
                    continue
                share = room_taken(choice) / room.reference
                fitted.append(share if result.width <= width else 0.0)
                density = share * width / result.width
                first = not patterns and not kept
                self.density = density if first else max(self.density, min(density, 1.0))
                kept.append(taken(room, offer, result, frame))
            if not kept:
                break
            patterns.append(topped_up(max(kept, key=lambda one: one.area), counts))
            if len(patterns[-1].spots) == total:
                return patterns
            # What is on the best sheet so far can be had; a step more may.
            reached = max(p.room_used for p in patterns) / room.reference
            step = FIRST_STEP if max(fitted) >= wanted else max(0.5 * step, LEAST_STEP)
            wanted = min(max(reached, beaten / room.reference) + step, 1.0)
        return patterns

    def on_roll(self, room: Room, counts: Counts, seconds: float) -> list[Pattern]:
        """All pieces on one strip; again with other seeds where the search ends before its time."""
        clock = Clock(seconds)
        patterns: list[Pattern] = []
        seed = self.seed
        while clock.left >= LEAST_SECONDS and not self.clock.stopped:
            ((offer, result),) = self.search(room, [counts], int(clock.left), seed)
            seed += 1
            if result is None:
                break
            patterns.append(topped_up(taken(room, offer, result, None), counts))
        return patterns

    def search(
        self, room: Room, choices: Sequence[Counts], seconds: int, seed: int | None = None
    ) -> list[tuple[Sides, StripResult | None]]:
        """A strip for each choice, side by side; of a room with a frame that is its first piece."""
        threads = max(1, self.searcher.workers // len(choices))
        offers = [sides(choice, room, self.random) for choice in choices]
        frame = self.frame(room)
        height, enough = (frame.height, frame.width) if frame else (room.height, room.width)
        tasks = []
        for number, offer in enumerate(offers):
            items = [item_of(unit, mirrored, n, room) for unit, mirrored, n in offer]
            own_seed = self.random.randrange(2**31) if seed is None else seed
            tasks.append(
                StripTask(
                    (*([frame.item] if frame else []), *items),
                    height,
                    seconds,
                    own_seed + number,
                    threads,
                    0.0 if room.stock.roll else enough,
                )
            )
        return list(zip(offers, self.searcher.run(tasks, height), strict=True))

    def frame(self, room: Room) -> Frame | None:
        """That of a room that is no plain rectangle, made once."""
        if room.is_plain:
            return None
        if room not in self.frames:
            self.frames[room] = frame_of(room)
        return self.frames[room]


def sides(choice: Counts, room: Room, source: random.Random) -> Sides:
    """Which of a choice are turned over, where they may be: about half of them, at random."""
    result: Sides = []
    for unit, n in choice.items():
        over = 0
        if unit.may_mirror and lies_in(unit, room, True):
            straight = lies_in(unit, room, False)
            over = sum(source.random() < 0.5 for _ in range(n)) if straight else n
        result += [(unit, side, m) for side, m in ((False, n - over), (True, over)) if m > 0]
    return result


def worth(pattern: Pattern, counts: Counts) -> tuple[float, ...]:
    """More of the sheet used, of scarce stock by what is most urgent first; of the same, less of its
    length."""
    right = max((right_end(spot) for spot in pattern.spots), default=0.0)
    urgent = []
    if pattern.room.stock.count is not None:
        urgent = [
            round(sum(s.unit.area for s in pattern.spots if s.unit.priority == priority), 6)
            for priority in sorted({unit.priority for unit in counts}, reverse=True)
        ]
    return *urgent, round(pattern.area, 6), -right


def greedy(room: Room, order: Sequence[Unit]) -> Pattern:
    """In this order, as many as there is room for."""
    filling = Filling(room)
    failed: set[Unit] = set()
    for unit in order:
        if unit not in failed and not filling.add(unit):
            failed.add(unit)
    return Pattern(room, filling.spots)


def taken(room: Room, offer: Sides, result: StripResult, frame: Frame | None) -> Filling:
    """What of a strip lies on the sheet, pushed apart where single precision has it overlap."""
    filling = Filling(room)
    spots = in_frame(room, offer, result) if frame else spots_of(room, offer, result)
    for spot in sorted(spots, key=right_end):
        if right_end(spot) <= room.box[2] + 1e-9 * room.width:
            filling.accept(spot)
    return filling


def topped_up(filling: Filling, counts: Counts) -> Pattern:
    """What else goes on a sheet in the gaps."""
    rest = dict(counts)
    for spot in filling.spots:
        rest[spot.unit] -= 1
    filling.add_all({unit: n for unit, n in rest.items() if n > 0})
    return Pattern(filling.room, filling.spots)


def spots_of(room: Room, offer: Sides, result: StripResult) -> list[Spot]:
    """A strip's places on the sheet, its left end at the sheet's."""
    spots = [spot_of(place, *offer[place.item][:2], room) for place in result.places]
    rings = [search_ring(spot) for spot in spots]
    left = min(float(ring[:, 0].min()) for ring in rings)
    low = min(float(ring[:, 1].min()) for ring in rings)
    high = max(float(ring[:, 1].max()) for ring in rings)
    over = high - low - room.height
    start = min(low, 0.0) if over <= 0 else low + over / 2
    return pushed_apart(moved(spots, room.box[0] - left, room.box[1] - start), room)


def in_frame(room: Room, offer: Sides, result: StripResult) -> list[Spot]:
    """The same where the first piece is the room's frame: the others lie as they do in it."""
    frame = next(place for place in result.places if place.item == 0)
    spots = [
        spot_of(place, *offer[place.item - 1][:2], room)
        for place in result.places
        if place.item > 0
    ]
    inside = [s for s in moved(spots, -frame.x, -frame.y) if lies_within(search_ring(s), room)]
    return pushed_apart(inside, room)


def lies_within(ring: Ring, room: Room) -> bool:
    """Does a ring lie in the room's box, but for rounding?"""
    left, low, right, high = room.box
    slack = TRACE * max(room.width, room.height)
    least, most = ring.min(axis=0), ring.max(axis=0)
    return bool(
        least[0] >= left - slack
        and least[1] >= low - slack
        and most[0] <= right + slack
        and most[1] <= high + slack
    )


def spot_of(place: StripPlace, unit: Unit, mirrored: bool, room: Room) -> Spot:
    """A place of a strip; angles that are given exactly so, not to single precision."""
    angles = unit.angles(room.stock.grain)
    angle = place.angle
    if angles is not None:
        angle = min(angles, key=lambda a: abs(math.remainder(a - place.angle, 2 * math.pi)))
    return Spot(unit, mirrored, angle, place.x, place.y)


def moved(spots: Sequence[Spot], x: float, y: float) -> list[Spot]:
    """All spots moved alike, mm."""
    return [Spot(s.unit, s.mirrored, s.angle, s.x + x, s.y + y) for s in spots]


def pushed_apart(spots: Sequence[Spot], room: Room) -> list[Spot]:
    """The spots moved by as little as makes their polygons no longer overlap, where that is found."""
    box = [[room.box[0], room.box[1]], [math.inf, room.box[3]]]
    rings = [search_ring(spot) for spot in spots]
    apart = _separated(rings, box, 1e-9 * max(room.width, room.height))
    if apart is None:
        return list(spots)
    return [
        Spot(s.unit, s.mirrored, s.angle, s.x + float(dx), s.y + float(dy))
        for s, (dx, dy) in zip(spots, apart, strict=True)
    ]


def search_ring(spot: Spot) -> Ring:
    """The search polygon of a unit where it lies."""
    ring: Ring = turned(spot.unit.shape.search, spot.angle, spot.mirrored)
    moved: Ring = ring + numpy.array([spot.x, spot.y])
    return moved


def right_end(spot: Spot) -> float:
    """Of the polygon that holds a placed unit, mm."""
    ring = turned(spot.unit.shape.rings[0], spot.angle, spot.mirrored)
    return float(ring[:, 0].max()) + spot.x


def fitting_angles(unit: Unit, room: Room, mirrored: bool = False) -> list[float] | None:
    """The turns with which a unit's box is no larger than the room's; None: any may be."""
    angles = unit.angles(room.stock.grain)
    if angles is None:
        return None
    return [angle for angle in angles if box_fits(unit, angle, room, mirrored)]


def box_fits(unit: Unit, angle: float, room: Room, mirrored: bool = False) -> bool:
    """Is a unit's box no larger than the room's, turned so?"""
    slack = 1e-9 * max(room.width, room.height)
    width, height = extent(turned(unit.shape.search, angle, mirrored))
    return width <= room.width + slack and height <= room.height + slack


def may_fit(unit: Unit, room: Room) -> bool:
    """False if a unit can't lie in the room in any way that it may be turned: its box is too large."""
    return lies_in(unit, room, False) or (unit.may_mirror and lies_in(unit, room, True))


def lies_in(unit: Unit, room: Room, mirrored: bool) -> bool:
    """The same for one of its sides."""
    angles = unit.angles(room.stock.grain)
    if angles is None:
        angles = [*unit.tried_angles(None), *(i * math.pi / 90 for i in range(90))]
    return any(box_fits(unit, angle, room, mirrored) for angle in angles)


def item_of(unit: Unit, mirrored: bool, demand: int, room: Room) -> StripItem:
    """A unit as the search takes it."""
    angles = fitting_angles(unit, room, mirrored)
    degrees = None if angles is None else tuple(math.degrees(angle) % 360.0 for angle in angles)
    ring = turned(unit.shape.search, 0.0, mirrored)
    return StripItem(tuple((float(x), float(y)) for x, y in ring), demand, degrees)
