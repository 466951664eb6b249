"""Searches that break, hang or lie, for the tests of what is made of them; importable by the workers."""

from __future__ import annotations

import os
import signal
import time
from typing import Any

from planform.sheets.search import StripPlace, StripResult, StripTask, write_best


def killed(task: StripTask) -> Any:
    os.kill(os.getpid(), signal.SIGKILL)


def hangs(task: StripTask) -> Any:
    time.sleep(600)


def rubbish(task: StripTask) -> Any:
    return "###"


def loses_pieces(task: StripTask) -> Any:
    return StripResult(10.0, ())


def turns_wrongly(task: StripTask) -> Any:
    places = [
        StripPlace(i, 0.3, 0.0, 0.0)
        for i, item in enumerate(task.items)
        for _ in range(item.demand)
    ]
    return StripResult(10.0, tuple(places))


def not_a_number(task: StripTask) -> Any:
    nan = float("nan")
    places = [
        StripPlace(i, nan, nan, 0.0)
        for i, item in enumerate(task.items)
        for _ in range(item.demand)
    ]
    return StripResult(10.0, tuple(places))


def all_on_a_heap(task: StripTask) -> Any:
    """In form it is a result: every piece in one place."""
    places = [
        StripPlace(i, 0.0, 0.0, 0.0)
        for i, item in enumerate(task.items)
        for _ in range(item.demand)
    ]
    return StripResult(10.0, tuple(places))


def raises(task: StripTask) -> Any:
    raise RuntimeError("the library says no")


def one_soon_one_late(task: StripTask) -> Any:
    """Of two searches side by side, whose seeds are 0 and 1, the second takes its time."""
    places = [StripPlace(i, 0.0, 0.0, 0.0) for i, item in enumerate(task.items)]
    if task.seed == 1:
        write_best(task.best, StripResult(30.0, tuple(places)))
        time.sleep(600)
    return StripResult(10.0, tuple(places))
