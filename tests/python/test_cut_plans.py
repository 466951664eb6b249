"""Cut plans of random sheets, replayed and measured by Shapely on fine chords; order against a routing
library."""

from __future__ import annotations

import importlib.util
import math
import os
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import planform as pf
import pytest
import shapely
from random_sheets import random_sheet

LONG = os.environ.get("PLANFORM_LONG_TESTS") == "1"
SHEETS = 1000 if LONG else 24
CHORDS = 1e-4
"""mm that chords may stray; what Shapely measures is right within twice that."""
SLACK = 3 * CHORDS


def contours_of(pieces: list[pf.PlacedPiece]) -> Iterator[tuple[tuple[int, int, int], pf.Contour]]:
    """Address (piece, profile, contour) and contour of all that is cut."""
    for number, piece in enumerate(pieces):
        for place, profile in enumerate(piece.outline.profiles):
            yield (number, place, 0), profile.outer
            for hole, contour in enumerate(profile.holes, start=1):
                yield (number, place, hole), contour


def way_of(curves: list[Any]) -> shapely.LineString:
    """Curves head to tail as a fine polyline."""
    points = [point for curve in curves for point in curve.points(CHORDS)]
    return shapely.LineString(points)


class Judge:
    """What a sheet is in Shapely."""

    def __init__(self, pieces: list[pf.PlacedPiece]) -> None:
        self.addresses, contours = zip(*contours_of(pieces), strict=True)
        self.number = {address: i for i, address in enumerate(self.addresses)}
        self.areas = [shapely.Polygon(contour.points(CHORDS)) for contour in contours]
        self.rings = [area.exterior for area in self.areas]
        self.tree = shapely.STRtree(self.rings)
        self.material = [
            shapely.Polygon(
                profile.outer.points(CHORDS), [hole.points(CHORDS) for hole in profile.holes]
            )
            for piece in pieces
            for profile in piece.outline.profiles
        ]
        self.material_tree = shapely.STRtree(self.material)

    def inside(self, number: int) -> list[int]:
        """Contours that lie in one: smaller, and with most of their points in it."""
        area = self.areas[number]
        shapely.prepare(area)
        found = []
        for other in self.tree.query(area):
            if other == number or self.areas[other].area >= area.area:
                continue
            points = shapely.points(np.array(self.rings[other].coords)[::7])
            if np.mean(shapely.contains(area, points)) > 0.5:
                found.append(int(other))
        return found

    def distance(self, shape: Any, reach: float, without: int = -1) -> float:
        """From the nearest contour, at most ``reach``."""
        near = self.tree.query(shape, predicate="dwithin", distance=reach)
        distances = [shape.distance(self.rings[i]) for i in near if i != without]
        return min(distances, default=reach)

    def is_waste(self, point: Any) -> bool:
        """In no piece."""
        return len(self.material_tree.query(point, predicate="intersects")) == 0


def options_of(generator: np.random.Generator) -> dict[str, Any]:
    """Entries of many kinds."""
    clearance = float(generator.choice([0.3, 0.5, 1.0, 2.0]))
    return {
        "clearance": clearance,
        "entry_length": clearance * float(generator.choice([1.2, 2.0, 4.0])),
        "entry_shape": str(generator.choice(["line", "arc"])),
        "entry_angle": float(generator.choice([0.0, 30.0, 60.0, 90.0])),
        "exit_length": float(generator.choice([0.0, 1.0])),
        "over_cut": float(generator.choice([-0.2, 0.0, 0.5])),
        "least_hole": float(generator.choice([0.0, 4.0])),
        "start": str(generator.choice(["middle", "corner"])),
        "order": str(generator.choice(["shortest", "shortest", "apart", "along"])),
        "web": float(generator.choice([0.0, 2.0])),
    }


def check_order(judge: Judge, pieces: list[pf.PlacedPiece], plan: pf.CutPlan) -> int:
    """Replay the plan: at each cut, is all that lies in it done? Returns how often that was asked."""
    done: set[int] = set()
    asked = 0
    cutting = False
    for cut in plan.cuts:
        if cut.role == "mark":
            assert not cutting, "marks come first"
            continue
        cutting = True
        number = judge.number[(cut.piece, cut.profile, cut.contour)]
        assert number not in done
        for other in judge.inside(number):
            assert other in done, (judge.addresses[other], judge.addresses[number])
            asked += 1
        done.add(number)
    assert len(done) == len(judge.areas)
    marks = sum(len(piece.outline.marks) for piece in pieces)
    assert sum(cut.role == "mark" for cut in plan.cuts) == marks
    return asked


def check_entry(judge: Judge, cut: pf.Cut, asked: float) -> None:
    """One cut's entry: its pierce in waste and off everything, its way off all but its own contour."""
    number = judge.number[(cut.piece, cut.profile, cut.contour)]
    pierce = shapely.Point(cut.pierce)
    reach = asked + 1.0
    assert judge.is_waste(pierce)
    assert judge.distance(pierce, reach) >= asked - SLACK
    way = way_of(cut.entry)
    assert judge.distance(way, reach, without=number) >= asked - SLACK
    own = judge.rings[number]
    start = shapely.Point(cut.start)
    assert own.distance(start) <= SLACK
    assert math.dist(way.coords[-1], cut.start) <= 1e-9
    # It touches its own contour where it ends and nowhere before.
    before = way.difference(start.buffer(0.05 * way.length))
    assert before.distance(own) > SLACK
    if cut.exit:
        outer = shapely.Point(cut.end)
        assert judge.is_waste(outer)
        assert judge.distance(way_of(cut.exit), 1.0, without=number) > SLACK


def check_stretches(judge: Judge, cut: pf.Cut, over_cut: float) -> None:
    """What is cut is the contour, once round, less what is left uncut."""
    number = judge.number[(cut.piece, cut.profile, cut.contour)]
    ring = judge.rings[number]
    length = sum(curve.length for curve in cut.stretches[0])
    rest = max(0.0, -over_cut)
    assert length == pytest.approx(ring.length - min(rest, ring.length / 2), rel=1e-5, abs=1e-3)
    assert shapely.hausdorff_distance(way_of(cut.stretches[0]), ring) <= max(rest, SLACK) + SLACK


def test_random_sheets_replayed_and_measured() -> None:
    asked = rooms = 0
    kinds: dict[str, int] = {}
    for seed in range(SHEETS):
        generator = np.random.default_rng(seed)
        pieces, sheet = random_sheet(generator, int(generator.integers(8, 50)))
        options = options_of(generator)
        plan = pf.plan_cuts(pieces, sheet=sheet, **options)
        judge = Judge(pieces)
        asked += check_order(judge, pieces, plan)
        told = {finding.cut for finding in plan.findings if finding.rule.startswith("entry_")}
        for number, cut in enumerate(plan.cuts):
            if cut.role == "mark":
                continue
            kinds[cut.room] = kinds.get(cut.room, 0) + 1
            assert (number in told) == (cut.room in ("tight", "left_out")), seed
            if cut.room == "left_out":
                assert not cut.entry
                continue
            rooms += 1
            least = cut.clearance if cut.room == "tight" else options["clearance"]
            try:
                check_entry(judge, cut, least)
                check_stretches(judge, cut, options["over_cut"])
            except AssertionError as error:
                raise AssertionError(f"seed {seed}, cut {number}: {error}") from error
    print(f"{SHEETS} sheets: {asked} contours in others, {rooms} entries, {kinds}")
    assert asked > 10 * SHEETS and rooms > 10 * SHEETS
    assert all(kinds.get(kind, 0) > 0 for kind in ("as_asked", "moved", "shortened", "tight"))


def test_the_demo_replayed_and_measured(tmp_path: Path) -> None:
    from planform.jobs.demo import write_demo_job
    from planform.jobs.job_file import read_job, with_options
    from planform.jobs.run import run_job

    job = with_options(read_job(write_demo_job(tmp_path)), seconds=1.0, steps=("sheets",))
    assert run_job(job, tmp_path / "out").errors == []
    machine = pf.Machine.read(tmp_path / "machine.toml")
    entries = asked = 0
    for sheet in pf.read_layout(tmp_path / "out" / "sheets.json").sheets:
        planned = pf.plan_sheet(sheet, machine)
        pieces = list(planned.pieces)
        judge = Judge(pieces)
        asked += check_order(judge, pieces, planned.plan)
        for cut in planned.plan.cuts:
            if cut.entry:
                least = cut.clearance if cut.room == "tight" else planned.figures.clearance
                check_entry(judge, cut, least)
                entries += 1
    assert entries > 80 and asked > 60


def test_the_same_sheet_gives_the_same_plan() -> None:
    pieces, sheet = random_sheet(np.random.default_rng(5), 60)
    plans = [pf.plan_cuts(pieces, sheet=sheet) for _ in range(2)]
    first, second = (
        [(cut.piece, cut.profile, cut.contour, tuple(cut.pierce)) for cut in plan.cuts]
        for plan in plans
    )
    assert first == second


def benchmark() -> Any:
    """tests/benchmarks/cut_order.py."""
    place = Path(__file__).parent.parent / "benchmarks" / "cut_order.py"
    spec = importlib.util.spec_from_file_location("cut_order", place)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["cut_order"] = module
    spec.loader.exec_module(module)
    return module


def test_travel_is_near_what_a_routing_library_finds() -> None:
    pytest.importorskip("ortools")
    sheets, seconds = (30, 30.0) if LONG else (3, 1.0)
    assert benchmark().compare(sheets, seconds) <= 1.08
