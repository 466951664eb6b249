"""Several sheets filled by one search."""

from __future__ import annotations

from dataclasses import dataclass

from planform.sheets.fill import Filling
from planform.sheets.one_sheet import SheetSearch
from planform.sheets.one_strip import runs_across, sides
from planform.sheets.patterns import Counts, Pattern
from planform.sheets.rows import Row, missing
from planform.sheets.search import StripTask
from planform.sheets.shapes import Room

NEARLY_CLOSED = 1.003
"""A strip so many times as long as the comb has nothing on its last sheet: it gets shorter by 0.1% at a time,
and can't be shorter than the comb."""


@dataclass(frozen=True, eq=False)
class RowOfSheets:
    """What a search has put on each sheet of a row, the emptiest last, and what lies on none."""

    patterns: tuple[Pattern, ...]
    left: Counts


@dataclass(frozen=True, eq=False)
class RowTask:
    """All these units on so many sheets, the last of which is to be as empty as can be."""

    room: Room
    counts: Counts
    number: int


def fill_rows(sheet: SheetSearch, tasks: list[RowTask], seconds: int) -> list[RowOfSheets | None]:
    """Search for all tasks side by side; None for each that found nothing."""
    threads = max(1, sheet.searcher.workers // len(tasks))
    offers, rows, searches = [], [], []
    for task in tasks:
        row = Row(task.room, task.number, runs_across(task.room, 0))
        offer = sides(task.counts, task.room, sheet.random)
        rows.append(row)
        offers.append(offer)
        searches.append(
            StripTask(
                row.items(offer),
                row.height,
                seconds,
                sheet.random.randrange(2**31),
                threads,
                NEARLY_CLOSED * row.closed,
            )
        )
    results = sheet.searcher.run(searches, rows[0].height)
    found: list[RowOfSheets | None] = []
    for task, row, offer, result in zip(tasks, rows, offers, results, strict=True):
        if result is None:
            found.append(None)
            continue
        found.append(spread(task, row.taken(offer, result)))
    return found


def spread(task: RowTask, fillings: list[Filling]) -> RowOfSheets:
    """The sheets of a row, with what lies on none of them in their gaps as far as there is room."""
    fillings.sort(key=lambda filling: -filling.area)
    left = missing(task.counts, fillings)
    for filling in fillings:
        put = filling.add_all(left) if left else {}
        left = {unit: n - put.get(unit, 0) for unit, n in left.items() if n > put.get(unit, 0)}
    patterns = [Pattern(task.room, filling.spots) for filling in fillings]
    patterns.sort(key=lambda pattern: -pattern.area)
    return RowOfSheets(tuple(patterns), left)
