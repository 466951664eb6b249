"""One object of each public class, made the way users make them; and what travels to other processes."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import planform


def square(size: float = 10.0, x: float = 0.0, y: float = 0.0) -> planform.Contour:
    corners = [(x, y), (x + size, y), (x + size, y + size), (x, y + size)]
    pairs = zip(corners, [*corners[1:], corners[0]], strict=True)
    return planform.Contour([planform.Line(a, b) for a, b in pairs])


def tray() -> planform.ProfileSet:
    """All kinds of curves, holes, marks, an island, a proof-less set with notes and metadata."""
    egg = planform.Contour([planform.EllipticalArc((30, 20), (8, 2), 0.5)])
    knots = [0, 0, 0, 0, 1, 1, 1, 1]
    bow = planform.Spline(3, knots, [(55, 10), (50, 20), (60, 30), (55, 40)])
    rational = planform.Spline(
        2, [0, 0, 0, 1, 1, 1], [(55, 40), (70, 25), (55, 10)], [1.0, 0.7, 1.0]
    )
    lens = planform.Contour(
        [bow, rational], [planform.Provenance("edge", 0, 7), planform.Provenance("fold", 0, 3)]
    )
    outer = planform.Contour(
        [
            planform.Line((0, 0), (80, 0)),
            planform.Arc((80, 25), 25, -np.pi / 2, np.pi),
            planform.Line((80, 50), (0, 50)),
            planform.Line((0, 50), (0, 0)),
        ]
    )
    island = planform.Profile(planform.Contour([planform.Arc((30, 20), 2)]), name="perch", parent=0)
    return planform.ProfileSet(
        [planform.Profile(outer, [egg, lens], "tray"), island],
        [
            planform.Mark(planform.Contour([planform.Arc((90, 25), 4)]), "bowl", 1.5),
            planform.Mark.open([planform.Line((2, 2), (20, 2))], "bend up"),
        ],
        planform.Datum((1, 2, 3), (1, 1, 1)),
        name="tray",
        notes=["drawn by hand"],
    ).with_data({"order": 17, "wood": ["oak", "larch"], "oiled": True})


def examples(folder: Path) -> dict[str, Any]:
    """By class, for every class in ``planform.__all__``."""
    import kernel_models

    station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    outline = tray()
    contour = outline.profiles[0].outer
    hole = planform.Contour([planform.Arc((5, 5), 1)])
    plate_set = planform.ProfileSet([planform.Profile(square(), [hole])], name="plate")
    pierced = planform.inspect(plate_set, 5.0, sheet=(50.0, 40.0))
    gutter = next(solid for solid in station if solid.name == "gutter")
    blank = planform.unfold(gutter)
    found = planform.plates(station)
    cut_list = planform.CutList.from_model(station)
    mating = planform.mating(station, found)
    touching = planform.contacts(station)
    straight = planform.straight_cut(gutter, "auto")
    gapped = [planform.Line((0, 0), (9, 0)), planform.Line((9, 0.5), (9, 9)), *square().curves]
    gapped += [planform.Line((0, 9), (9, 9)), planform.Line((3, 3), (3, 3.0000001))]
    gapped += [planform.Line((-1, 2), (4, 2)), planform.Line((20, 20), (25, 20))]
    loose = planform.close_contours(gapped)
    closed = planform.close_contours(square().curves)
    crossing = planform.close_contours([*square().curves, *square(10, 5, 5).curves])
    fitted = planform.fit_flattened([planform.Line(a, b) for a, b in polygon(40)], 0.05)
    plan = planform.plan_cuts(
        [planform.PlacedPiece("plate", plate_set)], entry_length=30.0, clearance=5.0
    )
    piece = planform.Piece("plate", plate_set, 2)
    big = planform.Piece("table", plate_set.scaled(40), 1)
    stock = planform.Stock.rectangle(100, 50, count=1)
    layout = planform.lay_out([piece], stock, plain=True)
    too_large = planform.lay_out([big], stock, plain=True)
    block = planform.plates(planform.from_ocp(kernel_models.box(30, 30, 30)))
    dxf = plate_set.to_dxf(folder / "plate.dxf")
    drawing = planform.read_dxf(dxf)
    mended = planform.repair(dxf, folder / "mended.dxf")
    congruence = planform.find_congruence(plate_set, plate_set.rotated(0.3))
    try:
        planform.unfold(station.solids[0])
        raise AssertionError("a flat plate has been unfolded")
    except planform.UnfoldError as error:
        unfold_error = error
    bend = planform.BendTableRow(1.0, 2.0, 1.5, allowance=3.9)
    stack = planform.SectionStack(station.solids[:2], "xy")
    narrow = planform.narrow_places(plate_set, 20.0)
    allowed = planform.allowances_for(
        station,
        [plate.outline for plate in found],
        planform.placed_outlines(found),
        planform.Allowances(fit=0.1),
    )
    made: list[Any] = [
        planform.Allowance(kerf=0.2, fits=[(0, 0, 1, 0.1)]),
        planform.Allowances(kerf=0.2),
        _first(allowed),
        planform.relieved(plate_set, 0.5),
        contour.curves[1],
        bend,
        planform.BendRule("table", table=[bend]),
        _first(blank.bends),
        planform.BendTable((bend,), ((1.0, 2.0),), "bends.toml"),
        blank,
        _first(closed.chains),
        loose,
        drawing.close(),
        congruence,
        _first(touching),
        contour,
        _first(crossing.crossings),
        _first(planform.curve_places(outline)),
        _first(plan.cuts),
        cut_list,
        _first(cut_list.entries),
        plan,
        _first(plan.times(20.0, 100.0)),
        outline.datum,
        _first(loose.doubles),
        planform.DrawingLayer("CUT", color=3),
        outline.profiles[0].holes[0].curves[0],
        _first(pierced.findings),
        planform.Finishing(),
        _first(fitted),
        _first(loose.gaps),
        station.healed,
        pierced,
        layout,
        planform.LeftOver("text", "TEXT", "0", (1.0, 2.0), "tray 1"),
        contour.curves[0],
        _first(drawing.curves),
        drawing,
        planform.Machine(),
        outline.marks[0],
        planform.Material("oak", 700.0),
        planform.MaterialRules(({"material": "oak"},), {"oak": 700.0}),
        mating,
        _first(one for each in mating.outlines for one in each.curves),
        _first(mating.outlines),
        station,
        _first(narrow),
        outline.nearest([(1.0, 2.0), (3.0, 4.0)]),
        _first(too_large.not_placed),
        _first(loose.open),
        _first(block.others),
        planform.OutlineIndex(outline),
        piece,
        _first(planform.placed_outlines(found)),
        planform.PlacedPiece("plate", plate_set, mass=0.3, avoid=[(0, 0, 1)]),
        _first(layout.sheets[0].placements),
        _first(plan.findings),
        found[0],
        _first(found[0].instances),
        found,
        outline.profiles[0],
        outline,
        found[0].outline.proof,
        _first(found[0].outline.proof.laws),
        planform.Provenance("edge", 2, 5),
        planform.Quote.of([], planform.Machine()),
        mended,
        planform.RuleSet()["web"],
        planform.RuleSet().with_limit("web", 2.5, "mm").with_enabled("neck", False),
        stack,
        planform.Settings(datum="xy", formats=["svg"], layers={"outer": {"name": "CUT"}}),
        planform.Sheet(100.0, 50.0, 2.0),
        planform.side_up(station.solids[0]),
        station.solids[0],
        outline.profiles[0].holes[1].curves[0],
        stock,
        straight,
        _first(loose.tiny),
        _first(straight.features),
        unfold_error.refusal,
        planform.ArgumentError("an argument"),
        planform.Error("anything"),
        planform.FileMissingError("a file"),
        planform.GeometryError.of_kind("invalid_argument", "a shape"),
        planform.LoadError("a file"),
        unfold_error,
        planform.WriteError("a file"),
    ]
    return {type(each).__name__: each for each in made}


def polygon(count: int) -> list[tuple[Any, Any]]:
    angles = np.linspace(0, 2 * np.pi, count, endpoint=False)
    corners = [(20 * np.cos(a), 20 * np.sin(a)) for a in angles]
    return list(zip(corners, [*corners[1:], corners[0]], strict=True))


def _first(items: Any) -> Any:
    return next(iter(items))


def same(values: list[Any]) -> list[Any]:
    """What a worker gives back: what it was given."""
    return values


def volume(solid: planform.Solid) -> float:
    return solid.volume
