"""Which units are tried on a sheet together, and in which order."""

from __future__ import annotations

import math
import random
from collections.abc import Iterable, Mapping, Sequence

from planform.sheets.patterns import Counts
from planform.sheets.shapes import Unit

TRIES, CLOSE = 30, 1e-3
"""So many choices are thrown for one that comes so near to the area that is wanted, as a share of it."""
MANY = 300
"""Kinds: of so many one choice comes near enough, as their sizes are many."""


def room_taken(counts: Mapping[Unit, int]) -> float:
    """Of units, holes that are filled or not taken off, mm²."""
    return sum(unit.room * n for unit, n in counts.items())


def solid_share(counts: Mapping[Unit, int]) -> float:
    """Area of pieces over that of their search polygons."""
    room = room_taken(counts)
    return sum(unit.area * n for unit, n in counts.items()) / room if room else 1.0


def sorted_units(counts: Iterable[Unit]) -> list[Unit]:
    """High priority first, then large ones."""
    return sorted(counts, key=lambda unit: (-unit.priority, -unit.room, unit.number))


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


def chosen(
    counts: Counts, area: float, source: random.Random, tried: Sequence[Counts] = ()
) -> Counts:
    """Units of about this area (mm²), at random: of each kind in proportion, those of higher priority first.
    Of some such choices that which comes nearest, and none that was tried if there is another."""
    best: Counts = {}
    least = (True, math.inf)
    for number in range(2 * TRIES):
        if number >= TRIES and not least[0]:
            break
        # Where all in proportion have been tried, some that are not.
        spread = max(0.0, number / TRIES - 1.0)
        choice = topped(counts, in_proportion(counts, area, source, spread), area)
        off = choice in tried, abs(room_taken(choice) - area)
        if off < least:
            best, least = choice, off
        if least <= (False, CLOSE * area) or len(counts) > MANY:
            break
    if (
        not best and counts
    ):  # there is less room than a piece takes: the smallest is the least to try
        best = {min(counts, key=lambda unit: unit.room): 1}
    return best


def in_proportion(
    counts: Counts, area: float, source: random.Random, spread: float = 0.0
) -> Counts:
    """Of each kind its share, more or less by the ``spread`` times it at most, rounded up or down at random
    so that the sum comes out."""
    choice: Counts = {}
    rest = area
    for priority in sorted({unit.priority for unit in counts}, reverse=True):
        those = [u for u in sorted_units(counts) if u.priority == priority]
        total = sum(u.room * counts[u] for u in those)
        share = min(1.0, rest / total) if total > 0 else 1.0
        carried = source.random() if share < 1.0 else 0.0
        if len(those) <= MANY:
            source.shuffle(those)
        for unit in those:
            carried += share * counts[unit] * source.uniform(1 - spread, 1 + spread)
            number = min(math.floor(carried + 1e-9), counts[unit])
            carried = min(carried - number, 1.0)
            if number:
                choice[unit] = number
        rest -= room_taken({u: choice.get(u, 0) for u in those})
    return choice


def topped(counts: Counts, choice: Counts, area: float) -> Counts:
    """Off what is too much, on what is still missing: in pieces, large ones first; the smallest that is left
    even where it is too much by less than is missing without it."""
    result = dict(choice)
    missing = area - room_taken(result)
    for unit in sorted_units(counts):
        while missing < 0 and result.get(unit, 0) > 0 and unit.room <= -missing * 1.5:
            result[unit] -= 1
            missing += unit.room
        while missing >= unit.room and result.get(unit, 0) < counts[unit]:
            result[unit] = result.get(unit, 0) + 1
            missing -= unit.room
    more = [unit for unit in sorted_units(counts) if result.get(unit, 0) < counts[unit]]
    first = [unit for unit in more if unit.priority == more[0].priority]
    if first and first[-1].room < 2 * missing:
        result[first[-1]] = result.get(first[-1], 0) + 1
    return {unit: n for unit, n in result.items() if n > 0}
