"""Everything that comes of a layout, in a folder: drawings, left-overs, JSON, page."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Literal

from planform._planform import write_whole_file
from planform.errors import Error
from planform.formats import DRAWING_FORMATS
from planform.layer_files import LayerData
from planform.naming import FileNames, counted
from planform.sheets.document import write_layout
from planform.sheets.drawing import write_sheet
from planform.sheets.left_over import LeftOver, left_overs
from planform.sheets.page import sheet_names, write_page
from planform.sheets.proof import prove
from planform.sheets.stock_file import left_over_toml
from planform.sheets.values import Layout, Sheet

LAYOUT, PAGE, REST = "sheets.json", "sheets.html", "left_overs.toml"


def sheet_stem(sheet: Sheet, number: int, names: FileNames) -> str:
    """The name of a sheet's drawings: its number, how many are cut so, thickness and material."""
    words = [f"sheet_{number:02d}"]
    if sheet.count > 1:
        words.append(f"{sheet.count}x")
    if sheet.thickness:
        words.append(f"{sheet.thickness:g}mm")
    if sheet.material:
        words.append(sheet.material)
    return names.unique("_".join(words))


def write_all(
    layout: Layout,
    folder: Path,
    title: str,
    formats: Sequence[str] = DRAWING_FORMATS,
    unit: Literal["mm", "inch"] = "mm",
    layers: LayerData | None = None,
) -> list[str]:
    """Write everything into the folder, which is there; return what failed, a line each.

    The layout is proven once more before anything is drawn: raises GeometryError if it breaks a rule.
    Drawings of sheets that an earlier run left are removed. ``layers`` are the machine's, as for
    `dxf_of_sheet`.
    """
    errors = write_drawings(layout, folder, title, formats, unit, layers)
    errors += failed([lambda: write_layout(layout, folder / LAYOUT)])
    return errors


def write_drawings(
    layout: Layout,
    folder: Path,
    title: str,
    formats: Sequence[str] = DRAWING_FORMATS,
    unit: Literal["mm", "inch"] = "mm",
    layers: LayerData | None = None,
) -> list[str]:
    """The same without the layout's own file."""
    prove(layout)
    remove_earlier(folder)
    rests = left_overs(layout)
    names = FileNames()
    stems = [sheet_stem(sheet, i, names) for i, sheet in enumerate(layout.sheets, start=1)]
    files = [[f"{stem}.{suffix}" for suffix in formats] for stem in stems]

    def draw(sheet: Sheet, heading: str, file: str) -> Callable[[], object]:
        return lambda: write_sheet(sheet, folder / file, heading, unit, layers)

    drawn = [
        draw(sheet, f"{name}: {sheet.stock.name}, cut {counted(sheet.count, 'time')}", file)
        for sheet, name, own in zip(layout.sheets, sheet_names(layout), files, strict=True)
        for file in own
    ]
    return failed(
        [
            *drawn,
            lambda: write_rests(layout, rests, stems, folder),
            lambda: write_page(layout, rests, folder / PAGE, title, files),
        ]
    )


def failed(writes: Iterable[Callable[[], object]]) -> list[str]:
    """Do all of them; a line for each that failed."""
    errors = []
    for write in writes:
        try:
            write()
        except Error as error:
            errors.append(str(error))
    return errors


def remove_earlier(folder: Path) -> None:
    """Remove the drawings and left-overs of an earlier run: nobody should cut them by mistake."""
    for pattern in ("sheet_[0-9][0-9]*.dxf", "sheet_[0-9][0-9]*.svg", "rest_[0-9][0-9]*.json"):
        for path in folder.glob(pattern):
            path.unlink(missing_ok=True)


def write_rests(
    layout: Layout, rests: Sequence[LeftOver], stems: Sequence[str], folder: Path
) -> None:
    """The left-overs as stock: a stock file of the clear rectangles, and beside each its true outline."""
    entries = []
    for rest, stem in zip(rests, stems, strict=True):
        number = stem.removeprefix("sheet_")
        stock = rest.as_stock(f"left over of {stem}")
        if stock is not None:
            name = f"rest_{number}.json"
            write_whole_file(folder / name, stock.outline.to_json())
            entries.append((stock, name))
        if rest.outline is not None:
            write_whole_file(folder / f"rest_{number}_outline.json", rest.outline.to_json())
    write_whole_file(folder / REST, left_over_toml(layout, entries))
