"""The command ``planform``.

Exit status: 0, all is done; 1, something could not be flattened or written (all else is); 2, the call
makes no sense or no model could be read. Every error is one line on the error stream. Lengths are
millimetres.
"""

from __future__ import annotations

import math
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click
from rich.console import Console

from . import Error, LoadError, WriteError, __version__, load, unit_names, write_demo_assembly
from .batch import DATUMS, FORMATS, OUTLINES, Batch, BatchResult, Settings
from .naming import one_line
from .progress import progress_bar
from .report import write_report
from .tables import model_tables, summary_table

DONE, FAILED, UNUSABLE = 0, 1, 2


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command with the given arguments (those of the process by default); return its exit
    status."""
    try:
        status = command.main(
            args=None if arguments is None else list(arguments),
            prog_name="planform",
            standalone_mode=False,
        )
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
        # The reader of our output has gone; keep the interpreter from complaining about it at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return FAILED
    return int(status or DONE)


def report_error(message: str) -> None:
    """Write one line on the error stream."""
    print(f"planform: error: {one_line(message)}", file=sys.stderr)


def report_note(message: str) -> None:
    """Write one line on the error stream that is no error."""
    print(f"planform: note: {one_line(message)}", file=sys.stderr)


def output_console() -> Console:
    """Standard output; wide enough for whole rows where it is no terminal."""
    console = Console(file=sys.stdout, highlight=False)
    return console if console.is_terminal else Console(file=sys.stdout, width=160, highlight=False)


def finite(_context: click.Context, _option: click.Parameter, value: float | None) -> float | None:
    """Accept finite numbers only."""
    if value is not None and not math.isfinite(value):
        raise click.BadParameter("must be a finite number")
    return value


def positive(context: click.Context, option: click.Parameter, value: float) -> float:
    """Accept finite numbers above zero only."""
    finite(context, option, value)
    if value <= 0:
        raise click.BadParameter("must be above 0")
    return value


def format_list(_context: click.Context, _option: click.Parameter, value: str) -> tuple[str, ...]:
    """Accept a comma-separated list of formats; return them once each, in the order given."""
    words = [word.strip().lower() for word in value.split(",") if word.strip()]
    for word in words:
        if word not in FORMATS:
            raise click.BadParameter(f"'{word}' is unknown; valid: {', '.join(FORMATS)}")
    if not words:
        raise click.BadParameter(f"names no format; valid: {', '.join(FORMATS)}")
    return tuple(dict.fromkeys(words))


tolerance_option = click.option(
    "--tolerance",
    type=float,
    default=0.01,
    show_default=True,
    metavar="MM",
    callback=positive,
    help="Bound on the distance between true and drawn outline.",
)
read_unit_option = click.option(
    "--read-unit",
    default="",
    metavar="UNIT",
    help=f"Read lengths as this unit, whatever the file says: {', '.join(unit_names())}.",
)
scale_option = click.option(
    "--scale",
    type=float,
    default=1.0,
    show_default=True,
    callback=positive,
    help="Multiply all lengths by this (10 for a model drawn at 1:10).",
)
out_option = click.option(
    "--out",
    "folder",
    required=True,
    metavar="DIR",
    type=click.Path(path_type=Path),
    help="Folder for the files; made if missing.",
)


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
    "models", nargs=-1, required=True, metavar="MODEL...", type=click.Path(path_type=Path)
)
@click.option(
    "--datum",
    type=click.Choice(DATUMS),
    default="auto",
    show_default=True,
    help="Plane of the drawing. auto: that of each part's largest planar face.",
)
@out_option
@click.option(
    "--section",
    type=float,
    metavar="Z",
    callback=finite,
    help="Cut Z mm above the datum instead of drawing the silhouette.",
)
@click.option(
    "--at",
    type=click.Choice(OUTLINES),
    default="shadow",
    show_default=True,
    help="Outline of the shadow, of the flat top or bottom, or of what stands through the full thickness.",
)
@click.option(
    "--formats",
    default="dxf,svg",
    show_default=True,
    metavar="LIST",
    callback=format_list,
    help=f"Comma-separated, out of {', '.join(FORMATS)}.",
)
@click.option(
    "--unit",
    type=click.Choice(["mm", "inch"]),
    default="mm",
    show_default=True,
    help="Unit of the DXF drawing.",
)
@click.option(
    "--curves",
    type=click.Choice(["arcs", "exact"]),
    default="arcs",
    show_default=True,
    help="Ellipses and splines in the DXF: as circular arcs within tolerance, or as they are.",
)
@tolerance_option
@click.option(
    "--one-file",
    is_flag=True,
    help="All solids of a model in one drawing; needs --datum xy, xz or yz.",
)
@click.option(
    "--merge",
    type=click.Choice(["union", "keep"]),
    default="union",
    show_default=True,
    help="Where a drawing has several solids: unite the outlines, or keep them side by side.",
)
@read_unit_option
@scale_option
@click.option("--report", is_flag=True, help="Write report.html, a page that shows every outline.")
def flatten_command(models: tuple[Path, ...], folder: Path, report: bool, **options: Any) -> int:
    """Flatten every solid of the MODELs and write a drawing of each.

    With --datum auto, identical parts are flattened once and the summary counts them; bodies of a part
    that lie flat beside or in each other make one drawing. With a fixed datum each placed solid has a
    drawing of its own.
    """
    settings = Settings(**options)
    if settings.one_file and settings.datum == "auto":
        raise click.UsageError(
            "--one-file needs --datum xy, xz or yz: with auto each part has its own plane"
        )
    if settings.section is not None and settings.at != "shadow":
        raise click.UsageError(
            "--at chooses an outline of the whole solid; it has no meaning with --section"
        )
    return flatten_models(models, folder, settings, report)


@command.command("show")
@click.argument(
    "models", nargs=-1, required=True, metavar="MODEL...", type=click.Path(path_type=Path)
)
@read_unit_option
@scale_option
def show_command(models: tuple[Path, ...], read_unit: str, scale: float) -> int:
    """Show what is in the MODELs: tree, names, unit, sizes, volumes, identical parts, notes."""
    console = output_console()
    read = 0
    for source in models:
        try:
            model = load(source, unit=read_unit or None, scale=scale)
        except LoadError as error:
            report_error(str(error))
            continue
        read += 1
        for line in model_tables(model):
            console.print(line)
    if read == len(models):
        return DONE
    return FAILED if read else UNUSABLE


@command.command("demo")
@out_option
def demo_command(folder: Path) -> int:
    """Write the demo, a bird-feeding station, as STEP, then flatten it to every format and a report."""
    make_folder(folder)
    source = folder / "station.step"
    write_demo_assembly(source)
    settings = Settings(datum="auto", formats=FORMATS)
    status = flatten_models([source], folder, settings, report=True)
    print(f"model: {source}")
    print(f"report: {folder / 'report.html'}")
    return status


def make_folder(folder: Path) -> None:
    """Make the output folder; raise a usage error if that can't be done."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise click.UsageError(
            f"{folder}: the output folder can't be made: {error.strerror}"
        ) from error


def flatten_models(models: Sequence[Path], folder: Path, settings: Settings, report: bool) -> int:
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
        errors.append("nothing was drawn: the plane meets none of the solids")
    for line in errors:
        report_error(line)
    print_summary(result, settings, folder)
    return FAILED if errors else DONE


def print_summary(result: BatchResult, settings: Settings, folder: Path) -> None:
    """The table of the drawings and one line on what it counts."""
    output_console().print(summary_table(result, settings))
    drawn = sum(drawing.outcome == "drawn" for drawing in result.drawings)
    solids = sum(len(model.model.solids) for model in result.models if model.model)
    once = "; identical parts are drawn once, see quantity" if settings.datum == "auto" else ""
    print(f"{drawn} drawings of {solids} solids in {folder}{once}")


def say_notes(result: BatchResult) -> None:
    """Notes of models and drawings, each on a line of the error stream."""
    for model_result in result.models:
        if model_result.model is None:
            continue
        for note in model_result.model.notes:
            report_note(f"{model_result.source}: {note}")
        for drawing in model_result.drawings:
            for note in drawing.profiles.notes if drawing.profiles else ():
                report_note(f"{drawing.name}: {note}")


if __name__ == "__main__":
    sys.exit(main())
