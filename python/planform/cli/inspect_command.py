"""The command ``planform inspect``: what is read, what is printed, what is written."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any, Literal

import click
from rich.markup import escape
from rich.table import Table

from planform._planform import (
    RuleSet,
    Sheet,
    write_whole_file,
)
from planform.batch.settings import DATUMS, Settings
from planform.cli.drawing_command import drawing_options, mended_copy
from planform.cli.inspect_inputs import inspect_input, load_inputs
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
from planform.measured_outline import SEVERITIES, MeasuredOutline
from planform.naming import FileNames, printable
from planform.pages.inspection_report import (
    Inspected,
    inspection_json,
    value_text,
    write_inspection_report,
)
from planform.pages.report import both_sizes
from planform.rule_files import read_rules
from planform.units.figures import MM_FIGURES, Figures, figures_in


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
    for source in load_inputs(models, settings, gap, roles, as_cut, rules):
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
