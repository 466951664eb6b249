"""Loose curves: what a drawing from elsewhere holds, before it is known what closes.

`read_dxf` and `read_svg` give a `LooseCurves`; its `close` chains the curves to contours, says what was wrong
with them, and makes a profile set like one that comes from a solid.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

from planform._planform import (
    Arc,
    ClosedChain,
    ClosedContours,
    EllipticalArc,
    Line,
    Mark,
    OpenChain,
    Profile,
    ProfileSet,
    Spline,
    allowance_notes,
    close_contours,
    nested_profiles,
    nesting_depths,
)
from planform.drawings.roles import DEFAULT_ROLES, Role, checked_roles, fits, role_of
from planform.errors import GeometryError, LoadError
from planform.measured_outline import DrawnCurves

__all__ = ["ClosedDrawing", "LeftOver", "LooseCurve", "LooseCurves"]

GAP_LIMIT = 0.1
"""Gaps up to this many mm are closed unless the caller says otherwise: about half the width that a laser
removes, so that the cut does not show them (common practice, no source)."""

HOW_CLOSED: Mapping[str, str] = {
    "extended": "along the curves",
    "blended": "with a curve that goes on from its ends",
    "bridged": "with a straight piece",
}
"""In words, by `Gap.closing`."""

WIDEST_CLOSED = 2.0
"""Up to this many mm it is suggested to close a gap (our own choice); what is wider is a missing piece."""

AnyCurve = Line | Arc | EllipticalArc | Spline


@dataclass(frozen=True)
class LooseCurve:
    """One curve of a drawing, in mm, with where it comes from.

    Attributes
    ----------
    curve : Line, Arc, EllipticalArc or Spline
    entity : str
        What a person looks for in the file: ``"LINE #2F"``, ``"path #lid"``.
    layer : str
        Name of the layer, or id of the group in an SVG.
    color : str
        ``"1"`` to ``"255"`` (index of the DXF's table) or ``"#rrggbb"``; empty if it has none.
    name : str
        Of the part that it belongs to, where the file says so.
    group : int
        The same for all curves of one entity.
    handle : str
        Of the entity of the file that holds it (of the outermost block reference, in a block).
    is_hatch : bool
        It is the boundary of an area that is filled.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> import pathlib, tempfile
    >>> path = roof.to_dxf(pathlib.Path(tempfile.mkdtemp()) / "roof.dxf")
    >>> curve = planform.read_drawing(path).curves[0]
    >>> curve.layer, curve.curve.length
    ('CUT_OUTER', 60.0)
    """

    curve: AnyCurve
    entity: str
    layer: str = field(default_factory=str)
    color: str = field(default_factory=str)
    name: str = field(default_factory=str)
    group: int = field(default_factory=int)
    handle: str = field(default_factory=str)
    is_hatch: bool = field(default_factory=bool)


@dataclass(frozen=True)
class LeftOver:
    """Something in a drawing that gives no curve: text, a point, what can't be read.

    ``kind`` is ``"text"``, ``"point"``, ``"other"``, ``"hidden"`` (on a layer that is off or frozen),
    ``"unread"`` (it should have given a curve); or it says something of curves that are read: ``"block"``
    (they are an instance of one), ``"uneven"`` (one with different scales along x and y), ``"off_plane"``
    (they leave z = 0). ``place`` is in mm, None if unknown.

    Examples
    --------
    >>> import planform
    >>> planform.LeftOver("text", "TEXT #2F", "0", (1.0, 2.0), "tray 1").kind
    'text'
    """

    kind: Literal["text", "point", "other", "hidden", "block", "unread", "off_plane", "uneven"]
    entity: str
    layer: str = field(default_factory=str)
    place: tuple[float, float] | None = field(default_factory=lambda: None)
    text: str = field(default_factory=str)


@dataclass(frozen=True, repr=False)
class LooseCurves:
    """What a drawing holds, lengths in mm.

    Attributes
    ----------
    curves : tuple of LooseCurve
    left_over : tuple of LeftOver
    source : pathlib.Path or None
    unit : str
        Of the drawing's numbers: ``"mm"``, ``"inch"``, ...
    unit_is_known : bool
        False if the file doesn't say and the unit was assumed.
    unit_text : str
        One sentence on the unit if it is not known.
    name : str
        Title of the drawing.
    notes : tuple of str
        What it says of itself: the comments at the head of a DXF, the description of an SVG.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> import pathlib, tempfile
    >>> path = roof.to_dxf(pathlib.Path(tempfile.mkdtemp()) / "roof.dxf")
    >>> loose = planform.read_drawing(path)
    >>> len(loose.curves), loose.unit, loose.left_over
    (4, 'mm', ())
    """

    curves: tuple[LooseCurve, ...]
    left_over: tuple[LeftOver, ...] = field(default_factory=tuple)
    source: Path | None = field(default_factory=lambda: None)
    unit: str = field(default_factory=lambda: "mm")
    unit_is_known: bool = field(default_factory=lambda: True)
    unit_text: str = field(default_factory=str)
    name: str = field(default_factory=str)
    notes: tuple[str, ...] = ()

    def __len__(self) -> int:
        return len(self.curves)

    def __repr__(self) -> str:
        kinds = Counter(type(loose.curve).__name__ for loose in self.curves)
        counted = ", ".join(f"{kind}: {number}" for kind, number in sorted(kinds.items()))
        source = f"{str(self.source)!r}, " if self.source else ""
        return (
            f"LooseCurves({source}{len(self.curves)} curves ({counted}), "
            f"{len(self.left_over)} left over, unit={self.unit!r})"
        )

    @property
    def bounds(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Lower left and upper right corner in mm; NaN throughout without curves."""
        if not self.curves:
            return (math.nan, math.nan), (math.nan, math.nan)
        boxes = [loose.curve.bounds for loose in self.curves]
        low = (min(float(box[0][0]) for box in boxes), min(float(box[0][1]) for box in boxes))
        high = (max(float(box[1][0]) for box in boxes), max(float(box[1][1]) for box in boxes))
        return low, high

    def roles(self, roles: Mapping[str, str] | None = None) -> list[Role]:
        """The role of each curve.

        Parameters
        ----------
        roles : mapping of str to str, optional
            From a pattern to one of `ROLES`; the first that fits counts, `DEFAULT_ROLES` where none
            does. A pattern is the whole name of a layer, with ``*`` and ``?`` for any characters, in any
            case; or ``color:1``, ``color:#ff0000`` for a colour. The boundary of a hatch has no role but
            one that is given here.

        Returns
        -------
        list of str
            One a curve.

        Raises
        ------
        GeometryError
            For a role that is not one of `ROLES`.
        """
        given = checked_roles(roles or {})
        # What is given goes first, also where a default has the same pattern.
        rule = given | {p: role for p, role in DEFAULT_ROLES.items() if p not in given}
        others: dict[str, Role] = {} if "*" in given else {"*": "ignore"}
        known: dict[tuple[str, str, bool], Role] = {}
        result = []
        for loose in self.curves:
            key = (loose.layer, loose.color, loose.is_hatch)
            if key not in known:
                known[key] = role_of(
                    loose.layer, loose.color, given | others if loose.is_hatch else rule
                )
            result.append(known[key])
        return result

    def unfit_patterns(self, roles: Mapping[str, str]) -> tuple[str, ...]:
        """The patterns of a rule (see `roles`) that no layer and no colour of the curves fits."""
        kinds = {(loose.layer, loose.color) for loose in self.curves}
        return tuple(
            pattern
            for pattern in roles
            if not any(fits(layer, color, pattern.casefold()) for layer, color in kinds)
        )

    def close(self, *, gap: float = 0.0, roles: Mapping[str, str] | None = None) -> ClosedDrawing:
        """Chain the curves to contours.

        Parameters
        ----------
        gap : float, optional
            Ends up to this far apart in mm are joined; see `close_contours`.
        roles : mapping, optional
            As for `roles`.

        Returns
        -------
        ClosedDrawing

        Raises
        ------
        GeometryError
            For a gap that is negative or not finite, or an unknown role.
        """
        of_curve = self.roles(roles)
        cut = [i for i, role in enumerate(of_curve) if role in ("cut", "outer", "inner")]
        marks = [i for i, role in enumerate(of_curve) if role == "mark"]
        return ClosedDrawing(
            self,
            of_curve,
            cut,
            self._closed(cut, gap),
            marks,
            self._closed(marks, gap),
            gap,
            self.unfit_patterns(roles or {}),
        )

    def _closed(self, indices: list[int], gap: float) -> ClosedContours:
        return close_contours(
            [self.curves[i].curve for i in indices],
            gap=gap,
            groups=[self.curves[i].group for i in indices],
        )

    def profile_set(
        self,
        *,
        gap: float = 0.0,
        roles: Mapping[str, str] | None = None,
        tolerance: float = 0.01,
    ) -> ProfileSet:
        """The closed contours as profiles and marks; see `ClosedDrawing.profile_set`.

        Raises
        ------
        GeometryError
            If an outline doesn't close within `gap`; the message gives the place and the width.
        LoadError
            If the drawing holds an entity that can't be read.
        """
        return self.close(gap=gap, roles=roles).profile_set(tolerance=tolerance)


def rounded_up(width: float) -> float:
    """The least number of four digits that is no less: a limit that a gap of this width is within."""
    step = 10.0 ** (math.floor(math.log10(width)) - 3)
    return math.ceil(width / step * (1 - 1e-12)) * step


@dataclass(frozen=True, repr=False)
class ClosedDrawing:
    """Loose curves after closing: contours with their roles, and what was wrong.

    Attributes
    ----------
    loose : LooseCurves
    roles : list of str
        One a curve of `loose`.
    cut, marks : ClosedContours
        What became of the curves to cut and of those to mark.
    cut_curves, mark_curves : list of int
        The indices in `cut` and `marks` count these, which are indices into ``loose.curves``.
    gap : float
        The limit in mm up to which gaps were closed.
    unfit_patterns : tuple of str
        Those of the caller's rule that no layer or colour fits.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> import pathlib, tempfile
    >>> path = roof.to_dxf(pathlib.Path(tempfile.mkdtemp()) / "roof.dxf")
    >>> planform.read_drawing(path).close().profile_set().area
    2400.0
    """

    loose: LooseCurves
    roles: list[Role] = field(hash=False)
    cut_curves: list[int] = field(hash=False)
    cut: ClosedContours
    mark_curves: list[int] = field(hash=False)
    marks: ClosedContours
    gap: float
    unfit_patterns: tuple[str, ...] = ()

    def __repr__(self) -> str:
        return f"ClosedDrawing(cut={self.cut!r}, marks={self.marks!r}, gap={self.gap!r})"

    @property
    def drawn(self) -> DrawnCurves:
        """What a picture of the drawing shows beside its closed outlines."""
        doubles = (
            *((d, self.cut_curves) for d in self.cut.doubles),
            *((d, self.mark_curves) for d in self.marks.doubles),
        )
        low, high = LooseCurves(
            tuple(self.loose.curves[i] for i in (*self.cut_curves, *self.mark_curves))
        ).bounds
        return DrawnCurves(
            open=tuple(piece for chain in self.cut.open for piece in chain.pieces),
            doubled=tuple(self.loose.curves[curves[d.curve]].curve for d, curves in doubles),
            bounds=(low, high),
        )

    @property
    def open_outlines(self) -> list[tuple[float, tuple[float, float]]]:
        """Width in mm and place of each gap that stays open, the widest first."""
        gaps = [gap for gap in self.cut.gaps if gap.closing == "open"]
        return sorted(
            ((gap.width, (float(gap.place[0]), float(gap.place[1]))) for gap in gaps), reverse=True
        )

    def chain_name(self, chain: ClosedChain | OpenChain, indices: list[int]) -> str:
        """The name that all curves of a chain have, or nothing."""
        names = {self.loose.curves[indices[i]].name for i in chain.sources if i >= 0}
        return names.pop() if len(names) == 1 else ""

    def profiles(self) -> list[Profile]:
        """The closed contours of the cut as profiles."""
        names = [self.chain_name(chain, self.cut_curves) for chain in self.cut.chains]
        return nested_profiles([chain.contour for chain in self.cut.chains], names=names)

    def misplaced(self) -> Iterable[tuple[ClosedChain, Role]]:
        """Contours whose layers say inner though they lie outside, or the other way round, with what
        they are said to be."""
        said = [
            {self.roles[self.cut_curves[i]] for i in chain.sources if i >= 0}
            for chain in self.cut.chains
        ]
        if not any(roles & {"inner", "outer"} for roles in said):
            return
        depths = nesting_depths([chain.contour for chain in self.cut.chains])
        for chain, roles, depth in zip(self.cut.chains, said, depths, strict=True):
            if roles == {"inner"} and depth % 2 == 0:
                yield chain, "inner"
            elif roles == {"outer"} and depth % 2 == 1:
                yield chain, "outer"

    def profile_set(self, *, tolerance: float = 0.01, allow_open: bool = False) -> ProfileSet:
        """The closed contours as profiles and marks, like those of a solid.

        Parameters
        ----------
        tolerance : float, optional
            Bound in mm that the set carries for later steps; the curves are as exact as the file.
        allow_open : bool, optional
            Leave out outlines that stay open, and entities that can't be read, instead of raising, with a
            note.

        Returns
        -------
        ProfileSet
            Its notes say what was left out and what was mended, and which allowances the drawing says are
            in it.

        Raises
        ------
        GeometryError
            If an outline stays open; the message gives the place and the width.
        LoadError
            If the drawing holds an entity that should have given a curve and can't be read: an outline or a
            hole would be lost.
        """
        if self._unread and not allow_open:
            first = self._unread[0]
            source = f"{self.loose.source}: " if self.loose.source else ""
            more = f" ({len(self._unread) - 1} more)" if len(self._unread) > 1 else ""
            raise LoadError.of_kind(
                "file_damaged",
                f"{source}{first.entity} can't be read: {first.text}{more}; draw it again, or take it out",
            )
        still_open = self.open_outlines
        if still_open and not allow_open:
            width, (x, y) = still_open[0]
            source = f"{self.loose.source}: " if self.loose.source else ""
            counted = "1 gap stays" if len(still_open) == 1 else f"{len(still_open)} gaps stay"
            size = f"{width:.6g} mm" if math.isfinite(width) else "unknown width"
            advice = "draw what is missing"
            if width <= WIDEST_CLOSED:
                limit = f"{rounded_up(width):.4g}"
                advice = f"close gaps up to {limit} mm (--gap {limit}; in Python gap={limit}), or {advice}"
            raise GeometryError.of_kind(
                "contour_not_closed",
                f"{source}{counted} open, the widest of {size} at ({x:.6g}, {y:.6g}) mm; {advice}",
            )
        marks = [
            Mark(chain.contour, self.chain_name(chain, self.mark_curves))
            for chain in self.marks.chains
        ]
        marks += [
            Mark.open(chain.pieces, self.chain_name(chain, self.mark_curves))
            for chain in self.marks.open
        ]
        return ProfileSet(
            self.profiles(),
            marks,
            tolerance=tolerance,
            name=self.loose.name,
            notes=list(self._notes()),
        )

    @property
    def _unread(self) -> list[LeftOver]:
        return [item for item in self.loose.left_over if item.kind == "unread"]

    def _notes(self) -> Iterable[str]:
        # Else a width of cut would be added twice.
        yield from allowance_notes(ProfileSet(notes=list(self.loose.notes)))
        if self._unread:
            yield f"left out as they can't be read: {len(self._unread)}"
        closed = [gap for gap in self.cut.gaps if gap.closing != "open"]
        if closed:
            widest = max(gap.width for gap in closed)
            yield f"gaps closed, of up to {widest:.4g} mm: {len(closed)}"
        if self.cut.doubles:
            yield f"left out as doubled: {len(self.cut.doubles)}"
        strays = sum(chain.stray for chain in self.cut.open)
        if strays:
            yield f"left out as strays: {strays}"
        if len(self.cut.open) > strays:
            yield f"left out as open outlines: {len(self.cut.open) - strays}"
        if not self.loose.unit_is_known:
            yield self.loose.unit_text
