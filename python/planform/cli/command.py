"""The command ``planform``.

Exit status: 0, all is done; 1, something could not be flattened or written (all else is); 2, the call
makes no sense or no model could be read. Every error is one line on the error stream. Lengths are
millimetres.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any, Literal

import click

from planform._planform import __version__, load
from planform.allowances import left_by_tool
from planform.batch.drawing import BatchResult
from planform.batch.models import Batch
from planform.batch.settings import Settings
from planform.cli.batch_command import batch_command
from planform.cli.inspect_command import inspect_command
from planform.cli.job_command import job_command
from planform.cli.job_sources import models_of_jobs
from planform.cli.lengths import unit_option
from planform.cli.machine_command import machine_command
from planform.cli.options import (
    DONE,
    FAILED,
    MODEL_PATH,
    UNUSABLE,
    heal_option,
    make_folder,
    out_option,
    output_console,
    read_unit_option,
    report_error,
    report_note,
    report_warning,
    scale_option,
    settings_of,
    settings_options,
)
from planform.cli.plates_command import plates_command, write_all
from planform.cli.progress import progress_bar
from planform.cli.sheets_command import sheets_command
from planform.cli.tables import model_tables, summary_table
from planform.cli.unfold_command import unfold_command
from planform.cut_lists.cut_list import CutList, Material
from planform.errors import Error, LoadError, WriteError
from planform.formats import FORMATS
from planform.jobs.demo import write_demo_job
from planform.naming import counted
from planform.pages.report import write_report
from planform.sheets.lay_out import lay_out, pieces_from
from planform.sheets.output import write_all as write_sheets
from planform.sheets.values import Stock
from planform.units.figures import figures_in


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command with the given arguments (those of the process by default); return its exit
    status."""
    try:
        status = command.main(
            args=None if arguments is None else list(arguments),
            prog_name="planform",
            standalone_mode=False,
        )
        sys.stdout.flush()
    except click.ClickException as error:
        report_error(error.format_message())
        return UNUSABLE
    except Error as error:
        report_error(str(error))
        return UNUSABLE
    except (click.Abort, KeyboardInterrupt):
        report_error("stopped")
        return 130
    except BrokenPipeError:
        close_output()  # its reader has gone
        return FAILED
    except OSError as error:
        close_output()
        report_error(f"the output can't be written: {error.strerror}")
        return UNUSABLE
    return int(status or DONE)


def close_output() -> None:
    """Keep the interpreter from complaining at exit about what can't be written any more."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


@click.group(
    context_settings={"help_option_names": ["-h", "--help"]},
    invoke_without_command=True,
    no_args_is_help=False,
)
@click.version_option(__version__, prog_name="planform", message="%(prog)s %(version)s")
@click.pass_context
def command(context: click.Context) -> int:
    """Turn solid models (STEP, BREP) into cut-ready flat outlines (DXF, SVG, JSON)."""
    if context.invoked_subcommand is None:
        print(context.get_help(), file=sys.stderr)
        return UNUSABLE
    return DONE


@command.command("flatten")
@click.argument(
    "models",
    nargs=-1,
    required=True,
    metavar="MODEL...",
    type=MODEL_PATH,
    is_eager=True,
    callback=models_of_jobs,
)
@settings_options
@out_option
@click.option("--report", is_flag=True, help="Write report.html, a page that shows every outline.")
@click.option("--strict", is_flag=True, help="Exit status 1 if a part is no plate.")
def flatten_command(
    models: tuple[Path, ...], folder: Path, report: bool, strict: bool, **options: Any
) -> int:
    """Flatten every solid of the MODELs and write a drawing of each.

    With --datum auto, identical parts are flattened once and the summary counts them; bodies of a part
    that lie flat beside or in each other make one drawing. With a fixed datum each placed solid has a
    drawing of its own. What is no plate is drawn as its shadow, with a warning.
    """
    settings = settings_of(options)
    return flatten_models(models, folder, settings, report, strict)


command.add_command(batch_command)
command.add_command(plates_command)
command.add_command(inspect_command)
command.add_command(job_command)
command.add_command(machine_command)
command.add_command(sheets_command)
command.add_command(unfold_command)


@command.command("show")
@click.argument(
    "models",
    nargs=-1,
    required=True,
    metavar="MODEL...",
    type=MODEL_PATH,
    is_eager=True,
    callback=models_of_jobs,
)
@read_unit_option
@scale_option
@heal_option
@unit_option
def show_command(
    models: tuple[Path, ...],
    read_unit: str,
    scale: float,
    heal: Literal["needed", "always"],
    unit: str,
) -> int:
    """Show what is in the MODELs: tree, names, unit, sizes, volumes, same parts, layers, colours, notes."""
    console = output_console()
    read = 0
    for source in models:
        try:
            model = load(source, unit=read_unit or None, scale=scale, heal=heal)
        except LoadError as error:
            report_error(str(error))
            continue
        read += 1
        for line in model_tables(model, figures_in(unit)):
            console.print(line)
    if read == len(models):
        return DONE
    return FAILED if read else UNUSABLE


DEMO_DENSITY = 680.0
"""kg/m³, of birch plywood as it is sold (common practice, no source)."""
DEMO_KERF, DEMO_FIT = 0.15, 0.05
"""mm, of a beam in thin plywood, and of tabs that go in by hand (common practice, no source)."""
DEMO_STATIONS = 10
DEMO_SHEET, DEMO_GAP = (1200.0, 600.0), 3.0
"""mm: half a sheet of plywood as hobby shops sell it (common practice, no source)."""
DEMO_PRICE = 18.0
"""Of such a sheet, invented."""
DEMO_SECONDS = 4.0
"""Of search: enough for a layout that a person would not better by hand."""


@command.command("demo")
@out_option
def demo_command(folder: Path) -> int:
    """Write the demo, a bird-feeding station, as STEP, then flatten it to every format and a report, list
    its plates for cutting in the folder ``plates``, with a width of cut of 0.15 mm and a fit of 0.05 mm in
    their drawings, and lay ten stations out on sheets of 1200 x 600 mm in the folder ``sheets``. Beside the
    model stands a job file, ``job.toml``, with a machine and stock whose figures are invented: ``planform
    job`` makes all of it."""
    make_folder(folder)
    source = folder / "station.step"
    job = write_demo_job(folder)
    settings = Settings(datum="auto", formats=FORMATS)
    status = flatten_models([source], folder, settings, report=True)
    cut_list = CutList.from_model(
        load(source),
        lambda _: Material("birch plywood", DEMO_DENSITY),
        kerf=DEMO_KERF,
        fit=DEMO_FIT,
    )
    for line in write_all(cut_list, folder / "plates"):
        report_error(line)
        status = FAILED
    layout = lay_out(
        [
            replace(piece, quantity=DEMO_STATIONS * piece.quantity)
            for piece in pieces_from(cut_list, (), None)
        ],
        Stock.rectangle(*DEMO_SHEET, price=DEMO_PRICE),
        gap=DEMO_GAP,
        seconds=DEMO_SECONDS,
    )
    make_folder(folder / "sheets")
    for line in write_sheets(layout, folder / "sheets", f"{DEMO_STATIONS} stations"):
        report_error(line)
        status = FAILED
    for note in layout.notes:
        report_note(note)
    print(f"model: {source}")
    print(f"report: {folder / 'report.html'}")
    print(f"cut list: {folder / 'plates' / 'cut_list.html'}")
    print(f"sheets: {folder / 'sheets' / 'sheets.html'}")
    print(f"job: {job}")
    return status


def flatten_models(
    models: Sequence[Path], folder: Path, settings: Settings, report: bool, strict: bool = False
) -> int:
    """Flatten the models into the folder, say on the terminal what was done; return the exit status."""
    batch = Batch(models, settings)
    if all(result.error for result in batch.result.models):
        for line in batch.result.errors:
            report_error(line)
        return UNUSABLE
    make_folder(folder)
    with progress_bar(batch.size) as advance:
        for drawing in batch.run(folder, starting=lambda planned: advance(planned.name, 0)):
            advance(drawing.name, 1)
    result = batch.result
    say_notes(result)
    errors = result.errors
    if report:
        try:
            write_report(result, settings, folder / "report.html")
        except WriteError as error:
            errors.append(str(error))
    drawn = [drawing for drawing in result.drawings if drawing.outcome == "drawn"]
    if not drawn and not errors:
        errors.append(
            "nothing was drawn: the plane meets none of the solids"
            if settings.section is not None
            else "nothing was drawn: the outlines are smaller than the tolerance can tell"
        )
    for line in errors:
        report_error(line)
    for drawing in result.drawings:
        for warning in drawing.warnings:
            report_warning(f"{drawing.name}: {warning}")
    print_summary(result, settings, folder)
    shadows = [drawing for drawing in drawn if drawing.no_plate is not None]
    return FAILED if errors or (strict and shadows) else DONE


def print_summary(result: BatchResult, settings: Settings, folder: Path) -> None:
    """The table of the drawings and one line on what it counts."""
    output_console().print(summary_table(result, settings))
    drawn = sum(drawing.outcome == "drawn" for drawing in result.drawings)
    solids = sum(len(model.model.solids) for model in result.models if model.model)
    once = "; identical parts are drawn once, see quantity" if settings.datum == "auto" else ""
    print(f"{counted(drawn, 'drawing')} of {counted(solids, 'solid')} in {folder}{once}")


def say_notes(result: BatchResult) -> None:
    """Notes of models and drawings, each on a line of the error stream."""
    for model_result in result.models:
        if model_result.model is None:
            continue
        for note in model_result.model.notes:
            report_note(f"{model_result.source}: {note}")
        for drawing in model_result.drawings:
            for note in drawing.profiles.notes if drawing.profiles else ():
                if note not in drawing.warnings:
                    report_note(f"{drawing.name}: {note}")
            for note in left_by_tool(drawing.way) if drawing.way else ():
                report_note(f"{drawing.name}: {note}")
