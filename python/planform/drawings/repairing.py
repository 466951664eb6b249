"""Mended copies of drawings: gaps closed, doubles removed, strays on a layer of their own."""

from __future__ import annotations

import io
import math
import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import ezdxf
import ezdxf.document
from ezdxf.math import Matrix44

from planform._planform import (
    Arc,
    ClosedChain,
    Contour,
    EllipticalArc,
    FittedCurve,
    Line,
    Spline,
    fit_flattened,
    write_whole_file,
)
from planform.drawings.dxf_file import open_dxf
from planform.drawings.dxf_reader import NAME_APPLICATION, UNIT_CODES
from planform.drawings.loose import (
    GAP_LIMIT,
    HOW_CLOSED,
    AnyCurve,
    ClosedDrawing,
    LooseCurve,
    LooseCurves,
)
from planform.drawings.mended_svg import STRAY_LAYER, Fits, mended_svg
from planform.drawings.reading import read_drawing
from planform.drawings.source_file import DRAWING_UNITS
from planform.errors import GeometryError, LoadError, WriteError
from planform.naming import counted

__all__ = ["STRAY_LAYER", "Repair", "repair"]

FLAT = 1e-9
"""Share by which length, area or ends may differ between what was mended and what is in the file."""


@dataclass(frozen=True)
class Repair:
    """A mended copy and what was changed in it.

    Attributes
    ----------
    source, path : pathlib.Path
        The drawing and its copy.
    changes : tuple of str
        One sentence each.
    closed : ClosedDrawing
        The drawing's curves, closed.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> import pathlib, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> mended = planform.repair(roof.to_dxf(folder / "roof.dxf"), folder / "mended.dxf")
    >>> mended.path.name, mended.changes
    ('mended.dxf', ())
    """

    source: Path
    path: Path
    changes: tuple[str, ...]
    closed: ClosedDrawing

    def __repr__(self) -> str:
        return f"Repair({str(self.path)!r}, {counted(len(self.changes), 'change')})"


def repair(
    source: str | os.PathLike[str],
    path: str | os.PathLike[str],
    *,
    gap: float = GAP_LIMIT,
    unit: str | None = None,
    scale: float = 1.0,
    roles: Mapping[str, str] | None = None,
    fit_arcs: float | None = None,
) -> Repair:
    """Write a mended copy of a DXF or SVG drawing; the drawing itself is never touched.

    Gaps are closed along the curves where that can be (see `close_contours`), what is drawn twice is
    removed, as are curves without length; strays go to the layer (group) STRAY. Of a DXF everything else
    stays as it is: layers, text, blocks that need no mending. An SVG is written anew, with a group a
    role; what it holds beside outlines is left out and listed. A unit and a scale that are given are those
    of the copy; with ``fit_arcs`` runs of short lines become arcs again.

    Parameters
    ----------
    source, path : path-like
        The drawing and where the copy goes, of the same kind.
    gap : float, optional
        Gaps up to this many mm are closed.
    unit, scale, roles : optional
        As for `read_dxf` and `LooseCurves.close`. The copy says the unit, and its numbers are scaled.
    fit_arcs : float, optional
        Runs of lines of outlines that are cut become as few arcs and lines as stay within so many mm; see
        `fit_flattened`.

    Returns
    -------
    Repair

    Raises
    ------
    GeometryError
        If an outline stays open or outlines cross: the message gives the place, and nothing is written.
    LoadError
        If the drawing can't be read.
    WriteError
        If the copy would be the drawing itself, or can't be written.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> _ = (folder / "lid.svg").write_text(
    ...     '<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="40mm" viewBox="0 0 80 40">'
    ...     '<path d="M0 0 H80 V40 H0 V0.05"/></svg>')
    >>> mended = planform.repair(folder / "lid.svg", folder / "mended.svg")
    >>> mended.changes
    ('a gap of 0.05 mm at (0, 0) mm was closed along the curves: path 1',)
    >>> planform.read_svg(folder / "mended.svg").profile_set().area
    3200.0
    """
    source, path = Path(source), Path(path)
    require_other_file(source, path)
    loose = read_drawing(source, unit=unit, scale=scale)
    closed = loose.close(gap=gap, roles=roles)
    fits = _fits(closed, fit_arcs) if fit_arcs is not None else {}
    closed.profile_set()  # refuses what stays open
    if closed.cut.crossings:
        x, y = closed.cut.crossings[0].place
        raise GeometryError.of_kind(
            "contour_not_closed",
            f"{source}: outlines cross at ({x:.6g}, {y:.6g}) mm; that can't be mended, redraw it",
        )
    if path.suffix.lower() == ".svg":
        data, changes = mended_svg(closed, fits, list_changes(closed))
    else:
        data, changes = _mended_dxf(source, closed, fits, unit, scale)
    write_whole_file(path, data)
    reread = [
        *_unit_changes(closed.loose, source, unit, scale),
        *changes,
        *_fit_changes(closed, fits),
    ]
    return Repair(source, path, tuple(reread), closed)


def _fits(closed: ClosedDrawing, tolerance: float) -> Fits:
    """Arcs for the chains that have runs of short lines. A chain whose outline would not be sound is left
    as it is."""
    fits: Fits = {}
    for number, chain in enumerate(closed.cut.chains):
        curves = chain.contour.curves
        fitted = fit_flattened(curves, tolerance)
        if len(fitted) == len(curves):
            continue
        try:
            Contour([piece.curve for piece in fitted])
        except GeometryError:
            continue
        fits[number] = (tolerance, fitted)
    return fits


def _fit_changes(closed: ClosedDrawing, fits: Fits) -> Iterable[str]:
    for number, (tolerance, fitted) in fits.items():
        chain = closed.cut.chains[number]
        index = next(i for i in chain.sources if i >= 0)
        arcs = sum(isinstance(piece.curve, Arc) for piece in fitted)
        yield (
            f"the outline of {closed.loose.curves[closed.cut_curves[index]].entity} had "
            f"{len(chain.contour.curves):,} curves; now it has {counted(len(fitted), 'curve')}, "
            f"{counted(arcs, 'arc')} among them, within {tolerance:g} mm"
        )


def _unit_changes(
    loose: LooseCurves, source: Path, unit: str | None, scale: float
) -> Iterable[str]:
    """What a unit and a scale that are given change."""
    if unit is not None:
        stated = read_drawing(source)
        before = f"before it was {stated.unit}" if stated.unit_is_known else "before it had none"
        if not stated.unit_is_known or stated.unit != unit:
            yield f"the unit of the numbers is {loose.unit}; {before}"
    if scale != 1.0:
        yield f"all lengths were multiplied by {scale:g}"


def require_other_file(source: Path, path: Path) -> None:
    """Raise WriteError if the copy would replace the drawing, or is of another kind."""
    if path.exists() and source.exists() and path.samefile(source):
        raise WriteError.of_kind(
            "file_unwritable", f"{path}: the copy would replace the drawing; give another name"
        )
    if path.suffix.lower() != source.suffix.lower():
        raise WriteError.of_kind(
            "file_unwritable",
            f"{path}: a copy of {source.name} ends in {source.suffix!r}, not {path.suffix!r}",
        )


@dataclass
class _Fate:
    """What becomes of one curve of the drawing."""

    stays: bool = False
    pieces: tuple[AnyCurve, ...] = ()
    strays: tuple[AnyCurve, ...] = ()
    is_stray_whole: bool = False


def _fates(closed: ClosedDrawing, fits: Fits) -> list[_Fate]:
    """One a curve. Curves of no role and marks stay, but for doubles and those without length."""
    fates = [_Fate() for _ in closed.loose.curves]
    for index, role in enumerate(closed.roles):
        if role in ("mark", "ignore"):
            fates[index].stays = True
    for doubled in closed.marks.doubles:
        if doubled.whole:
            fates[closed.mark_curves[doubled.curve]].stays = False
    for tiny in closed.marks.tiny:
        fates[closed.mark_curves[tiny.curve]].stays = False
    for number, chain in enumerate(closed.cut.chains):
        if number in fits:
            for fitted in fits[number][1]:
                _set_fitted(fates, closed, chain, fitted)
            continue
        for position, source in enumerate(chain.sources):
            # A piece put in goes with the curve before it.
            before = next(s for s in (source, *reversed(chain.sources[:position]),
                                      *chain.sources) if s >= 0)  # fmt: skip
            fate = fates[closed.cut_curves[before]]
            if source >= 0 and not chain.changed[position]:
                fate.stays = True
            else:
                fate.pieces += (chain.contour.curves[position],)
    for loose_chain in closed.cut.open:
        for piece, source in zip(loose_chain.pieces, loose_chain.sources, strict=True):
            index = closed.cut_curves[source]
            fates[index].strays += (piece,)
            whole = math.isclose(
                piece.length, closed.loose.curves[index].curve.length, rel_tol=FLAT
            )
            fates[index].is_stray_whole = whole
    return fates


def _set_fitted(
    fates: list[_Fate], closed: ClosedDrawing, chain: ClosedChain, piece: FittedCurve
) -> None:
    """The curve that follows some of a chain goes with the first of those that come from the drawing."""
    size = len(chain.sources)
    positions = [(piece.first + k) % size for k in range(piece.count)]
    sources = [chain.sources[p] for p in positions]
    if piece.count == 1 and sources[0] >= 0 and not chain.changed[positions[0]]:
        fates[closed.cut_curves[sources[0]]].stays = True
        return
    before = (chain.sources[(positions[0] - k) % size] for k in range(size))
    owner = next(s for s in (*sources, *before) if s >= 0)
    fates[closed.cut_curves[owner]].pieces += (piece.curve,)


def list_changes(closed: ClosedDrawing) -> Iterable[str]:
    """A sentence for each thing that a repair changes."""
    loose = closed.loose.curves
    for gap in closed.cut.gaps:
        names = dict.fromkeys(loose[closed.cut_curves[i]].entity for i in (gap.curve, gap.other))
        yield (
            f"a gap of {gap.width:.6g} mm at {_place(gap.place)} was closed "
            f"{HOW_CLOSED[gap.closing]}: {' and '.join(names)}"
        )
    for part, curves in ((closed.cut, closed.cut_curves), (closed.marks, closed.mark_curves)):
        for doubled in part.doubles:
            own, other = loose[curves[doubled.curve]].entity, loose[curves[doubled.other]].entity
            much = "" if doubled.whole else f"{doubled.length:.6g} mm of "
            yield f"{much}{own} at {_place(doubled.start)} lay on {other} and was removed"
        for tiny in part.tiny:
            entity = loose[curves[tiny.curve]].entity
            yield f"{entity} at {_place(tiny.place)} had no length and was removed"
    for chain in closed.cut.open:
        names = dict.fromkeys(loose[closed.cut_curves[i]].entity for i in chain.curves)
        yield (
            f"{' and '.join(names)} at {_place(chain.start)}, "
            f"{chain.length:.6g} mm long, bounds nothing and went to the layer {STRAY_LAYER}"
        )


def _place(point: Any) -> str:
    # Adding 0 takes the sign off a zero.
    return f"({float(point[0]) + 0.0:.6g}, {float(point[1]) + 0.0:.6g}) mm"


# --- DXF -----------------------------------------------------------------------------------------


def _mended_dxf(
    source: Path, closed: ClosedDrawing, fits: Fits, unit: str | None, scale: float
) -> tuple[bytes, list[str]]:
    document = open_dxf(source)
    if unit is not None:
        document.header["$INSUNITS"] = next(c for c, word in UNIT_CODES.items() if word == unit)
        document.header["$MEASUREMENT"] = 0 if unit in IMPERIAL else 1
    if scale != 1.0:
        _scale(document, source, scale)
    fates = _fates(closed, fits)
    by_handle: dict[str, list[int]] = {}
    for index, loose in enumerate(closed.loose.curves):
        by_handle.setdefault(loose.handle, []).append(index)
    if closed.cut.open and STRAY_LAYER not in document.layers:
        document.layers.add(STRAY_LAYER)
    pen = _Pen(document, closed.loose)
    for handle, indices in by_handle.items():
        mine = [fates[i] for i in indices]
        if all(fate.stays and not fate.pieces and not fate.strays for fate in mine):
            continue
        entity = document.entitydb[handle]
        if all(fate.is_stray_whole for fate in mine) and entity.dxftype() != "INSERT":
            entity.dxf.layer = STRAY_LAYER
            continue
        for index, fate in zip(indices, mine, strict=True):
            loose = closed.loose.curves[index]
            for curve in (loose.curve,) if fate.stays else ():
                pen.draw(curve, loose)
            for curve in fate.pieces:
                pen.draw(curve, loose)
            for curve in fate.strays:
                pen.draw(curve, loose, STRAY_LAYER)
        document.modelspace().delete_entity(entity)
    return _document_bytes(document, source), list(list_changes(closed))


IMPERIAL = ("inch", "foot", "yard", "mil", "microinch")


def _scale(document: ezdxf.document.Drawing, source: Path, scale: float) -> None:
    """Multiply all of the model space. Raises LoadError for an entity that can't be scaled."""
    matrix = Matrix44.scale(scale, scale, scale)
    for entity in document.modelspace():
        try:
            entity.transform(matrix)
        except Exception as error:  # what an entity of any program's makes of it is no one's list
            raise LoadError.of_kind(
                "file_damaged",
                f"{source}: {entity.dxftype()} #{entity.dxf.handle} can't be scaled "
                f"({type(error).__name__}: {error}); take it out, or scale the drawing where it comes from",
            ) from error


def _document_bytes(document: ezdxf.document.Drawing, source: Path) -> bytes:
    """The file, the same for the same drawing: without the time of writing. Raises LoadError for damage
    beside the curves, which shows only now."""
    stream = io.StringIO()
    fixed = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        document.write(stream)
    except MemoryError:
        raise
    except Exception as error:  # as in open_dxf
        raise LoadError.of_kind(
            "file_damaged",
            f"{source}: the curves can be read, but the DXF is damaged and can't be written again "
            f"({type(error).__name__}: {error}); save it anew by the program that it comes from",
        ) from error
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = fixed
    data: bytes = document.encode(stream.getvalue())
    return data


class _Pen:
    """Adds curves to a document, in its own unit."""

    def __init__(self, document: ezdxf.document.Drawing, loose: LooseCurves) -> None:
        self.space = document.modelspace()
        self.document = document
        self.scale = DRAWING_UNITS[loose.unit]

    def point(self, point: Any) -> tuple[float, float]:
        return float(point[0]) / self.scale, float(point[1]) / self.scale

    def draw(self, curve: AnyCurve, like: LooseCurve, layer: str | None = None) -> None:
        attributes: dict[str, Any] = {"layer": layer or like.layer}
        if like.color.startswith("#"):
            attributes["true_color"] = int(like.color[1:], 16)
        elif like.color and int(like.color) != self.layer_color(attributes["layer"]):
            attributes["color"] = int(like.color)
        entity = self.entity(curve, attributes)
        if like.name:
            if NAME_APPLICATION not in self.document.appids:
                self.document.appids.add(NAME_APPLICATION)
            entity.set_xdata(NAME_APPLICATION, [(1000, like.name)])

    def layer_color(self, layer: str) -> int:
        known = layer in self.document.layers
        return abs(self.document.layers.get(layer).dxf.get("color", 7)) if known else 7

    def entity(self, curve: AnyCurve, attributes: dict[str, Any]) -> Any:
        if isinstance(curve, Line):
            start, end = self.point(curve.start), self.point(curve.end)
            return self.space.add_line(start, end, dxfattribs=attributes)
        if isinstance(curve, Arc):
            center, radius = self.point(curve.center), curve.radius / self.scale
            if abs(curve.sweep) >= math.tau * (1 - 1e-15):
                return self.space.add_circle(center, radius, dxfattribs=attributes)
            first = min(curve.start_angle, curve.start_angle + curve.sweep)
            last = first + abs(curve.sweep)
            return self.space.add_arc(
                center, radius, math.degrees(first), math.degrees(last), dxfattribs=attributes
            )
        if isinstance(curve, EllipticalArc):
            whole = abs(curve.sweep) >= math.tau * (1 - 1e-15)
            first = 0.0 if whole else min(curve.start_angle, curve.start_angle + curve.sweep)
            last = math.tau if whole else first + abs(curve.sweep)
            return self.space.add_ellipse(
                self.point(curve.center),
                (*self.point(curve.major), 0.0),
                curve.ratio,
                first,
                last,
                dxfattribs=attributes,
            )
        return self.spline(curve, attributes)

    def spline(self, curve: Spline, attributes: dict[str, Any]) -> Any:
        entity = self.space.add_spline(degree=curve.degree, dxfattribs=attributes)
        entity.control_points = [(*self.point(pole), 0.0) for pole in curve.poles]
        entity.knots = [float(knot) for knot in curve.knots]
        if len(curve.weights):
            entity.weights = [float(weight) for weight in curve.weights]
        return entity
