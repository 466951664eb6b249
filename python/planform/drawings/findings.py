"""What is wrong with a drawing from elsewhere, as findings of an inspection."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from typing import Any

from planform._planform import (
    ClosedContours,
    Finding,
    Gap,
    Line,
    OpenChain,
    RuleSet,
    fit_flattened,
)
from planform.drawings.loose import HOW_CLOSED, WIDEST_CLOSED, ClosedDrawing
from planform.naming import counted

__all__ = ["drawing_findings"]


MANY_LINES, FEWER_BY = 40, 4
"""An outline of so many lines is said to be flattened if a fourth as many arcs and lines follow it (our own
choice: fewer do no harm to a machine)."""

ANNOTATIONS = ("DIMENSION", "ARC_DIMENSION", "LARGE_RADIAL", "LEADER", "MULTILEADER", "TOLERANCE")
"""Kinds of entity that are text with lines around it."""


def drawing_findings(closed: ClosedDrawing, rules: RuleSet | None = None) -> list[Finding]:
    """Everything that a drawing's curves and leftovers show before the outlines are measured.

    Open ends with their gap, doubled and overlapping curves, strays, crossings, curves without length,
    entities that can't be read, an unknown unit, layers that contradict how outlines lie in each other,
    points, text and other leftovers, blocks.

    Parameters
    ----------
    closed : ClosedDrawing
        From `LooseCurves.close`; gaps that it closed are notes.
    rules : RuleSet, optional
        Which are looked for and how much they weigh; the default set if not given.

    Returns
    -------
    list of Finding
        Places in mm.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> path = pathlib.Path(tempfile.mkdtemp()) / "lid.svg"
    >>> _ = path.write_text(
    ...     '<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="40mm" viewBox="0 0 80 40">'
    ...     '<path d="M0 0 H80 V40 H0 V0.25"/></svg>')
    >>> found = planform.drawing_findings(planform.read_svg(path).close())
    >>> [(finding.rule, finding.measured) for finding in found]
    [('open_end', 0.25)]
    """
    return list(_Finder(closed, rules or RuleSet()).run())


class _Finder:
    def __init__(self, closed: ClosedDrawing, rules: RuleSet) -> None:
        self.closed = closed
        self.loose = closed.loose
        self.rules = rules
        low, _ = self.loose.bounds
        self.corner = low if math.isfinite(low[0]) else (0.0, 0.0)

    def run(self) -> Iterator[Finding]:
        yield from self.gaps()
        for part, curves in (
            (self.closed.cut, self.closed.cut_curves),
            (self.closed.marks, self.closed.mark_curves),
        ):
            yield from self.doubles(part, curves)
            yield from self.tiny(part, curves)
        yield from self.strays()
        yield from self.crossings()
        yield from self.misplaced()
        yield from self.unfit_patterns()
        yield from self.unit()
        yield from self.empty()
        yield from self.hatches()
        yield from self.flattened()
        yield from self.left_over()

    def finding(self, rule: Any, place: Any, text: str, **more: Any) -> Iterator[Finding]:
        found = self.rules[rule]
        if found.enabled:
            yield Finding(rule, found.severity, place, text, **more)

    def entity(self, index: int) -> str:
        return self.loose.curves[index].entity

    def cut_entity(self, index: int) -> str:
        return self.entity(self.closed.cut_curves[index])

    def gaps(self) -> Iterator[Finding]:
        rule = self.rules["open_end"]
        for gap in self.closed.cut.gaps:
            ends = self.ends_of(gap)
            if gap.closing == "open":
                advice = "draw what is missing"
                if gap.width <= WIDEST_CLOSED:
                    advice = f"close the gap (a repair can: --repair OUT), or {advice}"
                text = f"{ends}: the outline is open; {advice}"
                severity = rule.severity
            else:
                text = f"{ends}: closed {HOW_CLOSED[gap.closing]}"
                severity = "note"
            if rule.enabled:
                yield Finding(
                    "open_end",
                    severity,
                    gap.place,
                    text,
                    points=[gap.place, gap.partner],
                    measured=gap.width if math.isfinite(gap.width) else None,
                    limit=self.closed.gap,
                    unit="mm",
                )

    def ends_of(self, gap: Gap) -> str:
        own = self.cut_entity(gap.curve)
        if gap.other < 0:
            return f"{own} ends with no other end near"
        other = self.cut_entity(gap.other)
        ends = f"the ends of {own} are" if own == other else f"{own} and {other} end"
        return f"{ends} {gap.width:.6g} mm apart"

    def doubles(self, part: ClosedContours, curves: list[int]) -> Iterator[Finding]:
        for doubled in part.doubles:
            own, other = self.entity(curves[doubled.curve]), self.entity(curves[doubled.other])
            how = "lies" if doubled.whole else f"lies for {doubled.length:.6g} mm"
            yield from self.finding(
                "doubled",
                doubled.start,
                f"{own} {how} on {other}: it would be cut twice; remove it",
                points=[doubled.start, doubled.end],
                measured=doubled.length,
                unit="mm",
            )

    def tiny(self, part: ClosedContours, curves: list[int]) -> Iterator[Finding]:
        for tiny in part.tiny:
            yield from self.finding(
                "zero_length",
                tiny.place,
                f"{self.entity(curves[tiny.curve])} has no length; remove it",
                measured=tiny.length,
                unit="mm",
            )

    def strays(self) -> Iterator[Finding]:
        for chain in self.closed.cut.open:
            if not chain.stray:
                continue
            entities = list(dict.fromkeys(self.cut_entity(index) for index in chain.curves))
            named = (
                entities[0] if len(entities) == 1 else f"{entities[0]} and {len(entities) - 1} more"
            )
            yield from self.finding(
                "stray",
                chain.start,
                f"{named}{self.on_layer(chain)}, {chain.length:.6g} mm long, bounds nothing; remove "
                "it, draw what it belongs to, or give its layer another role (mark, ignore)",
                points=[chain.start, chain.end],
                measured=chain.length,
                unit="mm",
            )

    def on_layer(self, chain: OpenChain) -> str:
        layers = {self.loose.curves[self.closed.cut_curves[index]].layer for index in chain.curves}
        layer = layers.pop() if len(layers) == 1 else ""
        return f" on layer {layer!r}" if layer else ""

    def crossings(self) -> Iterator[Finding]:
        for crossed in self.closed.cut.crossings:
            names = [
                self.cut_entity(index) if index >= 0 else "a closed gap"
                for index in (crossed.first, crossed.second)
            ]
            how = f"{names[0]} crosses itself" if names[0] == names[1] else " crosses ".join(names)
            yield from self.finding(
                "crossing", crossed.place, f"{how}: what lies inside can't be told; redraw it"
            )

    def misplaced(self) -> Iterator[Finding]:
        if self.closed.cut.crossings:
            return  # what lies inside what can't be told then
        for chain, role in self.closed.misplaced():
            index = next(i for i in chain.sources if i >= 0)
            loose = self.loose.curves[self.closed.cut_curves[index]]
            where = "lies in no outline" if role == "inner" else "lies in another one"
            yield from self.finding(
                "role",
                loose.curve.start,
                f"layer {loose.layer!r} says {role}, but the outline of {loose.entity} {where}",
            )

    def unfit_patterns(self) -> Iterator[Finding]:
        for pattern in self.closed.unfit_patterns:
            kind = "color" if pattern.casefold().startswith("color:") else "layer"
            there = sorted({getattr(loose, kind) for loose in self.loose.curves})
            named = ", ".join(repr(word) for word in there[:20]) + (", ..." if there[20:] else "")
            what = {"color": "colour", "layer": "layer"}[kind]
            yield from self.finding(
                "role", self.corner, f"no {what} fits the pattern {pattern!r}; there are: {named}"
            )

    def unit(self) -> Iterator[Finding]:
        if not self.loose.unit_is_known:
            yield from self.finding("drawing_unit", self.corner, self.loose.unit_text)

    def empty(self) -> Iterator[Finding]:
        if self.closed.cut_curves:
            return
        ignored = sum(role == "ignore" for role in self.closed.roles)
        what = "the drawing is empty"
        if self.closed.mark_curves:
            what = "there are marks and nothing to cut"
        elif ignored:
            what = f"there is nothing to cut: {counted(ignored, 'curve has', 'curves have')} no role in it"
        yield from self.finding("empty", self.corner, what)

    def hatches(self) -> Iterator[Finding]:
        """One for each layer with hatches that have no role."""
        of_layer: dict[str, dict[str, int]] = {}
        for index, (loose, role) in enumerate(
            zip(self.loose.curves, self.closed.roles, strict=True)
        ):
            if loose.is_hatch and role == "ignore":
                of_layer.setdefault(loose.layer, {}).setdefault(loose.entity, index)
        for layer, entities in of_layer.items():
            first = next(iter(entities))
            more = f" and {len(entities) - 1} more" if entities.keys() - {first} else ""
            yield from self.finding(
                "hatch",
                self.loose.curves[entities[first]].curve.start,
                f"{first}{more} on layer {layer!r}: the boundary of what is filled is not cut; if it should "
                f"be, give its layer a role (--role '{layer}=cut')",
            )

    def flattened(self) -> Iterator[Finding]:
        """Outlines of many short lines that few arcs and lines follow."""
        rule = self.rules["flattened"]
        if not rule.enabled:
            return
        for chain in self.closed.cut.chains:
            curves = chain.contour.curves
            if sum(isinstance(curve, Line) for curve in curves) < MANY_LINES:
                continue
            fitted = fit_flattened(curves, rule.limit)
            if len(fitted) * FEWER_BY > len(curves):
                continue
            index = next(i for i in chain.sources if i >= 0)
            yield from self.finding(
                "flattened",
                curves[0].start,
                f"the outline of {self.cut_entity(index)} has {len(curves):,} curves, mostly short lines "
                f"that {counted(len(fitted), 'arc or line', 'arcs and lines')} follow within {rule.limit:g} "
                f"mm; a repair can put them in (--repair OUT --fit-arcs {rule.limit:g})",
                measured=float(len(curves)),
                unit="",
            )

    def left_over(self) -> Iterator[Finding]:
        hidden: Counter[str] = Counter()
        for item in self.loose.left_over:
            place = (
                item.place if item.place and all(map(math.isfinite, item.place)) else self.corner
            )
            if item.kind == "hidden":
                hidden[item.layer] += 1
            elif item.kind == "unread":
                yield from self.finding("unread", place, f"{item.entity} is left out: {item.text}")
            elif item.kind == "off_plane":
                layer = f" on layer {item.layer!r}" if item.layer else ""
                yield from self.finding("off_plane", place, f"{item.entity}{layer} {item.text}")
            elif item.kind == "uneven":
                yield from self.finding("uneven_scale", place, f"{item.entity}: {item.text}")
            elif item.kind == "block":
                yield from self.finding("block", place, f"{item.entity}: {item.text}")
            else:
                shown = f" {item.text[:60]!r}" if item.text else ""
                what = {"text": "text", "point": "a point"}.get(item.kind, "no outline")
                if item.kind == "text" and item.entity.startswith(ANNOTATIONS):
                    what = "an annotation"
                yield from self.finding(
                    "left_over", place, f"{item.entity}{shown} is {what}: it is not cut"
                )
        for layer, count in sorted(hidden.items()):
            yield from self.finding(
                "left_over",
                self.corner,
                f"{counted(count, 'hidden entity', 'hidden entities')} on layer {layer!r}: not read",
            )
