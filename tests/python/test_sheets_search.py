"""A search process that is killed, hangs or gives back rubbish: the plain layout, said so, nothing lost."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import textwrap
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import layout_misbehaviour as misbehaviour
import planform
import pytest
from layout_jobs import ell, judge
from planform import Piece, Stock
from planform.sheets import strips

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
            import sys, planform
            from layout_jobs import strip_instance
            from planform import Stock

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
