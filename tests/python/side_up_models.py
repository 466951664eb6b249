"""Sixty small plates and the drawing that a maker expects of each, as coordinates.

Ten plates without any symmetry are drawn flat, with x and y in the sheet and z out of it, and then turned
into each of six frames: seen from above, from the front and from the right, and the same turned over. The
side that carries features lies up in any frame; with features on neither side, or on both, it is the side
that the frame's top, front or right view shows. Seen from its other side a plate runs the other way in y:
(x, HEIGHT - y). So each expected drawing follows from the dimensions below by hand.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import kernel_models as kernel
from OCP.TopoDS import TopoDS_Shape

THICKNESS, HEIGHT = 6.0, 60.0
CORNERS = ((0.0, 0.0), (100.0, 0.0), (100.0, 40.0), (60.0, 60.0), (0.0, 60.0))
HOLE = (80.0, 20.0, 10.0)
"""x, y, diameter."""

Round = tuple[float, float, float]
Chain = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Marks:
    """What is marked on a side: circles, closed chains of corners and open ones, each with a depth."""

    circles: tuple[tuple[Round, float], ...] = ()
    closed: tuple[tuple[Chain, float], ...] = ()
    open: tuple[tuple[Chain, float], ...] = ()


@dataclass(frozen=True)
class Plate:
    """One of the ten, drawn flat: its body, what is cut beside the outline, what its two sides carry."""

    name: str
    body: Callable[[TopoDS_Shape], TopoDS_Shape]
    holes: tuple[Round, ...] = ()
    above: Marks | None = None
    below: Marks | None = None


@dataclass(frozen=True)
class Expected:
    """The drawing: corners of the outline, round holes, marks of the side that lies up."""

    name: str
    shape: TopoDS_Shape = field(repr=False)
    corners: Chain
    holes: tuple[Round, ...]
    marks: Marks
    both_sides: bool
    turned: bool


def rectangle(x0: float, y0: float, x1: float, y1: float) -> Chain:
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def bar(x0: float, y0: float, x1: float, y1: float, z0: float, z1: float) -> TopoDS_Shape:
    return kernel.moved(kernel.box(x1 - x0, y1 - y0, z1 - z0), x0, y0, z0)


def rod(x: float, y: float, diameter: float, z0: float, z1: float) -> TopoDS_Shape:
    return kernel.moved(kernel.cylinder(diameter / 2, z1 - z0), x, y, z0)


def countersink(plate: TopoDS_Shape) -> TopoDS_Shape:
    cone = kernel.moved(kernel.cone(3.0, 6.0, 3.0), 25.0, 40.0, 3.0)
    return kernel.cut(plate, [rod(25, 40, 6, -1, 7), cone])


def ring(plate: TopoDS_Shape) -> TopoDS_Shape:
    sunk = kernel.cut(rod(40, 30, 16, 5, 7), [rod(40, 30, 8, 4, 8)])
    return kernel.cut(plate, [sunk])


PLATES = (
    Plate("plain", lambda plate: plate),
    Plate(
        "pocket above",
        lambda plate: kernel.cut(plate, [bar(20, 30, 40, 42, 4, 7)]),
        above=Marks(closed=((rectangle(20, 30, 40, 42), 2.0),)),
    ),
    Plate(
        "round pocket below",
        lambda plate: kernel.cut(plate, [rod(30, 25, 12, -1, 3)]),
        below=Marks(circles=(((30, 25, 12), 3.0),)),
    ),
    Plate(
        "countersink above",
        countersink,
        holes=((25, 40, 6),),
        above=Marks(circles=(((25, 40, 12), 3.0),)),
    ),
    Plate(
        "counterbore below",
        lambda plate: kernel.cut(plate, [rod(25, 40, 6, -1, 7), rod(25, 40, 12, -1, 2.5)]),
        holes=((25, 40, 6),),
        below=Marks(circles=(((25, 40, 12), 2.5),)),
    ),
    Plate(
        "step above",
        lambda plate: kernel.cut(plate, [bar(-1, -1, 15, 61, 4, 7)]),
        above=Marks(open=((((15, 0), (15, 60)), 2.0),)),
    ),
    Plate(
        "groove above",
        lambda plate: kernel.cut(plate, [bar(-1, 8, 101, 12, 4, 7)]),
        above=Marks(open=((((0, 8), (100, 8)), 2.0), (((0, 12), (100, 12)), 2.0))),
    ),
    Plate(
        "raised above",
        lambda plate: kernel.fuse(plate, bar(20, 40, 50, 50, 6, 7)),
        above=Marks(closed=((rectangle(20, 40, 50, 50), -1.0),)),
    ),
    Plate(
        "sunk ring above",
        ring,
        above=Marks(circles=(((40, 30, 16), 1.0), ((40, 30, 8), 1.0))),
    ),
    Plate(
        "pockets on both sides",
        lambda plate: kernel.cut(plate, [bar(20, 30, 40, 42, 4, 7), rod(30, 15, 12, -1, 2)]),
        above=Marks(closed=((rectangle(20, 30, 40, 42), 2.0),)),
        below=Marks(circles=(((30, 15, 12), 2.0),)),
    ),
)

# Turns about axes of the frame, one after the other: where z of the sheet points, and whether the views of
# the frame show that side. x of the sheet lies along the axis that a drawing takes its x from: x of the
# frame, or y where x is across.
FRAMES: tuple[tuple[str, tuple[tuple[tuple[float, float, float], float], ...], bool], ...] = (
    ("from above", (), True),
    ("from the front", (((1, 0, 0), 90),), True),
    ("from the right", (((0, 0, 1), 90), ((0, 1, 0), 90)), True),
    ("from below", (((1, 0, 0), 180),), False),
    ("from behind", (((1, 0, 0), -90),), False),
    ("from the left", (((0, 0, 1), 90), ((0, 1, 0), -90)), False),
)


def flipped(point: tuple[float, float]) -> tuple[float, float]:
    return (point[0], HEIGHT - point[1])


def over(marks: Marks) -> Marks:
    """The marks seen from the other side."""
    return Marks(
        tuple(((x, HEIGHT - y, d), depth) for (x, y, d), depth in marks.circles),
        tuple((tuple(map(flipped, chain)), depth) for chain, depth in marks.closed),
        tuple((tuple(map(flipped, chain)), depth) for chain, depth in marks.open),
    )


def turned_shape(
    shape: TopoDS_Shape, turns: tuple[tuple[tuple[float, float, float], float], ...]
) -> TopoDS_Shape:
    for axis, degrees in turns:
        shape = kernel.turned(shape, axis, degrees * 3.141592653589793 / 180)
    return shape


def expected() -> Iterator[Expected]:
    """All sixty."""
    blank = kernel.cut(kernel.prism(CORNERS, THICKNESS), [rod(*HOLE, -1, THICKNESS + 1)])
    for plate in PLATES:
        body = plate.body(blank)
        one_sided = (plate.above is None) != (plate.below is None)
        for frame, turns, shows_above in FRAMES:
            is_over = plate.below is not None if one_sided else not shows_above
            marks = (plate.below if is_over else plate.above) or Marks()
            holes = (HOLE, *plate.holes)
            yield Expected(
                name=f"{plate.name}, drawn {frame}",
                shape=turned_shape(body, turns),
                corners=tuple(map(flipped, CORNERS)) if is_over else CORNERS,
                holes=tuple((x, HEIGHT - y if is_over else y, d) for x, y, d in holes),
                marks=over(marks) if is_over else marks,
                both_sides=plate.above is not None and plate.below is not None,
                turned=is_over,
            )
