"""What a layout is made of: pieces and stock that go in, sheets with placed pieces that come out.

All are frozen; operations make new ones. Lengths are millimetres, angles radians, areas mm². A piece lies in
the coordinates of its own outline, a sheet in those of its stock's outline.
"""

from __future__ import annotations

import math
from dataclasses import astuple, dataclass, field
from functools import cached_property
from typing import Literal

from planform._planform import Contour, Line, Profile, ProfileSet
from planform.sheets.checks import is_count, is_number, need

Turns = Literal["any", "90", "180", "none"]
"""By how much a piece may be turned: freely, by quarter turns, by half turns (material with a grain), not at
all. Quarter and half turns are counted from the direction of the sheet's grain."""

TURNS: tuple[Turns, ...] = ("any", "90", "180", "none")
QUARTER = math.pi / 2
SAME_ANGLE = 1e-9
"""Radians below which two turns are the same: 1e-9 of 10 m is 1e-5 mm, the resolution of outlines."""


def rectangle(left: float, low: float, right: float, high: float) -> Profile:
    """A rectangle of lines, mm."""
    corners = [(left, low), (right, low), (right, high), (left, high)]
    return Profile(
        Contour([Line(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)])
    )


def direction(angle: float) -> tuple[float, float]:
    """Cosine and sine of an angle; exact for quarter turns."""
    quarters = angle / QUARTER
    if abs(quarters - round(quarters)) * QUARTER < SAME_ANGLE:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[round(quarters) % 4]
    return math.cos(angle), math.sin(angle)


@dataclass(frozen=True, eq=False)
class Piece:
    """One outline that is to be cut so many times.

    Attributes
    ----------
    name : str
        As it is written on the drawing. Free text, never used as a path.
    outline : ProfileSet
        What is cut, mm: the way of the tool, with a width of cut in it where one is asked for. Its profiles
        keep their places among each other.
    quantity : int
        How many are needed.
    material : str
        Empty: not known.
    thickness : float
        mm; 0: not known.
    turns : {"any", "90", "180", "none"}
        By how much it may be turned, see `Turns`. "180" keeps its x direction along the grain.
    may_mirror : bool
        May it be turned over, cut from the mirror image of its outline?
    priority : int
        Pieces of a higher priority are placed first where the stock does not serve for all.
    spares : int
        So many more are placed where they need no further sheet.

    Raises
    ------
    GeometryError
        For an outline without profiles, counts below 0 or words that are not those above.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> piece = planform.Piece("roof", roof, 4, material="larch", thickness=3.0, turns="180")
    >>> piece.quantity, piece.turns
    (4, '180')
    """

    name: str
    outline: ProfileSet
    quantity: int = 1
    material: str = field(default_factory=lambda: "")
    thickness: float = 0.0
    turns: Turns = field(default_factory=lambda: "any")
    may_mirror: bool = False
    priority: int = 0
    spares: int = 0

    def __post_init__(self) -> None:
        need(isinstance(self.name, str), "the name of a piece must be a text")
        need(isinstance(self.outline, ProfileSet), f"piece {self.name!r}: outline is no ProfileSet")
        need(len(self.outline.profiles) > 0, f"piece {self.name!r}: there is nothing to cut in it")
        need(
            is_count(self.quantity) and is_count(self.spares),
            f"piece {self.name!r}: quantity and spares must be whole numbers of 0 or more",
        )
        need(
            is_number(self.thickness) and self.thickness >= 0,
            f"piece {self.name!r}: the thickness must be a finite number of 0 or more (mm)",
        )
        need(
            isinstance(self.turns, str) and self.turns in TURNS,
            f"piece {self.name!r}: turns = {self.turns!r} is unknown; valid: {', '.join(TURNS)}",
        )
        need(
            is_count(self.priority, -(10**9)),
            f"piece {self.name!r}: priority must be a whole number",
        )

    @property
    def area(self) -> float:
        """Of one piece, holes taken off, mm²."""
        return self.outline.area

    @property
    def group(self) -> tuple[str, float]:
        """Material and thickness (mm, to 0.001): pieces of one group lie on the same sheets."""
        return self.material, round(self.thickness, 3)

    def allows(self, angle: float, grain: float | None = None) -> bool:
        """May it be turned by ``angle`` (radians) on a sheet with this direction of grain? Raises
        GeometryError for what is no finite number."""
        need(
            is_number(angle) and (grain is None or is_number(grain)),
            "angle and grain must be finite numbers (radians)",
        )
        if self.turns == "any":
            return True
        step = {"90": QUARTER, "180": math.pi, "none": 2 * math.pi}[self.turns]
        off = math.remainder(angle - (grain or 0.0), step)
        return abs(off) < SAME_ANGLE


@dataclass(frozen=True, eq=False)
class Stock:
    """One kind of material to cut from: an outline and how many there are.

    Attributes
    ----------
    name : str
        As it is written on the drawing.
    outline : ProfileSet
        Its edge in mm: one profile, with holes where it has some.
    material : str or None
        None serves for every material.
    thickness : float or None
        mm; None serves for every thickness.
    count : int or None
        How many there are; None: as many as are needed.
    price : float or None
        Of one, in any currency; None: not known.
    grain : float or None
        Direction of the grain, radians from x; None: it has none.
    keep_clear : ProfileSet
        Places where nothing may lie: clamps, faults. Holes in them count as clear.
    left_over : bool
        Left-overs are used before whole sheets where they serve.
    roll : bool
        A rectangle that is cut off as long (along x) as it is needed; its own length is the most.

    Raises
    ------
    GeometryError
        For an outline that is not one profile, numbers out of range.

    Examples
    --------
    >>> import planform
    >>> board = planform.Stock.rectangle(2440, 1220, material="birch plywood", thickness=6, count=2)
    >>> board.outline.area, board.count
    (2976800.0, 2)
    """

    name: str
    outline: ProfileSet
    material: str | None = field(default_factory=lambda: None)
    thickness: float | None = field(default_factory=lambda: None)
    count: int | None = field(default_factory=lambda: None)
    price: float | None = field(default_factory=lambda: None)
    grain: float | None = field(default_factory=lambda: None)
    keep_clear: ProfileSet = field(default_factory=ProfileSet)
    left_over: bool = False
    roll: bool = False

    def __post_init__(self) -> None:
        need(isinstance(self.name, str), "the name of stock must be a text")
        need(isinstance(self.outline, ProfileSet), f"stock {self.name!r}: outline is no ProfileSet")
        need(
            len(self.outline.profiles) == 1,
            f"stock {self.name!r}: its edge must be one closed outline (with holes or without), not "
            f"{len(self.outline.profiles)}",
        )
        need(
            self.thickness is None or (is_number(self.thickness) and self.thickness > 0),
            f"stock {self.name!r}: the thickness must be a finite number above 0 (mm)",
        )
        need(
            self.count is None or is_count(self.count),
            f"stock {self.name!r}: count must be a whole number of 0 or more",
        )
        need(
            self.price is None or (is_number(self.price) and self.price >= 0),
            f"stock {self.name!r}: the price must be a finite number of 0 or more",
        )
        need(
            self.grain is None or is_number(self.grain),
            f"stock {self.name!r}: the direction of the grain must be a finite number (radians)",
        )
        need(
            not self.roll or self.is_rectangle,
            f"stock {self.name!r}: a roll must be a rectangle along x and y",
        )

    @classmethod
    def rectangle(cls, width: float, height: float, name: str = "", **options: object) -> Stock:
        """A sheet of this size in mm, its lower left corner in the origin; ``options`` as above."""
        need(
            is_number(width) and is_number(height) and width > 0 and height > 0,
            "the size of a sheet must be finite and above 0 (mm)",
        )
        title = name or f"{width:g} × {height:g}"
        return cls(title, ProfileSet([rectangle(0, 0, width, height)]), **options)  # type: ignore[arg-type]

    @cached_property
    def size(self) -> tuple[float, float]:
        """Width and height of its box, mm."""
        lower, upper = self.outline.bounds
        return float(upper[0] - lower[0]), float(upper[1] - lower[1])

    @property
    def area(self) -> float:
        """Of its edge, holes taken off, mm²."""
        return self.outline.area

    @cached_property
    def is_rectangle(self) -> bool:
        """A rectangle along x and y, without holes."""
        profile = self.outline.profiles[0]
        width, height = self.size
        return (
            not profile.holes
            and all(isinstance(curve, Line) for curve in profile.outer.curves)
            and abs(profile.area - width * height) <= 1e-9 * width * height
        )

    def serves(self, material: str, thickness: float) -> bool:
        """Is it of this material and thickness (mm, to 0.001)? Raises GeometryError for a thickness that is
        no finite number."""
        need(is_number(thickness), "thickness must be a finite number (mm)")
        return (self.material is None or self.material == material) and (
            self.thickness is None or abs(self.thickness - thickness) < 1e-3
        )


@dataclass(frozen=True, eq=False)
class Placement:
    """One piece on a sheet: mirrored (x to -x) if it is, then turned about the origin, then moved.

    Attributes
    ----------
    piece : Piece
        What lies there.
    x, y : float
        Where its origin comes to lie, mm on the sheet.
    angle : float
        By how much it is turned, radians, counter-clockwise.
    mirrored : bool
        Is it turned over?
    spare : bool
        Is it one of the piece's spares?

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> board = planform.Stock.rectangle(200, 100)
    >>> layout = planform.lay_out([planform.Piece("roof", roof)], board, margin=5, plain=True)
    >>> layout.sheets[0].placements[0].outline.bounds.round(6).tolist()
    [[5.0, 5.0], [45.0, 65.0]]
    """

    piece: Piece
    x: float
    y: float
    angle: float = 0.0
    mirrored: bool = False
    spare: bool = False

    @property
    def name(self) -> str:
        """That of the piece."""
        return self.piece.name

    @cached_property
    def matrix(self) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
        """The motion as two rows of three numbers, as `ProfileSet.transformed` takes it."""
        cosine, sine = direction(self.angle)
        sign = -1.0 if self.mirrored else 1.0
        return (sign * cosine, -sine, self.x), (sign * sine, cosine, self.y)

    @cached_property
    def outline(self) -> ProfileSet:
        """The piece's exact outline where it lies on the sheet, mm, under the piece's name; marks too."""
        return self.piece.outline.transformed([list(row) for row in self.matrix]).with_name(
            self.name
        )


@dataclass(frozen=True, eq=False)
class Sheet:
    """One sheet of stock with what lies on it; several equal ones are one `Sheet` with their number.

    Attributes
    ----------
    stock : Stock
        What it is cut from.
    placements : tuple of Placement
        What lies on it, in the order of placing.
    material : str
        Of the pieces on it; empty if it is not known.
    thickness : float
        mm; 0 if it is not known.
    count : int
        How many sheets are cut in this way.
    length : float or None
        Of a roll: how much of it is cut off, mm along x.
    """

    stock: Stock
    placements: tuple[Placement, ...]
    material: str = field(default_factory=lambda: "")
    thickness: float = 0.0
    count: int = 1
    length: float | None = field(default_factory=lambda: None)

    @cached_property
    def outline(self) -> ProfileSet:
        """The edge of the sheet, mm: one profile, with holes where the stock has some."""
        if self.length is None:
            return self.stock.outline
        (left, low), (_, high) = self.stock.outline.bounds
        return ProfileSet([rectangle(left, low, left + self.length, high)])

    @cached_property
    def area(self) -> float:
        """Of the sheet, mm²."""
        return self.outline.area

    @cached_property
    def used_area(self) -> float:
        """Of the pieces on it, their holes taken off, mm²."""
        return math.fsum(placement.piece.area for placement in self.placements)

    @property
    def use(self) -> float:
        """Share of the sheet that becomes pieces, 0 to 1."""
        return self.used_area / self.area

    def count_of(self, piece: Piece) -> int:
        """How many of a piece lie on one of these sheets, spares too."""
        return sum(placement.piece is piece for placement in self.placements)


@dataclass(frozen=True, eq=False)
class NotPlaced:
    """Pieces that found no place: how many, and why, in a sentence.

    ``fits_nowhere`` says that no stock can hold even one of them, whatever lies on it; else no room was
    found, which another search might.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> small = planform.Stock.rectangle(50, 50)
    >>> layout = planform.lay_out([planform.Piece("roof", roof)], small, plain=True)
    >>> [(none.count, none.fits_nowhere) for none in layout.not_placed]
    [(1, True)]
    """

    piece: Piece
    count: int
    reason: str
    fits_nowhere: bool = False


@dataclass(frozen=True, eq=False)
class Layout:
    """All sheets of a job, and what was not placed. It is handed out proven on the exact outlines.

    Attributes
    ----------
    pieces : tuple of Piece
        All that was asked for.
    stock : tuple of Stock
        All that there was to cut from.
    sheets : tuple of Sheet
        In the order of the pieces' materials and thicknesses; equal ones once, with their number.
    not_placed : tuple of NotPlaced
        What found no place.
    gap : float
        Least distance between any two pieces, mm.
    margin : float
        Least distance between pieces and the edge of their sheet, mm.
    seed : int
        Of the search.
    notes : tuple of str
        What a person should know about how it was made, a sentence each.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> board = planform.Stock.rectangle(200, 100)
    >>> layout = planform.lay_out([planform.Piece("roof", roof, 3)], board, gap=3, plain=True)
    >>> len(layout.sheets), len(layout.sheets[0].placements), layout.not_placed
    (1, 3, ())
    """

    pieces: tuple[Piece, ...]
    stock: tuple[Stock, ...]
    sheets: tuple[Sheet, ...] = ()
    not_placed: tuple[NotPlaced, ...] = ()
    gap: float = 0.0
    margin: float = 0.0
    seed: int = 0
    notes: tuple[str, ...] = ()

    # Pieces and stock compare as the objects that they are; a layout by all that it says of them.
    def __eq__(self, other: object) -> bool:
        return isinstance(other, Layout) and astuple(self) == astuple(other)

    def __hash__(self) -> int:
        return hash((len(self.pieces), len(self.sheets), self.gap, self.margin, self.seed))

    @property
    def sheet_count(self) -> int:
        """How many sheets are cut."""
        return sum(sheet.count for sheet in self.sheets)

    @property
    def area(self) -> float:
        """Of all sheets, mm²."""
        return math.fsum(sheet.count * sheet.area for sheet in self.sheets)

    @property
    def used_area(self) -> float:
        """Of all pieces that are placed, mm²."""
        return math.fsum(sheet.count * sheet.used_area for sheet in self.sheets)

    @property
    def use(self) -> float:
        """Share of the sheets that becomes pieces, 0 to 1; 0 without sheets."""
        return self.used_area / self.area if self.sheets else 0.0

    def placed(self, piece: Piece) -> int:
        """How many of a piece lie on all sheets, spares too."""
        return sum(sheet.count * sheet.count_of(piece) for sheet in self.sheets)

    def cost(self) -> float | None:
        """Of the stock that is cut; of a roll by the length that is cut off, of a left-over without a price
        nothing. None if the price of any other is not known."""
        prices = [price_of(sheet) for sheet in self.sheets]
        if any(price is None for price in prices):
            return None
        return math.fsum(price for price in prices if price is not None)


def price_of(sheet: Sheet) -> float | None:
    """Of all sheets that are cut in this way; None if it is not known."""
    price = sheet.stock.price
    if price is None:
        return 0.0 if sheet.stock.left_over else None
    share = 1.0 if sheet.length is None else sheet.length / sheet.stock.size[0]
    return sheet.count * price * share
