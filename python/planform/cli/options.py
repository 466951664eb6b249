"""What the commands share: their options, and how they speak."""

from __future__ import annotations

import math
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import click
from rich.console import Console

from planform._planform import BendRule, unit_names
from planform.batch.settings import DATUMS, Settings
from planform.bending.tables import BendTable, read_bend_table
from planform.bending.unfolding import bend_rule
from planform.cli.lengths import LENGTH, unit_option
from planform.finishing import CHOICES, LABEL_PARTS
from planform.formats import FORMATS
from planform.layer_files import layer_data
from planform.naming import one_line
from planform.words import WORDS

DONE, FAILED, UNUSABLE = 0, 1, 2


def report_error(message: str) -> None:
    """Write one line on the error stream."""
    print(f"planform: error: {one_line(message)}", file=sys.stderr)


def make_folder(folder: Path) -> None:
    """Make the output folder; raise a usage error if that can't be done."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise click.UsageError(
            f"{folder}: the output folder can't be made: {error.strerror}"
        ) from error


def report_note(message: str) -> None:
    """Write one line on the error stream that is no error."""
    print(f"planform: note: {one_line(message)}", file=sys.stderr)


def report_warning(message: str) -> None:
    """Write one line on the error stream on what is probably not meant."""
    print(f"planform: warning: {one_line(message)}", file=sys.stderr)


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


def positive_or_none(
    context: click.Context, option: click.Parameter, value: float | None
) -> float | None:
    """Accept finite numbers above zero, or none."""
    return None if value is None else positive(context, option, value)


def layers_of_file(
    _context: click.Context, _option: click.Parameter, value: Path | None
) -> dict[str, dict[str, Any]]:
    """What the file says of layers; nothing without one. Raises LoadError."""
    return {} if value is None else layer_data(value)


def not_negative(context: click.Context, option: click.Parameter, value: float) -> float:
    """Accept finite numbers of 0 or more."""
    finite(context, option, value)
    if value < 0:
        raise click.BadParameter("must be 0 or more")
    return value


def not_negative_or_none(
    context: click.Context, option: click.Parameter, value: float | None
) -> float | None:
    """Accept finite numbers of 0 or more, or none."""
    return None if value is None else not_negative(context, option, value)


def label_list(_context: click.Context, _option: click.Parameter, value: str) -> tuple[str, ...]:
    """Accept a comma-separated list of what labels say."""
    words = tuple(dict.fromkeys(word.strip().lower() for word in value.split(",") if word.strip()))
    for word in words:
        if word not in LABEL_PARTS:
            raise click.BadParameter(f"'{word}' is unknown; valid: {', '.join(LABEL_PARTS)}")
    return words


Decorator = Callable[[Callable[..., int]], Callable[..., int]]


def formats_option(formats: Sequence[str], may_be_none: bool = False) -> Decorator:
    """The option for a comma-separated list of formats, which come once each, in the order given."""

    def format_list(
        _context: click.Context, _option: click.Parameter, value: str
    ) -> tuple[str, ...]:
        words = [word.strip().lower() for word in value.split(",") if word.strip()]
        for word in words:
            if word not in formats:
                raise click.BadParameter(f"'{word}' is unknown; valid: {', '.join(formats)}")
        if not words and not may_be_none:
            raise click.BadParameter(f"names no format; valid: {', '.join(formats)}")
        return tuple(dict.fromkeys(words))

    return click.option(
        "--formats",
        default="dxf,svg",
        show_default=True,
        metavar="LIST",
        callback=format_list,
        help=f"Comma-separated, out of {', '.join(formats)}.",
    )


MODEL_PATH = click.Path(path_type=Path, readable=False)
"""A model's file. Whether it can be read is found out when its turn comes, as for one that is missing."""

tolerance_option = click.option(
    "--tolerance",
    type=LENGTH,
    default=0.01,
    show_default=True,
    metavar="LENGTH",
    callback=positive,
    help="Bound on the distance between true and drawn outline.",
)


def unit_to_read(_context: click.Context, _option: click.Parameter, value: str) -> str:
    """The word of the readers: ``in`` is inch, ``ft`` is foot."""
    return {"in": "inch", "ft": "foot"}.get(value.lower(), value)


read_unit_option = click.option(
    "--read-unit",
    default="",
    callback=unit_to_read,
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
heal_option = click.option(
    "--heal",
    type=click.Choice(WORDS["heal"]),
    default="needed",
    show_default=True,
    help="Repair what a STEP file holds where it is needed, or everything, at twice the time.",
)
out_option = click.option(
    "--out",
    "folder",
    required=True,
    metavar="DIR",
    type=click.Path(path_type=Path),
    help="Folder for the files; made if missing.",
)
layers_option = click.option(
    "--layers",
    metavar="FILE",
    type=click.Path(path_type=Path),
    callback=layers_of_file,
    help="Layers, colours, line widths of your machine by role (outer, inner, mark, bend): TOML or JSON.",
)
output_options = (
    layers_option,
    click.option(
        "--svg-stroke",
        type=LENGTH,
        metavar="LENGTH",
        callback=positive_or_none,
        help="Width of the strokes in SVG, for screens; without it hairlines, which machines take for cuts.",
    ),
)
marks_option = click.option(
    "--marks",
    type=click.Choice(WORDS["marks"]),
    default="up",
    show_default=True,
    help="Sides whose pockets, countersinks, steps and raised or sunk text become marks, with their depth.",
)
one_sided_option = click.option(
    "--one-sided",
    is_flag=True,
    help="The stock has a good side: mirror images are parts of their own.",
)
materials_option = click.option(
    "--materials",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="TOML or JSON: materials by names, layers and colours of the solids, their densities in kg/m³.",
)
plate_outline_option = click.option(
    "--at",
    type=click.Choice(WORDS["at"]),
    default="shadow",
    show_default=True,
    help="Which outline of plates that have more than straight walls.",
)
dxf_unit_option = click.option(
    "--unit",
    type=click.Choice(WORDS["unit"]),
    default="mm",
    show_default=True,
    help="Unit of the DXF drawings.",
)
OPTIONS_OF_FINISHING = (
    click.option(
        "--turn",
        type=click.Choice(CHOICES["turn"]),
        default="part",
        show_default=True,
        help="Which way round a part is drawn: as in its own frame, or for the smallest rectangle.",
    ),
    click.option(
        "--bridges",
        type=float,
        default=0.0,
        metavar="MM",
        callback=not_negative,
        help="Hold what would fall out by bridges of so many mm.",
    ),
    click.option(
        "--bridge-count",
        type=click.IntRange(min=1),
        default=2,
        show_default=True,
        help="Bridges a piece; where there is room for fewer, fewer.",
    ),
    click.option(
        "--bridge-hold",
        type=click.Choice(WORDS["hold"]),
        default="islands",
        show_default=True,
        help="Islands to the material around them, or drop-outs to the sheet.",
    ),
    click.option(
        "--labels",
        default="",
        metavar="LIST",
        callback=label_list,
        help=f"Write into each piece, as single strokes: some of {', '.join(LABEL_PARTS)}.",
    ),
)
OPTIONS_OF_SETTINGS = (
    click.option(
        "--datum",
        type=click.Choice(DATUMS),
        default="auto",
        show_default=True,
        help="Plane of the drawing. auto: each part with its features up, else as its own frame shows it.",
    ),
    click.option(
        "--section",
        type=LENGTH,
        metavar="LENGTH",
        callback=finite,
        help="Cut so far above the datum instead of drawing the silhouette.",
    ),
    click.option(
        "--at",
        type=click.Choice(WORDS["at"]),
        default="shadow",
        show_default=True,
        help="Outline of the shadow, of the flat top or bottom, or of the full thickness.",
    ),
    marks_option,
    one_sided_option,
    formats_option(FORMATS),
    unit_option,
    click.option(
        "--curves",
        type=click.Choice(WORDS["curves"]),
        default="arcs",
        show_default=True,
        help="Ellipses and splines in the DXF: as circular arcs within tolerance, or as they are.",
    ),
    *output_options,
    tolerance_option,
    click.option(
        "--one-file",
        is_flag=True,
        help="All solids of a model in one drawing; needs --datum xy, xz or yz.",
    ),
    click.option(
        "--merge",
        type=click.Choice(WORDS["merge"]),
        default="union",
        show_default=True,
        help="Where a drawing has several solids: unite the outlines, or keep them side by side.",
    ),
    click.option(
        "--verify",
        type=click.Choice(WORDS["verify"]),
        default="quick",
        show_default=True,
        help="Laws that each silhouette is held against: those that cost next to nothing, or all.",
    ),
    read_unit_option,
    scale_option,
    heal_option,
)


OPTIONS_OF_ALLOWANCES = (
    click.option(
        "--kerf",
        type=LENGTH,
        default=0.0,
        metavar="LENGTH",
        callback=not_negative,
        help="Width of cut: the drawings get half of it outward all round, holes inward.",
    ),
    click.option(
        "--fit",
        type=LENGTH,
        default=0.0,
        metavar="LENGTH",
        callback=finite,
        help="Gap between parts that meet, on each side; negative for a press fit.",
    ),
    click.option(
        "--fit-on",
        type=click.Choice(WORDS["fit_on"]),
        default="slot",
        show_default=True,
        help="Which part gets the fit, or half on each.",
    ),
    click.option(
        "--fit-at",
        type=click.Choice(["joints", "inner"]),
        default="joints",
        show_default=True,
        help="The fit only where parts meet, or on all inner contours (always so for a single solid).",
    ),
    click.option(
        "--relief",
        type=LENGTH,
        default=0.0,
        metavar="DIAMETER",
        callback=not_negative,
        help="Relieve inner corners for a round tool of this diameter.",
    ),
    click.option(
        "--relief-style",
        type=click.Choice(WORDS["relief_style"]),
        default="corner",
        show_default=True,
        help="The circle through the corner on its bisector, or along the longer wall.",
    ),
)


def share(context: click.Context, option: click.Parameter, value: float | None) -> float | None:
    """Accept numbers from 0 to 1 only."""
    finite(context, option, value)
    if value is not None and not 0 <= value <= 1:
        raise click.BadParameter("must lie between 0 and 1")
    return value


OPTIONS_OF_BENDS = (
    click.option(
        "--k-factor",
        type=float,
        metavar="SHARE",
        callback=share,
        help="Depth of the layer of a bend that keeps its length, from the inside, as a share of the "
        "thickness. Without it and a table: DIN 6935.",
    ),
    click.option(
        "--bend-table",
        metavar="FILE",
        type=click.Path(path_type=Path),
        help="TOML: thickness, inside radius, angle -> allowance or deduction, as measured.",
    ),
    click.option(
        "--sharp-radius",
        type=LENGTH,
        metavar="LENGTH",
        callback=not_negative_or_none,
        help="Inside radius of bends at corners that are drawn sharp. Without it the thickness.",
    ),
)


def bend_options(function: Callable[..., int]) -> Callable[..., int]:
    """Give a command the options for the length of bends; `rule_of` takes them."""
    for option in reversed(OPTIONS_OF_BENDS):
        function = option(function)
    return function


def rule_of(
    k_factor: float | None, bend_table: Path | None, sharp_radius: float | None
) -> tuple[BendRule, BendTable | None]:
    """The rule and the table that the options name. A table of least radii alone sets no rule."""
    if k_factor is not None and bend_table is not None:
        table = read_bend_table(bend_table)
        if table.rows:
            raise click.UsageError("--k-factor and --bend-table both set the length of bends")
        return bend_rule(k_factor=k_factor, sharp_radius=sharp_radius), table
    if bend_table is None:
        return bend_rule(k_factor=k_factor, sharp_radius=sharp_radius), None
    table = read_bend_table(bend_table)
    rows = table if table.rows else None
    return bend_rule(table=rows, sharp_radius=sharp_radius), table


def allowance_options(function: Callable[..., int]) -> Callable[..., int]:
    """Give a command the options for width of cut, fits and reliefs; `check_allowances` looks at them."""
    for option in reversed(OPTIONS_OF_ALLOWANCES):
        function = option(function)
    return function


def finishing_options(function: Callable[..., int]) -> Callable[..., int]:
    """Give a command the options for turning, bridges and labels."""
    for option in reversed(OPTIONS_OF_FINISHING):
        function = option(function)
    return function


def check_allowances(options: dict[str, Any]) -> None:
    """Raise a usage error for allowances that don't go together."""
    if 0 < options["relief"] <= options["kerf"]:
        raise click.UsageError(
            "--relief is no wider than --kerf: there is no way for the tool in it; leave the width of cut to "
            "the machine, or make the relief wider"
        )
    if options["fit"] and options["fit_at"] == "inner" and options["fit_on"] == "tab":
        raise click.UsageError("--fit-on tab has no meaning with --fit-at inner")


def settings_options(function: Callable[..., int]) -> Callable[..., int]:
    """Give a command all options that decide what is drawn; `settings_of` takes them."""
    for option in reversed(
        (*OPTIONS_OF_SETTINGS, *OPTIONS_OF_BENDS, *OPTIONS_OF_FINISHING, *OPTIONS_OF_ALLOWANCES)
    ):
        function = option(function)
    return function


def settings_of(options: dict[str, Any]) -> Settings:
    """The settings that the options make. Raises a usage error for those that don't go together."""
    if options["one_file"] and options["datum"] == "auto":
        raise click.UsageError(
            "--one-file needs --datum xy, xz or yz: with auto each part has its own plane"
        )
    if options["section"] is not None and options["at"] != "shadow":
        raise click.UsageError(
            "--at chooses an outline of the whole solid; it has no meaning with --section"
        )
    check_allowances(options)
    if options["k_factor"] is not None and options["bend_table"] is not None:
        raise click.UsageError("--k-factor and --bend-table both set the length of bends")
    table = options.pop("bend_table")
    return Settings(**options, bend_table=str(table) if table else "")
