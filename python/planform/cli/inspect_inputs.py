"""What ``planform inspect`` is given: models, drawings, outlines of ours, each as what is to be inspected."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Literal

from planform._planform import (
    Allowance,
    Datum,
    Finding,
    ProfileSet,
    RuleSet,
    Sheet,
    Solid,
    straight_cut,
)
from planform.allowances import allowance_of
from planform.allowances import as_cut as way_under
from planform.batch.drawing import Drawing
from planform.batch.models import Batch
from planform.batch.outlines import datum_of
from planform.batch.settings import Settings
from planform.cli.drawing_command import read_outlines
from planform.drawings.reading import is_drawing
from planform.errors import Error
from planform.inspections.inspection import HasFinding, inspect
from planform.measured_outline import DrawnCurves
from planform.naming import one_line
from planform.pages.inspection_report import (
    Inspected,
)


@dataclass(frozen=True)
class Input:
    """One profile set to inspect, or why there is none (``error``).

    ``thickness`` is what the input itself says (mm), ``features`` what a straight cut can't make of it,
    ``drawn`` what a drawing shows beside its outlines.
    """

    name: str
    profiles: ProfileSet | None = None
    thickness: float | None = None
    features: Sequence[Finding | HasFinding] = ()
    error: str = ""
    drawn: DrawnCurves | None = None


def load_inputs(
    sources: Sequence[Path],
    settings: Settings,
    gap: float | None = None,
    roles: dict[str, str] | None = None,
    as_cut: bool = False,
    rules: RuleSet | None = None,
) -> Iterator[Input]:
    """Everything that the sources hold, in their order; a failure costs the one it happens in.

    Solids are flattened as by ``planform flatten``; each drawing of one body brings its thickness and its
    features with it. DXF and SVG are read as drawings, with what is wrong with them under the ``rules``;
    ``gap`` (mm) and ``roles`` are those of `read_outlines`. JSON is an outline of ours. Outlines are those
    of the parts, or, with ``as_cut``, the way of the tool under the allowances of the settings (and of a JSON
    its own); of drawings and JSON with the fit on all inner contours.
    """
    for source in sources:
        if source.suffix.lower() == ".json":
            yield json_input(source, settings, as_cut)
        elif is_drawing(source):
            yield drawing_input(source, settings, gap, roles or {}, rules or RuleSet(), as_cut)
        else:
            yield from model_inputs(source, settings, as_cut)


def json_input(source: Path, settings: Settings, as_cut: bool) -> Input:
    """An outline that planform has written, with its allowance."""
    try:
        profiles = ProfileSet.from_json(source)
        if as_cut:
            own = Allowance.from_json(source)
            profiles = way_under(profiles, allowance_of(profiles, own, settings))
    except Error as error:
        return Input(source.name, error=one_line(str(error)))
    return Input(source.name, profiles)


def drawing_input(
    source: Path,
    settings: Settings,
    gap: float | None,
    roles: dict[str, str],
    rules: RuleSet,
    as_cut: bool,
) -> Input:
    """The closed outlines of a drawing from elsewhere."""
    try:
        profiles, found, drawn = read_outlines(
            source,
            gap=gap,
            roles=roles,
            unit=settings.read_unit,
            scale=settings.scale,
            tolerance=settings.tolerance,
            rules=rules,
        )
        if as_cut:
            profiles = way_under(profiles, allowance_of(profiles, None, settings))
    except Error as error:
        return Input(source.name, error=one_line(str(error)))
    return Input(source.name, profiles, features=found, drawn=drawn)


def model_inputs(source: Path, settings: Settings, as_cut: bool) -> Iterator[Input]:
    """The drawings of a model."""
    wanted = settings if as_cut else replace(settings, kerf=0.0, fit=0.0, relief=0.0)
    batch = Batch([source], wanted)
    for model in batch.result.models:
        if model.error:
            yield Input(model.source.name, error=model.error)
        for drawing in batch.outlined(model):
            yield input_of(drawing, settings, as_cut)


def input_of(drawing: Drawing, settings: Settings, as_cut: bool) -> Input:
    """The drawing of some solids, flattened."""
    name = drawing.name if drawing.quantity == 1 else f"{drawing.name} ({drawing.quantity} ×)"
    if drawing.outcome == "empty":
        return Input(name, error=f"{drawing.name}: the plane misses the part")
    profiles = drawing.way if as_cut else drawing.profiles
    if drawing.outcome == "failed" or profiles is None:
        return Input(name, error=f"{drawing.name}: {drawing.error}")
    if drawing.no_plate is not None:
        # Rules about a sheet's thickness, and what a straight cut leaves, say nothing of what is none.
        return Input(name, profiles, features=[drawing.no_plate])
    try:
        thickness, features = straight_cut_of(drawing.solids, datum_of(drawing.solids, settings))
    except Error as error:
        return Input(name, error=one_line(f"{drawing.name}: {error}"))
    return Input(name, profiles, thickness, features)


def straight_cut_of(
    solids: Sequence[Solid], datum: Datum
) -> tuple[float | None, Sequence[HasFinding]]:
    """Thickness and features of all solids; no thickness if they differ."""
    cuts = [straight_cut(solid, datum) for solid in solids]
    thicknesses = {round(cut.thickness, 6) for cut in cuts}
    thickness = cuts[0].thickness if len(thicknesses) == 1 else None
    return thickness, [feature for cut in cuts for feature in cut.features]


def inspect_input(
    source: Input,
    thickness: float | None,
    rules: RuleSet,
    sheet: Sheet | None,
    grate: float | None = None,
    grate_along: Literal["x", "y"] = "y",
) -> Inspected:
    """Inspect one input; `thickness` goes before what the input says."""
    if source.profiles is None:
        return Inspected(source.name, error=source.error)
    found = inspect(
        source.profiles,
        source.thickness if thickness is None else thickness,
        rules=rules,
        sheet=sheet,
        features=source.features,
        grate=grate,
        grate_along=grate_along,
        drawn=source.drawn,
    )
    return Inspected(source.name, found)
