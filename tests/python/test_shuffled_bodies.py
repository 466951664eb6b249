"""The outline of several bodies does not depend on their order: the same digest for every shuffle, united and
side by side. That order doesn't matter to a union is a law of sets; no judge is needed."""

from __future__ import annotations

import math
import os
import random
from pathlib import Path

import planform
import pytest
from kernel_models import box, cylinder, fuse, moved, torus, turned, write_step
from planform import Datum
from text_models import LETTERS, plate, row

SHUFFLES = 200 if os.environ.get("PLANFORM_LONG_TESTS") else 25
SLANTED = Datum((0, 0, 0), normal=(0.2, 0.35, 1.0))


def station(folder: Path) -> list[planform.Solid]:
    return list(planform.load(planform.write_demo_assembly(folder / "station.step")).solids)


def text(folder: Path) -> list[planform.Solid]:
    """Letters raised on a plate, and some beside it."""
    parts = [*row(LETTERS[:12], 3.0, 1.0), ("plate", plate(LETTERS[:12], 3.0))]
    parts += [(f"loose {name}", moved(body, 0, -80)) for name, body in row("08B", 0.0, 3.0)]
    return list(planform.load(write_step(parts, folder / "text.step")).solids)


def coincident(folder: Path) -> list[planform.Solid]:
    """Bodies that share edges, lie doubled, nest and touch, far from round numbers."""
    chance = random.Random(6)
    bodies = []
    for i in range(4):
        for j in range(3):
            bodies.append(("tile", moved(box(20, 15, 3), 20 * i, 15 * j)))
    bodies += [("disc", moved(cylinder(7, 2), 20 * i, 15, 3.0 * i)) for i in range(5)]
    bodies += [("twin", moved(cylinder(7, 5), 20, 15, 4)) for _ in range(2)]
    bodies += [("ring", moved(torus(8 + i, 1.0), 40, 60)) for i in range(0, 9, 3)]
    angle = chance.uniform(0, math.tau)
    names = [name for name, _ in bodies]
    whole = [turned(moved(body, 17 / 7, 31 / 3), (0, 0, 1), angle) for _, body in bodies]
    return list(
        planform.load(write_step(list(zip(names, whole, strict=True)), folder / "c.step")).solids
    )


def scattered(folder: Path) -> list[planform.Solid]:
    """Random blocks, bars and rings across each other."""
    chance = random.Random(7)
    parts = []
    for number in range(24):
        body = chance.choice(
            [
                box(chance.uniform(5, 40), chance.uniform(5, 40), 5),
                cylinder(chance.uniform(2, 15), 30),
                torus(chance.uniform(8, 15), 3),
                fuse(box(10, 10, 10), moved(cylinder(4, 20), 10, 10)),
            ]
        )
        axis = tuple(chance.uniform(-1, 1) for _ in range(3))
        body = turned(body, axis, chance.uniform(0, math.tau))
        parts.append(
            (
                f"body {number % 5}",
                moved(body, *(chance.uniform(-40, 40) for _ in range(3))),
            )
        )
    return list(planform.load(write_step(parts, folder / "scattered.step")).solids)


@pytest.mark.parametrize("merge", ["union", "keep"])
@pytest.mark.parametrize("bodies", [station, text, coincident, scattered])
@pytest.mark.parametrize("datum", [Datum.xy(), SLANTED], ids=["xy", "slanted"])
def test_any_order_gives_the_same_outline(
    bodies: object, merge: str, datum: Datum, tmp_path: Path
) -> None:
    solids = bodies(tmp_path)
    first = planform.silhouette(solids, datum, merge=merge)
    assert first.area > 0 and len(solids) > 10
    chance = random.Random(200)
    orders = set()
    for _ in range(SHUFFLES):
        order = list(range(len(solids)))
        chance.shuffle(order)
        orders.add(tuple(order))
        shuffled = planform.silhouette([solids[i] for i in order], datum, merge=merge)
        assert shuffled.digest == first.digest, order
        assert [p.name for p in shuffled] == [p.name for p in first]
        assert [m.name for m in shuffled.marks] == [m.name for m in first.marks]
    assert len(orders) == SHUFFLES


@pytest.mark.parametrize("merge", ["union", "keep"])
def test_any_order_gives_the_same_section(merge: str, tmp_path: Path) -> None:
    solids = station(tmp_path)
    first = planform.section(solids, Datum.xy(), offset=20.0, merge=merge)
    chance = random.Random(201)
    for _ in range(SHUFFLES):
        chance.shuffle(solids)
        again = planform.section(solids, Datum.xy(), offset=20.0, merge=merge)
        assert again.digest == first.digest


@pytest.mark.parametrize("how", ["union", "keep"])
@pytest.mark.parametrize("bodies", [text, coincident])
def test_any_order_of_outlines_gives_the_same_merged_one(
    bodies: object, how: str, tmp_path: Path
) -> None:
    outlines = [planform.silhouette(solid, Datum.xy()) for solid in bodies(tmp_path)]
    first = planform.merge(outlines, how=how)
    chance = random.Random(202)
    for _ in range(SHUFFLES):
        chance.shuffle(outlines)
        assert planform.merge(outlines, how=how).digest == first.digest
