"""The HTML page of a run: one file without scripts or links, every outline with its size.

Whatever comes from a model (names, paths, notes) is data: it is escaped, and the page allows itself
no script and no network by its content security policy.
"""

from __future__ import annotations

from html import escape
from pathlib import Path

from planform._planform import __version__, write_whole_file
from planform.allowances import Allowances
from planform.batch.models import BatchResult, Drawing, ModelResult, Settings
from planform.naming import printable
from planform.pictures.outlines import contours_of, dimensioned_svg, inches, millimetres

CAUTIONS = (
    "Check every outline against the part before you cut. The software gives outlines; the person at "
    "the machine answers for the cut.",
    "Cut a test piece first, in the same material and thickness, and measure it.",
    "Follow the machine's manual. Wear eye protection rated for the beam or process, and never defeat "
    "an interlock.",
    "Never leave a cutting beam or flame alone; keep a fire watch and an extinguisher at hand.",
    "Never cut chlorinated plastics such as PVC with a beam: the fumes poison people and corrode the "
    "machine. Extract the fumes of every material.",
    "Where local codes or licensed practice apply to the part or the workshop, they rule.",
)

STYLE = """
:root { --ink: #1d2b36; --thin: #7b8791; --sheet: #fdfcf8; --board: #e4e2db; --material: #e9e2cf;
  --cut: #b3261e; }
* { box-sizing: border-box; }
body { margin: 0; background: var(--board); color: var(--ink);
  font: 14px/1.45 "DejaVu Sans", "Liberation Sans", Arial, sans-serif; }
main { max-width: 1120px; margin: 24px auto; padding: 22px; background: var(--sheet);
  border: 1px solid var(--ink); outline: 1px solid var(--thin); outline-offset: -8px; }
h1 { font-size: 22px; font-weight: 600; margin: 0; overflow-wrap: anywhere; }
h2 { font-size: 16px; font-weight: 600; margin: 26px 0 8px; overflow-wrap: anywhere; }
.block { display: grid; grid-template-columns: 2fr 1fr 1fr 1fr; border: 1px solid var(--ink); }
.block > div { padding: 8px 12px; border-left: 1px solid var(--thin); min-width: 0; }
.block > div:first-child { border-left: 0; }
.label { display: block; font-size: 11px; color: var(--thin); letter-spacing: .04em; }
.sheets { display: grid; grid-template-columns: repeat(auto-fill, minmax(430px, 1fr)); gap: 14px; }
figure { margin: 0; border: 1px solid var(--ink); display: flex; flex-direction: column; min-width: 0;
  break-inside: avoid; background: #fff; }
figure svg { display: block; max-width: 100%; height: auto; margin: 0 auto; flex: 1 0 auto; }
figcaption { border-top: 1px solid var(--ink); }
figcaption h3 { margin: 0; padding: 6px 12px; font-size: 14px; border-bottom: 1px solid var(--thin);
  display: flex; justify-content: space-between; gap: 12px; }
figcaption h3 span:first-child { overflow-wrap: anywhere; min-width: 0; }
figcaption h3 span:last-child { white-space: nowrap; }
dl { margin: 0; display: grid; grid-template-columns: 1fr 1fr; }
dl div { padding: 4px 12px; display: flex; justify-content: space-between; gap: 8px; }
dl div:nth-child(even) { border-left: 1px solid var(--thin); }
dl div.wide { grid-column: 1 / -1; border-left: 0; }
dt { color: #55626c; }
dd { margin: 0; font-variant-numeric: tabular-nums; text-align: right; overflow-wrap: anywhere; }
.note { margin: 0; padding: 4px 12px; border-top: 1px solid var(--thin); font-size: 12px; }
.failed { border-color: var(--cut); }
.failed p { margin: 0; padding: 12px; }
.material { fill: var(--material); }
.cut { stroke: var(--cut); stroke-width: 1; stroke-linejoin: round; }
.added { fill: #2f7d4f; stroke: #1b5233; stroke-width: 1; }
.removed { fill: #fff; stroke: var(--cut); stroke-width: 1.4; stroke-dasharray: 4 3; }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; }
th, td { border-bottom: 1px solid var(--thin); padding: 4px 8px; text-align: left; overflow-wrap: anywhere; }
.mark { fill: none; stroke: #1f5fa8; stroke-width: 1; }
.mating { fill: none; stroke: #2f7d4f; stroke-width: 2.4; stroke-linecap: round; }
.seat { fill: none; stroke: #2f7d4f; stroke-width: 2.4; stroke-dasharray: 2 4; stroke-linecap: round; }
.dimension { fill: none; stroke: var(--ink); stroke-width: .7; }
.figure { fill: var(--ink); font-size: 12px; text-anchor: middle; }
.caution { border: 1px solid var(--ink); border-left-width: 6px; padding: 10px 16px; margin-top: 26px; }
.caution h2 { margin-top: 0; }
.caution ul { margin: 0; padding-left: 18px; }
footer { margin-top: 18px; font-size: 12px; color: #55626c; }
@media (max-width: 720px) { .block, .sheets { grid-template-columns: 1fr; }
  .block > div { border-left: 0; border-top: 1px solid var(--thin); } main { margin: 0; } }
@media print { body { background: #fff; } main { margin: 0; max-width: none; border: 0; outline: 0; } }
"""


def write_report(result: BatchResult, settings: Settings, path: Path) -> None:
    """Write the page; the file is whole or absent. Raises WriteError."""
    write_whole_file(path, report_html(result, settings))


def report_html(result: BatchResult, settings: Settings) -> str:
    """Return the page as text. It holds no date: the same input gives the same page."""
    models = "".join(model_section(model) for model in result.models)
    title = ", ".join(text(model.source.name) for model in result.models)
    head = title_block(result, settings, title) + allowance_notes(settings)
    return page(f"Outlines of {title}", f"{head}\n{models}", foot=outlines_foot(settings))


SIZES_AS_DRAWN = "Sizes are those of the outlines as drawn: no width of cut is added or taken off."
SIZES_OF_PARTS = (
    "Sizes are those of the parts; DXF and SVG show the way of the tool, JSON keeps the outlines of the "
    "parts."
)
OUTLINES_FOOT = (
    f"{SIZES_AS_DRAWN} Thickness and material are not stated: the outlines don't carry them."
)


def outlines_foot(allowances: Allowances) -> str:
    """The foot of the page: what the sizes are."""
    if allowances.is_none:
        return OUTLINES_FOOT
    return OUTLINES_FOOT.replace(SIZES_AS_DRAWN, SIZES_OF_PARTS)


def allowance_notes(allowances: Allowances, pictured: bool = True) -> str:
    """What is in the drawings besides the outlines, for the head of a page; nothing if there is nothing.

    ``pictured`` says that the page's pictures mark the curves that meet other parts.
    """
    notes = []
    if allowances.kerf:
        notes.append(
            f"The width of cut, {allowances.kerf:g} mm, is in the drawings: outer contours are "
            f"{allowances.kerf / 2:g} mm outside of the part, holes as much inside. The machine must not add "
            "it again."
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
            f"A fit of {allowances.fit:g} mm on each side is in the drawings, {where}{share}."
        )
    if allowances.relief:
        notes.append(f"Inner corners are relieved for a tool of {allowances.relief:g} mm.")
    return "".join(f'<p class="note">{note}</p>' for note in notes)


def page(title: str, content: str, *, style: str = "", foot: str = OUTLINES_FOOT) -> str:
    """A whole page: head, content, cautions, foot. Title, content and foot are HTML already."""
    cautions = "".join(f"<li>{escape(caution)}</li>" for caution in CAUTIONS)
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta http-equiv="Content-Security-Policy" '
        "content=\"default-src 'none'; style-src 'unsafe-inline'\">\n"
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{title}</title>\n<style>{STYLE}{style}</style>\n</head>\n<body>\n<main>\n"
        f"{content}\n"
        f'<section class="caution"><h2>Before you cut</h2><ul>{cautions}</ul></section>\n'
        f"<footer>planform {escape(__version__)}. {foot}</footer>\n</main>\n</body>\n</html>\n"
    )


def text(value: str) -> str:
    """Data as HTML text or attribute value."""
    return escape(printable(value), quote=True)


VIEWS = {
    "shadow": "silhouette",
    "top": "outline at the top",
    "bottom": "outline at the bottom",
    "through": "outline of the full thickness",
}


def title_block(result: BatchResult, settings: Settings, title: str) -> str:
    """The heading, as a drawing's title block: what, how many, how drawn."""
    drawn = [drawing for drawing in result.drawings if drawing.outcome == "drawn"]
    pieces = sum(drawing.quantity for drawing in drawn)
    view = VIEWS[settings.at] if settings.section is None else f"section at {settings.section:g} mm"
    datum = "each part's largest face" if settings.datum == "auto" else f"{settings.datum} plane"
    return (
        '<header class="block">'
        f'<div><span class="label">Outlines of</span><h1>{title}</h1></div>'
        f'<div><span class="label">Drawings</span>{len(drawn)}<br>'
        f'<span class="label">Pieces to cut</span>{pieces}</div>'
        f'<div><span class="label">View</span>{view}<br>'
        f'<span class="label">Datum</span>{datum}</div>'
        f'<div><span class="label">Tolerance</span>{settings.tolerance:g} mm<br>'
        f'<span class="label">Unit of the DXF</span>{settings.unit}</div>'
        "</header>"
    )


def model_section(result: ModelResult) -> str:
    """One model with all of its drawings."""
    if result.model is None:
        return (
            f"<section><h2>{text(result.source.name)}</h2>"
            f'<figure class="failed"><p>Not read: {text(result.error)}</p></figure></section>'
        )
    notes = "".join(f'<p class="note">{text(note)}</p>' for note in result.model.notes)
    sheets = "".join(
        sheet(number, drawing) for number, drawing in enumerate(result.drawings, start=1)
    )
    return (
        f"<section><h2>{text(result.source.name)}: {len(result.model.solids)} solids, "
        f"{result.model.shape_count} distinct shapes, unit of the file {text(result.model.unit)}</h2>"
        f'{notes}<div class="sheets">{sheets}</div></section>'
    )


def sheet(number: int, drawing: Drawing) -> str:
    """One drawing: picture, caption, figures."""
    heading = (
        f"<h3><span>{number}. {text(drawing.name)}</span><span>{drawing.quantity} ×</span></h3>"
    )
    if drawing.outcome == "failed" or drawing.profiles is None:
        reason = f"<p>Not flattened: {text(drawing.error)}</p>"
        return f'<figure class="failed">{reason}<figcaption>{heading}</figcaption></figure>'
    shown = drawing.way or drawing.profiles
    notes = "".join(f'<p class="note">{text(note)}</p>' for note in shown.notes)
    if drawing.outcome == "empty":
        return f"<figure><figcaption>{heading}{notes}</figcaption></figure>"
    picture = dimensioned_svg(drawing.profiles, mating=drawing.mating)
    return f"<figure>{picture}<figcaption>{heading}{figures(drawing)}{notes}</figcaption></figure>"


def figures(drawing: Drawing) -> str:
    """The figures of one drawing as a definition list."""
    profiles = drawing.profiles
    assert profiles is not None
    width, height = (float(extent) for extent in profiles.bounds[1] - profiles.bounds[0])
    contours = list(contours_of(profiles))
    circles = sum(contour.is_circle for contour in contours)
    rows = [
        ("Size", f"{millimetres(width)} × {millimetres(height)} mm", ""),
        ("", f"{inches(width)} × {inches(height)} in", ""),
        ("Area", f"{profiles.area:.1f} mm²", ""),
        ("Cut length", f"{(drawing.way or profiles).length:.1f} mm", ""),
        ("Contours", f"{len(contours)} ({circles} circles)", ""),
        ("Pierces", str(len(contours)), ""),
        *mating_rows(drawing),
        *([("Verdict", text(drawing.verdict), "")] if drawing.verdict else []),
        ("Separate pieces", str(len(profiles.profiles)), "wide"),
        ("Files", ", ".join(text(path.name) for path in drawing.files), "wide"),
    ]
    cells = "".join(
        f'<div class="{kind}"><dt>{label}</dt><dd>{value}</dd></div>' for label, value, kind in rows
    )
    return f"<dl>{cells}</dl>"


def mating_rows(drawing: Drawing) -> list[tuple[str, str, str]]:
    """How many joints and curves that meet other parts, where that was looked for."""
    if drawing.mating is None:
        return []
    mated = sum(not curve.is_seat for curve in drawing.mating.curves)
    return [("Joints", str(drawing.mating.joints), ""), ("Mating curves", str(mated), "")]
