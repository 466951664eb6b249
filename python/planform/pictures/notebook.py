"""How outlines, models and lists show themselves in a notebook: readable on the screen, light or dark.

Text and strokes take the colour of the text around them, fills are a share of it; what has a colour of its
own reads on white and on black. Lengths are millimetres.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from html import escape

from planform._planform import Contour, Finding, Model, PlateList, ProfileSet
from planform.measured_outline import MeasuredOutline

__all__ = [
    "inspection_html",
    "model_html",
    "notebook_svg",
    "outline_html",
    "plates_html",
]

# Strokes of the picture, relative to its larger side: thin, yet at least a pixel at any usual size.
RELATIVE_STROKE = 1 / 400
MOST_ROWS = 30
"""Rows of a table; a line says how many more there are."""
CHORD_SHARE = 1 / 1500
"""Of the larger side: chords stray less than half a pixel at the largest size shown."""
WIDTH, HEIGHT = 640, 400
"""Largest size of a picture in pixels."""
SMALL = 72
"""Size of a picture in a table, pixels."""
SEVERITY_COLORS = {"error": "#e0433a", "warning": "#b27800", "note": "#3d8bd4"}
MARK_COLOR = "#3d8bd4"


def notebook_svg(self: ProfileSet) -> str:
    """SVG for the screen: that of `to_svg`, one user unit = 1 mm, with strokes wide enough to be seen."""
    lower, upper = self.bounds
    larger_side = float(max(upper - lower))
    if not math.isfinite(larger_side) or larger_side <= 0.0:
        return self.to_svg()
    return self.to_svg(stroke_width=larger_side * RELATIVE_STROKE)


def outline_html(self: ProfileSet) -> str:
    """The outline filled, scaled to fit, with its figures (mm, mm²) below."""
    return _figure(_picture(self, WIDTH, HEIGHT), _outline_words(self))


def model_html(self: Model) -> str:
    """A table of the solids: name, box (mm), volume (mm³), faces."""
    rows = []
    for solid in self.solids[:MOST_ROWS]:
        lower, upper = solid.bounds
        rows.append(
            (
                _swatch(solid.color) + escape(solid.name),
                _size(upper - lower),
                f"{solid.volume:,.0f}",
                str(solid.face_count),
            )
        )
    title = f"{escape(self.source)}: {_counted(len(self), 'solid')}, unit of the file {escape(self.unit)}"
    return _table(title, ("solid", "box, mm", "volume, mm³", "faces"), rows, len(self))


def plates_html(self: PlateList) -> str:
    """A table of the plates with their outlines, sizes in mm."""
    rows = [
        (
            _picture(plate.outline, SMALL, SMALL),
            escape(plate.name),
            f"{plate.thickness:g}",
            str(plate.quantity),
            _size(plate.outline.bounds[1] - plate.outline.bounds[0]),
        )
        for plate in self.plates[:MOST_ROWS]
    ]
    title = f"{_counted(len(self.plates), 'plate')}, {len(self.others)} that are none"
    heads = ("", "plate", "thickness, mm", "pieces", "size, mm")
    return _table(title, heads, rows, len(self.plates))


def inspection_html(self: MeasuredOutline) -> str:
    """The outline with the findings as numbered places, and a table of them."""
    findings = self.findings[:MOST_ROWS]
    rows = [
        (
            str(number),
            f'<b style="color:{SEVERITY_COLORS[finding.severity]}">{finding.severity}</b>',
            escape(finding.rule),
            escape(finding.text),
        )
        for number, finding in enumerate(findings, 1)
    ]
    count = len(self.findings)
    title = f"{escape(self.profiles.name or 'outline')}: {_counted(count, 'finding')}"
    table = _table(title, ("", "severity", "rule", "what it is and what to do"), rows, count)
    return _figure(_picture(self.profiles, WIDTH, HEIGHT, findings), "") + table


# --- pieces of pages --------------------------------------------------------------------------------


def _figure(picture: str, words: str) -> str:
    caption = f'<figcaption style="opacity:.75">{words}</figcaption>' if words else ""
    return f'<figure style="margin:0">{picture}{caption}</figure>'


def _table(title: str, heads: Sequence[str], rows: Iterable[Sequence[str]], count: int) -> str:
    edge = "border-bottom:1px solid;border-color:color-mix(in srgb,currentColor 25%,transparent)"
    cell = "padding:.15em .8em .15em 0;text-align:left;vertical-align:middle"
    top = "".join(f'<th style="{cell};{edge}">{head}</th>' for head in heads)
    body = "".join(
        "<tr>" + "".join(f'<td style="{cell}">{text}</td>' for text in row) + "</tr>"
        for row in rows
    )
    more = f"<p>and {count - MOST_ROWS} more</p>" if count > MOST_ROWS else ""
    return (
        '<div style="overflow-x:auto;background:none;color:inherit">'
        f"<p>{title}</p>"
        f'<table style="border-collapse:collapse;background:none"><tr>{top}</tr>{body}</table>{more}</div>'
    )


def _picture(outline: ProfileSet, width: int, height: int, findings: Sequence[Finding] = ()) -> str:
    """Filled, as large as fits, strokes one to two pixels wide whatever the scale."""
    lower, upper = outline.bounds
    if not all(map(math.isfinite, (*lower, *upper))):
        return "<p>nothing is drawn</p>"
    size = upper - lower
    larger = float(max(size)) or 1.0
    margin = 0.03 * larger
    chord = CHORD_SHARE * larger
    corner = lower[0] - margin, -upper[1] - margin
    box = " ".join(f"{float(x):.6g}" for x in (*corner, *(size + 2 * margin)))
    scale = min(width / float(size[0] + 2 * margin), height / float(size[1] + 2 * margin))
    material = "".join(
        _path(contour, chord)
        for profile in outline.profiles
        for contour in (profile.outer, *profile.holes)
    )
    marks = "".join(_polyline(mark.points(chord), mark.is_closed) for mark in outline.marks)
    thin = 'vector-effect="non-scaling-stroke" stroke-width="1.3"'
    parts = [
        f'<path d="{material}" fill="currentColor" fill-opacity=".14" fill-rule="evenodd" '
        f'stroke="currentColor" {thin}/>'
    ]
    if marks:
        parts.append(f'<path d="{marks}" fill="none" stroke="{MARK_COLOR}" {thin}/>')
    for number, finding in enumerate(findings, 1):
        x, y = float(finding.place[0]), -float(finding.place[1])
        color = SEVERITY_COLORS[finding.severity]
        radius = 9 / scale
        parts.append(
            f'<circle cx="{x:.6g}" cy="{y:.6g}" r="{radius:.4g}" fill="{color}"/>'
            f'<text x="{x:.6g}" y="{y:.6g}" font-size="{radius * 1.2:.4g}" fill="#fff" '
            f'text-anchor="middle" dominant-baseline="central">{number}</text>'
        )
    shown = (round(float(length + 2 * margin) * scale) for length in size)
    wide, high = (max(1, pixels) for pixels in shown)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}" width="{wide}" height="{high}" '
        f'style="max-width:100%;height:auto" role="img">{"".join(parts)}</svg>'
    )


def _path(contour: Contour, chord: float) -> str:
    return _polyline(contour.points(chord), True)


def _polyline(points: Iterable[Sequence[float]], closed: bool) -> str:
    text = "L".join(f"{x:.6g} {-y:.6g}" for x, y in points)
    return f"M{text}{'Z' if closed else ''}"


def _outline_words(outline: ProfileSet) -> str:
    holes = sum(len(profile.holes) for profile in outline.profiles)
    words = [escape(outline.name)] if outline.name else []
    words += [_counted(len(outline), "profile"), _counted(holes, "hole")]
    if outline.marks:
        words.append(_counted(len(outline.marks), "mark"))
    if len(outline):
        words.append(f"{_size(outline.bounds[1] - outline.bounds[0])} mm")
        words.append(f"{outline.area:,.1f} mm²")
        words.append(f"{outline.length:,.1f} mm of contours")
    return " · ".join(words)


def _size(lengths: Iterable[float]) -> str:
    return " x ".join(f"{float(length):.4g}" for length in lengths)


def _counted(count: int, word: str) -> str:
    return f"{count} {word}{'' if count == 1 else 's'}"


def _swatch(color: Sequence[float] | None) -> str:
    if color is None:
        return ""
    red, green, blue = (round(255 * part) for part in color)
    return (
        '<span style="display:inline-block;width:.8em;height:.8em;margin-right:.4em;border:1px solid;'
        f'background:rgb({red},{green},{blue})"></span>'
    )
