"""The sheets of a group made better with the time that is left: the worst is emptied into the others."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from planform.sheets.fill import Filling
from planform.sheets.one_sheet import LEAST_SECONDS, SheetSearch
from planform.sheets.one_strip import may_fit
from planform.sheets.patterns import Counts, Pattern
from planform.sheets.proof import repair
from planform.sheets.values import Stock

MOST_TRIES = 4
"""So often the same two sheets are tried: each time with another choice of their pieces."""
LEAST_TRY, PIECES_A_SECOND = 3.0, 4
"""Seconds of a try at least, and one for so many pieces: what is to be fuller than what was found before
takes longer to find."""


def improve(patterns: list[Pattern], sheet: SheetSearch, used: dict[Stock, int]) -> None:
    """Search the emptiest of the other sheets anew for its own pieces and those of the worst, as long as
    there is time: it gets fuller, and the worst emptier, until it is not needed. ``patterns`` and ``used``
    are changed in place."""
    tries: Counter[tuple[Pattern, Pattern]] = Counter()
    clock = sheet.clock
    while clock.left >= 2 * LEAST_SECONDS and not sheet.plain and not sheet.searcher.failures:
        split_worst(patterns)
        worst = worst_of(patterns)
        others = [one for one in patterns if one is not worst and not one.room.stock.roll]
        if worst is None or not others:
            return
        other = min(others, key=lambda one: (tries[worst, one], one.use))
        if tries[worst, other] >= MOST_TRIES:
            return
        tries[worst, other] += 1
        pieces = len(worst.spots) + len(other.spots)
        seconds = min(clock.left, max(LEAST_TRY, pieces / PIECES_A_SECOND))
        fuller = merged(worst, other, sheet, seconds)
        if fuller is not None:
            replace(patterns, worst, other, fuller, used)


def worst_of(patterns: Sequence[Pattern]) -> Pattern | None:
    """The emptiest of the whole sheets: left-overs are there to be used up."""
    whole = [one for one in patterns if not one.room.stock.left_over and not one.room.stock.roll]
    return min(whole, key=lambda one: one.use, default=None)


def split_worst(patterns: list[Pattern]) -> None:
    """Of equal sheets one by itself, if they are the worst: it may be changed alone. It stays where the worst
    one is found, the others go to the end."""
    worst = worst_of(patterns)
    if worst is not None and worst.count > 1:
        patterns.append(Pattern(worst.room, list(worst.spots), worst.count - 1))
        worst.count = 1


def merged(
    worst: Pattern, other: Pattern, sheet: SheetSearch, seconds: float
) -> tuple[Pattern, Pattern] | None:
    """One of the other sheet with more on it, and what is then left of the worst; None if none is found."""
    together = added(other.counts(), worst.counts())
    if not all(may_fit(unit, other.room) for unit in together):
        return None
    patterns = sheet.by_strips(other.room, together, seconds, other.room_used, rounds=1)
    if not patterns:
        return None
    best = max(patterns, key=lambda pattern: pattern.area)
    repair(best, sheet.rules)
    if best.area <= other.area * (1 + 1e-9):
        return None
    rest = {unit: n - best.counts().get(unit, 0) for unit, n in together.items()}
    emptier = what_is_left(worst, {unit: n for unit, n in rest.items() if n > 0}, sheet)
    return None if emptier is None else (best, emptier)


def added(first: Counts, second: Counts) -> Counts:
    """The units of both."""
    together = dict(first)
    for unit, n in second.items():
        together[unit] = together.get(unit, 0) + n
    return together


def what_is_left(worst: Pattern, rest: Counts, sheet: SheetSearch) -> Pattern | None:
    """The worst sheet with these units: those that lie on it stay where they are, the others go into gaps,
    else all are laid anew; None if there is no room for all."""
    filling = Filling(worst.room)
    missing = dict(rest)
    for spot in worst.spots:
        if missing.get(spot.unit, 0) > 0:
            filling.take(spot)
            missing[spot.unit] -= 1
    put = filling.add_all({unit: n for unit, n in missing.items() if n > 0})
    left = Pattern(worst.room, filling.spots)
    if any(n > put.get(unit, 0) for unit, n in missing.items()):
        if not all(may_fit(unit, worst.room) for unit in rest):
            return None
        left = sheet.fill(worst.room, rest, min(LEAST_TRY, sheet.clock.left))
    repair(left, sheet.rules)
    return left if len(left.spots) == sum(rest.values()) else None


def replace(
    patterns: list[Pattern],
    worst: Pattern,
    other: Pattern,
    fuller: tuple[Pattern, Pattern],
    used: dict[Stock, int],
) -> None:
    """Put the two in the place of the worst sheet and one of the other."""
    best, emptier = fuller
    patterns.remove(worst)
    if other.count > 1:
        other.count -= 1
    else:
        patterns.remove(other)
    patterns.append(best)
    if emptier.spots:
        patterns.append(emptier)
    else:
        used[worst.room.stock] -= 1
