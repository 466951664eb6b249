"""Jobs for layouts: shapes of the trade, random jobs by their seed, the public strip instances; and the judge
of a layout by Shapely, on fine chords, with motions of its own."""

from __future__ import annotations

import json
import math
import random
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import shapely
from planform import Arc, Contour, EllipticalArc, Line, Piece, Profile, ProfileSet, Stock
from planform.sheets.values import Layout, Sheet, Turns, rectangle
from shapely import affinity

INSTANCES = Path(__file__).parents[1] / "data" / "strip_packing"
BEST_DENSITIES = {
    "albano": 0.898,
    "dagli": 0.902,
    "fu": 0.924,
    "jakobs1": 0.892,
    "marques": 0.920,
    "shapes0": 0.700,
    "shirts": 0.909,
    "swim": 0.798,
    "trousers": 0.926,
}
"""Best published densities of the nine instances (collected by ESICUP, the EURO group on cutting and
packing); typed from a table, not from the papers."""
CHORDS = 2e-4
"""mm: the judge's polygons stray no more from the curves."""


def polygon(*points: tuple[float, float]) -> Contour:
    """A closed contour of lines."""
    return Contour([Line(a, b) for a, b in zip(points, points[1:] + points[:1], strict=True)])


def circle(radius: float, x: float = 0.0, y: float = 0.0) -> Contour:
    """A contour that is one circle."""
    return Contour([Arc((x, y), radius)])


def outline(outer: Contour, *holes: Contour) -> ProfileSet:
    """A set of one profile."""
    return ProfileSet([Profile(outer, list(holes))])


def disc(radius: float) -> ProfileSet:
    return outline(circle(radius))


def ring(outer: float, inner: float) -> ProfileSet:
    return outline(circle(outer), circle(inner))


def box(width: float, height: float) -> ProfileSet:
    return ProfileSet([rectangle(0, 0, width, height)])


def ell(width: float, height: float, leg: float) -> ProfileSet:
    points = [(0, 0), (width, 0), (width, leg), (leg, leg), (leg, height), (0, height)]
    return outline(polygon(*points))


def gear(teeth: int, radius: float) -> ProfileSet:
    """Straight flanks between two circles, arcs at the tips, a bore."""
    inner, curves = 0.85 * radius, []
    step = 2 * math.pi / teeth
    at = [(radius, 0.0), (radius, 0.25), (inner, 0.45), (inner, 0.8)]
    for i in range(teeth):
        corners = [(r * math.cos((i + a) * step), r * math.sin((i + a) * step)) for r, a in at]
        after = (radius * math.cos((i + 1) * step), radius * math.sin((i + 1) * step))
        curves.append(Arc((0, 0), radius, i * step, 0.25 * step))
        curves.append(Line(corners[1], corners[2]))
        curves.append(Arc((0, 0), inner, (i + 0.45) * step, 0.35 * step))
        curves.append(Line(corners[3], after))
    return outline(Contour(curves), circle(0.3 * radius))


def letter(size: float) -> ProfileSet:
    """An A with its counter: a hole with straight sides."""
    s = size / 10
    outer = [(0, 0), (2, 0), (3, 3), (6, 3), (7, 0), (9, 0), (5.5, 10), (3.5, 10)]
    inner = [(3.6, 4.8), (5.4, 4.8), (4.5, 7.5)]
    return outline(
        polygon(*[(s * x, s * y) for x, y in outer]), polygon(*[(s * x, s * y) for x, y in inner])
    )


def lens(width: float) -> ProfileSet:
    """Half an ellipse on a line."""
    half = width / 2
    return outline(
        Contour([Line((-half, 0), (half, 0)), EllipticalArc((0, 0), (half, 0), 0.6, 0.0, math.pi)])
    )


def station_pieces() -> list[tuple[str, ProfileSet]]:
    """Plates in the manner of the bird-feeding station: a gable with its entrance, a slotted post, a
    hanger."""
    gable = outline(polygon((0, 0), (120, 0), (120, 70), (60, 125), (0, 70)), circle(16, 60, 70))
    post = outline(
        polygon((0, 0), (30, 0), (30, 60), (18, 60), (18, 40), (12, 40), (12, 60), (0, 60))
    )
    hanger = outline(
        Contour(
            [
                Line((0, 0), (60, 0)),
                Arc((60, 12), 12, -math.pi / 2, math.pi),
                Line((60, 24), (0, 24)),
                Arc((0, 12), 12, math.pi / 2, math.pi),
            ]
        ),
        circle(4, 0, 12),
        circle(4, 60, 12),
    )
    return [("gable", gable), ("post", post), ("hanger", hanger)]


@dataclass(frozen=True)
class RandomJob:
    """Pieces, stock, and what `planform.lay_out` takes besides."""

    pieces: list[Piece]
    stock: list[Stock]
    options: dict[str, Any]


def random_job(seed: int) -> RandomJob:
    """The job of a seed: some of all shapes, stock of all kinds."""
    rng = random.Random(seed)
    width, height = rng.choice([(400.0, 300.0), (600.0, 400.0), (300.0, 500.0)])
    gap, margin = rng.choice([0.0, 1.0, 4.0, 7.5]), rng.choice([0.0, 3.0, 8.0])
    makers: list[tuple[str, ProfileSet]] = [
        ("gear", gear(rng.randint(7, 16), rng.uniform(20, 45))),
        ("letter", letter(rng.uniform(40, 90))),
        ("ring", ring(rng.uniform(60, 90), rng.uniform(40, 55))),
        ("ell", ell(rng.uniform(60, 140), rng.uniform(60, 140), rng.uniform(12, 30))),
        ("disc", disc(rng.uniform(6, 20))),
        ("sliver", box(rng.uniform(150, 280), rng.uniform(2, 5))),
        ("lens", lens(rng.uniform(40, 90))),
        ("board", box(rng.uniform(40, 160), rng.uniform(30, 90))),
        *station_pieces(),
    ]
    if seed % 4 == 0:  # rectangles alone
        makers = [(f"board {i}", box(rng.uniform(30, 200), rng.uniform(20, 120))) for i in range(5)]
    pieces = []
    for name, shape in rng.sample(makers, rng.randint(2, min(6, len(makers)))):
        turns: Turns = rng.choice(["any", "90", "180", "none"])
        pieces.append(
            Piece(
                name,
                shape,
                rng.randint(1, 6),
                turns=turns,
                may_mirror=rng.random() < 0.3,
                priority=rng.choice([0, 0, 1]),
                spares=rng.choice([0, 0, 2]),
            )
        )
    if rng.random() < 0.3:
        whole = box(width - 2 * margin, height - 2 * margin)
        pieces.append(Piece("whole sheet", whole, 1, turns="none"))
    if rng.random() < 0.2:
        pieces.append(Piece("too large", box(width + 50, height + 50), 1))
    stock = [stock_of(rng, width, height)]
    if rng.random() < 0.5:
        stock.append(left_over_stock(rng))
    return RandomJob(pieces, stock, {"gap": gap, "margin": margin, "seed": seed})


def stock_of(rng: random.Random, width: float, height: float) -> Stock:
    """Whole sheets, with a grain, clamps, a bound on their number."""
    keep_clear = ProfileSet()
    if rng.random() < 0.4:
        keep_clear = ProfileSet(
            [rectangle(0, 0, 40, 30), rectangle(width - 40, height - 30, width, height)]
        )
    return Stock.rectangle(
        width,
        height,
        grain=rng.choice([None, 0.0, math.pi / 2]),
        keep_clear=keep_clear,
        count=rng.choice([None, None, 2]),
        price=rng.choice([None, 20.0]),
    )


def left_over_stock(rng: random.Random) -> Stock:
    """A left-over of any outline, with a hole in it."""
    size = rng.uniform(180, 320)
    corner = 0.5 * size
    edge = polygon((0, 0), (size, 0), (size, corner), (corner, 0.9 * size), (0, 0.9 * size))
    return Stock(
        "left over",
        outline(edge, circle(0.1 * size, 0.3 * size, 0.4 * size)),
        count=1,
        left_over=True,
    )


def strip_instance(name: str, times: int = 1) -> tuple[list[Piece], float]:
    """The pieces of a public instance, each ``times`` as often, and the strip's height."""
    data = json.loads((INSTANCES / f"{name}.json").read_text())
    words: dict[int, Turns] = {1: "none", 2: "180", 4: "90"}
    pieces = []
    for item in data["items"]:
        points = [tuple(point) for point in item["shape"]["data"]]
        if points[0] == points[-1]:
            points.pop()
        turns = words[len(item["allowed_orientations"])]
        pieces.append(
            Piece(str(item["id"]), outline(polygon(*points)), item["demand"] * times, turns=turns)
        )
    return pieces, float(data["strip_height"])


def shape_of(profiles: ProfileSet) -> Any:
    """A profile set in Shapely, on fine chords."""
    parts = [
        shapely.Polygon(p.outer.points(CHORDS), [hole.points(CHORDS) for hole in p.holes])
        for p in profiles.profiles
    ]
    return shapely.union_all(parts)


def placed_shapes(sheet: Sheet) -> list[Any]:
    """What lies on a sheet, moved by the numbers of the placements alone."""
    own: dict[int, Any] = {}
    shapes = []
    for p in sheet.placements:
        shape = own.setdefault(id(p.piece), shape_of(p.piece.outline))
        cosine, sine = math.cos(p.angle), math.sin(p.angle)
        mirror = -1.0 if p.mirrored else 1.0
        shapes.append(
            affinity.affine_transform(
                shape, [mirror * cosine, -sine, mirror * sine, cosine, p.x, p.y]
            )
        )
    return shapes


def judge(layout: Layout) -> None:
    """Assert by Shapely that a layout keeps its rules and has all pieces."""
    for sheet in layout.sheets:
        judge_sheet(sheet, layout.gap, layout.margin)
    for piece in layout.pieces:
        missing = sum(one.count for one in layout.not_placed if one.piece is piece)
        placed = [
            (sheet.count, p.spare)
            for sheet in layout.sheets
            for p in sheet.placements
            if p.piece is piece
        ]
        assert sum(n for n, spare in placed if not spare) + missing == piece.quantity
        assert sum(n for n, spare in placed if spare) <= piece.spares
    for stock in layout.stock:
        used = sum(sheet.count for sheet in layout.sheets if sheet.stock is stock)
        assert stock.count is None or used <= stock.count


def judge_sheet(sheet: Sheet, gap: float, margin: float) -> None:
    """Distances and containment on one sheet."""
    shapes = placed_shapes(sheet)
    (left, low), (right, high) = sheet.stock.outline.bounds
    whole = shape_of(sheet.stock.outline)
    if sheet.length is not None:
        whole = shapely.box(left, low, left + sheet.length, high)
    blocked = shape_of(sheet.stock.keep_clear) if sheet.stock.keep_clear.profiles else None
    size = math.hypot(right - left, high - low)
    slack = 2 * CHORDS + 1e-6
    tree = shapely.STRtree(shapes)
    for number, (shape, placement) in enumerate(zip(shapes, sheet.placements, strict=True)):
        trace = slack * shape.length
        assert shape.difference(whole).area <= trace, placement.name
        assert shape.distance(whole.boundary) >= margin - slack or margin == 0, placement.name
        if blocked is not None:
            assert shape.intersection(blocked).area <= trace, placement.name
        for other in tree.query(shape.buffer(gap + 1e-3 * size)):
            if other <= number:
                continue
            if gap > 0:
                assert shape.distance(shapes[other]) >= gap - slack
            assert shape.intersection(shapes[other]).area <= trace
        assert placement.piece.may_mirror or not placement.mirrored
        step = {"any": 0.0, "90": math.pi / 2, "180": math.pi, "none": 2 * math.pi}[
            placement.piece.turns
        ]
        if step:
            off = (placement.angle - (sheet.stock.grain or 0.0)) / step
            assert abs(off - round(off)) < 1e-8, placement.name


def fits_nowhere(piece: Piece, layout: Layout) -> bool:
    """By Shapely: is its box larger than every stock's, in each of many directions that it may take?"""
    shape = shape_of(piece.outline)
    step = {"any": 1.0, "90": 90.0, "180": 180.0, "none": 360.0}[piece.turns]
    for stock in layout.stock:
        (left, low), (right, high) = stock.outline.bounds
        width, height = right - left - 2 * layout.margin, high - low - 2 * layout.margin
        start = math.degrees(stock.grain or 0.0)
        for i in range(round(360 / step)):
            x0, y0, x1, y1 = affinity.rotate(shape, start + i * step, origin=(0, 0)).bounds
            if (
                x1 - x0 <= width
                and y1 - y0 <= height
                and shape.area <= shape_of(stock.outline).area
            ):
                return False
    return True
