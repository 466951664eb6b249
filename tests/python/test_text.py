"""Text on plates: cut through, raised, sunk. The letters are made with the kernel's own font builder, their
insides counted in the font's specimen; Shapely judges what hangs together."""

from __future__ import annotations

from pathlib import Path

import numpy
import planform
import pytest
import shapely
from kernel_models import box, cut, moved, write_step
from planform import Datum, GeometryError, ProfileSet
from text_models import COUNTERS, LETTERS, letter, plate, row

WIDTH = 1.2
THICKNESS = 3.0


@pytest.fixture(scope="module")
def letters(tmp_path_factory: pytest.TempPathFactory) -> list[planform.Solid]:
    """All digits and capitals as named solids, read from a STEP file."""
    path = tmp_path_factory.mktemp("text") / "letters.step"
    return list(planform.load(write_step(row(LETTERS, 0.0, THICKNESS), path)).solids)


@pytest.fixture(scope="module")
def sign(letters: list[planform.Solid]) -> ProfileSet:
    """The letters cut through a plate by the boolean of profile sets."""
    blank = planform.from_ocp(plate(LETTERS, THICKNESS)).solids[0]
    outline = planform.silhouette(blank, Datum.xy())
    return outline - planform.silhouette(letters, Datum.xy(), merge="keep")


def test_closed_strokes_keep_their_splines(letters: list[planform.Solid]) -> None:
    text = planform.silhouette(letters, Datum.xy(), merge="keep")
    kinds = {type(c).__name__ for profile in text for c in profile.outer.curves}
    assert kinds <= {"Line", "Spline"}
    nought = next(profile for profile in text if profile.name == "0")
    assert sum(type(c).__name__ == "Spline" for c in nought.outer.curves) >= 4
    # A spline of the font comes back as it is: degree 2, three poles.
    assert all(len(c.poles) == 3 for c in nought.outer.curves if isinstance(c, planform.Spline))


def test_insides_that_fall_out_are_islands_with_the_name_of_their_letter(sign: ProfileSet) -> None:
    found: dict[str, int] = {}
    for island in sign.islands:
        assert sign.profiles[island.parent].area == max(p.area for p in sign)
        found[island.name] = found.get(island.name, 0) + 1
    assert found == COUNTERS


def test_insides_of_letters_cut_out_are_drop_outs_with_their_name(
    letters: list[planform.Solid],
) -> None:
    pieces = planform.silhouette(letters, Datum.xy(), merge="keep").drop_outs()
    names = [piece.name for piece in pieces]
    assert {name: names.count(name) for name in names} == COUNTERS


@pytest.mark.parametrize(
    ("width", "count"), [(WIDTH, 1), (WIDTH, 2), (WIDTH, 3), (0.5, 3), (2.4, 1), (2.0, 2)]
)
def test_bridges_hold_all_digits_and_capitals(sign: ProfileSet, width: float, count: int) -> None:
    held = planform.bridges(sign, width, count)
    assert not held.islands
    assert len(held.profiles) == len(sign.profiles) - sum(COUNTERS.values())
    added = held - sign
    assert len(added.profiles) == count * sum(COUNTERS.values())
    assert held.area - sign.area == pytest.approx(added.area, abs=1e-9 * held.area)
    assert not (sign - held).profiles
    assert held.to_shapely(0.001).is_valid

    for patch in added:
        assert side_distance(patch, width) == pytest.approx(width, rel=1e-9)
        assert is_as_wide(sign, ProfileSet([patch]), width)
    # Each island by itself has as many as were asked for.
    for island in sign.islands:
        near = island.outer.bounds
        touching = [p for p in added if boxes_touch(p.bounds, near)]
        assert len(touching) >= count
    # The names and places of all other letters stay.
    letters_without = [p for p in sign if p.parent < 0]
    assert len(letters_without) == len(held.profiles)


def boxes_touch(first: numpy.ndarray, second: numpy.ndarray) -> bool:
    return bool(numpy.all(first[0] <= second[1] + 1e-6) and numpy.all(second[0] <= first[1] + 1e-6))


def side_distance(patch: planform.Profile, width: float) -> float:
    """Between the two straight sides of a bridge: of all parallel pairs, the one nearest to the width, mm."""
    lines = [c for c in patch.outer.curves if isinstance(c, planform.Line)]
    distances = []
    for i, one in enumerate(lines):
        start, end = numpy.array(one.start), numpy.array(one.end)
        along = (end - start) / numpy.linalg.norm(end - start)
        for other in lines[i + 1 :]:
            ends = numpy.array([other.start, other.end]) - start
            across = along[0] * ends[:, 1] - along[1] * ends[:, 0]
            if abs(across[0] - across[1]) <= 1e-9 * numpy.linalg.norm(ends[0] - ends[1]):
                distances.append(abs(across.mean()))
    return min(distances, key=lambda distance: abs(distance - width))


def is_as_wide(sign: ProfileSet, patch: ProfileSet, width: float) -> bool:
    """Measured by Shapely: shrunk by a little less than half of the width the bridge holds the island to the
    plate, by a little more it does not."""
    near = shapely.box(*patch.bounds.ravel())
    loose, held = (
        profiles.to_shapely(1e-4) & near.buffer(10.0) for profiles in (sign, sign | patch)
    )
    strip = patch.to_shapely(1e-4)
    touched = [part for part in shapely.get_parts(loose) if part.distance(strip) < 0.01]
    assert len(touched) == 2

    def hangs_together(share: float) -> bool:
        depth = 0.5 * width * share
        cores = [max(shapely.get_parts(part.buffer(-depth)), key=shapely.area) for part in touched]
        pieces = shapely.get_parts(held.buffer(-depth))
        return any(all(piece.intersects(core) for core in cores) for piece in pieces)

    return hangs_together(1 - 2e-3) and not hangs_together(1 + 2e-3)


@pytest.fixture(scope="module")
def blank() -> planform.Solid:
    """A plate for the letters, with two holes to hang it up."""
    body = plate(LETTERS, THICKNESS)
    holes = [moved(box(4.0, 4.0, 20.0), x, 1.0, -5.0) for x in (30.0, 200.0)]
    return planform.from_ocp(cut(body, holes)).solids[0]


@pytest.mark.parametrize(
    ("what", "bottom", "height"),
    [("raised", THICKNESS, 1.0), ("sunk", 1.0, THICKNESS - 1.0), ("sunk below", 0.5, 1.0)],
)
def test_every_letter_on_a_plate_is_a_mark_with_its_name(
    blank: planform.Solid, tmp_path: Path, what: str, bottom: float, height: float
) -> None:
    text = planform.load(write_step(row(LETTERS, bottom, height), tmp_path / "text.step")).solids
    alone = planform.silhouette(blank, Datum.xy())
    kept = planform.silhouette([*text, blank], Datum.xy(), merge="keep")
    assert ProfileSet(kept.profiles) == alone
    names = [mark.name for mark in kept.marks]
    assert {name: names.count(name) for name in names} == {
        character: 1 + COUNTERS.get(character, 0) for character in LETTERS
    }
    assert not kept.notes
    letters_alone = planform.silhouette(text, Datum.xy(), merge="keep")
    contours = [c for p in letters_alone for c in (p.outer, *p.holes)]
    assert sum(m.contour.length for m in kept.marks) == pytest.approx(
        sum(c.length for c in contours), rel=1e-9
    )
    assert planform.silhouette([blank, *text], Datum.xy()) == alone


def test_letters_cut_through_by_the_kernel_leave_their_insides_as_loose_bodies(
    blank: planform.Solid,
) -> None:
    bodies = cut(
        plate("0B8", THICKNESS),
        [letter(c, 6.0 + 32.0 * i, 6.0, -1.0, THICKNESS + 2.0) for i, c in enumerate("0B8")],
    )
    solids = planform.from_ocp(bodies).solids
    assert len(solids) == 6
    for merge in ("union", "keep"):
        profiles = planform.silhouette(solids, Datum.xy(), merge=merge)
        assert len(profiles) == 6 and len(profiles.islands) == 5
        assert {p.name for p in profiles} == {solid.name for solid in solids}
        assert not planform.bridges(profiles, WIDTH).islands


@pytest.mark.parametrize(("width", "count"), [(WIDTH, 2), (2.0, 1), (0.5, 3)])
def test_letters_cut_out_are_held_to_the_sheet(
    letters: list[planform.Solid], width: float, count: int
) -> None:
    text = planform.silhouette(letters, Datum.xy(), merge="keep")
    held = planform.bridges(text, width, count, hold="drop-outs")
    assert not held.drop_outs()
    taken = text - held
    assert len(taken.profiles) == count * sum(COUNTERS.values())
    for strip in taken:
        assert side_distance(strip, width) == pytest.approx(width, rel=1e-9)
    assert text.area - held.area == pytest.approx(taken.area, abs=1e-9 * text.area)
    assert {p.name for p in held} == set(LETTERS)


def test_where_there_is_no_room_the_letter_is_named(sign: ProfileSet) -> None:
    with pytest.raises(GeometryError, match=r'the piece "[0-9A-Z]" about') as caught:
        planform.bridges(sign, 25.0)
    assert caught.value.kind == "bridge_not_placed"
    with pytest.raises(GeometryError, match="'islands', 'drop-outs'"):
        planform.bridges(sign, 1.0, hold="letters")


def test_text_is_that_of_the_font() -> None:
    """Judge: matplotlib's own reading of the same font file; area by even-odd of its polygons."""
    import matplotlib
    import shapely
    from matplotlib.font_manager import FontProperties
    from matplotlib.textpath import TextPath

    font = Path(matplotlib.get_data_path()) / "fonts" / "ttf" / "DejaVuSans.ttf"
    outline = planform.text("A8g", height=20.0, font=font)
    assert outline == planform.text("A8g", height=20.0)
    assert sum(len(profile.holes) for profile in outline.profiles) == 4
    assert outline.name == "A8g" and [p.name for p in outline.profiles] == list("A8g")
    assert outline.bounds[1][1] == pytest.approx(20.0 * 1519 / 1493, abs=0.2)  # 8 overshoots
    capital = TextPath((0, 0), "H", size=100, prop=FontProperties(fname=str(font)))
    size = 100 * 20.0 / capital.get_extents().height
    path = TextPath((0, 0), "A8g", size=size, prop=FontProperties(fname=str(font)))
    judged = shapely.Polygon()
    for polygon in path.to_polygons():
        if len(polygon) > 3:
            judged = judged.symmetric_difference(shapely.Polygon(polygon).buffer(0))
    # Its kerning moves letters; the area stays. Its curves are chords: 1%.
    assert outline.area == pytest.approx(judged.area, rel=0.01)


def test_single_strokes_are_open_marks_of_the_asked_height() -> None:
    outline = planform.text("E7", height=5.0, single_stroke=True)
    assert not outline.profiles and all(not mark.is_closed for mark in outline.marks)
    low, high = outline.bounds
    assert (low[1], high[1]) == (0.0, 5.0)
    with pytest.raises(planform.GeometryError, match="no single-stroke letter for '前'"):
        planform.text("前", height=5.0, single_stroke=True)
    with pytest.raises(planform.GeometryError, match="is no font that can be read"):
        planform.text("A", height=5.0, font=__file__)
