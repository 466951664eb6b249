"""Which side lies up and which way round, marks, islands, labels: drawings as a maker expects them, as
coordinates (`side_up_models`), from every command and from Python."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path

import kernel_models as kernel
import numpy as np
import planform
import pytest
from planform.batch.models import Batch
from planform.batch.settings import Settings
from planform.cli import main
from planform.finishing import Finishing, finished
from planform.lettering.strokes import strokes_of
from side_up_models import CORNERS, HEIGHT, HOLE, Expected, bar, expected, rod

CASES = list(expected())
NEAR = 1e-9


def test_there_are_sixty_models() -> None:
    assert len(CASES) == len({case.name for case in CASES}) == 60
    assert sum(case.turned for case in CASES) == 18  # a table of one side alone would prove less


def drawn(shape: object) -> tuple[planform.Solid, planform.ProfileSet]:
    (solid,) = planform.from_ocp(shape).solids
    outline = planform.silhouette(solid, planform.auto_datum(solid))
    return solid, outline


def corners_of(curves: list[planform.Curve]) -> list[tuple[float, float]]:
    return [tuple(curve.point_at(0.0)) for curve in curves]


def same_points(found: object, wanted: object) -> bool:
    """The same points, whatever their order."""
    a, b = (np.array(sorted(np.round(np.asarray(p, float), 7).tolist())) for p in (found, wanted))
    return a.shape == b.shape and bool(np.all(np.abs(a - b) < 1e-6))


def circle_of(contour: planform.Contour) -> tuple[float, float, float]:
    assert contour.is_circle
    arc = contour.curves[0]
    return (arc.center[0], arc.center[1], 2 * arc.radius)


def check_cut(outline: planform.ProfileSet, case: Expected) -> None:
    (profile,) = outline.profiles
    assert same_points(corners_of(profile.outer.curves), case.corners), case.name
    assert same_points([circle_of(hole) for hole in profile.holes], case.holes), case.name


def check_marks(found: list[planform.Mark], case: Expected) -> None:
    circles, closed, opened = [], [], []
    for mark in found:
        if not mark.is_closed:
            opened.append((mark, mark.depth))
        elif mark.contour.is_circle:
            circles.append((*circle_of(mark.contour), mark.depth))
        else:
            closed.append((mark, mark.depth))
    wanted = case.marks
    assert same_points(circles, [(*c, depth) for c, depth in wanted.circles]), case.name
    assert len(closed) == len(wanted.closed) and len(opened) == len(wanted.open), case.name
    for (mark, depth), (chain, wanted_depth) in zip(closed, wanted.closed, strict=True):
        assert same_points(corners_of(mark.curves), chain), case.name
        assert depth == pytest.approx(wanted_depth, abs=1e-9)
    ends = sorted(sorted(map(tuple, ends_of(mark))) for mark, _ in opened)
    assert same_points(np.reshape(ends, (-1, 4)), ends_wanted(wanted.open)), case.name
    for mark, depth in opened:
        assert mark.length == pytest.approx(math.dist(*ends_of(mark)), rel=1e-9)
        assert depth == pytest.approx(wanted.open[0][1], abs=1e-9)


def ends_of(mark: planform.Mark) -> tuple[tuple[float, float], tuple[float, float]]:
    points = mark.points(0.01)
    return tuple(points[0]), tuple(points[-1])


def ends_wanted(chains: object) -> np.ndarray:
    return np.reshape(sorted(sorted(chain) for chain, _ in chains), (-1, 4))


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_python_draws_what_is_expected(case: Expected) -> None:
    solid, outline = drawn(case.shape)
    check_cut(outline, case)
    side = planform.side_up(solid)
    assert side.is_worked_from_both_sides == case.both_sides
    check_marks(planform.feature_marks(solid, side.datum), case)
    (plate,) = planform.plates(solid).plates
    check_cut(plate.outline, case)
    check_marks(plate.outline.marks, case)
    assert plate.side.text == side.text
    # What lies up is the top in every report.
    sides = {feature.side for feature in plate.cut.features}
    features = planform.straight_cut(solid, side.datum).features
    assert sides == {feature.side for feature in features} <= {"top", "bottom"}
    assert ("top" in sides) == bool(sides) and ("bottom" in sides) == case.both_sides
    assert any("turned over" in note for note in plate.notes) == case.both_sides


def test_every_command_draws_what_is_expected(tmp_path: Path) -> None:
    """flatten and batch on all sixty, each a model of its own; the cut list on every seventh."""
    parts = [(f"part {number:02}", case.shape) for number, case in enumerate(CASES)]
    for name, shape in parts:
        (tmp_path / "models").mkdir(exist_ok=True)
        kernel.write_step([(name, shape)], tmp_path / "models" / f"{name}.step")
    files = [str(path) for path in sorted((tmp_path / "models").iterdir())]
    assert main(["flatten", *files, "--out", str(tmp_path / "flat"), "--formats", "json"]) == 0
    models, out = str(tmp_path / "models"), str(tmp_path / "batch")
    assert main(["batch", models, "--out", out, "--formats", "json", "--workers", "1"]) == 0
    for (name, _), case in zip(parts, CASES, strict=True):
        stem = name.replace(" ", "_")
        for folder in (tmp_path / "flat", tmp_path / "batch"):
            (path,) = [p for p in folder.rglob(f"{stem}.json") if ".outlines" not in p.parts]
            outline = planform.ProfileSet.from_json(path)
            check_cut(outline, case)
            check_marks(outline.marks, case)
            assert any("turned over" in note for note in outline.notes) == case.both_sides
    for number in range(0, 60, 7):
        model = planform.load(files[number])
        (entry,) = planform.CutList.from_model(model).entries
        check_cut(entry.way, CASES[number])
        check_marks(entry.way.marks, CASES[number])


def test_inspect_says_top_where_plates_does(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    case = next(case for case in CASES if case.name == "countersink above, drawn from behind")
    path = kernel.write_step([("hanger", case.shape)], tmp_path / "hanger.step")
    assert main(["inspect", str(path)]) == 1
    told = capsys.readouterr().out
    (plate,) = planform.plates(planform.load(path)).plates
    (feature,) = plate.cut.features
    assert feature.side == "top" and "top" in feature.text
    assert " ".join(feature.text.split()[:4]).lower() in " ".join(told.split()).lower()


def test_the_way_round_is_that_of_the_part() -> None:
    """Turned by 30 degrees in its frame, a plate is drawn so: a fixed rule, no best fit."""
    flat = kernel.cut(kernel.prism(CORNERS, 6.0), [rod(*HOLE, -1, 7)])
    _, outline = drawn(kernel.turned(flat, (0, 0, 1), math.pi / 6))
    turn = np.array([[math.cos(math.pi / 6), -0.5], [0.5, math.cos(math.pi / 6)]])
    wanted = np.array(CORNERS) @ turn.T
    low = wanted.min(axis=0)
    assert same_points(corners_of(outline.profiles[0].outer.curves), wanted - low)
    hole = circle_of(outline.profiles[0].holes[0])
    assert hole == pytest.approx((*(turn @ np.array(HOLE[:2]) - low), HOLE[2]), abs=1e-9)


def test_leaning_plates_are_seen_from_above_with_x_along_x() -> None:
    """A roof's plate, leaning about x: its own lengths, x as it is; about y: x up the slope."""
    flat = kernel.cut(kernel.prism(CORNERS, 6.0), [rod(*HOLE, -1, 7)])
    for axis in ((1, 0, 0), (0, 1, 0)):
        _, outline = drawn(kernel.turned(flat, axis, math.radians(40)))
        assert same_points(corners_of(outline.profiles[0].outer.curves), CORNERS)
        assert circle_of(outline.profiles[0].holes[0]) == pytest.approx(HOLE, abs=1e-9)
    # Leaning by 120 degrees the top view shows what was the bottom.
    _, outline = drawn(kernel.turned(flat, (1, 0, 0), math.radians(120)))
    x, y, d = HOLE
    assert circle_of(outline.profiles[0].holes[0]) == pytest.approx((x, HEIGHT - y, d), abs=1e-9)


def test_a_clock_keeps_its_twelve_on_top() -> None:
    """A round face with a hole at one and a mark at twelve; its hand of 79 mm is drawn 79 mm long."""
    twelve, one = (0.0, 80.0), (80 * math.sin(math.pi / 6), 80 * math.cos(math.pi / 6))
    face = kernel.cut(kernel.cylinder(100, 4), [rod(*twelve, 6, -1, 5), rod(*one, 4, -1, 5)])
    _, outline = drawn(face)
    holes = [circle_of(hole) for hole in outline.profiles[0].holes]
    assert same_points(holes, [(100, 180, 6), (100 + one[0], 100 + one[1], 4)])
    hand = kernel.moved(kernel.prism([(0, 0), (79, 1), (79, 3), (0, 8)], 2.0), 20, -4)
    _, outline = drawn(hand)
    assert (outline.bounds[1] - outline.bounds[0]).tolist() == pytest.approx([79, 8], abs=1e-9)


def test_the_smallest_rectangle_is_an_option() -> None:
    flat = kernel.cut(kernel.prism(CORNERS, 6.0), [rod(*HOLE, -1, 7)])
    solid, outline = drawn(kernel.turned(flat, (0, 0, 1), math.radians(-25)))
    assert outline.bounds[1].tolist() != pytest.approx([100, 60])
    small = finished(outline, Finishing(turn="smallest"), name="", number=1, quantity=1)
    assert small.bounds.ravel().tolist() == pytest.approx([0, 0, 100, 60], abs=1e-9)
    assert same_points(corners_of(small.profiles[0].outer.curves), CORNERS)
    # Every point keeps its place in the model: the datum has turned along.
    assert planform.silhouette(solid, small.datum) == small
    disc = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((3, 2), 5)]))])
    assert disc.turned_to_smallest_rectangle() == disc


def test_marks_of_the_other_side_both_or_none() -> None:
    case = next(case for case in CASES if case.name == "pockets on both sides, drawn from above")
    (solid,) = planform.from_ocp(case.shape).solids
    datum = planform.auto_datum(solid)
    up, down, both, none = (
        planform.feature_marks(solid, datum, sides) for sides in ("up", "down", "both", "none")
    )
    assert len(up) == len(down) == 1 and len(both) == 2 and none == []
    # Seen through the plate, where it is on the drawing: the round pocket of 12 mm at (30, 15).
    assert circle_of(down[0].contour) == pytest.approx((30, 15, 12), abs=1e-9)
    assert (down[0].name, down[0].depth) == ("blind pocket, below", pytest.approx(2.0))
    with pytest.raises(planform.GeometryError, match="valid: 'up', 'down', 'both', 'none'"):
        planform.feature_marks(solid, datum, "left")


def test_a_chamfer_turns_the_plate_and_leaves_no_mark() -> None:
    from OCP.BRepAdaptor import BRepAdaptor_Curve
    from OCP.BRepFilletAPI import BRepFilletAPI_MakeChamfer
    from OCP.TopAbs import TopAbs_EDGE
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    plate = kernel.cut(kernel.prism(CORNERS, 6.0), [rod(*HOLE, -1, 7)])
    chamfer = BRepFilletAPI_MakeChamfer(plate)
    edges = TopExp_Explorer(plate, TopAbs_EDGE)
    while edges.More():
        edge = TopoDS.Edge(edges.Current())
        curve = BRepAdaptor_Curve(edge)
        ends = [curve.Value(curve.FirstParameter()), curve.Value(curve.LastParameter())]
        if all(abs(end.Z()) < 1e-9 and abs(end.Y()) < 1e-9 for end in ends):
            chamfer.Add(1.0, edge)
            break
        edges.Next()
    (solid,) = planform.from_ocp(chamfer.Shape()).solids
    side = planform.side_up(solid)
    assert side.features_up and not side.features_down and "features" in side.text
    assert side.datum.normal.tolist() == pytest.approx([0, 0, -1])
    assert planform.feature_marks(solid, side.datum) == []


SHAPES: dict[str, Callable[[], object]] = {
    # A closed ring of walls, which has no blank.
    "bent sheet": lambda: kernel.cut(
        kernel.box(50, 40, 90), [kernel.moved(kernel.box(46, 36, 99), 2, 2, -1)]
    ),
    "turned part": lambda: kernel.fuse(
        kernel.cylinder(4, 40), kernel.moved(kernel.cylinder(8, 6), 0, 0, 40)
    ),
    "block": lambda: kernel.box(40, 30, 25),
}


@pytest.mark.parametrize("word", SHAPES)
def test_what_is_no_plate_is_said_by_all(
    word: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = kernel.write_step([("bracket", SHAPES[word]())], tmp_path / "bracket.step")
    (other,) = planform.plates(planform.load(path)).others
    assert other.word == word
    out = str(tmp_path / "out")
    assert main(["flatten", str(path), "--out", out, "--report"]) == 0
    told = capsys.readouterr()
    assert f"warning: bracket: not_flat: no plate but {word}" in told.err
    assert word in told.out  # a column of the summary
    assert word in (tmp_path / "out" / "report.html").read_text(encoding="utf-8")
    assert main(["flatten", str(path), "--out", out, "--strict"]) == 1
    assert main(["plates", str(path), "--out", out]) == 1
    assert f"no plate: bracket (1): {word}" in capsys.readouterr().out
    assert main(["inspect", str(path)]) == 1
    found = " ".join(capsys.readouterr().out.split())
    assert "not_flat" in found and word in found
    # Rules about a sheet's thickness say nothing of it, nor does what a straight cut leaves.
    assert "straight_cut" not in found and "inner_width" not in found
    models, batch = str(tmp_path / "bracket.step"), str(tmp_path / "batch")
    assert main(["batch", models, "--out", batch, "--workers", "1"]) == 0
    (result,) = planform.flatten_all([path], out=tmp_path / "again", workers=1).results
    assert any(f"not_flat: no plate but {word}" in note for note in result.notes)


def test_a_plate_passes_strict_and_has_its_verdict(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = kernel.write_step([("tray", kernel.prism(CORNERS, 6.0))], tmp_path / "tray.step")
    assert main(["flatten", str(path), "--out", str(tmp_path / "o"), "--strict"]) == 0
    told = capsys.readouterr()
    assert " plate" in told.out and "warning" not in told.err


def test_copies_that_are_no_instances_are_drawn_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Five equal bodies, each with its own geometry, moved and turned: one drawing, as in the cut list."""
    body = kernel.cut(kernel.prism(CORNERS, 6.0), [rod(*HOLE, -1, 7)])
    copies = [
        kernel.moved(kernel.turned(body, (1, 2, 3), 0.7 * i), 40 * i, -30 * i, 200 * i)
        for i in range(5)
    ]
    for name, parts in {
        "parts": [(f"rail {i}", copy) for i, copy in enumerate(copies)],
        "bodies": [("rails", kernel.compound(copies))],
        "beside": [("rails", kernel.compound([kernel.moved(body, 0, 80 * i) for i in range(5)]))],
    }.items():
        path = kernel.write_step(parts, tmp_path / f"{name}.step")
        (plate,) = planform.plates(planform.load(path)).plates
        assert plate.quantity == 5
        (model,) = Batch([path], Settings()).result.models
        (drawing,) = model.drawings
        assert drawing.quantity == 5 and len(drawing.instances) == 5
        assert drawing.turned_over == sum(i.turned_over for i in plate.instances)
        assert main(["flatten", str(path), "--out", str(tmp_path / name)]) == 0
        assert "1 drawing of 5 solids" in capsys.readouterr().out


def test_mirror_images_are_one_drawing_but_for_stock_with_a_good_side(tmp_path: Path) -> None:
    body = kernel.cut(kernel.prism(CORNERS, 6.0), [rod(*HOLE, -1, 7)])
    left = kernel.prism([(100 - x, y) for x, y in reversed(CORNERS)], 6.0)
    left = kernel.cut(left, [rod(100 - HOLE[0], HOLE[1], HOLE[2], -1, 7)])
    path = kernel.write_step([("right", body), ("left", left)], tmp_path / "pair.step")
    model = planform.load(path)
    (plate,) = planform.plates(model).plates
    assert [i.turned_over for i in plate.instances] == [False, True]
    assert len(planform.plates(model, one_sided=True).plates) == 2
    (both,) = Batch([path], Settings()).result.drawings
    assert (both.quantity, both.turned_over) == (2, 1)
    apart = Batch([path], Settings(one_sided=True)).result.drawings
    assert [(drawing.name, drawing.quantity) for drawing in apart] == [("right", 1), ("left", 1)]
    assert main(["plates", str(path), "--out", str(tmp_path / "p"), "--one-sided"]) == 0
    assert (tmp_path / "p" / "left.dxf").exists()


def windowed(size: float, window: float) -> object:
    """A plate with a square window and a square in it, loose by 3 mm all round, as bodies of one part."""
    low, high = (size - window) / 2, (size + window) / 2
    plate = kernel.cut(kernel.box(size, size, 3), [bar(low, low, high, high, -1, 4)])
    inside = bar(low + 3, low + 3, high - 3, high - 3, 0, 3)
    return kernel.compound([plate, inside])


def test_islands_are_warned_of_and_held(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = kernel.write_step([("number", windowed(60, 20))], tmp_path / "number.step")
    for command in ("flatten", "plates"):
        out = str(tmp_path / command)
        assert main([command, str(path), "--out", out]) == 0
        told = capsys.readouterr()
        assert "warning: number: island: 1 piece of material lies loose" in told.err
        held = ["--bridges", "1.5", "--bridge-count", "3", "--bridge-hold", "islands"]
        assert main([command, str(path), "--out", out, *held]) == 0
        told = capsys.readouterr()
        assert "island:" not in told.err and "held" in told.out
    assert main(["inspect", str(path)]) == 1
    assert "island" in capsys.readouterr().out
    # 3 bridges of 1.5 mm across gaps of 3 mm, by hand.
    (drawing,) = run(path, Settings(bridges=1.5, bridge_count=3), tmp_path)
    assert drawing.held == 1
    wanted = 60**2 - 20**2 + 14**2 + 3 * 1.5 * 3
    assert drawing.profiles.area == pytest.approx(wanted, rel=1e-9)
    batch = ["batch", str(path), "--out", str(tmp_path / "b"), "--workers", "1"]
    assert main([*batch, "--bridges", "1.5", "--formats", "json"]) == 0
    (json,) = [p for p in (tmp_path / "b").rglob("number.json") if ".outlines" not in p.parts]
    assert not planform.ProfileSet.from_json(json).islands


def test_fewer_bridges_where_there_is_room_for_fewer(tmp_path: Path) -> None:
    """An island of 5 mm has no room for eight bridges of 1.5 mm: it gets fewer, with a note, and is drawn."""
    path = kernel.write_step([("eye", windowed(40, 11))], tmp_path / "eye.step")
    (drawing,) = run(path, Settings(bridges=1.5, bridge_count=8), tmp_path)
    assert drawing.outcome == "drawn" and not drawing.profiles.islands
    (note,) = [note for note in drawing.profiles.notes if "no room for 8" in note]
    count = int(note.split("is held by ")[1].split()[0])
    assert 1 <= count < 8
    wanted = 40**2 - 11**2 + 5**2 + count * 1.5 * 3
    assert drawing.profiles.area == pytest.approx(wanted, rel=1e-9)


def run(path: Path, settings: Settings, folder: Path) -> list[planform.batch.drawing.Drawing]:
    batch = Batch([path], settings)
    (folder / "run").mkdir(exist_ok=True)
    list(batch.run(folder / "run"))
    assert not batch.result.errors
    return batch.result.drawings


def test_the_demos_house_number_is_warned_of(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = planform.write_demo_assembly(tmp_path / "station.step")
    assert main(["inspect", str(path)]) == 1
    lines = [line for line in capsys.readouterr().out.splitlines() if " island " in line]
    assert len(lines) == 5 and all("warning" in line for line in lines)


def material_of(outline: planform.ProfileSet) -> object:
    return outline.to_shapely(1e-3)


@pytest.mark.parametrize("case", CASES[::6], ids=lambda case: case.name)
def test_labels_lie_in_the_material(case: Expected) -> None:
    """Judge: Shapely. Readable: the strokes are those of the text, moved and at most turned upright, never
    mirrored."""
    import shapely

    _, outline = drawn(case.shape)
    wanted = Finishing(labels=("name", "quantity"))
    labelled = finished(outline, wanted, name="R7", number=3, quantity=4)
    strokes = [mark for mark in labelled.marks if mark.name == "label"]
    written, _ = strokes_of("R7 x4", 1.0)
    assert len(strokes) == len(written) > 5
    drawn_points = np.concatenate([mark.points(0.01) for mark in strokes])
    text_points = np.concatenate([np.array(stroke) for stroke in written])
    fit, *_ = np.linalg.lstsq(
        np.column_stack([text_points, np.ones(len(text_points))]), drawn_points, rcond=None
    )
    scale = math.sqrt(abs(np.linalg.det(fit[:2])))
    assert np.linalg.det(fit[:2]) > 0 and 2.0 - 1e-9 <= scale <= 10.0 + 1e-9
    for mark in strokes:
        line = shapely.LineString(mark.points(0.01))
        assert material_of(labelled).buffer(-0.9).contains(line)


def test_a_label_that_has_no_room_is_said() -> None:
    small = planform.ProfileSet([planform.Profile(planform.Contour([planform.Arc((0, 0), 3)]))])
    wanted = Finishing(labels=("name",))
    labelled = finished(small, wanted, name="left gable", number=1, quantity=1)
    assert not labelled.marks and "no room for the label 'left gable'" in labelled.notes[0]
    foreign = finished(small, wanted, name="前板", number=1, quantity=1)
    assert not foreign.marks and "no single-stroke letters" in foreign.notes[0]


def test_labels_from_the_command_line_reach_the_files(tmp_path: Path) -> None:
    import ezdxf

    path = kernel.write_step([("tray", kernel.prism(CORNERS, 6.0))], tmp_path / "tray.step")
    for command, out in (("flatten", "f"), ("plates", "p")):
        words = ["--labels", "name,quantity", "--out", str(tmp_path / out)]
        assert main([command, str(path), *words]) == 0
        drawing = ezdxf.readfile(tmp_path / out / "tray.dxf")
        marks = drawing.modelspace().query('LWPOLYLINE[layer=="MARK"]')
        assert len(marks) == len(strokes_of("tray x1", 1.0)[0])
        assert not any(mark.closed for mark in marks)
    with pytest.raises(planform.GeometryError, match="valid: name, number, quantity"):
        Settings(labels=("colour",))


def test_at_top_says_in_the_summary_what_it_left_out(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    case = next(case for case in CASES if case.name == "groove above, drawn from above")
    path = kernel.write_step([("shelf", case.shape)], tmp_path / "shelf.step")
    assert main(["flatten", str(path), "--out", str(tmp_path / "o"), "--at", "top"]) == 0
    told = capsys.readouterr().out
    assert "left out" in told and "--at top of 1 feature" in told
    assert main(["flatten", str(path), "--out", str(tmp_path / "o")]) == 0
    assert "2 (2 mm deep)" in capsys.readouterr().out


def test_open_marks_and_depths_go_round_json() -> None:
    mark = planform.Mark.open(
        [planform.Line((0, 0), (10, 0)), planform.Arc((10, 5), 5, -math.pi / 2, math.pi / 2)],
        "score",
        1.5,
    )
    disc = planform.Contour([planform.Arc((20, 20), 4)])
    profile = planform.Profile(planform.Contour([planform.Arc((10, 10), 40)]))
    outline = planform.ProfileSet([profile], [mark, planform.Mark(disc, "pocket", 2.0)])
    again = planform.ProfileSet.from_json(outline.to_json())
    assert again == outline and again.digest == outline.digest
    assert [(m.name, m.depth, m.is_closed) for m in again.marks] == [
        ("score", 1.5, False),
        ("pocket", 2.0, True),
    ]
    assert '"planform": 3' in outline.to_json()
    shallow = outline.with_marks([planform.Mark.open(mark.curves, "score", 1.0), again.marks[1]])
    assert shallow != outline and shallow.digest != outline.digest
    # An open mark has no direction.
    back = planform.Mark.open([c.reversed() for c in reversed(mark.curves)], "score", 1.5)
    assert outline.with_marks([back, again.marks[1]]) == outline
    turned = outline.transformed([[0, -1, 7], [1, 0, 3]])
    assert turned.normalized().digest == outline.normalized().digest
    assert planform.find_congruence(outline, turned) is not None
    assert planform.find_congruence(outline, turned.with_marks(turned.marks[1:])) is None
    assert "Z" not in outline.to_svg().split('d="')[1].split('"')[0].split("Z")[0] + "x"
    with pytest.raises(planform.GeometryError, match="gap"):
        planform.Mark.open([planform.Line((0, 0), (1, 0)), planform.Line((2, 0), (3, 0))])
