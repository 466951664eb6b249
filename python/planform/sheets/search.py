"""The search for a short strip, as a task for a worker process: by the library `spyrrow`.

It knows one strip of a fixed height and polygons without holes, and it may end its process on input that it
dislikes. Nothing that it gives back is believed: `checked` looks at its form here, the proof at its sense.
"""

from __future__ import annotations

import json
import math
import os
import threading
import time
from collections import Counter
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from planform.extras import needed

POLL = 0.05
"""Seconds between two looks at what the search has found so far."""
QUADTREE_DEPTH = 3
"""Of the library's tree of places: with few pieces on a strip a shallow one is quicker. In 60 s shapes0
of the public instances came to 0.9595 of the published density with 3, 0.9547 with 4 and 5; swim to one
figure."""


@dataclass(frozen=True)
class StripItem:
    """A polygon (mm, without the first point repeated) that is wanted so many times; ``angles`` are the turns
    that it may take, in degrees as the library takes them, None for any."""

    polygon: tuple[tuple[float, float], ...]
    demand: int
    angles: tuple[float, ...] | None


@dataclass(frozen=True)
class StripTask:
    """One search.

    ``seconds`` (whole ones) bound it, ``enough`` (mm) ends it as soon as the strip is no longer than this.
    ``threads`` is what the library may use, ``best`` names a file for the best so far; empty: none.
    """

    items: tuple[StripItem, ...]
    height: float
    seconds: int
    seed: int
    threads: int
    enough: float = 0.0
    best: str = ""


@dataclass(frozen=True)
class StripPlace:
    """Where one copy of an item lies: turned by ``angle`` (radians) about the origin, then moved (mm)."""

    item: int
    angle: float
    x: float
    y: float


@dataclass(frozen=True)
class StripResult:
    """A strip of this width (mm) with all copies of all items."""

    width: float
    places: tuple[StripPlace, ...]


def search_strip(task: StripTask) -> StripResult:
    """Search as long as the task allows. Runs in a worker."""
    with needed():
        import spyrrow

    items = [
        spyrrow.Item(
            str(number), list(item.polygon), demand=item.demand, allowed_orientations=item.angles
        )
        for number, item in enumerate(task.items)
    ]
    instance = spyrrow.StripPackingInstance("sheets", strip_height=task.height, items=items)
    config = spyrrow.StripPackingConfig(
        total_computation_time=task.seconds,
        quadtree_depth=QUADTREE_DEPTH,
        num_workers=task.threads,
        seed=task.seed,
    )
    queue = spyrrow.ProgressQueue()
    watch = _Watch(task)
    outcome: list[Any] = []

    def solve() -> None:
        outcome.append(instance.solve(config, queue))

    solving = threading.Thread(target=solve, daemon=True)
    solving.start()
    is_running = True
    while is_running:
        solving.join(POLL)
        is_running = solving.is_alive()
        for kind, solution in queue.drain():
            # Those on the way to feasible ones still overlap.
            if kind in (spyrrow.ReportType.ExplFeas, spyrrow.ReportType.CmprFeas):
                watch.take(solution)
        if watch.best is not None and watch.best.width <= task.enough:
            return watch.best
    if not outcome:
        raise RuntimeError("the search ended without a result")
    watch.take(outcome[0])
    assert watch.best is not None
    return watch.best


class _Watch:
    """Keeps the best strip so far, in a file too."""

    def __init__(self, task: StripTask) -> None:
        self.task = task
        self.best: StripResult | None = None

    def take(self, solution: Any) -> None:
        if self.best is not None and solution.width >= self.best.width:
            return
        places = tuple(
            StripPlace(
                int(one.id), math.radians(one.rotation), one.translation[0], one.translation[1]
            )
            for one in solution.placed_items
        )
        self.best = StripResult(float(solution.width), places)
        if self.task.best:
            write_best(self.task.best, self.best)


def write_best(path: str, result: StripResult) -> None:
    """Write a result to a file that is whole or absent."""
    data = {
        "width": result.width,
        "places": [[one.item, one.angle, one.x, one.y] for one in result.places],
    }
    part = f"{path}.{os.getpid()}"
    with suppress(OSError):
        Path(part).write_text(json.dumps(data), encoding="utf-8")
        Path(part).replace(path)


def read_best(path: str) -> StripResult | None:
    """What `write_best` wrote; None if there is nothing of use."""
    try:
        data = json.loads(Path(path).read_text(encoding="utf-8"))
        places = tuple(
            StripPlace(int(i), float(a), float(x), float(y)) for i, a, x, y in data["places"]
        )
        return StripResult(float(data["width"]), places)
    except (OSError, ValueError, KeyError, TypeError):
        return None


def checked(task: StripTask, value: Any) -> StripResult:
    """What came back from a worker, if it is a result of this task in form: all copies of all items, each
    once, finite numbers, turns that are allowed. Raises ValueError that says what is wrong."""
    if not isinstance(value, StripResult) or not isinstance(value.places, tuple):
        raise ValueError("the search gave back something that is no layout")
    if not isinstance(value.width, float) or not 0 < value.width < math.inf:
        raise ValueError("the search gave back a strip without a length")
    counts: Counter[int] = Counter()
    for place in value.places:
        if not isinstance(place, StripPlace) or place.item not in range(len(task.items)):
            raise ValueError("the search gave back a piece that nobody asked for")
        if not all(math.isfinite(number) for number in (place.angle, place.x, place.y)):
            raise ValueError("the search gave back a place that is no number")
        allowed = task.items[place.item].angles
        if allowed is not None and not any(
            abs(math.remainder(math.radians(angle) - place.angle, 2 * math.pi)) < 1e-5
            for angle in allowed
        ):
            raise ValueError("the search turned a piece as it may not be turned")
        counts[place.item] += 1
    if any(counts[number] != item.demand for number, item in enumerate(task.items)):
        raise ValueError("the search lost pieces")
    return value


def is_installed() -> bool:
    """Can the search be had (the extra ``planform[sheets]``)?"""
    from importlib.util import find_spec

    return find_spec("spyrrow") is not None


class Clock:
    """How much time is left of what was given, and whether somebody asked to stop."""

    def __init__(self, seconds: float) -> None:
        self.end = time.monotonic() + seconds
        self.stopped = False

    @property
    def left(self) -> float:
        """Seconds; 0 once stopped."""
        return 0.0 if self.stopped else max(self.end - time.monotonic(), 0.0)
