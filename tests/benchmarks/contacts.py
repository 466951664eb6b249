"""How the search for contacts grows: a floor with slots, an upright plate with a tab in each of them.

python tests/benchmarks/contacts.py [COUNT...]
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "python"))

import planform
from kernel_models import box, compound, cut, moved, prism

PITCH = 12.0
"""Between plates, mm."""
COLUMNS = 40


def hall(count: int) -> planform.Model:
    """``count`` plates of 3 mm with tabs of 20 mm, upright in rows on a floor of 6 mm."""
    rows = -(-count // COLUMNS)
    places = [(PITCH * (i % COLUMNS), 60.0 * (i // COLUMNS)) for i in range(count)]
    slots = [moved(box(3, 20, 6), x, y + 10, -6) for x, y in places]
    floor = cut(moved(box(PITCH * COLUMNS + 20, 60.0 * rows + 20, 6), -10, -10, -6), slots)
    outline = [(0, 0), (10, 0), (10, -6), (30, -6), (30, 0), (40, 0), (40, 30), (0, 30)]
    flat = prism(outline, 3)
    upright = planform_upright(flat)
    return planform.from_ocp(compound([floor, *(moved(upright, x, y) for x, y in places)]))


def planform_upright(flat: object) -> object:
    """The plate with its y upward and its x along y."""
    from OCP.gp import gp_Ax3, gp_Dir, gp_Pnt, gp_Trsf
    from OCP.TopLoc import TopLoc_Location

    motion = gp_Trsf()
    motion.SetTransformation(
        gp_Ax3(gp_Pnt(0, 0, 0), gp_Dir(1, 0, 0), gp_Dir(0, 1, 0)),
        gp_Ax3(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1), gp_Dir(1, 0, 0)),
    )
    return flat.Moved(TopLoc_Location(motion))  # type: ignore[attr-defined]


def main() -> None:
    """Print the times."""
    for count in [int(word) for word in sys.argv[1:]] or [100, 400, 1600]:
        model = hall(count)
        start = time.perf_counter()
        found = planform.contacts(model)
        searched = time.perf_counter()
        plates = planform.plates(model)
        counted = time.perf_counter()
        mating = planform.mating(model, plates)
        matched = time.perf_counter()
        assert mating.joints == count, mating.joints
        print(
            f"{count} plates: {len(found)} contacts in {searched - start:.2f} s; plates() takes "
            f"{counted - searched:.2f} s, mating() with its own search {matched - counted:.2f} s"
        )


if __name__ == "__main__":
    main()
