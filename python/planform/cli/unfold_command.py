"""The command ``planform unfold``: bent sheets as blanks with their bends."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from pathlib import Path
from typing import Any

import click

from planform._planform import (
    Blank,
    Finding,
    Model,
    RuleSet,
    Solid,
    _blank_by_rule,
    bend_findings,
    load,
    write_whole_file,
)
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
    report_warning,
    rule_of,
    scale_option,
    tolerance_option,
)
from planform.errors import Error, UnfoldError
from planform.formats import FORMATS
from planform.naming import FileNames, counted, printable
from planform.pages.blanks import UnfoldedPart, blanks_html, others
from planform.rule_files import read_rules


@click.command("unfold")
@click.argument("source", metavar="MODEL", type=MODEL_PATH, is_eager=True, callback=models_of_jobs)
@out_option
@bend_options
@formats_option(FORMATS)
@dxf_unit_option
@click.option("--mark-limits", is_flag=True, help="Also mark where bends begin and end.")
@click.option(
    "--rules",
    "rule_file",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Rules of inspection that differ from ours, TOML or JSON: see inspect --list-rules.",
)
@tolerance_option
@read_unit_option
@scale_option
@heal_option
def unfold_command(
    source: Path,
    folder: Path,
    k_factor: float | None,
    bend_table: Path | None,
    sharp_radius: float | None,
    formats: tuple[str, ...],
    unit: str,
    mark_limits: bool,
    rule_file: Path | None,
    tolerance: float,
    **reading: Any,
) -> int:
    """Unfold the bent sheets of MODEL to their blanks, with bend lines and bend tables.

    Writes a drawing a distinct bent part, its bends as CSV and JSON, and blanks.html with all of them. What
    can't be unfolded is named with its reason; flat parts are left to the other commands. Bends are
    inspected: holes too near, walls too narrow, reliefs that lack, radii below the table's least.
    """
    rule, table = rule_of(k_factor, bend_table, sharp_radius)
    rules = read_rules(rule_file) if rule_file else RuleSet()
    model = load(
        source, unit=reading["read_unit"] or None, scale=reading["scale"], heal=reading["heal"]
    )
    for note in model.notes:
        report_note(f"{source}: {note}")
    parts = unfolded_parts(
        model,
        partial(_blank_by_rule, rule=rule, tolerance=tolerance, mark_limits=mark_limits),
        partial(findings_of, rules=rules, table=table),
    )
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


def findings_of(blank: Blank, rules: RuleSet, table: BendTable | None) -> list[Finding]:
    """What the rules say of the bends; the material's least radius is that of the table."""
    least = table.least_radius(blank.thickness) if table else None
    return bend_findings(
        blank.outline, list(blank.bends), blank.thickness, rules=rules, least_radius=least
    )


def unfolded_parts(
    model: Model,
    unfolded: Callable[[Solid], Blank],
    inspected: Callable[[Blank], Iterable[Finding]],
) -> list[UnfoldedPart]:
    """Every distinct shape of the model, unfolded and its bends inspected, or why it isn't."""
    first: dict[int, Any] = {}
    quantity: dict[int, int] = {}
    for solid in model.solids:
        first.setdefault(solid.shape_index, solid)
        quantity[solid.shape_index] = quantity.get(solid.shape_index, 0) + 1
    parts = []
    for index, solid in first.items():
        known: dict[str, Any] = {"name": solid.name, "quantity": quantity[index]}
        try:
            blank = unfolded(solid)
        except UnfoldError as error:
            parts.append(UnfoldedPart(**known, refusal=error.refusal))
        except Error as error:
            parts.append(UnfoldedPart(**known, error=str(error)))
        else:
            parts.append(UnfoldedPart(**known, blank=blank, findings=tuple(inspected(blank))))
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
        for finding in part.findings:
            report_warning(f"{part.name}: {finding.severity}: {finding.text}")
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
        f"{len(refused)} not unfolded, {flat} without a bend, "
        f"{counted(sum(len(part.findings) for part in parts), 'finding')}, in {folder}"
    )
