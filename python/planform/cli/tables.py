"""Tables for the terminal: what is in a model, what was drawn."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from rich.console import RenderableType
from rich.markup import escape
from rich.table import Table
from rich.text import Text
from rich.tree import Tree

from planform._planform import Model, ProfileSet, Solid
from planform.batch.models import BatchResult, Drawing, Settings
from planform.lettering.labels import LABEL
from planform.naming import printable
from planform.pictures.outlines import millimetres


def model_tables(model: Model) -> Iterator[RenderableType]:
    """What ``planform show`` prints for a model: a heading, the tree, a table of the solids, notes."""
    yield Text(f"{printable(str(model.source))}", style="bold")
    yield Text(
        f"unit {model.unit}, {len(model.solids)} solids, {model.shape_count} distinct shapes; "
        "all lengths below in mm"
    )
    yield assembly_tree(model)
    yield solids_table(model)
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


def solids_table(model: Model) -> Table:
    """One row a solid."""
    table = Table(box=None, pad_edge=False, header_style="bold")
    table.add_column("No.", justify="right")
    table.add_column("name", overflow="fold")
    table.add_column("shape", justify="right")
    table.add_column("size x × y × z", justify="right")
    table.add_column("volume mm³", justify="right")
    table.add_column("faces", justify="right")
    table.add_column("colour")
    for number, solid in enumerate(model.solids, start=1):
        lower, upper = solid.bounds
        table.add_row(
            str(number),
            escape(printable(solid.name)),
            str(solid.shape_index + 1),
            " × ".join(millimetres(extent) for extent in upper - lower),
            f"{solid.volume:.1f}",
            str(solid.face_count),
            color_cell(solid),
        )
    return table


def color_cell(solid: Solid) -> Text:
    """The solid's colour as six hexadecimal digits with a patch of it."""
    if solid.color is None:
        return Text("")
    digits = "".join(f"{round(255 * channel):02x}" for channel in solid.color)
    return Text.assemble(("■ ", f"#{digits}"), f"#{digits}")


def summary_table(result: BatchResult, settings: Settings) -> Table:
    """One row a drawing, with its quantity, size, area, cut length and pierces."""
    table = Table(box=None, pad_edge=False, header_style="bold")
    table.add_column("drawing", overflow="fold")
    table.add_column("quantity", justify="right")
    table.add_column("width × height mm", justify="right")
    table.add_column("area mm²", justify="right")
    table.add_column("cut mm", justify="right")
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
            escape(printable(drawing.name)),
            str(drawing.quantity),
            *summary_cells(drawing),
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


def summary_cells(drawing: Drawing) -> list[str]:
    """The cells that depend on how the drawing went."""
    if drawing.outcome == "failed" or drawing.profiles is None:
        return ["", "", "", "", "not flattened"]
    if drawing.outcome == "empty":
        return ["", "", "", "", "misses the part"]
    lower, upper = drawing.profiles.bounds
    width, height = upper - lower
    contours = sum(1 + len(profile.holes) for profile in drawing.profiles.profiles)
    return [
        f"{millimetres(width)} × {millimetres(height)}",
        f"{drawing.profiles.area:.1f}",
        f"{(drawing.way or drawing.profiles).length:.1f}",
        str(contours),
        escape(drawing.stem),
    ]
