"""Travel of our order against the best that OR-Tools' routing finds under the same rules, on random sheets.

    .venv/bin/python tests/benchmarks/cut_order.py [SHEETS] [SECONDS]

prints a line a sheet (contours, our travel and time, that of OR-Tools, their ratio) and the mean ratio; 30
sheets of 20 to 400 contours and 30 s of processor time each unless told otherwise. OR-Tools is given our
order for half of its time, so that the ratio tells what it can take off. Then our own time for 400 and
10,000 contours."""

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


def routed(stops: Stops, seconds: float, start: Sequence[int]) -> list[int] | None:
    """The best order that OR-Tools finds in some seconds, none after what it lies within: half of the time
    from its own first solution, half from ``start``, so that it loses to no order that it is shown."""
    found = [solved(stops, seconds / 2, None), solved(stops, seconds / 2, start)]
    orders = [order for order in found if order is not None]
    return min(orders, key=lambda order: travel(stops, order)) if orders else None


def solved(stops: Stops, seconds: float, start: Sequence[int] | None) -> list[int] | None:
    """One vehicle from the home position to a place that costs nothing; a dimension counts visits and keeps
    the order; guided local search, which its documentation recommends."""
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
    parameters.first_solution_strategy = routing_enums_pb2.FirstSolutionStrategy.PATH_CHEAPEST_ARC
    # Its limit is by the clock; where other work has the processor, it goes on until it had its time.
    begin = time.process_time()
    closed_model = False
    routes = None if start is None else [list(start)]
    for _ in range(100):
        left = seconds - (time.process_time() - begin)
        if left < 0.05 * seconds:
            break
        parameters.time_limit.FromMilliseconds(max(100, int(1000 * left)))
        if routes is None:
            found = routing.SolveWithParameters(parameters)
        else:
            if not closed_model:
                routing.CloseModelWithParameters(parameters)
            assignment = routing.ReadAssignmentFromRoutes(routes, True)
            found = routing.SolveFromAssignmentWithParameters(assignment, parameters)
        closed_model = True
        if found is None:  # not even a first one in its time
            continue
        order, index = [], found.Value(routing.NextVar(routing.Start(0)))
        while not routing.IsEnd(index):
            order.append(manager.IndexToNode(index))
            index = found.Value(routing.NextVar(index))
        routes = [order]
    return routes[0] if routes else None


def compare(sheets: int, seconds: float) -> float:
    """The mean ratio of our travel to that of OR-Tools."""
    ratios = []
    for number in range(sheets):
        contours = round(20 * (400 / 20) ** (number / max(1, sheets - 1)))
        stops = stops_of(contours, 1000 + number)
        begin = time.process_time()
        our_order = pf.shortest_order(stops)
        ours = travel(stops, our_order)
        took = time.process_time() - begin
        order = routed(stops, seconds, our_order)
        assert order is not None, "OR-Tools found no order"
        ratios.append(ours / travel(stops, order))
        print(
            f"{len(stops):5d} contours: {ours:9.1f} mm in {took:5.2f} s, "
            f"OR-Tools {travel(stops, order):9.1f} mm, ratio {ratios[-1]:.4f}",
            flush=True,
        )
    return sum(ratios) / len(ratios)


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
