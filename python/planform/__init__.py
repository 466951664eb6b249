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
    OutlineIndex,
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
    allowance_notes,
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
from planform.curves import Curve
from planform.errors import (
    ArgumentError,
    Error,
    FileMissingError,
    GeometryError,
    LoadError,
    UnfoldError,
    WriteError,
)

if TYPE_CHECKING:
    from planform.allowances import Allowances, AllowedOutline, allowances_for, as_cut
    from planform.batch.many import flatten_all
    from planform.batch.settings import Settings
    from planform.bending.bend_list import bends_csv, bends_json
    from planform.bending.tables import BendTable, read_bend_table
    from planform.bending.unfolding import bend_rule, unfold
    from planform.cut_lists.cut_list import CutList, CutListEntry, Material, MaterialRules
    from planform.drawings.dxf_reader import read_dxf
    from planform.drawings.findings import drawing_findings
    from planform.drawings.loose import ClosedDrawing, LeftOver, LooseCurve, LooseCurves
    from planform.drawings.reading import read_drawing
    from planform.drawings.repairing import Repair, repair
    from planform.drawings.svg_reader import read_svg
    from planform.exchange.ocp import from_ocp, to_ocp
    from planform.finishing import Finishing
    from planform.inspections.drawing import inspect_drawing
    from planform.inspections.inspection import Inspection, inspect
    from planform.jobs.run import run_job
    from planform.layer_files import read_layers
    from planform.lettering.outlines import text
    from planform.planning.machine import Machine
    from planform.planning.quote import Quote
    from planform.planning.sheet_plan import plan_sheet
    from planform.queries import NearestPlaces
    from planform.rule_files import read_rules, rules_toml
    from planform.sheets.document import read_layout, write_layout
    from planform.sheets.lay_out import lay_out
    from planform.sheets.stock_file import read_stock
    from planform.sheets.values import Layout, NotPlaced, Piece, Placement, Stock
    from planform.stack import sections
    from planform.verbs import load

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
    "NearestPlaces",
    "NotPlaced",
    "OpenChain",
    "OtherPart",
    "OutlineIndex",
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
    "Settings",
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
    "allowance_notes",
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
    "to_ocp",
    "unfold",
    "unit_names",
    "write_demo_assembly",
    "write_layout",
    "write_whole_file",
]

# Where these are: what is written in Python is loaded when it is first asked for. Most runs need little of
# it, and some of its libraries take longer to load than all the rest.
_LOADED_WHEN_ASKED = {
    "Allowances": "allowances",
    "AllowedOutline": "allowances",
    "BendTable": "bending.tables",
    "ClosedDrawing": "drawings.loose",
    "CutList": "cut_lists.cut_list",
    "CutListEntry": "cut_lists.cut_list",
    "Finishing": "finishing",
    "Inspection": "inspections.inspection",
    "Layout": "sheets.values",
    "LeftOver": "drawings.loose",
    "LooseCurve": "drawings.loose",
    "LooseCurves": "drawings.loose",
    "Machine": "planning.machine",
    "Material": "cut_lists.cut_list",
    "MaterialRules": "cut_lists.cut_list",
    "NearestPlaces": "queries",
    "NotPlaced": "sheets.values",
    "Piece": "sheets.values",
    "Placement": "sheets.values",
    "Quote": "planning.quote",
    "Repair": "drawings.repairing",
    "Settings": "batch.settings",
    "Stock": "sheets.values",
    "allowances_for": "allowances",
    "as_cut": "allowances",
    "bend_rule": "bending.unfolding",
    "bends_csv": "bending.bend_list",
    "bends_json": "bending.bend_list",
    "drawing_findings": "drawings.findings",
    "flatten_all": "batch.many",
    "from_ocp": "exchange.ocp",
    "inspect": "inspections.inspection",
    "inspect_drawing": "inspections.drawing",
    "lay_out": "sheets.lay_out",
    "load": "verbs",
    "plan_sheet": "planning.sheet_plan",
    "read_bend_table": "bending.tables",
    "read_drawing": "drawings.reading",
    "read_dxf": "drawings.dxf_reader",
    "read_layers": "layer_files",
    "read_layout": "sheets.document",
    "read_rules": "rule_files",
    "read_stock": "sheets.stock_file",
    "read_svg": "drawings.svg_reader",
    "repair": "drawings.repairing",
    "rules_toml": "rule_files",
    "run_job": "jobs.run",
    "sections": "stack",
    "text": "lettering.outlines",
    "to_ocp": "exchange.ocp",
    "unfold": "bending.unfolding",
    "write_layout": "sheets.document",
}


def _arguments() -> Any:
    """The module that looks at arguments; it knows our classes, also those that are not loaded yet."""
    module = importlib.import_module("planform.arguments")
    # `Curve` stands for four classes.
    module.know_classes(name for name in __all__ if name[:1].isupper() and name != "Curve")
    return module


class _Later:
    """A member of a compiled class that is written in Python, because it speaks with Python libraries."""

    def __init__(self, owner: type, name: str, place: str, kind: Any = None) -> None:
        self._owner, self._name, self._place, self._kind = owner, name, place, kind

    def __get__(self, instance: Any, owner: type | None = None) -> Any:
        checked = _arguments().checked
        module, _, function = self._place.partition(":")
        member = checked(getattr(importlib.import_module(f"planform.{module}"), function))
        setattr(self._owner, self._name, member if self._kind is None else self._kind(member))
        found = self._owner if instance is None else instance
        return getattr(found, self._name)


for _owner, _name, _place, _kind in (
    (Datum, "of", "verbs:datum_of", classmethod),
    (Model, "_repr_html_", "pictures.notebook:model_html", None),
    (Model, "to_glb", "pictures.preview:to_glb", None),
    (OutlineIndex, "nearest", "queries:nearest", None),
    (PlateList, "_repr_html_", "pictures.notebook:plates_html", None),
    (ProfileSet, "__geo_interface__", "exchange.shapely_exchange:geo_interface", property),
    (ProfileSet, "_repr_html_", "pictures.notebook:outline_html", None),
    (ProfileSet, "_repr_svg_", "pictures.notebook:notebook_svg", None),
    (ProfileSet, "as_cut", "allowances:as_cut", None),
    (ProfileSet, "data", "verbs:data", property),
    (ProfileSet, "from_face", "exchange.ocp:from_face", classmethod),
    (ProfileSet, "from_shapely", "exchange.shapely_exchange:from_shapely", classmethod),
    (ProfileSet, "nearest", "queries:nearest", None),
    (ProfileSet, "to_shapely", "exchange.shapely_exchange:to_shapely", None),
    (ProfileSet, "with_data", "verbs:with_data", None),
    (Solid, "preview", "pictures.preview:preview", None),
    (Solid, "to_glb", "pictures.preview:to_glb", None),
):
    setattr(_owner, _name, _Later(_owner, _name, _place, _kind))
del _owner, _name, _place, _kind


def __getattr__(name: str) -> Any:
    place = _LOADED_WHEN_ASKED.get(name)
    if place is None:
        raise AttributeError(f"module 'planform' has no attribute '{name}'")
    from planform.extras import EXTRAS, needed, stand_in

    arguments = _arguments()
    try:
        with needed():
            module = importlib.import_module(f"planform.{place}")
    except ModuleNotFoundError as error:
        if error.name not in EXTRAS:
            raise
        return stand_in(name, error)
    value = getattr(module, name)
    # It looks at its arguments, as what is compiled does.
    if isinstance(value, type):
        arguments.checked_class(value)
    else:
        value = arguments.checked(value)
        setattr(module, name, value)  # pickling looks for it there
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return __all__
