"""A program that uses every public name of planform, with types. It is checked by mypy in strict mode, not
run: what editors and checkers show to those who embed planform."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np
import numpy.typing as npt
import planform


def curves_and_outlines() -> planform.ProfileSet:
    line = planform.Line((0, 0), (40, 0))
    arc = planform.Arc((40, 10), 10, -1.57, 3.14)
    egg = planform.EllipticalArc((20, 10), (6, 0), 0.5)
    spline = planform.Spline(2, [0, 0, 0, 1, 1, 1], [(0, 0), (1, 2), (2, 0)])
    curves: list[planform.Curve] = [line, arc, egg, spline]
    lengths: list[float] = [curve.length for curve in curves]
    origin = planform.Provenance("edge", 0, 1)
    contour = planform.Contour([planform.Arc((0, 0), sum(lengths))], [origin])
    profile = planform.Profile(contour, [planform.Contour([egg])], name="tray")
    mark = planform.Mark(planform.Contour([arc]), "cup", depth=1.0)
    outline = planform.ProfileSet([profile], [mark], planform.Datum.of("xz"), name="tray")
    first: planform.Profile = outline[0]
    named: planform.Profile = outline["tray"]
    several: list[planform.Profile] = outline[:1]
    profiles: Sequence[planform.Profile] = outline.profiles
    piece: planform.Curve = first.outer[0]
    kinds = [curve.domain for curve in named.outer]
    assert kinds and several and profiles and piece is not None
    return outline


def questions(outline: planform.ProfileSet) -> float:
    points: npt.NDArray[np.float64] = np.zeros((3, 2))
    index = planform.OutlineIndex(outline)
    inside = index.contains(points)
    places: planform.NearestPlaces = outline.nearest(points)
    moved: planform.ProfileSet = (
        outline.moved((1, 2)).rotated(0.3).mirrored("x").scaled(2.0).with_curves("arcs", 0.01)
    )
    annotated = moved.with_data({"order": 1}).with_profiles(moved.profiles).with_notes(["a"])
    order: object = annotated.data["order"]
    hull = annotated.convex_hull()
    assert order and inside.any() and places.distance.any()
    return hull.area + float(hull.centroid[0]) + float(hull.area_moments[0, 0])


def models(path: Path, shape: object) -> planform.Model:
    model: planform.Model = planform.load(path)
    again = planform.load(path.read_bytes(), unit="inch")
    cached = planform.load_cached(path, planform.default_cache_folder())
    brep = planform.from_brep(cached[0].to_brep())
    taken = planform.from_ocp(shape)
    back: object = planform.to_ocp(taken)
    solid: planform.Solid = model["lid"]
    healed: planform.Healed = again.healed
    names: list[str] = [each.name for each in brep]
    assert names and back and healed.shapes and solid.volume > 0
    return planform.load(planform.write_demo_assembly(path))


def flattening(model: planform.Model) -> Iterator[planform.ProfileSet]:
    solid = model[0]
    datum: planform.Datum = planform.auto_datum(solid)
    side: planform.SideUp = planform.side_up(solid)
    yield planform.silhouette(model, side.datum)
    yield planform.section(solid, "xy", 1.0)
    yield from planform.sections(model, datum, [1.0, 2.0])
    stack = planform.SectionStack(model, planform.face_datum(solid, 1))
    outline = stack.at(0.5)
    proof: planform.Proof = outline.proof
    laws: Sequence[planform.ProvenLaw] = proof.laws
    cut: planform.StraightCut = planform.straight_cut(solid, "auto")
    features: Sequence[planform.UncuttableFeature] = cut.features
    marks: list[planform.Mark] = planform.feature_marks(solid, datum)
    groups = planform.coplanar_groups(model)
    assert laws and features and groups
    yield planform.merge([outline.with_marks(marks)], "union")


def bent_sheets(solid: planform.Solid, outline: planform.ProfileSet, table: Path) -> str:
    row = planform.BendTableRow(1.0, 2.0, 1.5, allowance=3.9)
    measured: planform.BendTable = planform.read_bend_table(table)
    rule: planform.BendRule = planform.bend_rule(table=table)
    try:
        blank: planform.Blank = planform.unfold(solid, rule="din-6935")
    except planform.UnfoldError as error:
        refusal: planform.UnfoldRefusal | None = error.refusal
        return refusal.text if refusal else str(error)
    bends: Sequence[planform.Bend] = blank.bends
    findings: list[planform.Finding] = planform.bend_findings(blank.outline, bends, 1.0)
    deduction: float = planform.bend_deduction(3.9, 1.0, 2.0, 1.5)
    assert findings or deduction or row or measured or rule
    return planform.bends_csv(bends) + planform.bends_json("gutter", 1.0, outline, bends)


def plates_and_lists(model: planform.Model, outline: planform.ProfileSet) -> planform.CutList:
    found: planform.PlateList = planform.plates(model)
    plate: planform.Plate = found[0]
    instance: planform.PlateInstance = plate.instances[0]
    others: Sequence[planform.OtherPart] = found.others
    same: planform.Congruence | None = planform.find_congruence(plate.outline, outline)
    touching: list[planform.Contact] = planform.contacts(model)
    pieces: list[planform.PlacedOutline] = planform.placed_outlines(found)
    joints: planform.Mating = planform.mating(model, found)
    mates: planform.MatingOutline = joints.outlines[0]
    curve: planform.MatingCurve = mates.curves[0]
    wanted = planform.Allowances(kerf=0.2)
    allowed: list[planform.AllowedOutline] = planform.allowances_for(
        model, [outline], pieces, wanted
    )
    allowance: planform.Allowance = allowed[0].allowance
    way: planform.ProfileSet = planform.as_cut(outline, allowance)
    fits = planform.inner_fits(way, 0.1)
    said: list[str] = planform.allowance_notes(way)
    rules = planform.MaterialRules(({"material": "oak"},), {"oak": 700.0})
    finishing = planform.Finishing()
    cut_list = planform.CutList.from_model(model)
    entry: planform.CutListEntry = cut_list[0]
    material = planform.Material("oak", 700.0)
    assert (
        instance
        and others
        and same
        and touching
        and curve
        and fits
        and said
        and rules
        and finishing
    )
    assert entry.mass is None or material.density
    return cut_list


def inspecting(outline: planform.ProfileSet, folder: Path) -> planform.Inspection:
    rules: planform.RuleSet = planform.read_rules(folder / "rules.toml")
    rule: planform.Rule = rules["web"]
    narrow: list[planform.NarrowPlace] = planform.narrow_places(outline, 2.0)
    sheet = planform.Sheet(100.0, 50.0)
    text: str = planform.rules_toml(rules)
    layers: dict[str, planform.DrawingLayer] = planform.read_layers(folder / "layers.toml")
    rest: str = planform.rest_on(outline[0], 30.0)
    assert rule and narrow and text and layers and rest
    return planform.inspect(outline, 3.0, rules=rules, sheet=sheet)


def offsets(outline: planform.ProfileSet) -> planform.ProfileSet:
    places: list[planform.CurvePlace] = planform.curve_places(outline)
    grown = planform.offset(outline, 0.2)
    relieved: planform.Allowed = planform.relieved(grown.profiles, 1.0)
    smooth = planform.opened(planform.closed(relieved.profiles, 0.1).profiles, 0.1)
    assert places
    return planform.bridges(smooth.profiles, 2.0)


def drawings(path: Path) -> planform.Inspection:
    loose: planform.LooseCurves = planform.read_drawing(path)
    dxf = planform.read_dxf(path.read_bytes())
    svg = planform.read_svg(path)
    curve: planform.LooseCurve = loose.curves[0]
    left: tuple[planform.LeftOver, ...] = dxf.left_over
    closed: planform.ClosedDrawing = svg.close()
    mended: planform.Repair = planform.repair(path, path.with_suffix(".mended.dxf"))
    chains: planform.ClosedContours = planform.close_contours([curve.curve])
    chain: Sequence[planform.ClosedChain] = chains.chains
    open_ones: Sequence[planform.OpenChain] = chains.open
    gaps: Sequence[planform.Gap] = chains.gaps
    doubles: Sequence[planform.DoubledCurve] = chains.doubles
    tiny: Sequence[planform.TinyCurve] = chains.tiny
    crossings: Sequence[planform.CrossedCurves] = chains.crossings
    contours = [each.contour for each in chain]
    depths: list[int] = planform.nesting_depths(contours)
    profiles: list[planform.Profile] = planform.nested_profiles(contours)
    fitted: list[planform.FittedCurve] = planform.fit_flattened([curve.curve], 0.02)
    findings: list[planform.Finding] = planform.drawing_findings(closed)
    assert left and mended and open_ones and gaps and doubles and tiny and crossings
    assert depths and profiles and fitted and findings
    return planform.inspect_drawing(path)


def sheets_and_plans(outline: planform.ProfileSet, folder: Path) -> planform.CutPlan:
    piece = planform.Piece("tray", outline, 2)
    stock: list[planform.Stock] = list(planform.read_stock(folder / "stock.toml"))
    layout: planform.Layout = planform.lay_out([piece], stock)
    placement: planform.Placement = layout.sheets[0].placements[0]
    missing: tuple[planform.NotPlaced, ...] = layout.not_placed
    path = planform.write_layout(layout, folder / "layout.json")
    machine = planform.Machine()
    planned = planform.plan_sheet(planform.read_layout(path).sheets[0], machine)
    quote = planform.Quote.of([planned], machine)
    plan: planform.CutPlan = planform.plan_cuts([planform.PlacedPiece("tray", outline)])
    cut: planform.Cut = plan.cuts[0]
    findings: Sequence[planform.PlanFinding] = plan.findings
    times: list[planform.CutTime] = plan.times(20.0, 200.0)
    order: list[int] = planform.shortest_order([((0, 0), (1, 0), -1)], home=(0, 0))
    seconds: float = planform.move_time(10.0, 20.0) + planform.path_time(cut.entry, 20.0)
    planform.run_job(folder / "job.toml", folder / "out")
    planform.flatten_all([folder], folder / "out", planform.Settings(kerf=0.15))
    assert placement and missing and quote and findings and times and order and seconds
    return plan


def words(folder: Path) -> list[str]:
    letters: planform.ProfileSet = planform.text("17", 30.0)
    written = planform.write_whole_file(folder / planform.safe_file_stem("a/b"), letters.to_svg())
    kinds: dict[str, str] | list[str] | tuple[str, ...] = list(planform.error_kinds())
    return [*kinds, *planform.unit_names(), planform.__version__, str(written)]


def errors() -> tuple[type[planform.Error], ...]:
    return (
        planform.ArgumentError,
        planform.FileMissingError,
        planform.GeometryError,
        planform.LoadError,
        planform.WriteError,
    )
