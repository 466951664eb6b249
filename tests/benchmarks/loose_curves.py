"""How the chaining of loose curves grows: slots, rectangles and circles in random order and direction.

    .venv/bin/python tests/benchmarks/loose_curves.py

Processor time of this process, the least of three runs. Every sixteenth outline has a gap of 0.05 mm, every
sixteenth a side that is drawn twice: what is found is counted, so that a fast wrong answer would show.
"""

from __future__ import annotations

import math
import random
import time

import planform

RADIUS, LENGTH, PITCH = 4.0, 12.0, 30.0


def slot() -> list[planform.Line | planform.Arc]:
    return [
        planform.Line((0, -RADIUS), (LENGTH, -RADIUS)),
        planform.Arc((LENGTH, 0), RADIUS, -math.pi / 2, math.pi),
        planform.Line((LENGTH, RADIUS), (0, RADIUS)),
        planform.Arc((0, 0), RADIUS, math.pi / 2, math.pi),
    ]


def drawing(count: int) -> tuple[list[planform.Line | planform.Arc], int]:
    """About `count` loose curves, and the number of outlines."""
    dice = random.Random(1)
    outlines = count // 4
    side = math.ceil(math.sqrt(outlines))
    curves = []
    for number in range(outlines):
        shape = slot()
        if number % 16 == 3:
            shape[0] = planform.Line((0.05, -RADIUS), (LENGTH, -RADIUS))
        elif number % 16 == 7:
            shape.append(planform.Line((9, RADIUS), (2, RADIUS)))
        place = [[1, 0, PITCH * (number % side)], [0, 1, PITCH * (number // side)]]
        curves += [curve.transformed(place) for curve in shape]
    dice.shuffle(curves)
    return [curve.reversed() if dice.random() < 0.5 else curve for curve in curves], outlines


def main() -> None:
    print(
        "| curves | close_contours ms | us a curve | nested_profiles ms | closed | gaps | doubles |"
    )
    print("| ---: | ---: | ---: | ---: | ---: | ---: | ---: |")
    for count in (1_000, 3_000, 10_000, 30_000, 100_000, 300_000):
        curves, outlines = drawing(count)
        chaining, nesting = [], []
        for _ in range(3):
            start = time.process_time()
            closed = planform.close_contours(curves, gap=0.1)
            middle = time.process_time()
            profiles = planform.nested_profiles(closed.contours)
            chaining.append(middle - start)
            nesting.append(time.process_time() - middle)
        assert len(profiles) == outlines
        print(
            f"| {len(curves)} | {1e3 * min(chaining):.1f} | {1e6 * min(chaining) / len(curves):.2f} "
            f"| {1e3 * min(nesting):.1f} | {len(closed.chains)} | {len(closed.gaps)} "
            f"| {len(closed.doubles)} |"
        )


if __name__ == "__main__":
    main()
