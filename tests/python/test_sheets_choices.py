"""What is tried on a sheet together, when a sheet is full, and when a round of searching ends."""

from __future__ import annotations

import math
import random
import time
from types import SimpleNamespace
from typing import Any

import layout_misbehaviour as misbehaviour
import planform
import pytest
from layout_jobs import judge, strip_instance
from planform import Stock
from planform.batch.workers import KeptWorkers
from planform.sheets.choices import chosen, room_taken
from planform.sheets.one_sheet import SheetSearch
from planform.sheets.search import Clock, StripItem, StripTask
from planform.sheets.shapes import Rules, room_of
from planform.sheets.strips import Searcher

SQUARE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))


class Kind(SimpleNamespace):
    """A unit as choices see it."""

    __hash__ = object.__hash__  # type: ignore[assignment]


def units(*rooms: float, priorities: tuple[int, ...] = ()) -> list[Any]:
    """Units of these rooms."""
    given = priorities or (0,) * len(rooms)
    return [
        Kind(room=room, number=i, priority=priority)
        for i, (room, priority) in enumerate(zip(rooms, given, strict=True))
    ]


def test_choices_come_near_the_area_and_keep_proportions() -> None:
    kinds = units(31.0, 17.0, 11.0, 5.0, 2.0)
    counts: Any = dict(zip(kinds, (10, 10, 20, 20, 40), strict=True))
    whole = room_taken(counts)
    for seed in range(40):
        area = random.Random(seed).uniform(0.1, 0.6) * whole
        choice = chosen(counts, area, random.Random(seed))
        assert abs(room_taken(choice) - area) <= 1.0  # half the smallest
        for kind in kinds:
            share = counts[kind] * area / whole
            assert abs(choice.get(kind, 0) - share) < 3, (seed, kind.room)
    assert chosen(counts, 2 * whole, random.Random(0)) == counts


def test_what_was_tried_does_not_come_again() -> None:
    kinds = units(30.0, 20.0, 10.0)
    counts: Any = dict.fromkeys(kinds, 3)
    tried: list[Any] = []
    source = random.Random(1)
    for _ in range(3):
        choice = chosen(counts, 60.0, source, tried)
        assert choice not in tried
        tried.append(choice)
    # Where there is one choice alone it comes all the same.
    assert chosen({kinds[0]: 1}, 30.0, source, [{kinds[0]: 1}]) == {kinds[0]: 1}


def test_urgent_pieces_come_first() -> None:
    low, high = units(10.0, 10.0, priorities=(0, 1))
    choice = chosen({low: 8, high: 4}, 60.0, random.Random(3))
    assert choice == {high: 4, low: 2}


def test_share_of_a_sheet() -> None:
    room = room_of(Stock.rectangle(100, 100), Rules(0.0, 0.0))
    assert room is not None
    clock = Clock(10)
    search = SheetSearch(Rules(0.0, 0.0), Searcher(clock), 0, False, clock)
    assert search.share_of(5e4, room) == 1.0, "before anything is known a sheet is never full"
    search.density, search.is_sounded = 0.8, True
    # 0.8 * 1.02 of 10^4 mm² a sheet: 8 sheets hold 65,280, all alike.
    assert search.share_of(65_000, room) == pytest.approx(65_000 / 8 / 1e4)
    assert search.share_of(8 * 7_700, room) == pytest.approx(0.77)
    # A little more makes a ninth, and then each is as full as strips are in the mean.
    assert search.share_of(66_000, room) == pytest.approx(0.8)
    assert search.share_of(math.inf, room) == 1.0


def test_first_search_that_finds_enough_ends_the_round() -> None:
    tasks = [
        StripTask((StripItem(SQUARE, 1, (0.0,)),), 5.0, 100, seed, 1, enough=20.0)
        for seed in (0, 1)
    ]
    start = time.monotonic()
    with KeptWorkers() as kept:
        searcher = Searcher(
            Clock(1000), 2, misbehaviour.one_soon_one_late, in_process=False, kept=kept
        )
        for _ in range(2):  # the second time with workers that were started anew
            first, _late = searcher.run(tasks, 5.0)
            assert first is not None and first.width == 10.0
            assert len(kept.idle) == 2
    assert time.monotonic() - start < 500, "the second sleeps for 600 s, and is not waited for"
    assert searcher.failures == []


def test_sheets_of_equal_pieces_are_equal() -> None:
    """However often a pattern was planned: what it leaves is less than a sheet."""
    piece = strip_instance("dagli")[0][0]
    many = planform.Piece(piece.name, piece.outline, 60, turns=piece.turns)
    (left, low), (right, high) = piece.outline.bounds
    stock = Stock.rectangle(2.9 * (right - left), 2.9 * (high - low))
    layout = planform.lay_out([many], stock, gap=0, margin=0, plain=True)
    judge(layout)
    assert layout.placed(many) == 60
    assert len(layout.sheets) <= 2
