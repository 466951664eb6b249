"""The HTML page of a run: one file without scripts or links, every outline with its size."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from planform._planform import write_whole_file
from planform.allowances import Allowances
from planform.batch.drawing import BatchResult, Drawing, ModelResult
from planform.batch.settings import Settings
from planform.naming import counted
from planform.pages.render import picture, render
from planform.pictures.outlines import dimensioned_svg
from planform.pictures.placing import contours_of
from planform.units.figures import INCH_FIGURES, MM_FIGURES, Figures, figures_in

SIZES_AS_DRAWN = "Sizes are those of the outlines as drawn: no width of cut is added or taken off."
SIZES_OF_PARTS = (
    "Sizes are those of the parts; DXF and SVG show the way of the tool, JSON keeps the outlines of the "
    "parts."
)
OUTLINES_FOOT = (
    f"{SIZES_AS_DRAWN} Thickness and material are not stated: the outlines don't carry them."
)

VIEWS = {
    "shadow": "silhouette",
    "top": "outline at the top",
    "bottom": "outline at the bottom",
    "through": "outline of the full thickness",
}


def write_report(result: BatchResult, settings: Settings, path: Path) -> None:
    """Write the page; the file is whole or absent. Raises WriteError."""
    write_whole_file(path, report_html(result, settings))


def report_html(result: BatchResult, settings: Settings) -> str:
    """Return the page as text. It holds no date: the same input gives the same page."""
    return render(
        "outlines.html",
        title=", ".join(model.source.name for model in result.models),
        cells=title_cells(result, settings),
        allowance_notes=allowance_notes(settings, figures_in(settings.unit)),
        models=[model_data(model, settings) for model in result.models],
        foot=outlines_foot(settings),
    )


def outlines_foot(allowances: Allowances) -> str:
    """The foot of the page: what the sizes are."""
    if allowances.is_none:
        return OUTLINES_FOOT
    return OUTLINES_FOOT.replace(SIZES_AS_DRAWN, SIZES_OF_PARTS)


def allowance_notes(
    allowances: Allowances, figures: Figures = MM_FIGURES, pictured: bool = True
) -> list[str]:
    """What is in the drawings besides the outlines, for the head of a page; nothing if there is nothing.

    ``pictured`` says that the page's pictures mark the curves that meet other parts.
    """

    def shown(length: float) -> str:
        return f"{figures.exact(length)} {figures.symbol}"

    notes = []
    if allowances.kerf:
        notes.append(
            f"The width of cut, {shown(allowances.kerf)}, is in the drawings: outer contours are "
            f"{shown(allowances.kerf / 2)} outside of the part, holes as much inside. The machine must not "
            "add it again."
        )
    if allowances.fit:
        colors = (
            " (green; dotted where a part only rests on another and takes none)" if pictured else ""
        )
        where = {"joints": f"where parts meet{colors}", "inner": "on all inner contours"}[
            allowances.fit_at
        ]
        whose = {"slot": "on the slot", "tab": "on the tab", "both": "half on each part"}
        share = f", {whose[allowances.fit_on]}" if allowances.fit_at == "joints" else ""
        notes.append(
            f"A fit of {shown(allowances.fit)} on each side is in the drawings, {where}{share}."
        )
    if allowances.relief:
        notes.append(f"Inner corners are relieved for a tool of {shown(allowances.relief)}.")
    return notes


def title_cells(result: BatchResult, settings: Settings) -> list[list[tuple[str, str]]]:
    """The heading, as a drawing's title block: how many, how drawn."""
    figures = figures_in(settings.unit)
    drawn = [drawing for drawing in result.drawings if drawing.outcome == "drawn"]
    pieces = sum(drawing.quantity for drawing in drawn)
    view = VIEWS[settings.at]
    if settings.section is not None:
        view = f"section at {figures.exact(settings.section)} {figures.symbol}"
    datum = "each part's largest face" if settings.datum == "auto" else f"{settings.datum} plane"
    return [
        [("Drawings", str(len(drawn))), ("Pieces to cut", str(pieces))],
        [("View", view), ("Datum", datum)],
        [
            ("Tolerance", f"{figures.exact(settings.tolerance)} {figures.symbol}"),
            ("Unit of the DXF", settings.unit),
        ],
    ]


def model_data(result: ModelResult, settings: Settings) -> dict[str, Any]:
    """One model with all of its drawings."""
    if result.model is None:
        return {"name": result.source.name, "error": result.error}
    model = result.model
    summary = (
        f"{counted(len(model.solids), 'solid')}, {counted(model.shape_count, 'distinct shape')}, "
        f"unit of the file {model.unit}"
    )
    figures = figures_in(settings.unit)
    return {
        "name": result.source.name,
        "error": "",
        "summary": summary,
        "notes": model.notes,
        "drawings": [
            drawing_data(number, drawing, figures)
            for number, drawing in enumerate(result.drawings, start=1)
        ],
    }


def drawing_data(number: int, drawing: Drawing, figures: Figures) -> dict[str, Any]:
    """One drawing: picture, caption, figures."""
    data: dict[str, Any] = {
        "heading": f"{number}. {drawing.name}",
        "quantity": f"{drawing.quantity} ×",
        "error": "",
        "picture": "",
        "figures": (),
        "notes": (),
    }
    if drawing.outcome == "failed" or drawing.profiles is None:
        return data | {"error": drawing.error}
    others = drawing.other_names
    also = [f"Also named {', '.join(others)}."] if others else []
    data["notes"] = [*also, *(drawing.way or drawing.profiles).notes]
    if drawing.outcome == "drawn":
        data["picture"] = picture(
            dimensioned_svg(drawing.profiles, mating=drawing.mating, figures=figures)
        )
        data["figures"] = list(figure_rows(drawing, figures))
    return data


def both_sizes(width: float, height: float, figures: Figures) -> list[tuple[str, str]]:
    """Rows with a size in the unit asked for, then in the other one."""
    other = MM_FIGURES if figures is INCH_FIGURES else INCH_FIGURES
    return [
        ("Size", f"{figures.size(width, height)} {figures.symbol}"),
        ("", f"{other.size(width, height)} {other.symbol}"),
    ]


def figure_rows(drawing: Drawing, figures: Figures) -> Iterator[tuple[str, str, str]]:
    """The figures of one drawing: label, value, whether it takes the whole width."""
    profiles = drawing.profiles
    assert profiles is not None
    width, height = (float(extent) for extent in profiles.bounds[1] - profiles.bounds[0])
    contours = list(contours_of(profiles))
    circles = sum(contour.is_circle for contour in contours)
    rows = [
        *both_sizes(width, height, figures),
        ("Area", f"{figures.area(profiles.area)} {figures.area_symbol}"),
        ("Cut length", f"{figures.run((drawing.way or profiles).length)} {figures.symbol}"),
        ("Contours", f"{len(contours)} ({counted(circles, 'circle')})"),
        ("Pierces", str(len(contours))),
        *mating_rows(drawing),
        *([("Verdict", drawing.verdict)] if drawing.verdict else []),
    ]
    yield from ((label, value, "") for label, value in rows)
    yield "Separate pieces", str(len(profiles.profiles)), "wide"
    yield "Files", ", ".join(path.name for path in drawing.files), "wide"


def mating_rows(drawing: Drawing) -> list[tuple[str, str]]:
    """How many joints and curves that meet other parts, where that was looked for."""
    if drawing.mating is None:
        return []
    mated = sum(not curve.is_seat for curve in drawing.mating.curves)
    return [("Joints", str(drawing.mating.joints)), ("Mating curves", str(mated))]
