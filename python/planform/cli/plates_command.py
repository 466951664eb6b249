"""The command ``planform plates``: the cut list of a model."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click
from rich.markup import escape
from rich.table import Table

from planform._planform import load
from planform.allowances import left_by_tool
from planform.batch.drawing import loose_islands
from planform.cli.job_sources import models_of_jobs
from planform.cli.lengths import LENGTH, unit_option
from planform.cli.options import (
    DONE,
    FAILED,
    MODEL_PATH,
    allowance_options,
    bend_options,
    check_allowances,
    finishing_options,
    heal_option,
    layers_option,
    make_folder,
    marks_option,
    materials_option,
    one_sided_option,
    out_option,
    output_console,
    plate_outline_option,
    positive,
    read_unit_option,
    report_error,
    report_note,
    report_warning,
    rule_of,
    scale_option,
    tolerance_option,
)
from planform.cli.tables import marks_text
from planform.cut_lists.cut_list import CutList, CutListEntry, MaterialRules
from planform.errors import Error
from planform.layer_files import LayerData, drawing_layers
from planform.naming import counted, printable
from planform.units.figures import Figures, Unit, figures_in


@click.command("plates")
@click.argument("source", metavar="MODEL", type=MODEL_PATH, is_eager=True, callback=models_of_jobs)
@out_option
@materials_option
@tolerance_option
@click.option(
    "--same-within",
    type=LENGTH,
    default=0.01,
    show_default=True,
    metavar="LENGTH",
    callback=positive,
    help="Solids are the same plate if no distance within them differs by more.",
)
@click.option(
    "--greatest-thickness",
    type=float,
    default=0.5,
    show_default=True,
    metavar="SHARE",
    callback=positive,
    help="Greatest thickness of a plate as a share of its narrowest width.",
)
@plate_outline_option
@unit_option
@layers_option
@marks_option
@one_sided_option
@finishing_options
@bend_options
@allowance_options
@read_unit_option
@scale_option
@heal_option
def plates_command(
    source: Path,
    folder: Path,
    materials: Path | None,
    unit: Unit,
    layers: LayerData,
    **options: Any,
) -> int:
    """Find the plates of MODEL, count the same ones, write the cut list and the drawings.

    Writes cut_list.csv, cut_list.json, cut_list.html, a DXF a plate, and one a thickness and material with
    all pieces in rows. What is no plate is named with its reason.
    """
    check_allowances(options)
    rules = MaterialRules.read(materials) if materials else None
    options["bend_rule"], _ = rule_of(
        *(options.pop(name) for name in ("k_factor", "bend_table", "sharp_radius"))
    )
    model = load(
        source,
        unit=options.pop("read_unit") or None,
        scale=options.pop("scale"),
        heal=options.pop("heal"),
    )
    cut_list = CutList.from_model(model, rules, **options)
    errors = write_all(cut_list, folder, unit, layers=drawing_layers(layers))
    for note in model.notes:
        report_note(f"{source}: {note}")
    for note in cut_list.notes:
        report_note(note)
    for line in errors:
        report_error(line)
    for entry in cut_list.entries:
        for note in (*entry.notes, *(left_by_tool(entry.way) if entry.way else ())):
            report_note(f"{entry.name}: {note}")
        if loose := loose_islands(entry.outline):
            report_warning(f"{entry.name}: {loose}")
    print_list(cut_list, folder, figures_in(unit))
    return FAILED if errors or not cut_list.entries else DONE


def write_all(cut_list: CutList, folder: Path, unit: Unit = "mm", **options: Any) -> list[str]:
    """Write everything into the folder, which is made; return what failed, a line each."""
    make_folder(folder)
    errors = cut_list.errors
    for write in (
        lambda: cut_list.write_csv(folder / "cut_list.csv", unit),
        lambda: cut_list.write_json(folder / "cut_list.json", unit),
        lambda: cut_list.write_html(folder / "cut_list.html", unit),
        lambda: cut_list.write_dxf(folder, unit=unit, **options),
    ):
        try:
            write()
        except Error as error:
            errors.append(str(error))
    return errors


def print_list(cut_list: CutList, folder: Path, figures: Figures) -> None:
    """The plates as a table, then what is none, then one line that counts."""
    table = Table(box=None, pad_edge=False, header_style="bold")
    table.add_column("plate", overflow="fold")
    titles = (
        "quantity",
        f"thickness {figures.symbol}",
        f"width × height {figures.symbol}",
        f"cut {figures.symbol}",
        "pierces",
        "joints",
        "mass kg",
    )
    further = [
        (title, cell)
        for title, cell in FURTHER_COLUMNS
        if any(cell(entry) for entry in cut_list.entries)
    ]
    for title in titles:
        table.add_column(title, justify="right")
    table.add_column("material", overflow="fold")
    for title, _ in further:
        table.add_column(title, overflow="fold")
    for entry in cut_list.entries:
        width, height = entry.size
        table.add_row(
            escape(printable("; ".join(entry.names))),
            str(entry.quantity),
            figures.length(entry.plate.thickness),
            figures.size(width, height),
            figures.run(entry.cut_length),
            str(entry.pierces),
            "" if entry.joints is None else str(entry.joints),
            "" if entry.mass is None else f"{entry.mass:.3f}",
            escape(printable(entry.material)),
            *(cell(entry) for _, cell in further),
        )
    if cut_list.entries:
        output_console().print(table)
    for other in cut_list.others:
        print(
            f"no plate: {printable(other.name)} ({other.quantity}): {other.word}, {printable(other.text)}"
        )
    others = sum(other.quantity for other in cut_list.others)
    print(
        f"{counted(len(cut_list.entries), 'plate')}, {counted(cut_list.pieces, 'piece')} to cut, "
        f"{counted(others, 'solid that is no plate', 'solids that are no plates')}, in {folder}"
    )


FURTHER_COLUMNS: tuple[tuple[str, Callable[[CutListEntry], str]], ...] = (
    ("turned over", lambda entry: str(entry.turned_over or "")),
    ("marks", lambda entry: marks_text(entry.outline)),
    ("held", lambda entry: str(entry.held or "")),
    ("features", lambda entry: str(len(entry.plate.cut.features) or "")),
)
"""Columns that the list has where one of its plates has something to say there."""
