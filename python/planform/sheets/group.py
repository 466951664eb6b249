"""One material and thickness: its pieces on sheets.

Left-overs come first, then whole sheets. A sheet is filled by searching a strip as high as the sheet for a
choice of the pieces, taking what is on the sheet, and filling what is left free. Where there are several of
every piece, one sheet is made well and cut several times. What time is left goes into the last sheets.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from planform.sheets.choices import room_taken, solid_share
from planform.sheets.fill import numbered, on_shelves, with_inside
from planform.sheets.last_sheets import improve
from planform.sheets.one_sheet import SheetSearch
from planform.sheets.one_strip import may_fit
from planform.sheets.patterns import Counts, Pattern, equal_contents_once
from planform.sheets.proof import broken, repair
from planform.sheets.row_search import RowTask, fill_rows
from planform.sheets.search import Clock
from planform.sheets.shapes import Room, Rules, room_of, shape_of
from planform.sheets.strips import Searcher
from planform.sheets.values import Piece, Stock

FOR_LAST = 0.3
"""Share of the time that is kept for making the last sheets better, where there are several."""
IN_A_ROW = 0.9
"""Share of the time for a search for all sheets at once; some is kept for what it leaves over."""
MOST_SHEETS = 12
"""One search does well for so many."""
PIECES_A_SECOND, PIECES_ON_A_SHEET = 8, 25
"""Such a search needs a second for so many pieces; with more than so many on a sheet, sheet by sheet is
better: there is then more to choose from for each."""
LEAST_HOPE = 0.97
"""Sheets in a row are hoped to get so many times as full as a strip for one was."""
SOUNDING = 0.06
"""Share of the time for finding out how full that was."""
LIKELY = 0.85
"""What has no place in a row is thought to lie with what is on the last sheet, if that gets at most so many
times as full as a strip was."""
FREEDOM = 2.5
"""A sheet that is cut several times is chosen from so many times what goes on it: with less to choose from,
what it leaves over fits together badly."""
LEAST_TIME = 2.0
"""Seconds for a sheet: where there is less, more sheets are made equal, whatever they leave over."""


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

    def run(self) -> None:
        """Lay out the group."""
        shapes = [(shape_of(piece, self.rules), piece.quantity) for piece in self.pieces]
        self.left = dict(numbered(with_inside(shapes)))
        self.sheet = SheetSearch(self.rules, self.searcher, self.seed, self.plain, self.clock)
        self.first = Clock((1 - FOR_LAST) * self.clock.left)
        for stock in self.stock:
            room = room_of(stock, self.rules)
            if room is not None:
                self.rooms[stock] = room
        for stock in sorted(
            (s for s in self.rooms if s.left_over), key=lambda s: self.rooms[s].reference
        ):
            self.use_up(stock)
        whole = [s for s in self.rooms if not s.left_over]
        while self.left:
            patterns = self.in_a_row(whole)
            if not patterns and (pattern := self.next_sheet(whole)):
                patterns = [pattern]
            if not patterns:
                break
            for pattern in patterns:
                self.keep(pattern)
        improve(self.patterns, self.sheet, self.used)
        self.patterns = equal_contents_once(self.patterns)

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
            share = self.rooms[stock].reference * self.sheet.density / room_taken(self.left)
            pattern = self.sheet.fill(
                self.rooms[stock], dict(self.left), self.first.left * min(share, 0.5)
            )
            if not pattern.spots:
                return
            self.keep(pattern)

    def sheets_left(self, room: Room) -> float:
        """Sheets that what is left is thought to take."""
        return room_taken(self.left) / (self.sheet.density * room.reference)

    def slice(self, parts: float) -> float:
        """A share of the time that is left: of all of it if one sheet is thought to do for everything."""
        clock = self.clock if parts <= 1 and not self.patterns else self.first
        return min(clock.left / max(parts, 1.0), self.clock.left)

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
            pattern = self.repeated(stock) or self.sheet.fill(
                room,
                dict(self.left),
                self.slice(math.ceil(self.sheets_left(room))),
                room_taken(self.left),
            )
            if pattern.spots:
                return pattern
        return None

    def in_a_row(self, stocks: Sequence[Stock]) -> list[Pattern]:
        """All that is left on several sheets by one search, but for what is better laid on the last one anew;
        none where that is too much or too little for one search, or the sheets are no equal rectangles."""
        there = sorted((s for s in stocks if self.available(s) > 0), key=self.rank)
        seconds = int(IN_A_ROW * min(self.first.left, self.clock.left))
        if not there or not self.goes_in_a_row(there[0], seconds):
            return []
        room = self.rooms[there[0]]
        self.sheet.sound(room, self.left, SOUNDING * self.clock.left)
        number = math.floor(self.sheets_left(room) / LEAST_HOPE) + 1
        if sum(self.left.values()) > PIECES_ON_A_SHEET * (number - 1):
            return []
        best: list[Pattern] = []
        least = (math.inf, math.inf)
        clock = Clock(seconds)
        # Where all lies on one sheet less in less than half of the time, perhaps it does on another one less.
        most = min(MOST_SHEETS, self.available(room.stock))
        while 2 <= number <= most and clock.left >= seconds / 2:
            task = RowTask(room, dict(self.left), number)
            (row,) = fill_rows(self.sheet, [task], max(1, round(clock.left)))
            if row is None:
                break
            patterns = [pattern for pattern in row.patterns if pattern.spots]
            is_done = not row.left and len(patterns) < number
            last = patterns[-1].room_used + room_taken(row.left)
            more = math.ceil(last / (LIKELY * self.sheet.density * room.reference))
            sheets = len(patterns) - 1 + (more if row.left else 1)
            if (sheets, last) < least:
                least = sheets, last
                # For the last one there may be stock that serves better.
                best = patterns[:-1] if row.left or len(there) > 1 else patterns
            if not is_done or self.clock.stopped:
                break
            number -= 1
        return best

    def goes_in_a_row(self, stock: Stock, seconds: float) -> bool:
        """Can one search of so many seconds lay all that is left on several sheets of this stock?"""
        room = self.rooms[stock]
        pieces = sum(self.left.values())
        has_priorities = len({unit.priority for unit in self.left}) > 1
        return (
            not (self.plain or self.searcher.failures)
            and room.is_plain
            and not stock.roll
            and not (has_priorities and stock.count is not None)
            and 1 < self.sheets_left(room) <= MOST_SHEETS
            and pieces <= seconds * PIECES_A_SECOND
            and all(may_fit(unit, room) for unit in self.left)
            # Rectangles alone lie on shelves, which fill sheets exactly.
            and on_shelves(self.left, room, self.rules.gap, self.rules.growth) is None
        )

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
            if room_taken(self.left) <= self.rooms[stock].reference
        ]
        for number, stock in enumerate(enough):
            pattern = self.sheet.fill(
                self.rooms[stock], dict(self.left), self.slice(len(enough) - number)
            )
            if sum(pattern.counts().values()) == sum(self.left.values()):
                return pattern
        return None

    def repeated(self, stock: Stock) -> Pattern | None:
        """One sheet that is cut several times, where there are enough of every piece on it; else None."""
        room = self.rooms[stock]
        if stock.count is not None and len({unit.priority for unit in self.left}) > 1:
            return None
        sheets = math.floor(self.sheets_left(room))
        wanted = self.sheet.density * room.reference
        bases = {
            times: {unit: n // times for unit, n in self.left.items() if n >= times}
            for times in range(sheets, 1, -1)
        }
        has_time = self.plain or self.first.left >= LEAST_TIME * sheets
        if has_time and not self.plain and len(self.left) * sheets > sum(self.left.values()):
            # No room for one of each kind: what many such sheets leave is of few kinds.
            return None
        for freedom in (FREEDOM,) if has_time else (FREEDOM, 1.0):
            times = next((t for t in bases if room_taken(bases[t]) >= freedom * wanted), None)
            if times is None:
                continue
            base = bases[times]
            pattern = self.sheet.fill(
                room, base, self.slice(max(2.0, sheets / times)), room_taken(self.left)
            )
            if not pattern.spots or pattern.area < 0.9 * wanted * solid_share(base):
                return None
            most = min(self.left[unit] // n for unit, n in pattern.counts().items())
            if self.sheets_left(room) - most * pattern.room_used / wanted > 1.0:
                most = min(most, times)
            pattern.count = int(min(most, self.available(stock)))
            return pattern
        return None
