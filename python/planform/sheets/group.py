"""One material and thickness: its pieces on sheets.

Left-overs come first, then whole sheets. A sheet is filled by searching a strip as high as the sheet for a
choice of the pieces, taking what is on the sheet, and filling what is left free. Where there are several of
every piece, one sheet is made well and cut several times. What time is left goes into the last sheets.
"""

from __future__ import annotations

import math
import random
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy

from planform._planform import _separated
from planform.sheets.fill import Filling, numbered, on_shelves, with_inside
from planform.sheets.patterns import Counts, Pattern
from planform.sheets.proof import broken, repair
from planform.sheets.search import Clock, StripItem, StripResult, StripTask
from planform.sheets.shapes import Ring, Room, Rules, Spot, Unit, extent, room_of, shape_of, turned
from planform.sheets.strips import Searcher
from planform.sheets.values import Piece, Stock

FIRST_DENSITY = 0.8
"""Share of a sheet that pieces are thought to fill before anything is known."""
LEAST_SECONDS = 1
"""Whole seconds are what the library counts in."""
TRACE = 1e-4
"""Overlaps up to this share of a sheet's size are pushed apart: the library counts in single precision, which
keeps 1e-7 of it."""
FIRST_STEP, LEAST_STEP = 0.03, 0.008
"""Shares of a sheet by which a round asks for more than what has been reached."""
PIECES_A_SECOND = 15
"""So many pieces more make a round of searching a second longer."""
MOST_ROUNDS = 12
"""Of searching for one sheet."""
MOST_TRIES = 200
"""Orders in which a sheet is filled piece by piece at most."""
FREEDOM = 1.25
"""A sheet that is cut several times is chosen from so many times what goes on it, where there is as much."""
MOST_GREEDY = 400
"""So many pieces at most are laid by the plain way beside a search, to have something to compare with."""


@dataclass(eq=False)
class Group:
    """The search for one group.

    After `run`, ``patterns`` are its sheets, ``left`` is what found no place.
    """

    pieces: Sequence[Piece]
    stock: Sequence[Stock]
    rules: Rules
    searcher: Searcher
    seed: int
    plain: bool
    clock: Clock
    patterns: list[Pattern] = field(default_factory=list)
    left: Counts = field(default_factory=dict)
    rooms: dict[Stock, Room] = field(default_factory=dict)
    used: dict[Stock, int] = field(default_factory=dict)
    density: float = field(default_factory=lambda: FIRST_DENSITY)

    def run(self) -> None:
        """Lay out the group."""
        shapes = [(shape_of(piece, self.rules), piece.quantity) for piece in self.pieces]
        self.left = dict(numbered(with_inside(shapes)))
        self.random = random.Random(self.seed)
        for stock in self.stock:
            room = room_of(stock, self.rules)
            if room is not None:
                self.rooms[stock] = room
        for stock in sorted(
            (s for s in self.rooms if s.left_over), key=lambda s: self.rooms[s].reference
        ):
            self.use_up(stock)
        whole = [s for s in self.rooms if not s.left_over]
        while self.left and (pattern := self.next_sheet(whole)):
            self.keep(pattern)
        self.improve()

    def keep(self, pattern: Pattern) -> None:
        """Take a pattern as often as it is cut, if the proof holds, and what is on it off what is left."""
        repair(pattern, self.rules)
        if not pattern.spots:
            raise broken("no placement on a sheet holds; please report it")
        self.patterns.append(pattern)
        stock = pattern.room.stock
        self.used[stock] = self.used.get(stock, 0) + pattern.count
        for unit, n in pattern.counts().items():
            self.left[unit] -= n * pattern.count
            if self.left[unit] <= 0:
                del self.left[unit]

    def available(self, stock: Stock) -> float:
        """How many sheets of it there still are."""
        return math.inf if stock.count is None else stock.count - self.used.get(stock, 0)

    def use_up(self, stock: Stock) -> None:
        """Fill left-overs of one kind as long as something goes on them."""
        while self.left and self.available(stock) > 0:
            share = self.rooms[stock].reference * self.density / self.area_left(self.left)
            pattern = self.fill(stock, dict(self.left), self.clock.left * min(share, 0.5))
            if not pattern.spots:
                return
            self.keep(pattern)

    def sheets_left(self, room: Room) -> float:
        """Sheets that what is left is thought to take."""
        return self.area_left(self.left) / (self.density * room.reference)

    @staticmethod
    def area_left(counts: Mapping[Unit, int]) -> float:
        """Of units, holes that are filled or not taken off, mm²."""
        return sum(unit.room * n for unit, n in counts.items())

    def slice(self, parts: float) -> float:
        """A share of the time that is left."""
        return self.clock.left / max(parts, 1.0)

    def next_sheet(self, stocks: Sequence[Stock]) -> Pattern | None:
        """The next sheet (or several equal ones) of the stock that serves best; None if nothing more goes on
        any."""
        there = [stock for stock in stocks if self.available(stock) > 0]
        for stock in sorted(there, key=self.rank):
            room = self.rooms[stock]
            if not stock.roll and self.sheets_left(room) <= 1.0:
                small = self.smallest_for_all(there)
                if small is not None:
                    return small
            pattern = self.repeated(stock) or self.fill(
                stock, dict(self.left), self.slice(math.ceil(self.sheets_left(room)))
            )
            if pattern.spots:
                return pattern
        return None

    def rank(self, stock: Stock) -> tuple[float, float]:
        """Cheap material first, then large sheets."""
        area = self.rooms[stock].reference
        price = math.inf if stock.price is None else stock.price / stock.area
        return price, -area

    def smallest_for_all(self, there: Sequence[Stock]) -> Pattern | None:
        """The cheapest (else smallest) single sheet that takes all that is left, if one does."""
        if len(there) < 2:
            return None

        def cost(stock: Stock) -> tuple[float, float]:
            price = stock.price if all(s.price is not None for s in there) else 0.0
            return price or 0.0, self.rooms[stock].reference

        enough = [
            stock
            for stock in sorted(there, key=cost)
            if self.area_left(self.left) <= self.rooms[stock].reference
        ]
        for number, stock in enumerate(enough):
            pattern = self.fill(stock, dict(self.left), self.slice(len(enough) - number))
            if sum(pattern.counts().values()) == sum(self.left.values()):
                return pattern
        return None

    def repeated(self, stock: Stock) -> Pattern | None:
        """One sheet that is cut several times, where there are enough of every piece on it; else None."""
        room = self.rooms[stock]
        if stock.count is not None and len({unit.priority for unit in self.left}) > 1:
            return None
        sheets = math.floor(self.sheets_left(room))
        wanted = self.density * room.reference
        bases = {
            times: {unit: n // times for unit, n in self.left.items() if n >= times}
            for times in range(sheets, 1, -1)
        }
        for freedom in (FREEDOM, 1.0):
            times = next((t for t in bases if self.area_left(bases[t]) >= freedom * wanted), None)
            if times is None:
                continue
            base = bases[times]
            pattern = self.fill(stock, base, self.slice(max(2.0, sheets / times)))
            if not pattern.spots or pattern.area < 0.9 * wanted * self.solid_share(base):
                return None
            most = min(self.left[unit] // n for unit, n in pattern.counts().items())
            pattern.count = int(min(most, self.available(stock)))
            return pattern
        return None

    @staticmethod
    def solid_share(counts: Mapping[Unit, int]) -> float:
        """Area of pieces over that of their search polygons."""
        room = sum(unit.room * n for unit, n in counts.items())
        return sum(unit.area * n for unit, n in counts.items()) / room if room else 1.0

    # --- one sheet ----------------------------------------------------------------------------------

    def fill(self, stock: Stock, counts: Counts, seconds: float) -> Pattern:
        """The best filling of one sheet of the stock with some of the units that is found in this time."""
        room = self.rooms[stock]
        fitting = {unit: n for unit, n in counts.items() if n > 0 and may_fit(unit, room)}
        if not fitting:
            return Pattern(room, [])
        patterns: list[Pattern] = []
        if stock.is_rectangle:
            shelf = on_shelves(fitting, room, self.rules.gap, self.rules.growth)
            if shelf is not None:
                patterns.append(Pattern(room, shelf))
            elif not self.plain:
                patterns += self.by_strips(room, fitting, seconds)
        if not patterns or (sum(fitting.values()) <= MOST_GREEDY and not stock.roll):
            patterns += self.by_hand(room, fitting, 0.0 if patterns or self.plain else seconds)
        return max(patterns, key=self.worth)

    def worth(self, pattern: Pattern) -> tuple[float, ...]:
        """More of the sheet used, of scarce stock by what is most urgent first; of the same, less of its
        length."""
        right = max((right_end(spot) for spot in pattern.spots), default=0.0)
        urgent = []
        if pattern.room.stock.count is not None:
            urgent = [
                round(sum(s.unit.area for s in pattern.spots if s.unit.priority == priority), 6)
                for priority in sorted({unit.priority for unit in self.left}, reverse=True)
            ]
        return *urgent, round(pattern.area, 6), -right

    def by_hand(self, room: Room, counts: Counts, seconds: float) -> list[Pattern]:
        """Piece by piece: in the order of size, and with all sizes in turn; then in orders near these as long
        as there is time."""
        best = self.greedy(room, by_size(counts))
        total = sum(counts.values())
        clock = Clock(seconds)
        tries = 0
        while len(best.spots) < total and tries < MOST_TRIES:
            tries += 1
            if tries > 1 and (clock.left <= 0 or self.clock.stopped):
                break
            order = in_turn(counts) if tries == 1 else near_by_size(counts, self.random)
            pattern = self.greedy(room, order)
            if self.worth(pattern) > self.worth(best):
                best = pattern
        return [best]

    @staticmethod
    def greedy(room: Room, order: Sequence[Unit]) -> Pattern:
        """In this order, as many as there is room for."""
        filling = Filling(room)
        failed: set[Unit] = set()
        for unit in order:
            if unit not in failed and not filling.add(unit):
                failed.add(unit)
        return Pattern(room, filling.spots)

    def by_strips(self, room: Room, counts: Counts, seconds: float) -> list[Pattern]:
        """By searching strips for choices of the pieces, two side by side: the first round shows how dense a
        strip can be, each later one tries a little more than what has fitted so far."""
        if seconds < LEAST_SECONDS:
            return []
        if room.stock.roll:
            return self.on_roll(room, counts, seconds)
        patterns: list[Pattern] = []
        clock = Clock(seconds)
        wanted, step = self.density, FIRST_STEP
        total = sum(counts.values())
        while clock.left >= LEAST_SECONDS and not self.clock.stopped:
            shares = [wanted + step * i for i in range(min(self.searcher.workers, 2))]
            choices = distinct(
                [self.choice(counts, min(share, 1.0) * room.reference) for share in shares]
            )
            pieces = max(sum(choice.values()) for choice in choices)
            quantum = max(LEAST_SECONDS + pieces / PIECES_A_SECOND, seconds / MOST_ROUNDS)
            results = self.search(room, choices, max(1, int(min(quantum, clock.left))))
            fitted = [0.0]
            kept: list[Filling] = []
            for choice, result in zip(choices, results, strict=True):
                if result is None:
                    continue
                share = self.area_left(choice) / room.reference
                fitted.append(share if result.width <= room.width else 0.0)
                density = share * room.width / result.width
                first = not patterns and not kept
                self.density = density if first else max(self.density, min(density, 1.0))
                kept.append(self.taken(room, choice, result))
            if not kept:
                break
            patterns.append(self.topped_up(max(kept, key=lambda one: one.area), counts))
            if len(patterns[-1].spots) == total:
                return patterns
            # What is on the best sheet so far can be had; a step more may.
            reached = max(p.room_used for p in patterns) / room.reference
            step = FIRST_STEP if max(fitted) >= wanted else max(0.5 * step, LEAST_STEP)
            wanted = min(reached + step, 1.0)
        return patterns

    def on_roll(self, room: Room, counts: Counts, seconds: float) -> list[Pattern]:
        """All pieces on one strip; again with other seeds where the search ends before its time."""
        clock = Clock(seconds)
        patterns: list[Pattern] = []
        seed = self.seed
        while clock.left >= LEAST_SECONDS and not self.clock.stopped:
            (result,) = self.search(room, [counts], int(clock.left), seed)
            seed += 1
            if result is None:
                break
            patterns.append(self.topped_up(self.taken(room, counts, result), counts))
        return patterns

    def search(
        self, room: Room, choices: Sequence[Counts], seconds: int, seed: int | None = None
    ) -> list[StripResult | None]:
        """A strip for each choice, side by side."""
        threads = max(1, self.searcher.workers // len(choices))
        tasks = []
        for number, choice in enumerate(choices):
            enough = 0.0 if room.stock.roll else room.width
            items = tuple(item_of(unit, n, room) for unit, n in choice.items())
            own_seed = self.random.randrange(2**31) if seed is None else seed
            tasks.append(StripTask(items, room.height, seconds, own_seed + number, threads, enough))
        return self.searcher.run(tasks, room.height)

    def taken(self, room: Room, choice: Counts, result: StripResult) -> Filling:
        """What of a strip lies on the sheet, pushed apart where single precision has it overlap."""
        filling = Filling(room)
        for spot in sorted(self.spots_of(room, choice, result), key=right_end):
            if right_end(spot) <= room.box[2] + 1e-9 * room.width:
                filling.accept(spot)
        return filling

    @staticmethod
    def topped_up(filling: Filling, counts: Counts) -> Pattern:
        """What else goes on a sheet in the gaps."""
        rest = dict(counts)
        for spot in filling.spots:
            rest[spot.unit] -= 1
        filling.add_all({unit: n for unit, n in rest.items() if n > 0})
        return Pattern(filling.room, filling.spots)

    def spots_of(self, room: Room, choice: Counts, result: StripResult) -> list[Spot]:
        """A strip's places on the sheet, its left end at the sheet's."""
        units = list(choice)
        spots = []
        for place in result.places:
            unit = units[place.item]
            angles = unit.angles(room.stock.grain)
            angle = place.angle
            if angles is not None:  # exactly, not to single precision
                angle = min(angles, key=lambda a: abs(math.remainder(a - place.angle, 2 * math.pi)))
            spots.append(Spot(unit, False, angle, place.x, place.y))
        rings = [search_ring(spot) for spot in spots]
        left = min(float(ring[:, 0].min()) for ring in rings)
        low = min(float(ring[:, 1].min()) for ring in rings)
        high = max(float(ring[:, 1].max()) for ring in rings)
        over = high - low - room.height
        start = min(low, 0.0) if over <= 0 else low + over / 2
        shift_x, shift_y = room.box[0] - left, room.box[1] - start
        box = [[room.box[0], room.box[1]], [math.inf, room.box[3]]]
        moved = [ring + numpy.array([shift_x, shift_y]) for ring in rings]
        apart = _separated(moved, box, 1e-9 * max(room.width, room.height))
        shifts = [(0.0, 0.0)] * len(spots) if apart is None else [tuple(row) for row in apart]
        return [
            Spot(s.unit, False, s.angle, s.x + shift_x + float(dx), s.y + shift_y + float(dy))
            for s, (dx, dy) in zip(spots, shifts, strict=True)
        ]

    def choice(self, counts: Counts, area: float) -> Counts:
        """Units of about this area (mm²): of each size in proportion, those of higher priority first."""
        chosen: Counts = {}
        rest = area
        for priority in sorted({unit.priority for unit in counts}, reverse=True):
            those = [u for u in sorted_units(counts) if u.priority == priority]
            total = sum(u.room * counts[u] for u in those)
            share = min(1.0, rest / total) if total > 0 else 1.0
            carried = self.random.random() if share < 1.0 else 0.0
            for unit in those:
                carried += share * counts[unit]
                number = min(math.floor(carried + 1e-9), counts[unit])
                carried -= number
                if number:
                    chosen[unit] = number
            rest -= self.area_left({u: chosen.get(u, 0) for u in those})
        return self.topped(counts, chosen, area)

    def topped(self, counts: Counts, chosen: Counts, area: float) -> Counts:
        """Off what is too much, on what is still missing: in pieces, large ones first."""
        missing = area - self.area_left(chosen)
        for unit in sorted_units(counts):
            while missing < 0 and chosen.get(unit, 0) > 0 and unit.room <= -missing * 1.5:
                chosen[unit] -= 1
                missing += unit.room
            while missing >= unit.room and chosen.get(unit, 0) < counts[unit]:
                chosen[unit] = chosen.get(unit, 0) + 1
                missing -= unit.room
        return {unit: n for unit, n in chosen.items() if n > 0}

    # --- the last sheets ----------------------------------------------------------------------------

    def improve(self) -> None:
        """With the time that is left: empty the worst sheet into others, else fill the others from it."""
        while (
            self.clock.left >= 2 * LEAST_SECONDS and not self.plain and not self.searcher.failures
        ):
            self.split_equal()
            plain = [p for p in self.patterns if p.room.is_plain and not p.room.stock.roll]
            if len(plain) < 2:
                return
            worst = min(plain, key=lambda p: p.use)
            others = sorted((p for p in plain if p is not worst), key=lambda p: p.use)
            if not any(self.merged(worst, other) for other in others[:4]):
                return

    def split_equal(self) -> None:
        """Of equal sheets one by itself, if they are the worst: it may be changed alone."""
        if not self.patterns:
            return
        worst = min(self.patterns, key=lambda p: p.use)
        if worst.count > 1:
            worst.count -= 1
            self.patterns.append(Pattern(worst.room, list(worst.spots)))

    def merged(self, worst: Pattern, other: Pattern) -> bool:
        """Try to put more of the worst sheet on another; True if the other got more."""
        if self.clock.left < LEAST_SECONDS or other.count > 1:
            return False
        together = other.counts()
        for unit, n in worst.counts().items():
            together[unit] = together.get(unit, 0) + n
        seconds = max(LEAST_SECONDS, self.clock.left / 4)
        if seconds < LEAST_SECONDS or not all(may_fit(unit, other.room) for unit in together):
            return False
        patterns = self.by_strips(other.room, together, seconds)
        if not patterns:
            return False
        best = max(patterns, key=self.worth)
        repair(best, self.rules)
        if best.area <= other.area * (1 + 1e-9):
            return False
        rest = {unit: n - best.counts().get(unit, 0) for unit, n in together.items()}
        filling = Filling(worst.room)
        for spot in worst.spots:
            if rest.get(spot.unit, 0) > 0:
                filling.take(spot)
                rest[spot.unit] -= 1
        put = filling.add_all({unit: n for unit, n in rest.items() if n > 0})
        if any(n - put.get(unit, 0) > 0 for unit, n in rest.items()):
            return False  # what came off the other finds no place on the worst: as it was
        self.patterns.remove(other)
        self.patterns.remove(worst)
        self.patterns.append(best)
        self.used[worst.room.stock] -= not filling.spots
        if filling.spots:
            rest_of_worst = Pattern(worst.room, filling.spots)
            repair(rest_of_worst, self.rules)
            self.patterns.append(rest_of_worst)
        return True


def by_size(counts: Mapping[Unit, int]) -> list[Unit]:
    """Every piece: those of high priority first, then large ones."""
    return [unit for unit in sorted_units(counts) for _ in range(counts[unit])]


def in_turn(counts: Mapping[Unit, int]) -> list[Unit]:
    """Every piece: those of high priority first, all sizes in proportion from the first to the last."""
    keyed = [
        (-unit.priority, (i + 0.5) / counts[unit], -unit.room, unit.number, unit)
        for unit in counts
        for i in range(counts[unit])
    ]
    return [unit for *_, unit in sorted(keyed, key=lambda key: key[:-1])]


def near_by_size(counts: Mapping[Unit, int], source: random.Random) -> list[Unit]:
    """Every piece, roughly by size, at random."""
    keyed = [
        (-unit.priority, -unit.room * source.uniform(0.4, 1.0), i, unit)
        for i, unit in enumerate(by_size(counts))
    ]
    return [unit for *_, unit in sorted(keyed, key=lambda key: key[:-1])]


def distinct(choices: Sequence[Counts]) -> list[Counts]:
    """Without those that come twice."""
    result: list[Counts] = []
    for choice in choices:
        if choice and choice not in result:
            result.append(choice)
    return result


def sorted_units(counts: Mapping[Unit, int]) -> list[Unit]:
    """High priority first, then large ones."""
    return sorted(counts, key=lambda unit: (-unit.priority, -unit.room, unit.number))


def search_ring(spot: Spot) -> Ring:
    """The search polygon of a unit where it lies."""
    ring: Ring = turned(spot.unit.shape.search, spot.angle, spot.mirrored)
    moved: Ring = ring + numpy.array([spot.x, spot.y])
    return moved


def right_end(spot: Spot) -> float:
    """Of the polygon that holds a placed unit, mm."""
    ring = turned(spot.unit.shape.rings[0], spot.angle, spot.mirrored)
    return float(ring[:, 0].max()) + spot.x


def fitting_angles(unit: Unit, room: Room) -> list[float] | None:
    """The turns with which a unit's box is no larger than the room's; None: any may be."""
    angles = unit.angles(room.stock.grain)
    if angles is None:
        return None
    slack = 1e-9 * max(room.width, room.height)
    return [angle for angle in angles if box_fits(unit, angle, room, slack)]


def box_fits(unit: Unit, angle: float, room: Room, slack: float) -> bool:
    width, height = extent(turned(unit.shape.search, angle))
    return width <= room.width + slack and height <= room.height + slack


def may_fit(unit: Unit, room: Room) -> bool:
    """False if a unit can't lie in the room in any way that it may be turned: its box is too large."""
    angles = fitting_angles(unit, room)
    if angles is not None:
        return bool(angles)
    slack = 1e-9 * max(room.width, room.height)
    return any(box_fits(unit, angle, room, slack) for angle in unit.tried_angles(None)) or any(
        box_fits(unit, i * math.pi / 90, room, slack) for i in range(90)
    )


def item_of(unit: Unit, demand: int, room: Room) -> StripItem:
    """A unit as the search takes it."""
    angles = fitting_angles(unit, room)
    degrees = None if angles is None else tuple(math.degrees(angle) % 360.0 for angle in angles)
    polygon = tuple((float(x), float(y)) for x, y in unit.shape.search)
    return StripItem(polygon, demand, degrees)
