"""The long run of offsets: 500 random sets and the outlines of real parts, each judged twice.

    python -m pytest tests/python/long/long_offsets.py [-k random | -k Heatsink ...]

The first judge is ``test_offset``: sampled points of each result lie at the distance, points of a grid on
their side, by the nearest points of the exact curves; then the laws. The second is Shapely's ``buffer`` with
64 segments a quarter, within its own error. The run is in parts, one a file or ten random sets, and can be
stopped at any time: what is done stands in PLANFORM_LONG_RECORD (default .build/long/offsets) and is skipped,
until that folder is removed. Models: the Debian packages occt-misc and kicad-packages3d (``.ci/long`` fetches
the latter).
"""

from __future__ import annotations

import itertools
import math
import os
import random
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import planform
import pytest
import shapely

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from good_outlines import FILES as OCCT_FILES
from good_outlines import demo_outlines

ROOT = Path(__file__).resolve().parents[3]
RECORD = Path(os.environ.get("PLANFORM_LONG_RECORD", ROOT / ".build/long/offsets"))
PROGRAM = Path(os.environ.get("PLANFORM_TEST_OFFSET", ROOT / ".build/release/tests/test_offset"))
LIBRARY = Path(os.environ.get("PLANFORM_LONG_MODELS", "/usr/share/kicad/3dmodels"))
FOLDERS = ("Heatsink", "MountingEquipment", "Connector_Dsub", "Package_QFP")
FILES = [f for name in FOLDERS for f in sorted((LIBRARY / f"{name}.3dshapes").glob("*.step"))]
MODELS = [*OCCT_FILES, *FILES]
PLANES = (planform.Datum.xy(), planform.Datum.xz(), planform.Datum.yz())
RANDOM_SETS = 500
SETS_A_PART = 10
MOST_SOLIDS = 40
"""Of an assembly so many different solids have an outline of their own; all are in that of the whole."""

CHORD = 1e-4  # mm
QUARTER_SEGMENTS = 64


def as_shapely(profiles: planform.ProfileSet) -> shapely.Geometry:
    return shapely.union_all(
        [
            shapely.Polygon(p.outer.points(CHORD), [hole.points(CHORD) for hole in p.holes])
            for p in profiles
        ]
    )


def distance_agrees(
    before: shapely.Geometry, d: float, mine: shapely.Geometry, part: shapely.Geometry
) -> bool:
    """Where a buffer differs, Shapely's own distance decides: buffers simplify what they are given (by up to
    a hundredth of the distance a vertex, GEOS' default) and may reach beyond their distance."""
    place = part.representative_point()
    if d > 0:
        expected = before.distance(place) < d
    else:
        expected = before.contains(place) and before.boundary.distance(place) > -d
    return bool(mine.contains(place)) == expected


def agrees_with_buffers(name: str, profiles: planform.ProfileSet) -> None:
    """Both signs, a distance from 0.001 mm to half of the size."""
    generator = random.Random(name)
    size = float((profiles.bounds[1] - profiles.bounds[0]).max())
    distance = 0.001 * math.exp(generator.random() * math.log(0.5 * size / 0.001))
    before = as_shapely(profiles)
    for d in (distance, -min(distance, 0.1 * size)):
        mine = as_shapely(profiles.offset(d))
        theirs = before.buffer(d, quad_segs=QUARTER_SEGMENTS)
        # Chords of a round lie within it by d (1 - cos(pi / (4 * 64))).
        rounds = abs(d) * (1 - math.cos(math.pi / (4 * QUARTER_SEGMENTS)))
        bound = (0.1 * profiles.tolerance + 3 * CHORD + rounds) * (profiles.length + theirs.length)
        unlike = shapely.get_parts(mine.symmetric_difference(theirs))
        contradicted = [part for part in unlike if not distance_agrees(before, d, mine, part)]
        assert sum(part.area for part in contradicted) <= bound, (name, d)


def judged(environment: dict[str, str], *cases: str) -> str:
    """Runs test cases of the C++ judge; gives the lines with its figures."""
    done = subprocess.run(
        [PROGRAM, f"-tc={','.join(cases)}"],
        env=os.environ | environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout[-8000:] + done.stderr[-2000:]
    return "\n".join(re.findall(r"worst of .*|\[doctest\] assertions.*", done.stdout))


def once(name: str) -> Path:
    """The folder of a part; skips what is done."""
    folder = RECORD / name
    if (folder / "done").exists():
        pytest.skip("done before")
    folder.mkdir(parents=True, exist_ok=True)
    return folder


def finish(folder: Path, figures: str) -> None:
    for file in folder.glob("*.json"):
        file.unlink()
    (folder / "done").write_text(figures + "\n", encoding="utf-8")


@pytest.mark.parametrize("first", range(1, RANDOM_SETS + 1, SETS_A_PART))
def test_random_sets(first: int) -> None:
    last = first + SETS_A_PART - 1
    folder = once(f"random-{first:03}")
    figures = judged(
        {"PLANFORM_SEEDS": f"{first}-{last}", "PLANFORM_SETS_TO": str(folder)},
        "random sets*",
        "offsets*",
        "opening*",
        "the offset of a union*",
    )
    files = sorted(folder.glob("*.json"))
    assert len(files) == SETS_A_PART
    for file in files:
        agrees_with_buffers(file.stem, planform.ProfileSet.from_json(file.read_text()))
    finish(folder, figures)


def outlines_of(path: Path) -> Iterator[planform.ProfileSet]:
    """Of the whole model and of its different solids; what is refused is for other tests."""
    try:
        model = planform.load(path)
    except planform.LoadError:
        return
    for plane in PLANES:
        try:
            yield planform.silhouette(model, plane)
        except planform.GeometryError:
            continue
    different = {solid.shape_index: solid for solid in model.solids}
    if len(model.solids) == 1:
        return
    for solid in itertools.islice(different.values(), MOST_SOLIDS):
        try:
            yield planform.silhouette(solid, planform.auto_datum(solid))
        except planform.GeometryError:
            continue


def judge_outlines(folder: Path, outlines: Iterator[planform.ProfileSet]) -> None:
    seen = set()
    for profiles in outlines:
        digest = profiles.digest
        if not profiles.profiles or digest in seen:
            continue
        seen.add(digest)
        file = folder / f"{len(seen):03}.json"
        file.write_text(profiles.to_json(), encoding="utf-8")
    if not seen:
        finish(folder, "no outline")
        return
    figures = judged({"PLANFORM_OUTLINES": str(folder)}, "outlines of real parts*")
    for file in sorted(folder.glob("*.json")):
        agrees_with_buffers(
            f"{folder.name}/{file.stem}", planform.ProfileSet.from_json(file.read_text())
        )
    finish(folder, f"{len(seen)} outlines\n{figures}")


@pytest.mark.parametrize("path", MODELS, ids=lambda path: f"{path.parent.name}-{path.name}")
def test_models(path: Path) -> None:
    folder = once(f"{path.parent.name}-{path.name}")
    judge_outlines(folder, outlines_of(path))


def test_demo(tmp_path: Path) -> None:
    folder = once("demo")
    judge_outlines(folder, demo_outlines(tmp_path))
