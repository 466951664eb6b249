"""An assembly of 2,000 instances of 60 shapes: finding its plates, against flattening every instance.

    .venv/bin/python tests/benchmarks/plates.py

Prints both times, their ratio, how many outlines were made and how many plates found. Invented plates:
rectangles with 4 to 40 round holes.
"""

from __future__ import annotations

import random
import sys
import time
from pathlib import Path

import planform

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "python"))
from kernel_models import box, compound, cut, through_hole
from OCP.gp import gp_Quaternion, gp_Trsf, gp_Vec
from OCP.TopLoc import TopLoc_Location

SHAPES, INSTANCES = 60, 2000


def shapes(chance: random.Random) -> list[object]:
    """Distinct perforated plates."""
    result = []
    for number in range(SHAPES):
        width, height = chance.uniform(80, 300), chance.uniform(60, 200)
        thickness = chance.choice([2.0, 3.0, 5.0, 8.0])
        columns, rows = 2 + number % 7, 2 + number % 4
        holes = [
            through_hole(
                width * (i + 1) / (columns + 1),
                height * (j + 1) / (rows + 1),
                chance.uniform(2, 6),
                thickness,
            )
            for i in range(columns)
            for j in range(rows)
        ]
        result.append(cut(box(width, height, thickness), holes))
    return result


def assembly() -> planform.Model:
    """The shapes, placed anywhere."""
    chance = random.Random(8)
    distinct = shapes(chance)
    placed = []
    for number in range(INSTANCES):
        turn = gp_Quaternion(*(chance.gauss(0, 1) for _ in range(4)))
        turn.Normalize()
        motion = gp_Trsf()
        motion.SetTransformation(turn, gp_Vec(*(chance.uniform(-2000, 2000) for _ in range(3))))
        placed.append(distinct[number % SHAPES].Moved(TopLoc_Location(motion)))
    return planform.from_ocp(compound(placed))


def main() -> None:
    model = assembly()
    solids = model.solids
    start = time.perf_counter()
    found = planform.plates(model)
    together = time.perf_counter() - start
    start = time.perf_counter()
    for solid in solids:
        planform.silhouette(solid, planform.auto_datum(solid))
    each = time.perf_counter() - start
    print(f"{len(solids)} solids of {model.shape_count} shapes")
    print(
        f"plates: {together:.2f} s, {found.flattened} outlines made, {len(found.plates)} plates, "
        f"{sum(p.quantity for p in found.plates)} pieces"
    )
    print(f"flattening every instance: {each:.2f} s; ratio {each / together:.1f}")


if __name__ == "__main__":
    main()
