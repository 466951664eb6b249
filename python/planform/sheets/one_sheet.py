"""One sheet filled with some of the units that are left: by searching strips as high as it, and by hand."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass, field

from planform.sheets.choices import (
    CLOSE,
    by_size,
    chosen,
    in_turn,
    near_by_size,
    room_taken,
)
from planform.sheets.fill import Filling, on_shelves
from planform.sheets.frames import Frame, frame_of
from planform.sheets.one_strip import Sides, Strip, end_of, may_fit, runs_across, sides
from planform.sheets.patterns import Counts, Pattern
from planform.sheets.search import Clock, StripResult, StripTask
from planform.sheets.shapes import Room, Rules, Unit
from planform.sheets.strips import Searcher

FIRST_DENSITY = 0.8
"""Share of a sheet that pieces are thought to fill before anything is known."""
LEAST_SECONDS = 1
"""Whole seconds are what the library counts in."""
FIRST_STEP, LEAST_STEP = 0.03, 0.008
"""Shares of a sheet by which a round asks for more than what has been reached."""
PIECES_A_SECOND = 8
"""So many pieces more make a round of searching a second longer."""
MOST_ROUNDS = 12
"""Of searching for one sheet."""
MOST_TRIES = 200
"""Orders in which a sheet is filled piece by piece at most."""
MANY, EASY = 16, 0.7
"""So many units of one kind on a sheet are not awkward; nor are those that fill this share of it alone."""
HOPE = 1.02
"""A sheet is hoped to get so many times as full as strips were so far, where that spares a sheet."""
TIGHT = 0.95
"""From this share of that density on, sheets are filled evenly, else to that density. It is the mean: few
pieces may fit together very well by luck, and to be as lucky each time leaves to the last sheets what
fits together badly."""
NEARLY = 0.995
"""Share of the density of a strip that was too long, at which another choice is thought to fit."""
SHARE_OF_PRICES = 0.03
"""Of the time that is left: for finding out what is awkward, before each sheet."""
MOST_GREEDY = 400
"""So many pieces at most are laid by the plain way beside a search, to have something to compare with."""


@dataclass(eq=False)
class SheetSearch:
    """The search for one sheet at a time. ``density`` is what strips had in the mean so far."""

    rules: Rules
    searcher: Searcher
    seed: int
    plain: bool
    clock: Clock
    density: float = field(default_factory=lambda: FIRST_DENSITY)
    random: random.Random = field(init=False)
    frames: dict[Room, Frame | None] = field(default_factory=dict)
    prices: dict[tuple[Unit, Room], float] = field(default_factory=dict)
    densities: list[float] = field(default_factory=list)
    is_sounded: bool = field(default_factory=lambda: False)
    """Has a strip been searched to the end of its time? Before, nobody knows how dense one can be."""

    def __post_init__(self) -> None:
        self.random = random.Random(self.seed)

    def fill(self, room: Room, counts: Counts, seconds: float, whole: float = math.inf) -> Pattern:
        """The best filling of a sheet with some of the units that is found in this time, or the first that
        has its share of the ``whole`` (mm²), which is to be laid on sheets like this one."""
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
            self.learn(room, fitting)
            # How full an odd shape can be nobody knows before: what is laid by hand is to be beaten.
            if not room.is_plain and is_small:
                hand = self.by_hand(room, fitting, 0.0)
            least = max((pattern.room_used for pattern in hand), default=0.0)
            patterns += self.by_strips(room, fitting, seconds, least, whole)
        if not hand and (not patterns or (is_small and not room.stock.roll)):
            hand = self.by_hand(room, fitting, 0.0 if patterns or self.plain else seconds)
        patterns += hand
        return max(patterns, key=lambda pattern: self.worth(pattern, fitting))

    def learn(self, room: Room, counts: Counts) -> None:
        """Find out which units are awkward on a sheet: many of one alone leave much of it free. They count
        for more than their area, or they would be left over to the last and meet there."""
        clock = Clock(SHARE_OF_PRICES * self.clock.left)
        for unit in counts:
            if (unit, room) in self.prices:
                continue
            if room.stock.roll or clock.left <= 0:
                return
            alone = greedy(room, [unit] * MANY)
            use = alone.room_used / room.reference if len(alone.spots) < MANY else 1.0
            self.prices[unit, room] = math.sqrt(max(1.0, EASY / max(use, 0.01)))

    def worth(self, pattern: Pattern, counts: Counts) -> tuple[float, ...]:
        """More of the sheet used, awkward units counting for more, of scarce stock by what is most urgent
        first; of the same, less of its length."""
        room = pattern.room
        right = max((end_of(spot) for spot in pattern.spots), default=0.0)
        urgent = []
        if room.stock.count is not None:
            urgent = [
                round(sum(s.unit.area for s in pattern.spots if s.unit.priority == priority), 6)
                for priority in sorted({unit.priority for unit in counts}, reverse=True)
            ]
        value = sum(s.unit.area * self.prices.get((s.unit, room), 1.0) for s in pattern.spots)
        return *urgent, round(value, 6), -right

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
            if self.worth(pattern, counts) > self.worth(best, counts):
                best = pattern
        return [best]

    def share_of(self, whole: float, room: Room) -> float:
        """How full a sheet has to be if the whole (mm²) is to lie on as few as can be hoped for, as a share
        of the room: all equally full, or, where it does not come to that, as strips are in the mean."""
        if not self.is_sounded or not room.is_plain or math.isinf(whole):
            return 1.0
        best = self.density * room.reference
        even = whole / max(math.ceil(whole / (HOPE * best) - 1e-9), 1)
        return min((even if even >= TIGHT * best else best) / room.reference, 1.0)

    def by_strips(
        self,
        room: Room,
        counts: Counts,
        seconds: float,
        beaten: float = 0.0,
        whole: float = math.inf,
        rounds: int | None = None,
    ) -> list[Pattern]:
        """By searching strips for choices of the pieces, two side by side: the first round shows how dense a
        strip can be, each later one tries a little more than what has fitted so far, and more than what is to
        be beaten (mm²), until the sheet has its share of the whole."""
        if seconds < LEAST_SECONDS:
            return []
        if room.stock.roll:
            return self.on_roll(room, counts, seconds)
        frame = self.frame(room)
        if not room.is_plain and frame is None:
            return []
        patterns: list[Pattern] = []
        tried: list[Counts] = []
        clock = Clock(seconds)
        reached = beaten / room.reference
        wanted = reached + LEAST_STEP if beaten else self.density
        step = LEAST_STEP if beaten else FIRST_STEP
        total = sum(counts.values())
        while (
            clock.left >= LEAST_SECONDS
            and not self.clock.stopped
            and (rounds is None or len(patterns) < rounds)
        ):
            full = self.share_of(whole, room)
            shares = [min(wanted + step * i, full) for i in range(min(self.searcher.workers, 2))]
            choices: list[Counts] = []
            for share in shares:
                choice = chosen(counts, share * room.reference, self.random, tried + choices)
                if choice not in choices:
                    choices.append(choice)
            pieces = max(sum(choice.values()) for choice in choices)
            quantum = max(
                LEAST_SECONDS + pieces / PIECES_A_SECOND, seconds / (rounds or MOST_ROUNDS)
            )
            strips = [
                Strip(room, runs_across(room, len(patterns) + i), frame)
                for i in range(len(choices))
            ]
            is_all = len(choices) == 1 and sum(choices[0].values()) == total
            results = self.search(
                strips,
                choices,
                max(1, int(min(quantum, clock.left))),
                to_the_end=room.is_plain and not self.is_sounded and not is_all,
            )
            fitted, densities = [0.0], [0.0]
            kept: list[Filling] = []
            for choice, strip, (offer, result) in zip(choices, strips, results, strict=True):
                if result is None:
                    continue
                share = room_taken(choice) / room.reference
                fitted.append(share if result.width <= strip.width else 0.0)
                densities.append(min(share * strip.width / result.width, 1.0))
                kept.append(strip.taken(offer, result))
                tried.append(choice)
            if not kept:
                break
            known = self.densities if self.is_sounded or patterns else []
            self.densities = [*known, *densities[1:]]
            self.density = math.fsum(self.densities) / len(self.densities)
            self.is_sounded = self.is_sounded or room.is_plain
            filled = [topped_up(one, counts) for one in kept]
            fullest = max(filled, key=lambda pattern: pattern.room_used)
            reached = max(reached, fullest.room_used / room.reference)
            if full < 1.0 and reached >= full * (1 - CLOSE):
                # Which is worth more does not matter: of what is awkward each has its share.
                return [fullest]
            patterns.append(max(filled, key=lambda pattern: self.worth(pattern, counts)))
            if len(patterns[-1].spots) == total:
                return patterns
            # What is on the best sheet so far can be had; a step more may.
            if max(fitted) > 0:
                step = FIRST_STEP
                wanted = reached + step
            else:
                step = max(0.5 * step, LEAST_STEP)
                wanted = max(reached + step, NEARLY * max(densities))
        return patterns

    def sound(self, room: Room, counts: Counts, seconds: float) -> None:
        """Find out how dense a strip can be, by searching for one sheet in this time."""
        if not self.is_sounded:
            self.by_strips(room, counts, seconds, rounds=1)

    def on_roll(self, room: Room, counts: Counts, seconds: float) -> list[Pattern]:
        """All pieces on one strip; again with other seeds where the search ends before its time."""
        clock = Clock(seconds)
        patterns: list[Pattern] = []
        seed = self.seed
        while clock.left >= LEAST_SECONDS and not self.clock.stopped:
            strip = Strip(room)
            ((offer, result),) = self.search([strip], [counts], int(clock.left), seed)
            seed += 1
            if result is None:
                break
            patterns.append(topped_up(strip.taken(offer, result), counts))
        return patterns

    def search(
        self,
        strips: Sequence[Strip],
        choices: Sequence[Counts],
        seconds: int,
        seed: int | None = None,
        to_the_end: bool = False,
    ) -> list[tuple[Sides, StripResult | None]]:
        """A strip for each choice, side by side: until one lies on its sheet, or ``to_the_end`` of the
        time."""
        threads = max(1, self.searcher.workers // len(choices))
        offers = [
            sides(choice, strip.room, self.random)
            for choice, strip in zip(choices, strips, strict=True)
        ]
        tasks = []
        for number, (offer, strip) in enumerate(zip(offers, strips, strict=True)):
            own_seed = self.random.randrange(2**31) if seed is None else seed
            enough = 0.0 if strip.room.stock.roll or to_the_end else strip.width
            tasks.append(
                StripTask(
                    strip.items(offer), strip.height, seconds, own_seed + number, threads, enough
                )
            )
        return list(zip(offers, self.searcher.run(tasks, strips[0].height), strict=True))

    def frame(self, room: Room) -> Frame | None:
        """That of a room that is no plain rectangle, made once."""
        if room.is_plain:
            return None
        if room not in self.frames:
            self.frames[room] = frame_of(room)
        return self.frames[room]


def greedy(room: Room, order: Sequence[Unit]) -> Pattern:
    """In this order, as many as there is room for."""
    filling = Filling(room)
    failed: set[Unit] = set()
    for unit in order:
        if unit not in failed and not filling.add(unit):
            failed.add(unit)
    return Pattern(room, filling.spots)


def topped_up(filling: Filling, counts: Counts) -> Pattern:
    """What else goes on a sheet in the gaps."""
    rest = dict(counts)
    for spot in filling.spots:
        rest[spot.unit] -= 1
    filling.add_all({unit: n for unit, n in rest.items() if n > 0})
    return Pattern(filling.room, filling.spots)
