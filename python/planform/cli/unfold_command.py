"""The command ``planform unfold``: bent sheets as blanks with their bends."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from pathlib import Path
from typing import Any

import click

from planform._planform import BendRule, Model, _blank_by_rule, load, write_whole_file
from planform.batch.settings import FORMATS
from planform.bending.bend_list import bends_csv, bends_json, summary
from planform.bending.tables import BendTable
from planform.cli.job_sources import models_of_jobs
from planform.cli.options import (
    DONE,
    FAILED,
    MODEL_PATH,
    bend_options,
    dxf_unit_option,
    formats_option,
    heal_option,
    make_folder,
    out_option,
    read_unit_option,
    report_error,
    report_note,
    rule_of,
    scale_option,
    tolerance_option,
)
from planform.errors import Error, UnfoldError
from planform.naming import FileNames, printable
from planform.pages.blanks import UnfoldedPart, blanks_html, others


@click.command("unfold")
@click.argument("source", metavar="MODEL", type=MODEL_PATH, is_eager=True, callback=models_of_jobs)
@out_option
@bend_options
@formats_option(FORMATS)
@dxf_unit_option
@click.option("--mark-limits", is_flag=True, help="Also mark where bends begin and end.")
@tolerance_option
@read_unit_option
@scale_option
@heal_option
def unfold_command(
    source: Path,
    folder: Path,
    k_factor: float | None,
    bend_table: Path | None,
    formats: tuple[str, ...],
    unit: str,
    mark_limits: bool,
    tolerance: float,
    **reading: Any,
) -> int:
    """Unfold the bent sheets of MODEL to their blanks, with bend lines and bend tables.

    Writes a drawing a distinct bent part, its bends as CSV and JSON, and blanks.html with all of them. What
    can't be unfolded is named with its reason; flat parts are left to the other commands.
    """
    rule, table = rule_of(k_factor, bend_table)
    model = load(
        source, unit=reading["read_unit"] or None, scale=reading["scale"], heal=reading["heal"]
    )
    for note in model.notes:
        report_note(f"{source}: {note}")
    parts = unfolded_parts(model, rule, table, tolerance, mark_limits)
    make_folder(folder)
    errors = [f"{part.name}: {part.error}" for part in parts if part.error]
    errors += write_parts(parts, folder, formats, unit)
    try:
        write_whole_file(folder / "blanks.html", blanks_html(source, parts).encode())
    except Error as error:
        errors.append(str(error))
    for line in errors:
        report_error(line)
    say(parts, folder)
    return FAILED if errors or not any(part.blank for part in parts) else DONE


def unfolded_parts(
    model: Model,
    rule: BendRule,
    table: BendTable | None,
    tolerance: float,
    mark_limits: bool,
) -> list[UnfoldedPart]:
    """Every distinct shape of the model, unfolded or not."""
    first: dict[int, Any] = {}
    quantity: dict[int, int] = {}
    for solid in model.solids:
        first.setdefault(solid.shape_index, solid)
        quantity[solid.shape_index] = quantity.get(solid.shape_index, 0) + 1
    parts = []
    for index, solid in first.items():
        known: dict[str, Any] = {"name": solid.name, "quantity": quantity[index]}
        try:
            blank = _blank_by_rule(solid, rule, tolerance=tolerance, mark_limits=mark_limits)
        except UnfoldError as error:
            parts.append(UnfoldedPart(**known, refusal=error.refusal))
        except Error as error:
            parts.append(UnfoldedPart(**known, error=str(error)))
        else:
            parts.append(UnfoldedPart(**known, blank=blank))
    return parts


def write_parts(
    parts: Iterable[UnfoldedPart], folder: Path, formats: Iterable[str], unit: str
) -> list[str]:
    """Write drawings and bend tables; return what failed, a line each."""
    errors = []
    names = FileNames()
    for part in parts:
        if part.blank is None:
            continue
        blank = part.blank
        stem = names.unique(part.name)
        outline = blank.outline
        files: dict[str, Callable[[], Any]] = {
            "dxf": partial(outline.to_dxf, folder / f"{stem}.dxf", unit=unit),
            "svg": partial(outline.to_svg, folder / f"{stem}.svg"),
            "json": partial(outline.to_json, folder / f"{stem}.json"),
        }
        text = bends_json(part.name, blank.thickness, blank.outline, blank.bends)
        try:
            for word in formats:
                files[word]()
            write_whole_file(folder / f"{stem}.bends.csv", bends_csv(blank.bends).encode())
            write_whole_file(folder / f"{stem}.bends.json", text.encode())
        except Error as error:
            errors.append(f"{part.name}: {error}")
    return errors


def say(parts: list[UnfoldedPart], folder: Path) -> None:
    """A line a blank with a line a bend, then what is not unfolded, then one line that counts."""
    for part in parts:
        if part.blank is None:
            continue
        print(f"{printable(part.name)} ({part.quantity}): {summary(part.blank)}")
        for note in part.blank.notes:
            report_note(f"{part.name}: {note}")
    refused = others(parts)
    for part in refused:
        if part.refusal is not None:
            print(
                f"not unfolded: {printable(part.name)} ({part.quantity}): {part.refusal.reason}, "
                f"{printable(part.refusal.text)}"
            )
    blanks = [part for part in parts if part.blank]
    flat = len(parts) - len(blanks) - len(refused)
    print(
        f"{len(blanks)} blanks, {sum(part.quantity for part in blanks)} pieces to cut, "
        f"{len(refused)} not unfolded, {flat} without a bend, in {folder}"
    )
