"""The command ``planform inspect``: what is read, what is printed, what is written."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Literal

import click
from rich.markup import escape
from rich.table import Table

from planform._planform import (
    Allowance,
    Datum,
    ProfileSet,
    RuleSet,
    Sheet,
    Solid,
    straight_cut,
    write_whole_file,
)
from planform.allowances import as_cut as way_under
from planform.batch.models import DATUMS, Batch, Drawing, Settings, datum_of
from planform.cli.drawing_command import drawing_options, mended_copy, read_outlines
from planform.cli.job_sources import files_of_jobs
from planform.cli.lengths import LENGTH, SIZE, unit_option
from planform.cli.options import (
    DONE,
    FAILED,
    MODEL_PATH,
    UNUSABLE,
    allowance_options,
    check_allowances,
    finite,
    heal_option,
    output_console,
    positive_or_none,
    read_unit_option,
    report_error,
    report_note,
    scale_option,
    tolerance_option,
)
from planform.cut_lists.materials import density_question
from planform.drawings.reading import is_drawing
from planform.errors import Error
from planform.inspections.inspection import HasFinding, inspect
from planform.measured_outline import SEVERITIES, DrawnCurves, MeasuredOutline
from planform.naming import FileNames, one_line, printable
from planform.pages.inspection_report import (
    Inspected,
    inspection_json,
    value_text,
    write_inspection_report,
)
from planform.pages.report import both_sizes
from planform.rule_files import read_rules
from planform.units.figures import MM_FIGURES, Figures, figures_in


@dataclass(frozen=True)
class Input:
    """One profile set to inspect, or why there is none (``error``).

    ``thickness`` is what the input itself says (mm), ``features`` what a straight cut can't make of it,
    ``drawn`` what a drawing shows beside its outlines.
    """

    name: str
    profiles: ProfileSet | None = None
    thickness: float | None = None
    features: Sequence[HasFinding] = ()
    error: str = ""
    drawn: DrawnCurves | None = None


def load_inputs(
    sources: Sequence[Path],
    settings: Settings,
    gap: float | None = None,
    roles: dict[str, str] | None = None,
    as_cut: bool = False,
) -> Iterator[Input]:
    """Everything that the sources hold, in their order; a failure costs the one it happens in.

    Solids are flattened as by ``planform flatten``; each drawing of one body brings its thickness and its
    features with it. DXF and SVG are read as drawings, with what is wrong with them; ``gap`` (mm) and
    ``roles`` are those of `read_outlines`. JSON is an outline of ours. The outlines are those of the parts,
    or, with ``as_cut``, the way of the tool under the allowances of the settings (of a JSON its own, if it
    has any).
    """
    for source in sources:
        if source.suffix.lower() == ".json":
            yield json_input(source, settings, as_cut)
        elif is_drawing(source):
            yield drawing_input(source, settings, gap, roles or {})
        else:
            yield from model_inputs(source, settings, as_cut)


def json_input(source: Path, settings: Settings, as_cut: bool) -> Input:
    """An outline that planform has written, with its allowance."""
    try:
        profiles = ProfileSet.from_json(source)
        if as_cut:
            allowance = Allowance.from_json(source)
            profiles = way_of(profiles, allowance, settings)
    except Error as error:
        return Input(source.name, error=one_line(str(error)))
    return Input(source.name, profiles)


def way_of(profiles: ProfileSet, allowance: Allowance | None, settings: Settings) -> ProfileSet:
    """The way of the tool: under the outline's own allowance, else under that of the settings, with the fit
    on all inner contours."""
    if allowance is not None:
        return way_under(profiles, allowance)
    fit_on: Literal["slot", "both"] = "both" if settings.fit_on == "both" else "slot"
    parts = {name: getattr(settings, name) for name in ("kerf", "fit", "relief", "relief_style")}
    return way_under(profiles, fit_on=fit_on, **parts)


def drawing_input(
    source: Path, settings: Settings, gap: float | None, roles: dict[str, str]
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
        )
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


def inspection_title(inspected: Inspected, figures: Figures) -> str:
    """One line: name, size in the unit asked for and the other one, thickness."""
    inspection = inspected.inspection
    assert inspection is not None
    line = f"{printable(inspected.name)}: "
    if inspection.bounds:
        (x0, y0), (x1, y1) = inspection.bounds
        (_, size), (_, other) = both_sizes(x1 - x0, y1 - y0, figures)
        line += f"{size} ({other})"
    if not inspection.profiles.profiles:
        line += ", no closed outline" if inspection.bounds else "no outline"
    if inspection.thickness is None:
        return line + ", thickness unknown: rules in thicknesses are left out"
    return line + f", {figures.length(inspection.thickness)} {figures.symbol} thick"


def inspection_table(inspection: MeasuredOutline, figures: Figures) -> Table:
    """One row a finding."""
    table = Table(box=None, pad_edge=False, header_style="bold")
    table.add_column("No.", justify="right")
    table.add_column("severity")
    table.add_column("rule")
    table.add_column(f"place x, y {figures.symbol}", justify="right")
    table.add_column("measured", justify="right")
    table.add_column("limit", justify="right")
    table.add_column("what to do", overflow="fold")
    for number, finding in enumerate(inspection.findings, start=1):
        table.add_row(
            str(number),
            finding.severity,
            finding.rule,
            ", ".join(figures.length(float(value)) for value in finding.place),
            value_text(finding.measured, finding, figures),
            value_text(finding.limit, finding, figures),
            escape(printable(finding.text)),
        )
    return table


def unused_rules(rules: RuleSet, inspected: Sequence[Inspected], has_drawings: bool) -> list[str]:
    """What rules that differ from the default set had nothing to look at, a sentence each."""
    defaults = {rule.name: rule for rule in RuleSet()}
    found = [one.inspection for one in inspected if one.inspection is not None]
    lines = []
    for rule in rules:
        own = defaults[rule.name]
        if (rule.enabled, rule.severity, rule.limit, rule.unit) == (
            own.enabled,
            own.severity,
            own.limit,
            own.unit,
        ):
            continue
        if rule.name in DRAWING_RULES and not has_drawings:
            lines.append(f"rule {rule.name} had nothing to look at: no drawing was inspected")
        elif rule.name == "sheet" and not any(one.sheet for one in found):
            lines.append("rule sheet had nothing to look at: --sheet gives the size")
        elif rule.unit == "thicknesses" and not any(one.thickness for one in found):
            lines.append(f"rule {rule.name} had nothing to look at: no thickness is known")
    return lines


DRAWING_RULES = (
    "open_end", "doubled", "stray", "crossing", "zero_length", "unread", "drawing_unit", "role",
    "left_over", "block", "hatch", "empty", "off_plane", "uneven_scale", "flattened",
)  # fmt: skip
"""Rules that are asked of drawings from elsewhere alone."""


def rules_table(rules: RuleSet) -> Table:
    """One row a rule."""
    table = Table(box=None, pad_edge=False, header_style="bold")
    for column in ("rule", "severity", "limit", "what is looked for", "source"):
        table.add_column(column, overflow="fold")
    for rule in rules:
        table.add_row(
            rule.name,
            rule.severity if rule.enabled else "off",
            f"{rule.limit:g} {rule.unit}" if rule.unit else "",
            rule.description,
            rule.source,
        )
    return table


def write_pictures(
    inspected: Sequence[Inspected], path: Path, figures: Figures = MM_FIGURES
) -> list[Path]:
    """Write the picture of each drawing; with several, each one's name is added to the file's.

    The suffix, .svg or .png, says which. Raises WriteError.
    """
    # NumPy comes with it: a quarter of the time of a start of any command.
    from planform.pictures.inspection import inspection_png, inspection_svg

    drawn = [one for one in inspected if one.inspection is not None]
    names = FileNames()
    paths = []
    for one in drawn:
        assert one.inspection is not None
        stem = path.stem if len(drawn) == 1 else f"{path.stem}-{names.unique(one.name)}"
        target = path.with_name(stem + path.suffix)
        if path.suffix.lower() == ".png":
            write_whole_file(target, inspection_png(one.inspection))
        else:
            write_whole_file(target, inspection_svg(one.inspection, figures=figures))
        paths.append(target)
    return paths


def picture_file(
    _context: click.Context, _option: click.Parameter, value: Path | None
) -> Path | None:
    """Accept names that end in .svg or .png."""
    if value is not None and value.suffix.lower() not in (".svg", ".png"):
        raise click.BadParameter("must end in .svg or .png")
    return value


@click.command("inspect")
@click.argument(
    "models", nargs=-1, metavar="MODEL...", type=MODEL_PATH, is_eager=True, callback=files_of_jobs
)
@click.option(
    "--thickness",
    type=LENGTH,
    metavar="LENGTH",
    callback=positive_or_none,
    help="Of the sheet; by default what the model says.",
)
@click.option(
    "--rules",
    "rule_file",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Rules that differ from the default set: a .toml or .json file.",
)
@click.option("--list-rules", is_flag=True, help="Print the rules with their sources and stop.")
@click.option(
    "--sheet",
    "sheet_size",
    type=SIZE,
    metavar="WxH",
    help="Size of the sheet to cut from: 3000x1500 (mm), 96inx48in, 8ftx4ft.",
)
@click.option(
    "--margin",
    type=LENGTH,
    default=0.0,
    show_default=True,
    metavar="LENGTH",
    callback=finite,
    help="Kept free along the sheet's edges.",
)
@click.option(
    "--grate",
    type=float,
    metavar="MM",
    callback=finite,
    help="From bar to bar below the sheet: what may tip up or fall between them is found.",
)
@click.option(
    "--grate-along",
    type=click.Choice(["x", "y"]),
    default="y",
    show_default=True,
    help="Where the bars run.",
)
@click.option(
    "--fail-on",
    type=click.Choice([*reversed(SEVERITIES), "never"]),
    default="warning",
    show_default=True,
    help="Exit status 1 from this severity on.",
)
@click.option(
    "--density", type=float, metavar="KG/M3", callback=positive_or_none, help="For masses."
)
@click.option(
    "--datum",
    type=click.Choice(DATUMS),
    default="auto",
    show_default=True,
    help="Plane of the drawing. auto: each part with its features up, else as its own frame shows it.",
)
@click.option(
    "--json", "json_file", metavar="FILE", type=click.Path(path_type=Path), help="Findings."
)
@click.option(
    "--html",
    "html_file",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="A page with pictures, findings, figures and cautions.",
)
@click.option(
    "--picture",
    metavar="FILE",
    callback=picture_file,
    type=click.Path(path_type=Path),
    help="The outline with its findings, .svg or .png; several get their names added.",
)
@unit_option
@allowance_options
@click.option(
    "--as-cut",
    is_flag=True,
    help="Inspect the way of the tool, with width of cut, fits and reliefs in it, not the part.",
)
@drawing_options
@tolerance_option
@read_unit_option
@scale_option
@heal_option
def inspect_command(
    models: tuple[Path, ...],
    thickness: float | None,
    rule_file: Path | None,
    list_rules: bool,
    sheet_size: tuple[float, float] | None,
    margin: float,
    grate: float | None,
    grate_along: Literal["x", "y"],
    fail_on: str,
    density: float | None,
    json_file: Path | None,
    html_file: Path | None,
    picture: Path | None,
    roles: dict[str, str],
    gap: float | None,
    repair_file: Path | None,
    fit_arcs: float | None,
    as_cut: bool,
    **options: Any,
) -> int:
    """Inspect what would be cut of the MODELs (STEP, BREP, DXF, SVG, JSON): is it fit to cut?

    Exit status: 0, nothing found; 1, findings at or above --fail-on; 2, something could not be read.
    """
    rules = read_rules(rule_file) if rule_file else RuleSet()
    if list_rules:
        output_console().print(rules_table(rules))
        return DONE
    if not models:
        raise click.UsageError("Missing argument 'MODEL...'.")
    sheet = Sheet(*sheet_size, margin) if sheet_size else None
    check_allowances(options)
    settings = Settings(**options)
    figures = figures_in(settings.unit)
    if density is not None and (question := density_question(density)):
        report_note(question)
    changes: tuple[str, ...] = ()
    if fit_arcs is not None and not repair_file:
        raise click.UsageError("--fit-arcs goes with --repair, which writes the copy with the arcs")
    if repair_file:
        mended = mended_copy(
            models,
            repair_file,
            gap=gap,
            roles=roles,
            unit=settings.read_unit,
            scale=settings.scale,
            fit_arcs=fit_arcs,
        )
        # From here on it is the copy that counts: unit and scale are in it.
        models, changes = (mended.path,), mended.changes
        settings = replace(settings, read_unit="", scale=1.0)
    inspected = []
    for source in load_inputs(models, settings, gap, roles, as_cut):
        inspected.append(
            replace(
                inspect_input(source, thickness, rules, sheet, grate, grate_along), changes=changes
            )
        )
        print_inspected(inspected[-1], figures)
    if rule_file:
        for line in unused_rules(rules, inspected, any(map(is_drawing, models))):
            report_note(f"{rule_file}: {line}")
    if json_file:
        write_whole_file(json_file, inspection_json(inspected))
    if html_file:
        write_inspection_report(inspected, html_file, density, figures)
    if picture:
        write_pictures(inspected, picture, figures)
    if any(one.error for one in inspected):
        return UNUSABLE
    if fail_on == "never":
        return DONE
    failing = any(one.inspection and one.inspection.at_least(fail_on) for one in inspected)
    return FAILED if failing else DONE


def print_inspected(inspected: Inspected, figures: Figures) -> None:
    """The table of one drawing, or its error."""
    if inspected.inspection is None:
        report_error(inspected.error)
        return
    console = output_console()
    console.print(inspection_title(inspected, figures), markup=False)
    if inspected.inspection.findings:
        console.print(inspection_table(inspected.inspection, figures))
    else:
        console.print("nothing found")
