"""planform turns solid models into cut-ready flat profiles.

A STEP or BREP file goes in; closed, exact, checked outlines come out, as DXF, SVG or JSON. Lengths are
millimetres, angles radians.

>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> model = planform.load(planform.write_demo_assembly(folder / "station.step"))
>>> solid = model.solids[0]
>>> profiles = planform.silhouette(solid, planform.auto_datum(solid))
>>> profiles.to_dxf(folder / "plate.dxf").name
'plate.dxf'
"""

import importlib
from types import FunctionType
from typing import TYPE_CHECKING, Any

from planform._planform import (
    Allowance,
    Allowed,
    Arc,
    Bend,
    BendRule,
    BendTableRow,
    Blank,
    ClosedChain,
    ClosedContours,
    Congruence,
    Contact,
    Contour,
    CrossedCurves,
    CurvePlace,
    Cut,
    CutPlan,
    CutTime,
    Datum,
    DoubledCurve,
    DrawingLayer,
    EllipticalArc,
    Finding,
    FittedCurve,
    Gap,
    Healed,
    Line,
    Mark,
    Mating,
    MatingCurve,
    MatingOutline,
    Model,
    NarrowPlace,
    OpenChain,
    OtherPart,
    PlacedOutline,
    PlacedPiece,
    PlanFinding,
    Plate,
    PlateInstance,
    PlateList,
    Profile,
    ProfileSet,
    Proof,
    Provenance,
    ProvenLaw,
    Rule,
    RuleSet,
    SectionStack,
    Sheet,
    SideUp,
    Solid,
    Spline,
    StraightCut,
    TinyCurve,
    UncuttableFeature,
    UnfoldRefusal,
    __version__,
    auto_datum,
    bend_deduction,
    bend_findings,
    bridges,
    close_contours,
    closed,
    contacts,
    coplanar_groups,
    curve_places,
    default_cache_folder,
    error_kinds,
    face_datum,
    feature_marks,
    find_congruence,
    fit_flattened,
    from_brep,
    inner_fits,
    load,
    load_cached,
    mating,
    merge,
    move_time,
    narrow_places,
    nested_profiles,
    nesting_depths,
    offset,
    opened,
    path_time,
    placed_outlines,
    plan_cuts,
    plates,
    relieved,
    rest_on,
    safe_file_stem,
    section,
    shortest_order,
    side_up,
    silhouette,
    straight_cut,
    unit_names,
    write_demo_assembly,
    write_whole_file,
)
from planform.allowances import Allowances, AllowedOutline, allowances_for, as_cut
from planform.arguments import checked, checked_class
from planform.batch.many import flatten_all
from planform.bending.bend_list import bends_csv, bends_json
from planform.bending.tables import BendTable, read_bend_table
from planform.bending.unfolding import bend_rule, unfold
from planform.curves import Curve
from planform.cut_lists.cut_list import CutList, CutListEntry, Material, MaterialRules
from planform.drawings.findings import drawing_findings
from planform.drawings.loose import ClosedDrawing, LeftOver, LooseCurve, LooseCurves
from planform.drawings.reading import read_drawing
from planform.errors import (
    ArgumentError,
    Error,
    FileMissingError,
    GeometryError,
    LoadError,
    UnfoldError,
    WriteError,
)
from planform.exchange.ocp import from_ocp
from planform.exchange.shapely_exchange import from_shapely, geo_interface, to_shapely
from planform.finishing import Finishing
from planform.inspections.drawing import inspect_drawing
from planform.inspections.inspection import Inspection, inspect
from planform.layer_files import read_layers
from planform.lettering.outlines import text
from planform.pictures.notebook import notebook_svg
from planform.rule_files import read_rules, rules_toml
from planform.stack import sections

if TYPE_CHECKING:
    from planform.drawings.dxf_reader import read_dxf
    from planform.drawings.repairing import Repair, repair
    from planform.drawings.svg_reader import read_svg
    from planform.jobs.run import run_job
    from planform.planning.machine import Machine
    from planform.planning.quote import Quote
    from planform.planning.sheet_plan import plan_sheet
    from planform.sheets.document import read_layout, write_layout
    from planform.sheets.lay_out import lay_out
    from planform.sheets.stock_file import read_stock
    from planform.sheets.values import Layout, NotPlaced, Piece, Placement, Stock

__all__ = [
    "Allowance",
    "Allowances",
    "Allowed",
    "AllowedOutline",
    "Arc",
    "ArgumentError",
    "Bend",
    "BendRule",
    "BendTable",
    "BendTableRow",
    "Blank",
    "ClosedChain",
    "ClosedContours",
    "ClosedDrawing",
    "Congruence",
    "Contact",
    "Contour",
    "CrossedCurves",
    "Curve",
    "CurvePlace",
    "Cut",
    "CutList",
    "CutListEntry",
    "CutPlan",
    "CutTime",
    "Datum",
    "DoubledCurve",
    "DrawingLayer",
    "EllipticalArc",
    "Error",
    "FileMissingError",
    "Finding",
    "Finishing",
    "FittedCurve",
    "Gap",
    "GeometryError",
    "Healed",
    "Inspection",
    "Layout",
    "LeftOver",
    "Line",
    "LoadError",
    "LooseCurve",
    "LooseCurves",
    "Machine",
    "Mark",
    "Material",
    "MaterialRules",
    "Mating",
    "MatingCurve",
    "MatingOutline",
    "Model",
    "NarrowPlace",
    "NotPlaced",
    "OpenChain",
    "OtherPart",
    "Piece",
    "PlacedOutline",
    "PlacedPiece",
    "Placement",
    "PlanFinding",
    "Plate",
    "PlateInstance",
    "PlateList",
    "Profile",
    "ProfileSet",
    "Proof",
    "ProvenLaw",
    "Provenance",
    "Quote",
    "Repair",
    "Rule",
    "RuleSet",
    "SectionStack",
    "Sheet",
    "SideUp",
    "Solid",
    "Spline",
    "Stock",
    "StraightCut",
    "TinyCurve",
    "UncuttableFeature",
    "UnfoldError",
    "UnfoldRefusal",
    "WriteError",
    "__version__",
    "allowances_for",
    "as_cut",
    "auto_datum",
    "bend_deduction",
    "bend_findings",
    "bend_rule",
    "bends_csv",
    "bends_json",
    "bridges",
    "close_contours",
    "closed",
    "contacts",
    "coplanar_groups",
    "curve_places",
    "default_cache_folder",
    "drawing_findings",
    "error_kinds",
    "face_datum",
    "feature_marks",
    "find_congruence",
    "fit_flattened",
    "flatten_all",
    "from_brep",
    "from_ocp",
    "inner_fits",
    "inspect",
    "inspect_drawing",
    "lay_out",
    "load",
    "load_cached",
    "mating",
    "merge",
    "move_time",
    "narrow_places",
    "nested_profiles",
    "nesting_depths",
    "offset",
    "opened",
    "path_time",
    "placed_outlines",
    "plan_cuts",
    "plan_sheet",
    "plates",
    "read_bend_table",
    "read_drawing",
    "read_dxf",
    "read_layers",
    "read_layout",
    "read_rules",
    "read_stock",
    "read_svg",
    "relieved",
    "repair",
    "rest_on",
    "rules_toml",
    "run_job",
    "safe_file_stem",
    "section",
    "sections",
    "shortest_order",
    "side_up",
    "silhouette",
    "straight_cut",
    "text",
    "unfold",
    "unit_names",
    "write_demo_assembly",
    "write_layout",
    "write_whole_file",
]

# Methods that are written in Python because they speak with Python libraries.
for _name, _member in {
    "as_cut": checked(as_cut),
    "to_shapely": checked(to_shapely),
    "from_shapely": classmethod(checked(from_shapely)),
    "__geo_interface__": property(geo_interface),
    "_repr_svg_": notebook_svg,
}.items():
    setattr(ProfileSet, _name, _member)
del _name, _member

# Functions and classes that are written in Python look at their arguments, as the compiled ones do.
for _name, _member in list(globals().items()):
    if _name in __all__ and getattr(_member, "__module__", "").startswith("planform."):
        if isinstance(_member, FunctionType):
            globals()[_name] = checked(_member)
        elif isinstance(_member, type) and not issubclass(_member, Exception):
            checked_class(_member)
del _name, _member

# Where these are. Their libraries take longer to load than all the rest, and most runs read no drawing.
_LOADED_WHEN_ASKED = {
    "Layout": "sheets.values",
    "Machine": "planning.machine",
    "NotPlaced": "sheets.values",
    "Piece": "sheets.values",
    "Placement": "sheets.values",
    "Quote": "planning.quote",
    "Repair": "drawings.repairing",
    "Stock": "sheets.values",
    "lay_out": "sheets.lay_out",
    "plan_sheet": "planning.sheet_plan",
    "read_dxf": "drawings.dxf_reader",
    "read_layout": "sheets.document",
    "read_stock": "sheets.stock_file",
    "read_svg": "drawings.svg_reader",
    "repair": "drawings.repairing",
    "run_job": "jobs.run",
    "write_layout": "sheets.document",
}


def __getattr__(name: str) -> Any:
    module = _LOADED_WHEN_ASKED.get(name)
    if module is None:
        raise AttributeError(f"module 'planform' has no attribute '{name}'")
    value = getattr(importlib.import_module(f"planform.{module}"), name)
    if isinstance(value, type):
        checked_class(value)
    else:
        value = checked(value)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return __all__
