"""Everything public from many threads on shared objects: the answers are those of one thread."""

from __future__ import annotations

import os
import random
import threading
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import kernel_models as kernel
import planform
import pytest

CALLS = 200_000 if os.environ.get("PLANFORM_LONG_TESTS") else 600
THREADS = 8


def loft() -> Any:
    from OCP.BRepBuilderAPI import (
        BRepBuilderAPI_MakeEdge,
        BRepBuilderAPI_MakePolygon,
        BRepBuilderAPI_MakeWire,
    )
    from OCP.BRepOffsetAPI import BRepOffsetAPI_ThruSections
    from OCP.gp import gp_Ax2, gp_Circ, gp_Dir, gp_Pnt

    maker = BRepOffsetAPI_ThruSections(True)
    square = BRepBuilderAPI_MakePolygon()
    for x, y in [(-20, -20), (20, -20), (20, 20), (-20, 20)]:
        square.Add(gp_Pnt(x, y, 0))
    square.Close()
    maker.AddWire(square.Wire())
    for height in (15, 30):
        circle = gp_Circ(gp_Ax2(gp_Pnt(2, 1, height), gp_Dir(0, 0, 1)), 25 - height / 2)
        maker.AddWire(BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(circle).Edge()).Wire())
    return maker.Shape()


def jobs_on_shared_objects() -> list[Callable[[], Any]]:
    curved = planform.from_ocp(loft())
    plate = planform.from_ocp(kernel.box(30, 20, 5))
    datum = planform.Datum.xy()
    stack = planform.SectionStack(curved, datum)
    slanted = planform.Datum((0, 0, 0), (0.3, 0.2, 0.9))
    first = planform.silhouette(curved, datum)
    second = planform.section(curved, datum, 12.0)
    contour = first.profiles[0].outer
    jobs: list[Callable[[], Any]] = [
        (lambda offset=0.5 + 1.2 * i: stack.at(offset).digest) for i in range(24)
    ]
    jobs += [
        lambda: planform.section(curved, slanted, 5.0).digest,
        lambda: planform.silhouette(plate, planform.auto_datum(plate)).digest,
        lambda: len(planform.coplanar_groups(curved)),
        lambda: [f.text for f in planform.inspect(first, 3.0)],
        lambda: [p.outline.digest for p in planform.plates(plate).plates],
        lambda: (first | second).digest,
        lambda: (first - second).digest,
        lambda: (first ^ second).normalized().digest,
        lambda: first == second,
        lambda: first.to_dxf() + first.to_svg() + first.to_json(),
        lambda: [solid.volume for solid in curved] + [solid.surface_area for solid in plate],
        lambda: (contour.length, contour.bounds.tolist(), len(contour.points(0.01))),
        lambda: planform.ProfileSet.from_json(second.to_json()).digest,
        lambda: len(planform.narrow_places(first, 5.0)),
    ]
    return jobs


def test_many_threads_say_what_one_says() -> None:
    expected = [job() for job in jobs_on_shared_objects()]
    jobs = jobs_on_shared_objects()  # not looked at before the threads do
    started = threading.Barrier(THREADS)

    def work(seed: int) -> list[tuple[int, Any]]:
        choice = random.Random(seed)
        started.wait()
        wrong = []
        for _ in range(CALLS // THREADS):
            job = choice.randrange(len(jobs))
            answer = jobs[job]()
            if answer != expected[job]:
                wrong.append((job, answer))
        return wrong

    with ThreadPoolExecutor(THREADS) as pool:
        wrong = [answer for answers in pool.map(work, range(THREADS)) for answer in answers]
    assert wrong == []
    # Nothing is spoilt for the time afterwards.
    assert [job() for job in jobs] == expected


LONG_CALLS: dict[str, Callable[[Any], Any]] = {
    "auto_datum": lambda solids: planform.auto_datum(solids),
    "coplanar_groups": lambda solids: planform.coplanar_groups(solids),
    "silhouette": lambda solids: planform.silhouette(solids, planform.Datum.xy()),
    "section": lambda solids: planform.section(solids, planform.Datum.xy(), 1.0),
    "plates": lambda solids: planform.plates(solids),
}


@pytest.mark.parametrize("name", LONG_CALLS)
def test_other_threads_run_meanwhile(name: str) -> None:
    # The interpreter's lock is not let go for 10 s by itself: what the other thread does, it does
    # within the call.
    import sys

    solids = [
        planform.from_ocp(kernel.perforated_plate(60)).solids[0]
        if hasattr(kernel, "perforated_plate")
        else planform.from_ocp(loft()).solids[0]
        for _ in range(6)
    ]
    interval = sys.getswitchinterval()
    steps, running = 0, True

    def count() -> None:
        nonlocal steps
        while running:
            steps += 1
            time.sleep(0)  # lets go of the lock: only a call that does so, too, lets it go on

    thread = threading.Thread(target=count)
    sys.setswitchinterval(10.0)
    try:
        thread.start()
        before = steps
        LONG_CALLS[name](solids)
        during = steps - before
    finally:
        sys.setswitchinterval(interval)
        running = False
        thread.join()
    assert during > 0
