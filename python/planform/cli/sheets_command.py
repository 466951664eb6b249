"""The command ``planform sheets``: a job laid out on stock."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click
from rich.markup import escape
from rich.table import Table

from planform.allowances import NAMES as ALLOWANCE_NAMES
from planform.allowances import Allowances
from planform.cli.job_sources import is_job, layout_of_jobs, pieces_of_job
from planform.cli.options import (
    DONE,
    FAILED,
    UNUSABLE,
    allowance_options,
    check_allowances,
    dxf_unit_option,
    formats_option,
    layers_option,
    make_folder,
    materials_option,
    not_negative,
    out_option,
    output_console,
    plate_outline_option,
    positive,
    read_unit_option,
    report_error,
    report_note,
    scale_option,
    tolerance_option,
)
from planform.cli.progress import found_so_far
from planform.cut_lists.cut_list import MaterialRules
from planform.formats import DRAWING_FORMATS
from planform.naming import counted, printable
from planform.pictures.outlines import millimetres
from planform.sheets.document import read_layout
from planform.sheets.jobs import JobOptions, collect, job_of, with_wishes
from planform.sheets.lay_out import GAP, MARGIN, SECONDS, lay_out
from planform.sheets.output import PAGE, write_all
from planform.sheets.page import percent, sheet_names
from planform.sheets.stock_file import read_stock
from planform.sheets.values import TURNS, Layout, Piece, Stock


@click.command("sheets")
@click.argument("jobs", nargs=-1, metavar="JOB...", is_eager=True, callback=layout_of_jobs)
@click.option(
    "--stock",
    "stock_source",
    metavar="FILE|SIZE",
    help="A stock file (TOML), or a size such as 2440x1220 (mm) or 96inx48in: as many as are needed.",
)
@out_option
@click.option(
    "--again",
    metavar="SHEETS.JSON",
    type=click.Path(path_type=Path),
    help="Draw this layout again without a search; with JOBs only if they still ask for the same pieces.",
)
@click.option(
    "--gap",
    type=float,
    default=GAP,
    show_default=True,
    metavar="MM",
    callback=not_negative,
    help="Least distance between two outlines that are cut.",
)
@click.option(
    "--margin",
    type=float,
    default=MARGIN,
    show_default=True,
    metavar="MM",
    callback=not_negative,
    help="Least distance between these and the edge of the sheet.",
)
@click.option(
    "--time",
    "seconds",
    type=float,
    default=SECONDS,
    show_default=True,
    metavar="S",
    callback=positive,
    help="Seconds of search in all; Ctrl-C ends it and keeps the best found.",
)
@click.option("--seed", type=click.IntRange(0), default=0, show_default=True, help="Of the search.")
@click.option("--plain", is_flag=True, help="Don't search: shelves, and piece by piece.")
@click.option(
    "--workers", type=click.IntRange(1), metavar="N", help="Processes that search; one a processor."
)
@click.option(
    "--turns",
    type=click.Choice(TURNS),
    help="How pieces may be turned; default: 180 where stock with a grain serves, else any.",
)
@click.option(
    "--pieces",
    "wishes",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="TOML: turns, mirroring, quantities, priority and spares of pieces by name.",
)
@click.option(
    "--thickness",
    type=float,
    default=0.0,
    metavar="MM",
    callback=not_negative,
    help="Thickness of what drawings show.",
)
@click.option("--material", default="", help="Material of drawings, and of plates without one.")
@materials_option
@formats_option(DRAWING_FORMATS, may_be_none=True)
@dxf_unit_option
@plate_outline_option
@layers_option
@tolerance_option
@allowance_options
@read_unit_option
@scale_option
def sheets_command(
    jobs: tuple[str, ...],
    folder: Path,
    stock_source: str | None,
    again: Path | None,
    **options: Any,
) -> int:
    """Lay the pieces of the JOBs out on stock and draw the sheets.

    A JOB is a model (its plates), a drawing (DXF, SVG) or an outline (JSON) with --thickness; NUMBER:FILE for
    several of it; or a job file, whose stock, layout and layers count. Writes a DXF and an SVG of each sheet
    (equal ones once), sheets.json, sheets.html with a picture of each, and left_overs.toml, what stays, as
    stock. Every placement is proven on the exact outlines.
    """
    if again is None and (not jobs or not (stock_source or any(map(is_job, jobs)))):
        raise click.UsageError("give JOBs and --stock, or a layout with --again")
    if again is not None and stock_source:
        raise click.UsageError("--again takes the stock of the layout; leave --stock out")
    check_allowances(options)
    pieces: list[Piece] = []
    errors: list[str] = []
    layers = options["layers"]
    job_files = [Path(name) for name in jobs if is_job(name)]
    if job_files:
        refuse_allowances("a job file has widths of cut, fits and reliefs of its own; put it there")
    if again is not None and not jobs:
        refuse_allowances("--again draws pieces as they are in the layout; lay the jobs out anew")
    if job_files:
        found = pieces_of_job(job_files[0])
        pieces, errors, layers = found.pieces, found.errors, layers or found.layers
        for note in found.notes:
            report_note(note)
        stock = read_stock(stock_source or found.job.stock) if again is None else ()
    elif jobs:
        stock = read_stock(stock_source) if stock_source else ()
        collected = collect([job_of(job) for job in jobs], job_options(options, stock))
        for note in collected.notes:
            report_note(note)
        pieces, errors = collected.pieces, collected.errors
        if options["wishes"]:
            pieces = with_wishes(pieces, options["wishes"])
    if again is not None:
        layout = read_layout(again)
        if jobs:
            check_same(pieces, layout, again)
    else:
        for line in errors:
            report_error(line)
        if not pieces:
            return UNUSABLE
        with found_so_far() as progress:
            layout = lay_out(
                pieces,
                stock,
                gap=options["gap"],
                margin=options["margin"],
                seconds=options["seconds"],
                seed=options["seed"],
                plain=options["plain"],
                workers=options["workers"],
                progress=progress,
            )
    make_folder(folder)
    title = ", ".join(dict.fromkeys(job_of(job).path.name for job in jobs)) or str(
        again and again.name
    )
    failed = write_all(layout, folder, title, options["formats"], options["unit"], layers)
    for note in layout.notes:
        report_note(note)
    for line in failed:
        report_error(line)
    for one in layout.not_placed:
        report_error(f"{one.piece.name}: {one.count} not placed: {one.reason}")
    print_layout(layout, folder)
    return FAILED if errors or failed or layout.not_placed else DONE


def refuse_allowances(reason: str) -> None:
    """Raise a usage error for allowances on the command line that would be passed over."""
    context = click.get_current_context()
    for name in ALLOWANCE_NAMES:
        if context.get_parameter_source(name) == click.core.ParameterSource.COMMANDLINE:
            raise click.UsageError(f"--{name.replace('_', '-')}: {reason}")


def job_options(options: dict[str, Any], stock: Sequence[Stock]) -> JobOptions:
    """What the options say of the jobs."""
    grained = any(one.grain is not None for one in stock)
    return JobOptions(
        thickness=options["thickness"],
        material=options["material"],
        materials=MaterialRules.read(options["materials"]) if options["materials"] else None,
        allowances=Allowances(**{name: options[name] for name in ALLOWANCE_NAMES}),
        turns=options["turns"] or ("180" if grained else "any"),
        read_unit=options["read_unit"],
        scale=options["scale"],
        tolerance=options["tolerance"],
        plates={"at": options["at"], "tolerance": options["tolerance"]},
    )


def check_same(pieces: Sequence[Piece], layout: Layout, again: Path) -> None:
    """Raise a usage error if the jobs ask for other pieces than the layout has."""

    def digest(piece: Piece) -> tuple[Any, ...]:
        return piece.name, piece.outline.digest, piece.quantity, *piece.group

    asked, there = sorted(map(digest, pieces)), sorted(map(digest, layout.pieces))
    if asked != there:
        changed = {one[0] for one in set(asked) ^ set(there)}
        raise click.UsageError(
            f"{again}: the jobs have changed since ({', '.join(sorted(changed))}); lay them out anew "
            "with --stock"
        )


def print_layout(layout: Layout, folder: Path) -> None:
    """The sheets as a table, then one line that counts."""
    table = Table(box=None, pad_edge=False, header_style="bold")
    table.add_column("sheet")
    table.add_column("stock", overflow="fold")
    for title in ("width × height mm", "thickness mm", "pieces", "use"):
        table.add_column(title, justify="right")
    table.add_column("material", overflow="fold")
    for sheet, name in zip(layout.sheets, sheet_names(layout), strict=True):
        lower, upper = sheet.outline.bounds
        table.add_row(
            name,
            escape(printable(sheet.stock.name)),
            " × ".join(millimetres(float(value)) for value in upper - lower),
            millimetres(sheet.thickness) if sheet.thickness else "",
            str(len(sheet.placements)),
            percent(sheet.use),
            escape(printable(sheet.material)),
        )
    if layout.sheets:
        output_console().print(table)
    cost = layout.cost()
    priced = "" if not cost else f", cost of the stock {cost:.2f}"
    print(
        f"{counted(sum(s.count * len(s.placements) for s in layout.sheets), 'piece')} on "
        f"{counted(layout.sheet_count, 'sheet')}, {percent(layout.use)} used{priced}, in {folder / PAGE}"
    )
