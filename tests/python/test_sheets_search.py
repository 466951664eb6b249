"""A search process that is killed, hangs or gives back rubbish: the plain layout, said so, nothing lost."""

from __future__ import annotations

import math
import os
import signal
import subprocess
import sys
import textwrap
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import layout_misbehaviour as misbehaviour
import planform
import pytest
import shapely
from layout_jobs import circle, disc, ell, judge, outline, polygon
from planform import Piece, ProfileSet, Stock
from planform.sheets import strips
from planform.sheets.frames import frame_of
from planform.sheets.shapes import Rules, room_of
from planform.sheets.values import rectangle

PIECES = [Piece("ell", ell(80, 60, 20), 6, turns="90")]
STOCK = Stock.rectangle(300, 200)


@pytest.mark.parametrize(
    ("search", "words"),
    [
        (misbehaviour.killed, "SIGKILL"),
        (misbehaviour.hangs, "took longer than"),
        (misbehaviour.rubbish, "something that is no layout"),
        (misbehaviour.loses_pieces, "lost pieces"),
        (misbehaviour.turns_wrongly, "turned a piece as it may not"),
        (misbehaviour.not_a_number, "no number"),
        (misbehaviour.raises, "the library says no"),
    ],
)
def test_search_that_fails_costs_no_piece(
    search: Callable[[Any], Any], words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(strips, "GRACE", 0.5)
    layout = planform.lay_out(PIECES, STOCK, gap=3, seconds=2.6, workers=1, search=search)
    judge(layout)
    assert layout.placed(PIECES[0]) == 6
    assert len(layout.notes) == 1 and words in layout.notes[0], layout.notes
    assert layout.notes[0].startswith("laid out plainly where the search failed")


def test_search_that_lies_about_places_is_not_believed() -> None:
    layout = planform.lay_out(
        PIECES, STOCK, gap=3, seconds=2.6, workers=1, search=misbehaviour.all_on_a_heap
    )
    judge(layout)
    assert layout.placed(PIECES[0]) == 6


def test_pieces_that_may_be_turned_over_are_searched_so_too() -> None:
    over = Piece("over", ell(80, 60, 20), 12, turns="180", may_mirror=True)
    layout = planform.lay_out([over], Stock.rectangle(900, 90, roll=True), gap=2, seconds=2.6)
    judge(layout)
    mirrored = [placement.mirrored for sheet in layout.sheets for placement in sheet.placements]
    assert 0 < sum(mirrored) < len(mirrored) == 12
    straight = replace(over, may_mirror=False)
    layout = planform.lay_out([straight], Stock.rectangle(900, 90, roll=True), seconds=2.6)
    assert not any(placement.mirrored for sheet in layout.sheets for placement in sheet.placements)


ROOMS = {
    "a bite, a hole": Stock(
        "rest",
        outline(
            polygon((0, 0), (400, 0), (400, 150), (250, 150), (250, 300), (0, 300)),
            circle(40, 130, 180),
        ),
        count=1,
        left_over=True,
    ),
    "a ring": Stock("ring", outline(circle(200), circle(60)), count=1, left_over=True),
    "clamps": Stock.rectangle(
        400, 300, keep_clear=ProfileSet([rectangle(0, 0, 60, 40), rectangle(180, 140, 220, 170)])
    ),
}


@pytest.mark.parametrize("name", ROOMS)
def test_frame_of_a_room_leaves_the_room_and_nothing_else(name: str) -> None:
    room = room_of(ROOMS[name], Rules(2.0, 3.0))
    assert room is not None and not room.is_plain
    frame = frame_of(room)
    assert frame is not None
    solid = shapely.Polygon(frame.ring)
    assert solid.is_valid
    free = shapely.union_all([shapely.Polygon(rings[0], rings[1:]) for rings in room.outlines])
    for rings in room.obstacles:
        free = free.difference(shapely.Polygon(rings[0]))
    around = shapely.box(*solid.bounds)
    # All that is not free is solid, but for the slit; little of what is free is.
    size = max(room.width, room.height)
    assert around.difference(free).difference(solid).area < 1e-3 * size * 0.06 * size
    assert free.intersection(solid).area < 4e-3 * free.length * size
    assert math.isclose(frame.width, 1.02 * (room.width + 0.1 * size), rel_tol=1e-9)


@pytest.mark.parametrize("name", ROOMS)
def test_rooms_that_are_no_rectangles_are_searched(name: str) -> None:
    pieces = [Piece("ell", ell(60, 45, 15), 30, turns="90"), Piece("disc", disc(14), 20)]
    stock = replace(ROOMS[name], count=1)
    plain = planform.lay_out(pieces, stock, gap=2, margin=3, plain=True)
    layout = planform.lay_out(pieces, stock, gap=2, margin=3, seconds=4.5)
    judge(layout)
    assert layout.notes == ()
    assert layout.used_area >= plain.used_area * (1 - 1e-9)


def test_without_the_extra_it_is_laid_out_plainly(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("planform.sheets.lay_out.is_installed", lambda: False)
    layout = planform.lay_out(PIECES, STOCK, gap=3)
    judge(layout)
    assert "planform[sheets] is not installed" in layout.notes[0]


def test_same_seed_same_layout() -> None:
    """Of the plain way to the last digit; a search's depends on the speed of the machine."""
    first, second = (planform.lay_out(PIECES, STOCK, gap=3, plain=True, seed=5) for _ in range(2))
    assert [(p.x, p.y, p.angle) for s in first.sheets for p in s.placements] == [
        (p.x, p.y, p.angle) for s in second.sheets for p in s.placements
    ]


def test_ctrl_c_keeps_the_best_found(tmp_path: Path) -> None:
    script = tmp_path / "search.py"
    script.write_text(
        textwrap.dedent(
            """
            import signal, sys, planform
            from layout_jobs import strip_instance
            from planform import Stock

            # A shell without job control starts what is in the background with Ctrl-C ignored.
            signal.signal(signal.SIGINT, signal.default_int_handler)

            if __name__ == "__main__":
                pieces, height = strip_instance("jakobs1")
                stock = Stock.rectangle(40, height, roll=True)
                found = []
                def progress(line):
                    print(line, flush=True)
                layout = planform.lay_out(pieces, stock, gap=0, margin=0, seconds=300, progress=progress)
                print("sheets", layout.sheet_count, "missing", len(layout.not_placed), flush=True)
            """
        )
    )
    environment = {
        **os.environ,
        "PYTHONPATH": os.pathsep.join([str(Path(__file__).parent), *sys.path]),
    }
    process = subprocess.Popen(
        [sys.executable, str(script)], stdout=subprocess.PIPE, text=True, env=environment
    )
    assert process.stdout is not None
    first = process.stdout.readline()
    assert first.startswith("best strip"), first
    started = time.monotonic()
    process.send_signal(signal.SIGINT)
    rest = process.stdout.read()
    assert process.wait(60) == 0
    assert time.monotonic() - started < 60
    assert "sheets 1 missing 0" in rest


def test_equal_sheets_that_are_changed_one_by_one_lose_no_piece() -> None:
    """Of three equal sheets with one piece and one with five, a worst one gives its piece away."""
    from types import SimpleNamespace

    from planform.sheets.last_sheets import replace as put
    from planform.sheets.last_sheets import split_worst, worst_of
    from planform.sheets.patterns import Pattern

    stock = Stock.rectangle(100, 100)
    room = room_of(stock, Rules(gap=0.0, margin=0.0))
    spot: Any = SimpleNamespace(unit=SimpleNamespace(area=1000.0, room=1000.0))
    full, poor = Pattern(room, [spot] * 5), Pattern(room, [spot], 3)
    patterns, used = [full, poor], {stock: 4}
    split_worst(patterns)
    worst = worst_of(patterns)
    assert worst is not None
    put(patterns, worst, full, (Pattern(room, [spot] * 6), Pattern(room, [])), used)
    assert sum(len(one.spots) * one.count for one in patterns) == 8
    assert sum(one.count for one in patterns) == 3 == used[stock]
