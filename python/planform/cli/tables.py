"""Tables for the terminal: what is in a model, what was drawn."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from rich.console import RenderableType
from rich.markup import escape
from rich.table import Table
from rich.text import Text
from rich.tree import Tree

from planform._planform import Model, ProfileSet, Solid
from planform.batch.drawing import BatchResult, Drawing
from planform.batch.settings import Settings
from planform.cut_lists.materials import color_digits
from planform.lettering.labels import LABEL
from planform.naming import counted, printable
from planform.units.figures import MM_FIGURES, Figures, figures_in


def model_tables(model: Model, figures: Figures = MM_FIGURES) -> Iterator[RenderableType]:
    """What ``planform show`` prints for a model: heading, tree, solids, layers and colours, notes."""
    yield Text(f"{printable(str(model.source))}", style="bold")
    yield Text(
        f"unit {model.unit}, {counted(len(model.solids), 'solid')}, "
        f"{counted(model.shape_count, 'distinct shape')}; all lengths below in {figures.symbol}"
    )
    yield assembly_tree(model)
    yield solids_table(model, figures)
    yield from layers_and_colors(model)
    for note in model.notes:
        yield Text(f"note: {printable(note)}")
    for number, solid in enumerate(model.solids, start=1):
        for note in solid.notes:
            yield Text(f"note: solid {number}, {printable(solid.name)}: {printable(note)}")


def assembly_tree(model: Model) -> Tree:
    """The tree of names; each leaf is a solid with its number."""
    tree = Tree(Text("model"))
    branches: dict[tuple[str, ...], Tree] = {(): tree}
    for number, solid in enumerate(model.solids, start=1):
        path = tuple(solid.path)
        for depth in range(1, len(path)):
            parent = branches[path[: depth - 1]]
            if path[:depth] not in branches:
                branches[path[:depth]] = parent.add(Text(printable(path[depth - 1])))
        branches[path[:-1]].add(Text(f"{number}  {printable(solid.name)}"))
    return tree


def layers_and_colors(model: Model) -> Iterator[Text]:
    """The layers and colours in the model with the numbers of their solids: what rules can ask for."""
    layers: dict[str, list[int]] = {}
    colors: dict[str, list[int]] = {}
    for number, solid in enumerate(model.solids, start=1):
        for layer in solid.layers:
            layers.setdefault(layer, []).append(number)
        if digits := color_digits(solid):
            colors.setdefault(f"#{digits}", []).append(number)
    for title, found in (("layer", layers), ("colour", colors)):
        for name, numbers in sorted(found.items()):
            yield Text(
                f"{title} {printable(name)}: {counted(len(numbers), 'solid')} ({spans(numbers)})"
            )
        if not found:
            yield Text(f"no {title}s")


def spans(numbers: list[int]) -> str:
    """Increasing numbers, runs as ``3-7``."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1] = [runs[-1][0], number]
        else:
            runs.append([number])
    return ", ".join("-".join(map(str, run)) for run in runs)


def solids_table(model: Model, figures: Figures) -> Table:
    """One row a solid."""
    table = Table(box=None, pad_edge=False, header_style="bold")
    table.add_column("No.", justify="right")
    table.add_column("name", overflow="fold")
    table.add_column("shape", justify="right")
    table.add_column(f"size x × y × z {figures.symbol}", justify="right")
    table.add_column(f"volume {figures.symbol}³", justify="right")
    table.add_column("faces", justify="right")
    table.add_column("colour")
    for number, solid in enumerate(model.solids, start=1):
        lower, upper = solid.bounds
        table.add_row(
            str(number),
            escape(printable(solid.name)),
            str(solid.shape_index + 1),
            " × ".join(figures.length(extent) for extent in upper - lower),
            f"{solid.volume / figures.millimetres**3:.{1 if figures.unit == 'mm' else 4}f}",
            str(solid.face_count),
            color_cell(solid),
        )
    return table


def color_cell(solid: Solid) -> Text:
    """The solid's colour as six hexadecimal digits with a patch of it."""
    digits = color_digits(solid)
    if not digits:
        return Text("")
    return Text.assemble(("■ ", f"#{digits}"), f"#{digits}")


def summary_table(result: BatchResult, settings: Settings) -> Table:
    """One row a drawing, with its quantity, size, area, cut length and pierces."""
    figures = figures_in(settings.unit)
    table = Table(box=None, pad_edge=False, header_style="bold")
    table.add_column("drawing", overflow="fold")
    table.add_column("quantity", justify="right")
    table.add_column(f"width × height {figures.symbol}", justify="right")
    table.add_column(f"area {figures.area_symbol}", justify="right")
    table.add_column(f"cut {figures.symbol}", justify="right")
    table.add_column("contours", justify="right")
    table.add_column(", ".join(settings.formats), overflow="fold")
    # What is not asked for, or says nothing, takes no room.
    further = [
        (title, cell)
        for title, cell in FURTHER_COLUMNS
        if any(cell(drawing) for drawing in result.drawings)
    ]
    for title, _ in further:
        table.add_column(title, overflow="fold")
    for drawing in result.drawings:
        table.add_row(
            escape(printable("; ".join([drawing.name, *drawing.other_names]))),
            str(drawing.quantity),
            *summary_cells(drawing, figures),
            *(cell(drawing) for _, cell in further),
        )
    return table


FURTHER_COLUMNS: tuple[tuple[str, Callable[[Drawing], str]], ...] = (
    ("verdict", lambda drawing: drawing.verdict),
    ("turned over", lambda drawing: str(drawing.turned_over or "")),
    ("marks", lambda drawing: marks_text(drawing.profiles)),
    ("held", lambda drawing: str(drawing.held or "")),
    ("left out", lambda drawing: drawing.left_out),
)
"""Columns that a summary has where one of its drawings has something to say there."""


def marks_text(profiles: ProfileSet | None) -> str:
    """How many marks there are, those of labels not counted, and how deep they are, mm."""
    marks = [mark for mark in profiles.marks if mark.name != LABEL] if profiles else []
    depths = sorted({round(mark.depth, 3) for mark in marks})
    if not marks:
        return ""
    return f"{len(marks)} ({', '.join(f'{depth:g}' for depth in depths)} mm deep)"


def summary_cells(drawing: Drawing, figures: Figures) -> list[str]:
    """The cells that depend on how the drawing went."""
    if drawing.outcome == "failed" or drawing.profiles is None:
        return ["", "", "", "", "not flattened"]
    if drawing.outcome == "empty":
        return ["", "", "", "", "misses the part"]
    lower, upper = drawing.profiles.bounds
    width, height = upper - lower
    contours = sum(1 + len(profile.holes) for profile in drawing.profiles.profiles)
    return [
        figures.size(width, height),
        figures.area(drawing.profiles.area),
        figures.run((drawing.way or drawing.profiles).length),
        str(contours),
        escape(drawing.stem),
    ]
