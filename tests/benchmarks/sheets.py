"""How well pieces are laid out, beside the search library called by hand in the same run.

    python tests/benchmarks/sheets.py strips [NAME...]   the nine public strip instances, on a roll
    python tests/benchmarks/sheets.py sheets [NAME...]   demand times five on sheets of 60% of the strip
    python tests/benchmarks/sheets.py growth [NUMBER...] 2,000 pieces of 60 shapes, and fewer
    python tests/benchmarks/sheets.py table              what has been measured so far

--time gives the seconds of search (60), --alone leaves the library by hand out. Each result goes into
out/benchmarks/sheets.json as it comes; what is there for the same time is not done again (--again does it).
One instance at a time, so that each has the machine to itself. Densities are areas of pieces over those of
strips or sheets. "by hand": `spyrrow` with the instance's own polygons, the same seconds and seed, as many
threads as there are processors.
"""

from __future__ import annotations

import argparse
import json
import math
import resource
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "python"))

import spyrrow
from layout_jobs import (
    BEST_DENSITIES,
    disc,
    ell,
    gear,
    judge_sheet,
    lens,
    letter,
    ring,
    strip_instance,
)
from planform import Piece, Stock, lay_out
from planform.batch.workers import default_workers
from planform.sheets.proof import prove

RESULTS = Path("out/benchmarks/sheets.json")
SEED = 1
SHARE = 0.6
"""Length of a sheet as a share of the published strip's."""
TIMES = 5
ANGLES = {"none": [0.0], "180": [0.0, 180.0], "90": [0.0, 90.0, 180.0, 270.0]}

Record = dict[str, Any]


def by_hand(pieces: list[Piece], height: float, seconds: int) -> float | None:
    """The density that the library reaches by itself; None without any seconds."""
    if not seconds:
        return None
    items = [
        spyrrow.Item(
            piece.name,
            [(float(x), float(y)) for x, y in piece.outline.profiles[0].outer.points(1.0)],
            demand=piece.quantity,
            allowed_orientations=ANGLES[piece.turns],
        )
        for piece in pieces
    ]
    instance = spyrrow.StripPackingInstance("by hand", strip_height=height, items=items)
    config = spyrrow.StripPackingConfig(
        total_computation_time=seconds, seed=SEED, num_workers=default_workers()
    )
    return area_of(pieces) / (height * instance.solve(config).width)


def area_of(pieces: list[Piece]) -> float:
    return math.fsum(piece.area * piece.quantity for piece in pieces)


def strip(name: str, seconds: int, hand_seconds: int) -> Record:
    """One instance on a roll, and by hand."""
    pieces, height = strip_instance(name)
    roll = Stock.rectangle(10 * area_of(pieces) / height, height, roll=True)
    start = time.monotonic()
    layout = lay_out(pieces, roll, gap=0, margin=0, seconds=seconds, seed=SEED)
    taken = time.monotonic() - start
    prove(layout)
    for sheet in layout.sheets:
        judge_sheet(sheet, 0.0, 0.0)
    assert not layout.not_placed and layout.sheet_count == 1
    ours = area_of(pieces) / layout.area
    hand = by_hand(pieces, height, hand_seconds)
    best = BEST_DENSITIES[name]
    return {
        "density": ours,
        "by hand": hand,
        "of published": ours / best,
        "of by hand": hand and ours / hand,
        "seconds": taken,
        "notes": list(layout.notes),
    }


def sheets(name: str, seconds: int, hand_seconds: int) -> Record:
    """Demand times five on sheets; the strip of all by hand to compare with."""
    pieces, height = strip_instance(name, TIMES)
    best = BEST_DENSITIES[name]
    length = SHARE * area_of(pieces) / TIMES / (best * height)
    start = time.monotonic()
    layout = lay_out(
        pieces, Stock.rectangle(length, height), gap=0, margin=0, seconds=seconds, seed=SEED
    )
    taken = time.monotonic() - start
    prove(layout)
    assert not layout.not_placed
    uses = sorted((sheet.use for sheet in layout.sheets for _ in range(sheet.count)), reverse=True)
    hand = by_hand(pieces, height, hand_seconds)
    bound = math.ceil(area_of(pieces) / (best * length * height) - 1e-9)
    return {
        "sheets": layout.sheet_count,
        "bound": bound,
        "least use but the last": uses[-2] if len(uses) > 1 else uses[-1],
        "last": uses[-1],
        "uses": [round(use, 4) for use in uses],
        "by hand": hand,
        "least of by hand": hand and (uses[-2] if len(uses) > 1 else uses[-1]) / hand,
        "seconds": taken,
        "notes": list(layout.notes),
    }


def growth(name: str, seconds: int, _hand_seconds: int) -> Record:
    """So many pieces of 60 shapes on sheets of 1220 x 610 mm; ``name`` is the number."""
    count = int(name)
    shapes = []
    for i in range(10):
        shapes += [
            (f"gear {i}", gear(8 + i, 20 + 3 * i)),
            (f"letter {i}", letter(30 + 6 * i)),
            (f"ring {i}", ring(30 + 4 * i, 20 + 3 * i)),
            (f"ell {i}", ell(50 + 9 * i, 40 + 7 * i, 14 + i)),
            (f"disc {i}", disc(8 + 2 * i)),
            (f"lens {i}", lens(40 + 8 * i)),
        ]
    pieces = [
        Piece(title, shape, count // 60 + (i < count % 60), turns="90")
        for i, (title, shape) in enumerate(shapes)
    ]
    start, before = time.monotonic(), resource.getrusage(resource.RUSAGE_SELF)
    layout = lay_out(
        pieces, Stock.rectangle(1220, 610), gap=4, margin=6, seconds=seconds, seed=SEED
    )
    taken, after = time.monotonic() - start, resource.getrusage(resource.RUSAGE_SELF)
    assert not layout.not_placed
    return {
        "pieces": count,
        "sheets": layout.sheet_count,
        "patterns": len(layout.sheets),
        "use": layout.use,
        "seconds": taken,
        "own processor seconds": after.ru_utime - before.ru_utime,
        "MiB": after.ru_maxrss / 1024,
        "MiB of workers": resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024,
        "notes": list(layout.notes),
    }


KINDS: dict[str, tuple[Callable[[str, int, int], Record], list[str]]] = {
    "strips": (strip, list(BEST_DENSITIES)),
    "sheets": (sheets, list(BEST_DENSITIES)),
    "growth": (growth, ["250", "500", "1000", "2000"]),
}


def read() -> dict[str, Record]:
    return json.loads(RESULTS.read_text()) if RESULTS.exists() else {}


def print_table() -> None:
    """All results, a line each."""
    for key, record in read().items():
        figures = ", ".join(
            f"{name} {value:.3f}" if isinstance(value, float) else f"{name} {value}"
            for name, value in record.items()
            if value != [] and name != "uses"
        )
        print(f"{key}: {figures}")


def main() -> None:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("kind", choices=[*KINDS, "table"])
    parser.add_argument("names", nargs="*")
    parser.add_argument("--time", type=int, default=60)
    parser.add_argument("--again", action="store_true")
    parser.add_argument("--alone", action="store_true")
    arguments = parser.parse_intermixed_args()
    if arguments.kind == "table":
        print_table()
        return
    measure, names = KINDS[arguments.kind]
    for name in arguments.names or names:
        key = f"{arguments.kind} {name} {arguments.time} s"
        results = read()
        if key in results and not arguments.again:
            continue
        results[key] = measure(name, arguments.time, 0 if arguments.alone else arguments.time)
        RESULTS.parent.mkdir(parents=True, exist_ok=True)
        RESULTS.write_text(json.dumps(results, indent=1) + "\n")
        print(key, json.dumps(results[key]), flush=True)


if __name__ == "__main__":
    main()
