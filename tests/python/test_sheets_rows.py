"""Several equal sheets filled by one search: the walls between them, and what comes of it on each sheet."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from typing import Any

import planform
import pytest
import shapely
from layout_jobs import ell, judge, strip_instance
from planform import Piece, Stock
from planform.batch.workers import KeptWorkers
from planform.sheets.fill import numbered, with_inside
from planform.sheets.one_sheet import SheetSearch
from planform.sheets.one_strip import search_ring
from planform.sheets.row_search import RowTask, fill_rows
from planform.sheets.rows import Row, within
from planform.sheets.search import Clock, StripPlace, StripResult
from planform.sheets.shapes import Room, Rules, Unit, room_of, shape_of
from planform.sheets.strips import Searcher

RULES = Rules(2.0, 3.0)


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
