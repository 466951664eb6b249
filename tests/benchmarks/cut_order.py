"""Travel of our order against the best that OR-Tools' routing finds under the same rules, on random sheets.

    .venv/bin/python tests/benchmarks/cut_order.py [SHEETS] [SECONDS]

prints a line a sheet (contours, our travel and time, that of OR-Tools from the nearest cut each time and from
ours, the ratio to the better of both) and the mean ratio; 30 sheets of 20 to 400 contours and 30 s of
processor time from the nearest cuts unless told otherwise, a third of that from ours, so that the ratio
tells what it can take off. Then our own time for 400 and 10,000 contours; last, how far the order "apart"
keeps cuts from those before them, against taking each time the cut that keeps furthest from the last ones,
and a bound."""

from __future__ import annotations

import math
import sys
import time
from collections.abc import Sequence
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent / "python"))

import planform as pf
from random_sheets import random_sheet

SCALE = 1000
"""Units of OR-Tools' whole numbers in a millimetre."""
Stops = Sequence[tuple[Sequence[float], Sequence[float], int]]


def stops_of(
    contours: int, seed: int
) -> list[tuple[tuple[float, float], tuple[float, float], int]]:
    """Pierces, ends and what lies in what, of the cuts of a random sheet; marks left out."""
    generator = np.random.default_rng(seed)
    pieces, sheet = random_sheet(generator, contours)
    bare = [pf.PlacedPiece(one.name, pf.ProfileSet(one.outline.profiles)) for one in pieces]
    plan = pf.plan_cuts(bare, sheet=sheet)
    return [(tuple(cut.pierce), tuple(cut.end), cut.within) for cut in plan.cuts]


def travel(stops: Stops, order: Sequence[int], home: tuple[float, float] = (0.0, 0.0)) -> float:
    """From the home position along the order, mm."""
    at: Sequence[float] = home
    total = 0.0
    for number in order:
        total += math.dist(at, stops[number][0])
        at = stops[number][1]
    return total


def nearest_order(stops: Stops) -> list[int]:
    """Always on to the nearest cut that nothing else waits for: a first order of OR-Tools' own strategies
    breaks the rules that its search then can't mend, within 30 s and more."""
    waits_for = [0] * len(stops)
    for _, _, within in stops:
        if within >= 0:
            waits_for[within] += 1
    order: list[int] = []
    at: Sequence[float] = (0.0, 0.0)
    left = set(range(len(stops)))
    while left:
        ready = [number for number in sorted(left) if waits_for[number] == 0]
        number = min(ready, key=lambda one: math.dist(at, stops[one][0]))
        order.append(number)
        left.remove(number)
        at = stops[number][1]
        if stops[number][2] >= 0:
            waits_for[stops[number][2]] -= 1
    return order


def solved(stops: Stops, seconds: float, start: Sequence[int]) -> list[int]:
    """The best order found from `start` on: one vehicle from the home position to a place that costs
    nothing; a dimension counts visits and keeps the order; guided local search, which its documentation
    recommends."""
    from ortools.constraint_solver import pywrapcp, routing_enums_pb2

    count = len(stops)
    home, end = count, count + 1
    manager = pywrapcp.RoutingIndexManager(count + 2, 1, [home], [end])
    routing = pywrapcp.RoutingModel(manager)
    matrix = np.zeros((count + 2, count + 2), dtype=int)
    ends = np.array([*(stop[1] for stop in stops), (0.0, 0.0)])
    starts = np.array([stop[0] for stop in stops])
    away = np.linalg.norm(ends[:, None, :] - starts[None, :, :], axis=2)
    matrix[: count + 1, :count] = np.rint(SCALE * away)
    rows = matrix.tolist()

    def cost(a: int, b: int) -> int:
        return rows[manager.IndexToNode(a)][manager.IndexToNode(b)]

    transit = routing.RegisterTransitCallback(cost)
    routing.SetArcCostEvaluatorOfAllVehicles(transit)
    one = routing.RegisterUnaryTransitCallback(lambda _: 1)
    routing.AddDimension(one, 0, count + 2, True, "visits")
    visits = routing.GetDimensionOrDie("visits")
    for number, stop in enumerate(stops):
        if stop[2] >= 0:
            inner, outer = manager.NodeToIndex(number), manager.NodeToIndex(stop[2])
            routing.solver().Add(visits.CumulVar(inner) < visits.CumulVar(outer))
    parameters = pywrapcp.DefaultRoutingSearchParameters()
    parameters.local_search_metaheuristic = (
        routing_enums_pb2.LocalSearchMetaheuristic.GUIDED_LOCAL_SEARCH
    )
    # Its limit is by the clock; where other work has the processor, it goes on until it had its time.
    begin = time.process_time()
    parameters.time_limit.FromMilliseconds(int(1000 * seconds))
    routing.CloseModelWithParameters(parameters)
    best = list(start)
    for _ in range(100):
        left = seconds - (time.process_time() - begin)
        if left < 0.05 * seconds:
            break
        parameters.time_limit.FromMilliseconds(max(100, int(1000 * left)))
        assignment = routing.ReadAssignmentFromRoutes([best], True)
        found = routing.SolveFromAssignmentWithParameters(assignment, parameters)
        if found is None:
            continue
        best, index = [], found.Value(routing.NextVar(routing.Start(0)))
        while not routing.IsEnd(index):
            best.append(manager.IndexToNode(index))
            index = found.Value(routing.NextVar(index))
    return best


def compare(sheets: int, seconds: float) -> float:
    """The mean ratio of our travel to the best of OR-Tools."""
    ratios = []
    for number in range(sheets):
        contours = round(20 * (400 / 20) ** (number / max(1, sheets - 1)))
        stops = stops_of(contours, 1000 + number)
        begin = time.process_time()
        our_order = pf.shortest_order(stops)
        ours = travel(stops, our_order)
        took = time.process_time() - begin
        begin = time.process_time()
        orders = [
            solved(stops, seconds, nearest_order(stops)),
            solved(stops, seconds / 3, our_order),
        ]
        spent = time.process_time() - begin
        own, from_ours = (travel(stops, order) for order in orders)
        ratios.append(ours / min(own, from_ours))
        print(
            f"{len(stops):5d} contours: {ours:9.1f} mm in {took:5.2f} s, OR-Tools {own:9.1f} mm "
            f"(ratio {ours / own:.4f}), from ours {from_ours:9.1f} mm, in {spent:.1f} s, ratio "
            f"{ratios[-1]:.4f}",
            flush=True,
        )
    return sum(ratios) / len(ratios)


COUNT, DISTANCE = 2, 50.0
"""Of "apart": those of `planform.plan_cuts`."""
Box = tuple[float, float, float, float]


def gap(a: Box, b: Box) -> float:
    """Between two boxes, mm."""
    x = max(0.0, a[0] - b[2], b[0] - a[2])
    y = max(0.0, a[1] - b[3], b[1] - a[3])
    return math.hypot(x, y)


def close_pairs(boxes: Sequence[Box]) -> tuple[int, float]:
    """Of cuts in their order: pairs at most COUNT apart in it that are nearer than DISTANCE; the sum of what
    is missing, mm."""
    missing = [
        DISTANCE - gap(boxes[i], boxes[j])
        for i in range(len(boxes))
        for j in range(i + 1, min(i + COUNT + 1, len(boxes)))
    ]
    near = [one for one in missing if one > 0]
    return len(near), math.fsum(near)


def furthest_first(boxes: Sequence[Box], within: Sequence[int]) -> list[int]:
    """Each time the cut that keeps furthest from the last ones, of those that may come next."""
    waiting = [sum(1 for w in within if w == i) for i in range(len(boxes))]
    ready = [i for i, n in enumerate(waiting) if n == 0]
    order: list[int] = []
    while ready:
        best = max(
            ready,
            key=lambda i: (
                min((min(DISTANCE, gap(boxes[i], boxes[j])) for j in order[-COUNT:]), default=0.0),
                -i,
            ),
        )
        ready.remove(best)
        order.append(best)
        if within[best] >= 0:
            waiting[within[best]] -= 1
            if waiting[within[best]] == 0:
                ready.append(within[best])
    return order


def apart(sheets: int) -> None:
    """Prints a line a sheet."""
    for number in range(sheets):
        contours = round(20 * (400 / 20) ** (number / max(1, sheets - 1)))
        pieces, sheet = random_sheet(np.random.default_rng(2000 + number), contours)
        bare = [pf.PlacedPiece(one.name, pf.ProfileSet(one.outline.profiles)) for one in pieces]
        begin = time.process_time()
        plan = pf.plan_cuts(
            bare, sheet=sheet, order="apart", apart_count=COUNT, apart_distance=DISTANCE
        )
        took = time.process_time() - begin
        boxes = [box_of(bare, cut) for cut in plan.cuts]
        # Beside it: cuts as they are listed, nothing known of our order.
        listed = sorted(
            range(len(boxes)),
            key=lambda i, cuts=plan.cuts: (cuts[i].piece, cuts[i].profile, cuts[i].contour),
        )
        place = {i: number for number, i in enumerate(listed)}
        within = [place.get(plan.cuts[i].within, -1) for i in listed]
        order = [listed[i] for i in furthest_first([boxes[i] for i in listed], within)]
        stops = [(tuple(cut.pierce), tuple(cut.end), cut.within) for cut in plan.cuts]
        # Cuts of one piece are near each other; others part them, COUNT between two.
        sizes = [sum(cut.piece == piece for cut in plan.cuts) for piece in range(len(bare))]
        bound = max(0, *(n - 1 - (len(boxes) - n) // COUNT for n in sizes))
        ours, before = close_pairs(boxes), close_pairs([boxes[i] for i in order])
        print(
            f"{len(boxes):5d} cuts: {ours[0]} near pairs ({ours[1]:.0f} mm missing), "
            f"{plan.travel:.0f} mm of travel, in {took:.2f} s; furthest first {before[0]} "
            f"({before[1]:.0f} mm), {travel(stops, order):.0f} mm; at least {bound} pairs",
            flush=True,
        )


def box_of(pieces: Sequence[pf.PlacedPiece], cut: pf.Cut) -> Box:
    """Of the contour that a cut follows, mm."""
    profile = pieces[cut.piece].outline.profiles[cut.profile]
    contour = profile.outer if cut.contour == 0 else profile.holes[cut.contour - 1]
    (left, low), (right, high) = contour.bounds
    return float(left), float(low), float(right), float(high)


if __name__ == "__main__":
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 30
    limit = float(sys.argv[2]) if len(sys.argv) > 2 else 30.0
    print(f"mean ratio {compare(count, limit):.4f}")
    for contours in (400, 10000):
        generator = np.random.default_rng(1)
        pieces, sheet = random_sheet(generator, contours)
        begin = time.process_time()
        plan = pf.plan_cuts(pieces, sheet=sheet)
        took = time.process_time() - begin
        print(
            f"{len(plan.cuts)} cuts: {took:.2f} s of processor time, {plan.travel:.0f} mm of travel"
        )
    apart(8)
