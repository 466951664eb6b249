"""Whatever is passed to a public name: it is taken, or refused by an error of ours in one line that says what
to pass instead. Every name in ``planform.__all__`` is tried, with every argument in turn; a new name fails
here until it has its line in the tables below."""

from __future__ import annotations

import math
import pickle
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

import kernel_models as kernel
import numpy as np
import planform
import pytest

LONGEST = 300


class Unknown:
    """Of a type that nothing takes."""


def square(size: float = 10.0, x: float = 0.0, y: float = 0.0) -> list[planform.Line]:
    corners = [(x, y), (x + size, y), (x + size, y + size), (x, y + size)]
    return [planform.Line(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)]


@pytest.fixture(scope="module")
def things(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """Something of each kind, to call with."""
    folder = tmp_path_factory.mktemp("any")
    model = planform.from_ocp(kernel.box(30, 20, 5))
    step = kernel.write_step([("plate", kernel.box(30, 20, 5))], folder / "plate.step")
    contour = planform.Contour(square())
    hole = planform.Contour([planform.Arc((5, 5), 2)])
    profile = planform.Profile(contour, [hole])
    profiles = planform.ProfileSet([profile], name="plate")
    dxf = profiles.to_dxf(folder / "plate.dxf")
    svg = profiles.to_svg(folder / "plate.svg")
    rules = folder / "rules.toml"
    rules.write_text(planform.rules_toml())
    layers = folder / "layers.toml"
    layers.write_text('[outer]\nname = "CUT"\n')
    loose = planform.read_dxf(dxf)
    solid = model.solids[0]
    piece = planform.Piece("plate", profiles, 2)
    stock = planform.Stock.rectangle(100, 50)
    layout = planform.lay_out([piece], stock, plain=True)
    job = folder / "job.toml"
    job.write_text('steps = ["flatten"]\n[[drawing]]\nfile = "plate.dxf"\nthickness = 3\n')
    (folder / "machine.toml").write_text('name = "beam"\n')
    station = planform.load(planform.write_demo_assembly(folder / "bent.step"))
    bent = next(solid for solid in station.solids if solid.name == "gutter")
    blank = planform.unfold(bent)
    bend_table = folder / "bends.toml"
    bend_table.write_text(
        "[[bend]]\nthickness = 1.0\ninside_radius = 2.0\nangle = 90\nallowance = 3.9\n"
    )
    return {
        "bent": bent,
        "blank": blank,
        "bend_table": bend_table,
        "job": job,
        "machine_file": folder / "machine.toml",
        "quote": planform.Quote.of([], planform.Machine()),
        "piece": piece,
        "stock": stock,
        "layout": layout,
        "layout_file": planform.write_layout(layout, folder / "layout.json"),
        "folder": folder,
        "model": model,
        "solid": solid,
        "step": step,
        "brep": brep_bytes(),
        "contour": contour,
        "hole": hole,
        "profile": profile,
        "profiles": profiles,
        "dxf": dxf,
        "svg": svg,
        "rules_file": rules,
        "layers_file": layers,
        "loose": loose,
        "closed": loose.close(),
        "datum": planform.Datum.xy(),
        "rules": planform.RuleSet(),
        "found": planform.plates(model),
        "cut_list": planform.CutList.from_model(model),
        "inspection": planform.inspect(profiles, 3.0),
        "shape": kernel.box(1, 2, 3),
    }


@pytest.fixture(autouse=True)
def elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Words that are taken for paths make their files there."""
    monkeypatch.chdir(tmp_path)


def brep_bytes() -> bytes:
    from planform.exchange.ocp import _brep_bytes

    return _brep_bytes(kernel.box(3, 4, 5))


Things = dict[str, Any]
Call = tuple[Callable[..., Any], dict[str, Any]]

CURVES: dict[str, Callable[[Things], Any]] = {
    "Line": lambda t: planform.Line((0, 0), (3, 4)),
    "Arc": lambda t: planform.Arc((0, 0), 2),
    "EllipticalArc": lambda t: planform.EllipticalArc((0, 0), (2, 0), 0.5),
    "Spline": lambda t: planform.Spline(2, [0, 0, 0, 1, 1, 1], [(0, 0), (1, 2), (2, 0)]),
}
CURVE_METHODS: dict[str, dict[str, Any]] = {
    "derivative_at": {"t": 0.5},
    "fit_arcs": {"tolerance": 0.01},
    "point_at": {"t": 0.5},
    "points": {"tolerance": 0.01},
    "reversed": {},
    "transformed": {"matrix": np.eye(3)},
}

# Functions: the arguments of a good call.
FUNCTIONS: dict[str, Callable[[Things], dict[str, Any]]] = {
    "allowances_for": lambda t: {
        "solids": t["model"],
        "outlines": [plate.outline for plate in t["found"].plates],
        "pieces": planform.placed_outlines(t["found"]),
        "wanted": planform.Allowances(),
        "look": False,
    },
    "as_cut": lambda t: {"outline": t["profiles"], "allowance": planform.Allowance(kerf=0.1)},
    "auto_datum": lambda t: {"solid": t["solid"]},
    "bend_deduction": lambda t: {
        "allowance": 4.0,
        "thickness": 1.0,
        "inside_radius": 2.0,
        "angle": 1.5,
    },
    "bend_findings": lambda t: {
        "outline": t["blank"].outline,
        "bends": t["blank"].bends,
        "thickness": 1.0,
        "rules": t["rules"],
        "least_radius": 2.5,
    },
    "bend_rule": lambda t: {"table": t["bend_table"], "rule": "din-6935"},
    "bends_csv": lambda t: {"bends": t["blank"].bends},
    "bends_json": lambda t: {
        "name": "gutter",
        "thickness": 1.0,
        "outline": t["blank"].outline,
        "bends": t["blank"].bends,
    },
    "bridges": lambda t: {"profiles": t["profiles"], "width": 1.0, "count": 2, "hold": "islands"},
    "close_contours": lambda t: {
        "curves": square(),
        "gap": 0.0,
        "groups": [1, 2, 3, 4],
        "joint": 2e-5,
        "rounding": 5e-4,
        "same": 1e-4,
    },
    "closed": lambda t: {"profile_set": t["profiles"], "radius": 0.5},
    "contacts": lambda t: {"solids": t["model"], "within": 0.001},
    "curve_places": lambda t: {"profile_set": t["profiles"]},
    "coplanar_groups": lambda t: {"solids": [t["solid"]]},
    "default_cache_folder": lambda t: {},
    "drawing_findings": lambda t: {"closed": t["closed"], "rules": t["rules"]},
    "error_kinds": lambda t: {},
    "face_datum": lambda t: {"solid": t["solid"], "face": 1},
    "feature_marks": lambda t: {
        "solid": t["solid"],
        "datum": t["datum"],
        "sides": "up",
        "tolerance": 0.01,
    },
    "find_congruence": lambda t: {
        "first": t["profiles"],
        "second": t["profiles"],
        "tolerance": 0.01,
        "mirrored": "never",
    },
    "fit_flattened": lambda t: {"curves": square(), "tolerance": 0.02, "closed": True},
    "flatten_all": lambda t: {
        "paths": [t["step"]],
        "out": t["folder"] / "out",
        "workers": 1,
        "check": True,
        "timeout": 60.0,
        "memory": 4.0,
    },
    "from_brep": lambda t: {"data": t["brep"], "unit": "mm", "scale": 1.0},
    "from_ocp": lambda t: {"obj": t["shape"], "unit": "mm", "scale": 1.0},
    "allowance_notes": lambda t: {"outline": t["profiles"]},
    "inner_fits": lambda t: {"outline": t["profiles"], "fit": 0.1, "fit_on": "slot"},
    "inspect": lambda t: {
        "profile_set": t["profiles"],
        "thickness": 3.0,
        "rules": t["rules"],
        "sheet": (100.0, 100.0),
        "features": (),
        "grate": 30.0,
        "grate_along": "y",
    },
    "inspect_drawing": lambda t: {"drawing": t["dxf"], "thickness": 3.0, "gap": 0.0, "unit": "mm"},
    "load": lambda t: {"source": t["step"], "unit": "mm", "scale": 1.0, "heal": "needed"},
    "load_cached": lambda t: {"path": t["step"], "cache": t["folder"] / "cache"},
    "lay_out": lambda t: {
        "cut_list": [t["piece"]],
        "stock": t["stock"],
        "gap": 2.0,
        "margin": 1.0,
        "seconds": 1.0,
        "seed": 0,
        "seeds": 1,
        "turns": None,
        "plain": True,
        "workers": 1,
    },
    "mating": lambda t: {"solids": t["model"], "outlines": t["found"], "fit_on": "slot"},
    "merge": lambda t: {"sets": [t["profiles"]], "how": "union"},
    "move_time": lambda t: {
        "length": 10.0,
        "speed": 20.0,
        "acceleration": 500.0,
        "start": 1.0,
        "end": 2.0,
    },
    "narrow_places": lambda t: {"profile_set": t["profiles"], "at_most": 1.0},
    "nested_profiles": lambda t: {"contours": [t["contour"], t["hole"]], "names": ["a", "b"]},
    "nesting_depths": lambda t: {"contours": [t["contour"]]},
    "offset": lambda t: {
        "profile_set": t["profiles"],
        "distance": 0.1,
        "corners": "round",
        "limit": 4.0,
    },
    "opened": lambda t: {"profile_set": t["profiles"], "radius": 0.5},
    "path_time": lambda t: {
        "curves": square(),
        "speed": 20.0,
        "acceleration": 500.0,
        "tolerance": 0.01,
    },
    "placed_outlines": lambda t: {"plates": t["found"]},
    "plan_cuts": lambda t: {
        "pieces": [planform.PlacedPiece("a", t["profiles"])],
        "kerf": 0.1,
        "entry_shape": "line",
        "entry_length": 1.0,
        "entry_angle": 60.0,
        "exit_length": 0.5,
        "clearance": 0.5,
        "least_hole": 1.0,
        "start": "middle",
        "web": 0.5,
        "over_cut": 0.1,
        "hold": 0.2,
        "hold_count": 1,
        "mass_per_strip": 1.0,
        "grate": 30.0,
        "grate_along": "x",
        "order": "apart",
        "apart_count": 1,
        "apart_distance": 9.0,
        "band": 9.0,
        "home": (0.0, 0.0),
        "sheet": planform.ProfileSet([planform.Profile(planform.Contour(square(30, -9, -9)))]),
    },
    "plan_sheet": lambda t: {
        "sheet": t["layout"].sheets[0],
        "machine": planform.Machine(),
        "settings": None,
        "name": "a",
        "kerf": 0.1,
        "density": 700.0,
        "avoid": None,
        "part": None,
    },
    "plates": lambda t: {"solids": t["model"], "tolerance": 0.01, "same_within": 0.01},
    "read_bend_table": lambda t: {"path": t["bend_table"]},
    "read_drawing": lambda t: {"path": t["dxf"], "unit": "mm"},
    "read_dxf": lambda t: {"path": t["dxf"], "unit": "mm", "scale": 1.0},
    "read_layers": lambda t: {"path": t["layers_file"]},
    "read_layout": lambda t: {"path": t["layout_file"]},
    "read_stock": lambda t: {"path_or_size": "200x100"},
    "read_rules": lambda t: {"path": t["rules_file"]},
    "read_svg": lambda t: {"path": t["svg"], "unit": "mm", "scale": 1.0},
    "relieved": lambda t: {
        "profile_set": t["profiles"],
        "radius": 0.5,
        "style": "corner",
        "least_web": 1.0,
    },
    "repair": lambda t: {
        "source": t["svg"],
        "path": t["folder"] / "mended.svg",
        "gap": 0.1,
        "scale": 1.0,
        "fit_arcs": 0.02,
    },
    "rest_on": lambda t: {"profile": t["profile"], "grate": 30.0, "grate_along": "y"},
    "to_ocp": lambda t: {"obj": t["solid"]},
    "unfold": lambda t: {
        "solid": t["bent"],
        "k_factor": 0.4,
        "rule": "din-6935",
        "tolerance": 0.01,
        "mark_limits": True,
    },
    "rules_toml": lambda t: {"rules": t["rules"]},
    "run_job": lambda t: {"job": t["job"], "out": t["folder"] / "job", "check": True},
    "safe_file_stem": lambda t: {"name": "plate"},
    "section": lambda t: {
        "solids": t["model"],
        "datum": t["datum"],
        "offset": 1.0,
        "tolerance": 0.01,
        "merge": "union",
        "side": "below",
    },
    "sections": lambda t: {
        "solids": t["model"],
        "datum": t["datum"],
        "offsets": [1.0, 2.0],
        "tolerance": 0.01,
    },
    "shortest_order": lambda t: {"stops": [((0, 0), (1, 0), -1)], "home": (0.0, 0.0)},
    "side_up": lambda t: {"solid": t["solid"]},
    "silhouette": lambda t: {
        "solids": t["model"],
        "datum": t["datum"],
        "tolerance": 0.01,
        "merge": "union",
        "at": "shadow",
    },
    "straight_cut": lambda t: {"solid": t["solid"], "datum": t["datum"]},
    "text": lambda t: {"letters": "A7", "height": 5.0, "single_stroke": False},
    "unit_names": lambda t: {},
    "write_demo_assembly": lambda t: {"path": t["folder"] / "demo.step"},
    "write_layout": lambda t: {"layout": t["layout"], "path": t["folder"] / "sheets.json"},
    "write_whole_file": lambda t: {"path": t["folder"] / "text.txt", "data": b"text"},
}

# Classes that callers make: the arguments of their constructors.
CONSTRUCTORS: dict[str, Callable[[Things], dict[str, Any]]] = {
    "BendRule": lambda t: {"rule": "k-factor", "k_factor": 0.4, "table": []},
    "BendTable": lambda t: {"rows": (), "least_radii": ((1.0, 2.0),), "source": "measured"},
    "BendTableRow": lambda t: {
        "thickness": 1.0,
        "inside_radius": 2.0,
        "angle": 1.5,
        "allowance": 3.0,
    },
    "Line": lambda t: {"start": (0, 0), "end": (1, 1)},
    "Arc": lambda t: {"center": (0, 0), "radius": 2.0, "start_angle": 0.5, "sweep": 1.0},
    "DrawingLayer": lambda t: {"name": "CUT", "color": 1, "line_width": 0.1},
    "EllipticalArc": lambda t: {
        "center": (0, 0),
        "major": (2, 0),
        "ratio": 0.5,
        "start_angle": 0.5,
        "sweep": 1.0,
    },
    "Spline": lambda t: {
        "degree": 2,
        "knots": [0, 0, 0, 1, 1, 1],
        "poles": [(0, 0), (1, 2), (2, 0)],
        "weights": [1, 1, 1],
    },
    "Contour": lambda t: {"curves": square(), "provenance": [], "validate": True},
    "Profile": lambda t: {"outer": t["contour"], "holes": [t["hole"]], "name": "a", "parent": -1},
    "ProfileSet": lambda t: {
        "profiles": [t["profile"]],
        "marks": [],
        "datum": t["datum"],
        "tolerance": 0.01,
        "name": "a",
        "notes": ["b"],
    },
    "Mark": lambda t: {"contour": t["contour"], "name": "a", "depth": 1.0},
    "Provenance": lambda t: {"kind": "edge", "solid": 0, "entity": 1},
    "Allowance": lambda t: {
        "kerf": 0.1,
        "fit": 0.1,
        "relief": 0.5,
        "relief_style": "corner",
        "fits": [],
    },
    "Allowances": lambda t: {"kerf": 0.1, "fit": 0.1, "relief": 0.5},
    "PlacedPiece": lambda t: {"name": "a", "outline": t["profiles"], "mass": 0.1, "avoid": []},
    "Finishing": lambda t: {"bridges": 1.5, "bridge_count": 2, "labels": ("name",)},
    "Settings": lambda t: {
        "datum": "auto",
        "section": None,
        "at": "top",
        "marks": "up",
        "one_sided": False,
        "tolerance": 0.01,
        "merge": "union",
        "one_file": False,
        "formats": ("dxf", "svg"),
        "unit": "mm",
        "curves": "arcs",
        "read_unit": "inch",
        "scale": 2.0,
        "heal": "needed",
        "verify": "quick",
        "layers": {"outer": {"name": "CUT"}},
        "svg_stroke": 0.1,
        "k_factor": 0.4,
        "bend_table": "",
        "sharp_radius": 1.0,
        "kerf": 0.1,
    },
    "OutlineIndex": lambda t: {"profile_set": t["profiles"]},
    "PlacedOutline": lambda t: {"outline": 0, "solids": [0], "flattened": -1},
    "Datum": lambda t: {"origin": (0, 0, 0), "normal": (0, 0, 1), "x": (1, 0, 0)},
    "Finding": lambda t: {
        "rule": "web",
        "severity": "note",
        "place": (0, 0),
        "text": "a",
    },
    "Piece": lambda t: {
        "name": "a",
        "outline": t["profiles"],
        "quantity": 2,
        "material": "plywood",
        "thickness": 4.0,
        "turns": "90",
        "may_mirror": False,
        "priority": 0,
        "spares": 1,
    },
    "Stock": lambda t: {
        "name": "a",
        "outline": t["profiles"],
        "material": "plywood",
        "thickness": 4.0,
        "count": 2,
        "price": 3.0,
        "grain": 0.0,
        "keep_clear": planform.ProfileSet(),
        "left_over": False,
        "roll": False,
    },
    "Sheet": lambda t: {"width": 100.0, "height": 50.0, "margin": 1.0},
    "RuleSet": lambda t: {},
    "SectionStack": lambda t: {"solids": t["model"], "datum": t["datum"], "tolerance": 0.01},
    "Material": lambda t: {"name": "plywood", "density": 680.0},
    "MaterialRules": lambda t: {"rules": (), "densities": {}},
    "LeftOver": lambda t: {"kind": "text", "entity": "TEXT"},
    "LooseCurves": lambda t: {"curves": ()},
    "Inspection": lambda t: {
        "profiles": t["profiles"],
        "thickness": 3.0,
        "rules": t["rules"],
        "sheet": None,
        "findings": (),
    },
    "CutList": lambda t: {"source": "a", "entries": ()},
}

# Classes that only planform makes: no constructor, or one that is for planform alone.
RESULTS = {
    "Allowed",
    "Bend",
    "Blank",
    "UnfoldRefusal",
    "ClosedChain",
    "ClosedContours",
    "Congruence",
    "Contact",
    "CrossedCurves",
    "CurvePlace",
    "Cut",
    "CutPlan",
    "CutTime",
    "DoubledCurve",
    "FittedCurve",
    "Gap",
    "Healed",
    "Mating",
    "MatingCurve",
    "MatingOutline",
    "Model",
    "NarrowPlace",
    "OpenChain",
    "OtherPart",
    "PlanFinding",
    "Plate",
    "PlateInstance",
    "PlateList",
    "Proof",
    "ProvenLaw",
    "Rule",
    "SideUp",
    "Solid",
    "StraightCut",
    "TinyCurve",
    "UncuttableFeature",
}
# Records in Python that planform fills in; a curve's content is looked at when it is closed.
RECORDS = {
    "AllowedOutline",
    "ClosedDrawing",
    "CutListEntry",
    "Layout",
    "LooseCurve",
    "Machine",
    "NearestPlaces",
    "NotPlaced",
    "Placement",
    "Quote",
    "Repair",
}
NO_CALLS = {"Curve", "__version__"}
ERRORS = {
    "ArgumentError",
    "Error",
    "FileMissingError",
    "GeometryError",
    "LoadError",
    "UnfoldError",
    "WriteError",
}

# Methods: an object to call on and the arguments.
METHODS: dict[str, Callable[[Things], tuple[Any, dict[str, Any]]]] = {
    **{
        f"{kind}.{method}": (lambda t, k=kind, m=method: (CURVES[k](t), CURVE_METHODS[m]))
        for kind in CURVES
        for method in CURVE_METHODS
    },
    "BendRule.allowance": lambda t: (
        planform.BendRule(),
        {"thickness": 1.0, "inside_radius": 2.0, "angle": 1.5},
    ),
    "BendTable.least_radius": lambda t: (
        planform.read_bend_table(t["bend_table"]),
        {"thickness": 1.0},
    ),
    "Datum.of": lambda t: (planform.Datum, {"plane": "xz"}),
    "Datum.moved": lambda t: (t["datum"], {"distance": 1.0}),
    "Datum.to_datum": lambda t: (t["datum"], {"points": (1, 2, 3)}),
    "Datum.to_model": lambda t: (t["datum"], {"points": (1, 2), "height": 1.0}),
    "Datum.xy": lambda t: (planform.Datum, {}),
    "Datum.xz": lambda t: (planform.Datum, {}),
    "Datum.yz": lambda t: (planform.Datum, {}),
    "Contour.points": lambda t: (t["contour"], {"tolerance": 0.01}),
    "Contour.reversed": lambda t: (t["contour"], {}),
    "Contour.transformed": lambda t: (t["contour"], {"matrix": np.eye(3)}),
    "Allowance.from_json": lambda t: (
        planform.Allowance,
        {"text_or_path": t["profiles"].to_json()},
    ),
    "Allowances.allowance": lambda t: (planform.Allowances(kerf=0.1), {"fits": ()}),
    "Allowances.parts": lambda t: (planform.Allowances(kerf=0.1), {}),
    "Finishing.finishing": lambda t: (planform.Finishing(bridges=1.5), {}),
    "Settings.allowance": lambda t: (planform.Settings(kerf=0.1), {"fits": ()}),
    "Settings.finishing": lambda t: (planform.Settings(bridges=1.5), {}),
    "Settings.parts": lambda t: (planform.Settings(kerf=0.1), {}),
    "Mark.open": lambda t: (planform.Mark, {"curves": square()[:2], "name": "a", "depth": 1.0}),
    "Mark.points": lambda t: (planform.Mark(t["contour"]), {"tolerance": 0.01}),
    "MatingOutline.fits": lambda t: (
        planform.mating(t["model"], t["found"]).outlines[0],
        {"fit": 0.1},
    ),
    "OutlineIndex.contains": lambda t: (planform.OutlineIndex(t["profiles"]), {"points": (1, 2)}),
    "OutlineIndex.distance": lambda t: (planform.OutlineIndex(t["profiles"]), {"points": (1, 2)}),
    "OutlineIndex.nearest": lambda t: (planform.OutlineIndex(t["profiles"]), {"points": (1, 2)}),
    "ProfileSet.contains": lambda t: (t["profiles"], {"points": (1, 2)}),
    "ProfileSet.convex_hull": lambda t: (t["profiles"], {}),
    "ProfileSet.distance": lambda t: (t["profiles"], {"points": (1, 2)}),
    "ProfileSet.from_face": lambda t: (
        planform.ProfileSet,
        {"obj": t["shape"], "datum": t["datum"], "name": "a", "tolerance": 0.01},
    ),
    "ProfileSet.mirrored": lambda t: (t["profiles"], {"axis": "x"}),
    "ProfileSet.moved": lambda t: (t["profiles"], {"by": (1, 2)}),
    "ProfileSet.nearest": lambda t: (t["profiles"], {"points": (1, 2)}),
    "ProfileSet.rotated": lambda t: (t["profiles"], {"angle": 1.0, "about": (1, 2)}),
    "ProfileSet.scaled": lambda t: (t["profiles"], {"factor": 2.0, "about": (1, 2)}),
    "ProfileSet.with_curves": lambda t: (t["profiles"], {"curves": "arcs", "tolerance": 0.01}),
    "ProfileSet.with_data": lambda t: (t["profiles"], {"data": {"a": 1}}),
    "ProfileSet.with_profiles": lambda t: (t["profiles"], {"profiles": [t["profile"]]}),
    "ProfileSet.as_cut": lambda t: (t["profiles"], {"kerf": 0.1, "fit": 0.1, "relief": 0.5}),
    "ProfileSet.closed": lambda t: (t["profiles"], {"radius": 0.5}),
    "ProfileSet.offset": lambda t: (t["profiles"], {"distance": 0.1, "limit": 4.0}),
    "ProfileSet.opened": lambda t: (t["profiles"], {"radius": 0.5}),
    "ProfileSet.relieved": lambda t: (t["profiles"], {"radius": 0.5, "least_web": 1.0}),
    "ProfileSet.difference": lambda t: (t["profiles"], {"other": t["profiles"]}),
    "ProfileSet.drop_outs": lambda t: (t["profiles"], {}),
    "ProfileSet.from_json": lambda t: (
        planform.ProfileSet,
        {"text_or_path": t["profiles"].to_json()},
    ),
    "ProfileSet.from_shapely": lambda t: (
        planform.ProfileSet,
        {"geometry": t["profiles"].to_shapely(), "name": "a", "tolerance": 0.01},
    ),
    "ProfileSet.intersection": lambda t: (t["profiles"], {"other": t["profiles"]}),
    "ProfileSet.normalized": lambda t: (t["profiles"], {}),
    "ProfileSet.symmetric_difference": lambda t: (t["profiles"], {"other": t["profiles"]}),
    "ProfileSet.to_dxf": lambda t: (
        t["profiles"],
        {
            "path": t["folder"] / "a.dxf",
            "curves": "arcs",
            "unit": "mm",
            "tolerance": 0.01,
            "layers": {"outer": planform.DrawingLayer("A")},
        },
    ),
    "ProfileSet.to_json": lambda t: (t["profiles"], {"path": t["folder"] / "a.json"}),
    "ProfileSet.to_shapely": lambda t: (t["profiles"], {"tolerance": 0.01}),
    "ProfileSet.to_svg": lambda t: (
        t["profiles"],
        {
            "path": t["folder"] / "a.svg",
            "stroke_width": 0.1,
            "layers": {"outer": planform.DrawingLayer("A")},
        },
    ),
    "ProfileSet.transformed": lambda t: (t["profiles"], {"matrix": np.eye(3)}),
    "ProfileSet.turned_to_smallest_rectangle": lambda t: (t["profiles"], {}),
    "ProfileSet.united": lambda t: (t["profiles"], {"other": t["profiles"]}),
    "ProfileSet.with_datum": lambda t: (t["profiles"], {"datum": t["datum"]}),
    "ProfileSet.with_marks": lambda t: (t["profiles"], {"marks": []}),
    "ProfileSet.with_notes": lambda t: (t["profiles"], {"notes": ["a"]}),
    "ProfileSet.with_name": lambda t: (t["profiles"], {"name": "a"}),
    "RuleSet.with_enabled": lambda t: (t["rules"], {"name": "web", "enabled": True}),
    "RuleSet.with_limit": lambda t: (t["rules"], {"name": "web", "limit": 1.0}),
    "RuleSet.with_severity": lambda t: (t["rules"], {"name": "web", "severity": "note"}),
    "Model.to_glb": lambda t: (t["model"], {"tolerance": 1.0}),
    "Solid.preview": lambda t: (t["solid"], {"outline": t["profiles"]}),
    "Solid.to_brep": lambda t: (t["solid"], {}),
    "Solid.to_glb": lambda t: (t["solid"], {"tolerance": 1.0}),
    "SectionStack.at": lambda t: (planform.SectionStack(t["model"], t["datum"]), {"offset": 1.0}),
    "CutList.csv_text": lambda t: (t["cut_list"], {}),
    "CutList.from_model": lambda t: (planform.CutList, {"model": t["model"], "material": None}),
    "CutList.from_plates": lambda t: (
        planform.CutList,
        {"found": t["found"], "solids": t["model"].solids, "source": "a", "material": None},
    ),
    "CutList.groups": lambda t: (t["cut_list"], {}),
    "CutList.html_text": lambda t: (t["cut_list"], {}),
    "CutList.json_text": lambda t: (t["cut_list"], {}),
    "CutList.write_csv": lambda t: (t["cut_list"], {"path": t["folder"] / "c.csv"}),
    "CutList.write_dxf": lambda t: (t["cut_list"], {"folder": t["folder"]}),
    "CutList.write_html": lambda t: (t["cut_list"], {"path": t["folder"] / "c.html"}),
    "CutList.write_json": lambda t: (t["cut_list"], {"path": t["folder"] / "c.json"}),
    "CutListEntry.row": lambda t: (t["cut_list"].entries[0], {}),
    "Inspection.at_least": lambda t: (t["inspection"], {"severity": "note"}),
    "Inspection.count": lambda t: (t["inspection"], {}),
    "Inspection.index": lambda t: (t["inspection"], {}),
    "Inspection.to_html": lambda t: (
        t["inspection"],
        {"path": t["folder"] / "i.html", "density": 0.7},
    ),
    "Inspection.to_png": lambda t: (t["inspection"], {"path": t["folder"] / "i.png"}),
    "Inspection.to_svg": lambda t: (t["inspection"], {"path": t["folder"] / "i.svg"}),
    "Layout.cost": lambda t: (t["layout"], {}),
    "Layout.placed": lambda t: (t["layout"], {"piece": t["piece"]}),
    "Piece.allows": lambda t: (t["piece"], {"angle": 0.0, "grain": 0.0}),
    "Stock.rectangle": lambda t: (planform.Stock, {"width": 100.0, "height": 50.0, "name": "a"}),
    "Stock.serves": lambda t: (t["stock"], {"material": "a", "thickness": 4.0}),
    "CutPlan.times": lambda t: (
        planform.plan_cuts([planform.PlacedPiece("a", t["profiles"])], clearance=0.5),
        {
            "cutting_speed": 20.0,
            "travel_speed": 200.0,
            "marking_speed": 50.0,
            "acceleration": 900.0,
            "travel_acceleration": 900.0,
            "pierce_time": 0.1,
            "tolerance": 0.01,
        },
    ),
    "Machine.figures": lambda t: (planform.Machine(), {"material": "a", "thickness": 3.0}),
    "Machine.read": lambda t: (planform.Machine, {"path": t["machine_file"]}),
    "Quote.csv_text": lambda t: (t["quote"], {}),
    "Quote.of": lambda t: (planform.Quote, {"plans": [], "machine": planform.Machine()}),
    "Quote.rows": lambda t: (t["quote"], {}),
    "Quote.to_data": lambda t: (t["quote"], {}),
    "Quote.write_csv": lambda t: (t["quote"], {"path": t["folder"] / "q.csv"}),
    "Quote.write_json": lambda t: (t["quote"], {"path": t["folder"] / "q.json"}),
    "LooseCurves.close": lambda t: (t["loose"], {"gap": 0.0, "roles": {}}),
    "LooseCurves.profile_set": lambda t: (t["loose"], {"gap": 0.0, "tolerance": 0.01}),
    "LooseCurves.roles": lambda t: (t["loose"], {"roles": {}}),
    "LooseCurves.unfit_patterns": lambda t: (t["loose"], {"roles": {}}),
    "ClosedDrawing.chain_name": lambda t: (
        t["closed"],
        {"chain": t["closed"].cut.chains[0], "indices": t["closed"].cut_indices}
        if hasattr(t["closed"], "cut_indices")
        else {},
    ),
    "ClosedDrawing.misplaced": lambda t: (t["closed"], {}),
    "ClosedDrawing.profile_set": lambda t: (t["closed"], {"tolerance": 0.01, "allow_open": False}),
    "ClosedDrawing.profiles": lambda t: (t["closed"], {}),
    "MaterialRules.from_data": lambda t: (planform.MaterialRules, {"data": {}}),
    "MaterialRules.read": lambda t: (planform.MaterialRules, {"path": t["folder"] / "m.json"}),
    "UncuttableFeature.finding": lambda t: (None, {}),
    "OtherPart.finding": lambda t: (None, {}),
}
# Needs an object that the box does not have, or is for planform's own use.
NOT_CALLED = {
    "UncuttableFeature.finding",
    "OtherPart.finding",
    "Inspection.count",
    "Inspection.index",
    "ProfileSet.from_face",
} | {"ClosedDrawing.chain_name"}

BAD: dict[str, Any] = {
    "NaN": math.nan,
    "infinity": math.inf,
    "minus infinity": -math.inf,
    "huge": 1e300,
    "tiny": 1e-300,
    "nought": 0.0,
    "minus one": -1,
    "big integer": 10**30,
    "None": None,
    "empty str": "",
    "str": "no such word",
    "NUL": "a\0b",
    "bytes": b"\xff\xfe",
    "bytearray": bytearray(b"DBRep_DrawableShape"),
    "empty list": [],
    "list of None": [None],
    "ragged list": [[1, 2], [3]],
    "NaN points": [(math.nan, math.nan)] * 4,
    "empty array": np.zeros((0, 2)),
    "flat array": np.ones(7),
    "dict": {},
    "unknown": Unknown(),
}


def public_methods(name: str) -> Iterator[str]:
    kind = getattr(planform, name)
    for member in dir(kind):
        if not member.startswith("_") and callable(getattr(kind, member, None)):
            yield member


CLASSES = sorted(
    name
    for name in planform.__all__
    if isinstance(getattr(planform, name), type) and name not in ERRORS | NO_CALLS
)


def test_every_public_name_is_tried() -> None:
    known = set(FUNCTIONS) | set(CONSTRUCTORS) | RESULTS | RECORDS | NO_CALLS | ERRORS
    assert sorted(planform.__all__) == sorted(known)
    methods = {f"{name}.{member}" for name in CLASSES for member in public_methods(name)}
    assert sorted(methods) == sorted(METHODS)
    assert len(methods) > 70


def refused_by_us(call: Callable[[], Any], what: str) -> bool:
    """Calls; False if it is taken, True if it is refused as it should be."""
    try:
        result = call()
        if isinstance(result, Iterator):
            next(result, None)
    except planform.Error as error:
        text = str(error)
        assert text, what
        assert "\n" not in text, f"{what}: {text}"
        assert len(text) < LONGEST, f"{what}: {len(text)} characters: {text}"
        assert "incompatible" not in text, f"{what}: {text}"
        assert error.kind in planform.error_kinds(), what
        return True
    except BaseException as error:
        raise AssertionError(f"{what}: {type(error).__name__}: {error}") from error
    return False


def try_all(function: Callable[..., Any], good: dict[str, Any], what: str) -> None:
    for argument, usual in good.items():
        taken = [
            label
            for label, bad in BAD.items()
            if not refused_by_us(
                partial(function, **{**good, argument: bad}), f"{what}({argument}={label})"
            )
        ]
        # Of a type that nothing takes, or no number where one is asked for.
        never = {"unknown"} | (
            {"NaN", "infinity", "minus infinity"} if isinstance(usual, float) else set()
        )
        assert not never & set(taken), f"{what}({argument}) takes {never & set(taken)}"
        assert len(taken) < len(BAD) - 1, what
    assert refused_by_us(partial(function, **good, no_such_argument=1), what), what
    assert refused_by_us(partial(function, *[None] * 20), what), what


@pytest.mark.parametrize("name", sorted(FUNCTIONS))
def test_functions(name: str, things: Things) -> None:
    good = FUNCTIONS[name](things)
    function = getattr(planform, name)
    if name == "as_cut":  # a method of ProfileSet, too: its first argument has no name
        function = partial(function, good.pop("outline"))
    result = function(**good)
    if isinstance(result, Iterator):
        next(result)
    try_all(function, good, name)


@pytest.mark.parametrize("name", sorted(CONSTRUCTORS))
def test_constructors(name: str, things: Things) -> None:
    good = CONSTRUCTORS[name](things)
    assert getattr(planform, name)(**good) is not None
    try_all(getattr(planform, name), good, name)


@pytest.mark.parametrize("name", sorted(RESULTS))
def test_results_are_not_made_by_hand(name: str) -> None:
    for arguments in ((), (1,), (None, None)):
        assert refused_by_us(partial(getattr(planform, name), *arguments), name)


@pytest.mark.parametrize("name", sorted(set(METHODS) - NOT_CALLED))
def test_methods(name: str, things: Things) -> None:
    target, good = METHODS[name](things)
    method = getattr(target, name.split(".")[1])
    if name != "MaterialRules.read":
        method(**good)
    if name == "CutList.write_dxf":
        good = {"folder": good["folder"]}
        assert refused_by_us(lambda: method(folder=None), name)
        return
    try_all(method, good, name)


# --- what the messages say --------------------------------------------------------------------------


def refusal(call: Callable[[], Any]) -> planform.Error:
    with pytest.raises(planform.Error) as caught:
        call()
    return caught.value


def test_a_shape_of_another_library_is_pointed_to_from_ocp(things: Things) -> None:
    for wrong in (things["shape"], [things["shape"]]):
        error = refusal(lambda: planform.silhouette(wrong, things["datum"]))  # noqa: B023
        assert "from_ocp" in str(error)
        assert isinstance(error, TypeError)
    assert "load(path)" in str(
        refusal(lambda: planform.silhouette("plate.step", things["datum"]))  # type: ignore[arg-type]
    )


def test_what_to_pass_is_said(things: Things) -> None:
    datum, profiles = things["datum"], things["profiles"]
    cases: list[tuple[Callable[[], Any], list[str]]] = [
        (lambda: planform.from_brep(bytearray(things["brep"])), ["data", "bytes(data)"]),
        (lambda: planform.silhouette(things["model"]), ["datum", "missing"]),
        (lambda: planform.silhouette(things["model"], datum, "fine"), ["tolerance", "a number"]),
        (lambda: planform.silhouette(things["model"], datum, 1e9), ["hundredth", "0.01"]),
        (lambda: planform.Line((0, 0), (1, 2, 3)), ["end", "(3)", "2 numbers"]),
        (lambda: planform.Contour([None]), ["curves[0]", "None", "Line"]),
        (lambda: planform.Profile(profiles), ["outer", "ProfileSet", "Contour"]),
        (lambda: planform.ProfileSet.from_json("[]"), ["$"]),
        (lambda: planform.inspect(None), ["profile_set", "None", "ProfileSet"]),
        (lambda: profiles.united(None), ["ProfileSet.united", "other", "None"]),
        (lambda: planform.load(source=3), ["path", "3", "a path"]),
        (lambda: planform.Solid(), ["Solid", "load"]),
        (lambda: planform.silhouette(things["model"], datum, merge="both"), ["'union'", "'keep'"]),
    ]
    for call, words in cases:
        text = str(refusal(call))
        for word in words:
            assert word.replace("(3)", "of 3") in text or word in text, text


def test_a_missing_file_is_a_file_not_found_error(tmp_path: Path) -> None:
    import errno

    path = tmp_path / "absent.step"
    for read in (
        planform.load,
        planform.read_dxf,
        planform.read_svg,
        planform.read_rules,
        planform.ProfileSet.from_json,
        lambda p: planform.load_cached(p, None),
    ):
        with pytest.raises(FileNotFoundError) as caught:
            read(path)
        error = caught.value
        assert isinstance(error, planform.LoadError)
        assert error.kind == "file_missing"
        assert error.errno == errno.ENOENT
        assert error.filename == str(path)
        assert "absent.step" in str(error)
        again = pickle.loads(pickle.dumps(error))
        assert (type(again), str(again), again.kind) == (type(error), str(error), error.kind)
        assert (again.errno, again.filename) == (error.errno, error.filename)
