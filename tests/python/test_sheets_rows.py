"""Several equal sheets filled by one search: the walls between them, and what comes of it on each sheet."""

from __future__ import annotations

import math
import os
import random
from dataclasses import replace
from typing import Any

import planform
import pytest
import shapely
from layout_jobs import ell, judge, random_job, strip_instance
from planform import Piece, Stock
from planform.batch.workers import KeptWorkers
from planform.sheets import group
from planform.sheets.fill import numbered, with_inside
from planform.sheets.one_sheet import SheetSearch
from planform.sheets.one_strip import search_ring
from planform.sheets.patterns import Pattern, equal_contents_once
from planform.sheets.row_search import RowTask, fill_rows
from planform.sheets.rows import Row, within
from planform.sheets.search import Clock, StripPlace, StripResult
from planform.sheets.shapes import Room, Rules, Spot, Unit, room_of, shape_of
from planform.sheets.strips import Searcher

RULES = Rules(2.0, 3.0)
JOBS = 60 if os.environ.get("PLANFORM_LONG_TESTS") else 2


def room_and_unit(turns: Any = "none") -> tuple[Room, Unit]:
    room = room_of(Stock.rectangle(206, 106), RULES)
    assert room is not None
    piece = Piece("ell", ell(60, 40, 15), 6, turns=turns)
    ((unit, _),) = numbered(with_inside([(shape_of(piece, RULES), 6)]))
    return room, unit


@pytest.mark.parametrize("is_across", [False, True])
def test_comb_leaves_the_sheets_and_closes_all_but_the_last(is_across: bool) -> None:
    room, _ = room_and_unit()
    row = Row(room, 4, is_across)
    comb = shapely.Polygon(row.comb.polygon)
    assert comb.is_valid
    long, high = (room.height, room.width) if is_across else (room.width, room.height)
    for number in range(4):
        left = number * row.step
        free = shapely.box(left, row.wall, left + long, row.wall + high)
        assert free.intersection(comb).area < 1e-9
    # Bar and three teeth, which end a trace below the top of the strip.
    teeth = 3 * row.wall * high * (1 - 5e-5)
    assert comb.area == pytest.approx(row.closed * row.wall + teeth, rel=1e-12)
    assert row.height == pytest.approx(high + row.wall)
    assert 0 < row.height - comb.bounds[3] < 1e-4 * high


@pytest.mark.parametrize("is_across", [False, True])
def test_places_of_a_row_are_those_on_its_sheets(is_across: bool) -> None:
    """Known places on each sheet, put into the row by hand, come back as they were; what lies over a wall or
    beyond the end does not."""
    room, unit = room_and_unit()
    row = Row(room, 3, is_across)
    source = random.Random(4)
    ring = unit.shape.search
    width, height = (float(n) for n in ring.max(axis=0) - ring.min(axis=0))
    comb = (1.25, 0.002)
    expected, places = [], [StripPlace(0, 0.0, *comb)]
    for number in range(3):
        x = room.box[0] - float(ring[:, 0].min()) + source.uniform(0, room.width - width)
        y = room.box[1] - float(ring[:, 1].min()) + source.uniform(0, room.height - height)
        expected.append((x, y))
        along, up = (
            (y - room.box[1], room.box[2] - x) if is_across else (x - room.box[0], y - room.box[1])
        )
        # Across, the strip is the sheet turned clockwise by a quarter.
        angle = -math.pi / 2 if is_across else 0.0
        places.append(StripPlace(1, angle, comb[0] + number * row.step + along, row.wall + up))
    over = replace(
        places[1],
        x=places[1].x
        + row.strip.width
        - (expected[0][1 if is_across else 0] - room.box[1 if is_across else 0]),
    )
    beyond = replace(places[1], x=places[1].x + 3 * row.step)
    result = StripResult(1000.0, (*places, over, beyond))
    fillings = row.taken([(unit, False, 5)], result)
    assert [len(one.spots) for one in fillings] == [1, 1, 1]
    for (x, y), filling in zip(expected, fillings, strict=True):
        (spot,) = filling.spots
        assert (spot.x, spot.y, spot.angle) == pytest.approx((x, y, 0.0), abs=1e-9)
        corners = search_ring(spot)
        assert corners.min() >= 2.0 - 1e-9  # margin less half the gap


def test_moves_into_a_box() -> None:
    box = (0.0, 10.0, 100.0, 50.0)
    assert within(box, 0, -0.5, 40.0) == 0.5
    assert within(box, 1, 20.0, 50.25) == -0.25
    assert within(box, 0, 5.0, 95.0) == 0.0
    assert within(box, 1, 9.0, 51.5) == pytest.approx(-0.25)


def test_search_of_a_row_loses_no_piece() -> None:
    room, unit = room_and_unit("90")
    clock = Clock(60)
    with KeptWorkers() as kept:
        sheet = SheetSearch(RULES, Searcher(clock, kept=kept), 1, False, clock)
        (row,) = fill_rows(sheet, [RowTask(room, {unit: 20}, 3)], 2)
    assert row is not None and sheet.searcher.failures == []
    placed = sum(len(pattern.spots) for pattern in row.patterns)
    assert placed + sum(row.left.values()) == 20
    assert placed > 0
    areas = [pattern.area for pattern in row.patterns]
    assert areas == sorted(areas, reverse=True)


def test_layout_of_several_sheets_by_one_search() -> None:
    """Half of a public instance's pieces more than one sheet holds: proven, and none is lost."""
    pieces, height = strip_instance("fu", 2)
    layout = planform.lay_out(pieces, Stock.rectangle(20, height), gap=0, margin=0, seconds=6)
    judge(layout)
    assert layout.notes == () and layout.not_placed == ()
    # By area at the best published density it takes four.
    assert layout.sheet_count <= 5


def test_sheets_with_equal_contents_are_one_drawing() -> None:
    room, unit = room_and_unit()
    other = replace(unit, spare=True)
    here, there = Spot(unit, False, 0.0, 50.0, 40.0), Spot(unit, False, 0.0, 120.0, 40.0)
    patterns = [
        Pattern(room, [here, there], 2),
        Pattern(room, [here]),
        Pattern(room, [there, here], 3),
        Pattern(room, [Spot(other, False, 0.0, 50.0, 40.0)]),
        Pattern(room, [there]),
    ]
    assert [(len(p.spots), p.count) for p in equal_contents_once(patterns)] == [
        (2, 5),
        (1, 2),
        (1, 1),
    ]


def test_random_jobs_in_a_row_keep_their_rules(monkeypatch: pytest.MonkeyPatch) -> None:
    """Random pieces on some equal sheets, some with a grain, in rows even where these are not thought best:
    judged by Shapely."""
    monkeypatch.setattr(group, "PIECES_A_SECOND", 1000)
    monkeypatch.setattr(group, "PIECES_ON_A_SHEET", 1000)
    sizes = []
    original = group.fill_rows

    def counted(sheet: SheetSearch, tasks: list[RowTask], seconds: int) -> Any:
        sizes.append((tasks[0].number, sum(tasks[0].counts.values())))
        return original(sheet, tasks, seconds)

    monkeypatch.setattr(group, "fill_rows", counted)
    numbers = [n for n in range(2 * JOBS) if n % 4][:JOBS]  # every fourth has rectangles alone
    for number in numbers:
        job = random_job(number)
        names = ("whole sheet", "too large")
        pieces = [
            replace(piece, quantity=3 * piece.quantity)
            for piece in job.pieces
            if piece.name not in names
        ]
        long = max(float((p.outline.bounds[1] - p.outline.bounds[0]).max()) for p in pieces)
        area = math.fsum(piece.area * piece.quantity for piece in pieces)
        side = max(1.1 * long, math.sqrt(area / 0.6 / 3)) + 20
        stock = Stock.rectangle(
            side, (1.0, 0.6)[number % 2 and side > 2 * long] * side, grain=(None, 0.0)[number % 2]
        )
        layout = planform.lay_out(pieces, stock, seconds=4.5, workers=2, **job.options)
        judge(layout)
        assert layout.notes == () and layout.not_placed == (), number
    assert len(sizes) >= 0.5 * len(numbers) > 0
    assert max(n for n, _ in sizes) >= 3
