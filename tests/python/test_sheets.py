"""Layouts: what is placed where, what is not, and why."""

from __future__ import annotations

import math
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from pathlib import Path

import numpy
import planform
import pytest
from layout_jobs import box, circle, disc, ell, judge, outline, polygon, ring, strip_instance
from planform import Piece, Placement, ProfileSet, Stock
from planform._planform import _containing_polygons, _prove_layout
from planform.sheets.left_over import left_overs
from planform.sheets.proof import prove
from planform.sheets.values import Layout, Sheet, rectangle


def test_rectangles_fill_a_sheet_exactly() -> None:
    """4 x 4 squares of a quarter of the sheet, gap and margin nought: closed form."""
    layout = planform.lay_out(
        [Piece("tray", box(150, 100), 16, turns="none")], Stock.rectangle(600, 400), gap=0, margin=0
    )
    assert (layout.sheet_count, layout.not_placed) == (1, ())
    assert layout.use == pytest.approx(1.0, abs=1e-12)
    judge(layout)


def test_gap_and_margin_decide_how_many_fit() -> None:
    """n squares of side a with gap g and margin m need n a + (n - 1) g + 2 m: 3 of 30 need 108."""
    pieces = [Piece("roof", box(30, 30), 9, turns="none")]
    fits = planform.lay_out(pieces, Stock.rectangle(108, 108), gap=5, margin=4)
    assert fits.sheet_count == 1
    short = planform.lay_out(pieces, Stock.rectangle(107.99, 108), gap=5, margin=4)
    assert short.sheet_count == 2
    judge(fits)
    judge(short)


def test_rings_take_discs_into_their_holes() -> None:
    """20 rings and 200 small discs need no more sheets than the rings alone."""
    rings = Piece("ring", ring(100, 85), 20)
    discs = Piece("disc", disc(12), 200)
    stock = Stock.rectangle(1000, 650)
    alone = planform.lay_out([rings], stock, gap=4, plain=True)
    both = planform.lay_out([rings, discs], stock, gap=4, plain=True)
    judge(both)
    assert both.not_placed == ()
    assert both.sheet_count == alone.sheet_count == 2


def test_ring_in_ring_with_a_disc_in_it() -> None:
    pieces = [Piece("large", ring(100, 80)), Piece("small", ring(70, 50)), Piece("disc", disc(40))]
    layout = planform.lay_out(pieces, Stock.rectangle(204, 204), gap=3, margin=2, plain=True)
    judge(layout)
    assert (layout.sheet_count, layout.not_placed) == (1, ())


def test_a_ring_with_pieces_in_it_does_not_lie_around_a_hole_of_the_sheet() -> None:
    """The ring alone could."""
    edge = outline(polygon((0, 0), (260, 0), (260, 130), (0, 130)), circle(20, 65, 65))
    stock = Stock("old board", edge, count=1, left_over=True)
    pieces = [Piece("ring", ring(55, 45)), Piece("disc", disc(18), 2)]
    layout = planform.lay_out(pieces, stock, gap=2, margin=3, plain=True)
    judge(layout)
    assert layout.not_placed == ()
    assert len(layout.sheets[0].placements) == 3


def test_piece_as_large_as_the_sheet() -> None:
    pieces = [Piece("whole", box(292, 192), 1, turns="none"), Piece("disc", disc(10), 1)]
    layout = planform.lay_out(pieces, Stock.rectangle(300, 200), gap=3, margin=4)
    judge(layout)
    assert (layout.sheet_count, layout.not_placed) == (2, ())


def test_what_fits_nowhere_is_listed_with_its_reason() -> None:
    pieces = [Piece("house", box(700, 50), 2), Piece("tray", box(50, 50), 1)]
    layout = planform.lay_out(pieces, Stock.rectangle(600, 300))
    (missing,) = layout.not_placed
    assert (missing.piece.name, missing.count, missing.fits_nowhere) == ("house", 2, True)
    assert "700.0 × 50.0 mm fit no stock" in missing.reason
    assert layout.placed(pieces[1]) == 1


def test_a_long_piece_that_fits_across_is_not_said_to_fit_nowhere() -> None:
    """A sheet of 300 x 200 has a diagonal of 360.6 mm."""
    layout = planform.lay_out(
        [Piece("bar", box(340, 3))], Stock.rectangle(300, 200), margin=0, plain=True
    )
    assert all(not one.fits_nowhere for one in layout.not_placed)


def test_materials_and_thicknesses_lie_on_their_own_stock() -> None:
    pieces = [
        Piece("roof", box(100, 80), 2, "plywood", 6.0),
        Piece("tray", box(100, 80), 2, "plywood", 4.0),
        Piece("sign", box(50, 30), 1, "acrylic", 3.0),
    ]
    stock = [
        Stock.rectangle(300, 200, material="plywood", thickness=6.0),
        Stock.rectangle(300, 200, material="plywood", thickness=4.0),
    ]
    layout = planform.lay_out(pieces, stock)
    assert [(s.material, s.thickness) for s in layout.sheets] == [
        ("plywood", 6.0),
        ("plywood", 4.0),
    ]
    assert "there is no stock of acrylic, 3 mm" in layout.not_placed[0].reason
    judge(layout)


def test_left_overs_come_first_and_whole_sheets_last() -> None:
    rest = Stock.rectangle(150, 150, name="rest", count=1, left_over=True)
    whole = Stock.rectangle(1000, 500, price=30.0)
    few = planform.lay_out([Piece("tray", disc(30), 3)], [whole, rest], plain=True)
    assert [sheet.stock.name for sheet in few.sheets] == ["rest"]
    assert few.cost() == 0.0
    many = planform.lay_out([Piece("tray", disc(30), 9)], [whole, rest], plain=True)
    assert [sheet.stock.name for sheet in many.sheets] == ["rest", "1000 × 500"]
    assert many.cost() == 30.0


def test_stock_that_runs_out_serves_the_pieces_of_high_priority() -> None:
    stock = Stock.rectangle(210, 110, count=1)
    pieces = [Piece("roof", box(90, 90), 2), Piece("sign", box(90, 90), 2, priority=1)]
    layout = planform.lay_out(pieces, stock, gap=5, margin=5)
    (missing,) = layout.not_placed
    assert (missing.piece.name, missing.count, missing.reason) == (
        "roof",
        2,
        "the stock is used up",
    )


def test_spares_take_no_further_sheet() -> None:
    stock = Stock.rectangle(210, 110)
    layout = planform.lay_out(
        [Piece("roof", box(90, 90), 1, spares=4)], stock, gap=5, margin=5, plain=True
    )
    assert (layout.sheet_count, layout.placed(layout.pieces[0])) == (1, 2)
    assert [p.spare for p in layout.sheets[0].placements] == [False, True]
    judge(layout)


def test_grain_turns_pieces_with_it() -> None:
    """Pieces that may take half turns lie with their x along the grain: 200 x 40 stand upright here."""
    stock = Stock.rectangle(300, 220, grain=math.pi / 2)
    layout = planform.lay_out([Piece("rail", box(200, 40), 5, turns="180")], stock, gap=2, margin=5)
    judge(layout)
    for placement in layout.sheets[0].placements:
        (left, low), (right, high) = placement.outline.bounds
        assert (right - left, high - low) == pytest.approx((40, 200))


def test_places_to_keep_clear_stay_clear() -> None:
    clamps = ProfileSet([rectangle(0, 0, 100, 60), rectangle(200, 140, 300, 200)])
    stock = Stock.rectangle(300, 200, keep_clear=clamps)
    layout = planform.lay_out([Piece("disc", disc(28), 8)], stock, gap=2, margin=2, plain=True)
    judge(layout)
    assert layout.placed(layout.pieces[0]) == 8


def test_left_over_of_any_outline_with_a_hole() -> None:
    edge = outline(circle(150), circle(60))
    stock = Stock("old ring", edge, count=1, left_over=True)
    layout = planform.lay_out([Piece("disc", disc(35), 8)], stock, gap=3, margin=4, plain=True)
    judge(layout)
    assert layout.placed(layout.pieces[0]) >= 6


def test_equal_sheets_are_one_with_their_number() -> None:
    layout = planform.lay_out(
        [Piece("roof", box(90, 90), 12)], Stock.rectangle(210, 110), plain=True
    )
    assert [(sheet.count, len(sheet.placements)) for sheet in layout.sheets] == [(6, 2)]
    judge(layout)


def test_rolls_are_cut_off_where_the_pieces_end() -> None:
    pieces, height = strip_instance("shapes0")
    area = sum(piece.area * piece.quantity for piece in pieces)
    roll = Stock.rectangle(5 * area / height, height, roll=True, price=100.0)
    layout = planform.lay_out(pieces, roll, gap=0, margin=0, plain=True)
    judge(layout)
    (sheet,) = layout.sheets
    assert sheet.length is not None and sheet.length < roll.size[0]
    ends = [float(placement.outline.bounds[1][0]) for placement in sheet.placements]
    assert sheet.length == pytest.approx(max(ends), abs=1e-9)
    assert layout.cost() == pytest.approx(100.0 * sheet.length / roll.size[0])


def test_search_places_all_and_the_plain_way_no_more() -> None:
    pieces = [Piece("ell", ell(120, 90, 30), 12), Piece("disc", disc(20), 10)]
    stock = Stock.rectangle(600, 400)
    layout = planform.lay_out(pieces, stock, gap=3, seconds=4)
    judge(layout)
    assert layout.notes == ()
    plain = planform.lay_out(pieces, stock, gap=3, plain=True)
    assert layout.sheet_count <= plain.sheet_count


def test_one_piece_in_each_executor_process() -> None:
    """Groups run on any executor; the same sheets as without."""
    pieces = [
        Piece("roof", box(90, 70), 5, thickness=6.0),
        Piece("tray", disc(30), 5, thickness=4.0),
    ]
    stock = Stock.rectangle(300, 200)
    with ProcessPoolExecutor(2) as pool:
        layout = planform.lay_out(pieces, stock, plain=True, executor=pool, seeds=2)
    alone = planform.lay_out(pieces, stock, plain=True)
    judge(layout)
    assert [[(p.name, p.x, p.y) for p in s.placements] for s in layout.sheets] == [
        [(p.name, p.x, p.y) for p in s.placements] for s in alone.sheets
    ]


def test_left_over_of_half_a_sheet() -> None:
    """One piece of 95 x 190 on a sheet of 200 x 200, gap 5: 100 x 200 stay, closed form."""
    layout = planform.lay_out(
        [Piece("door", box(95, 200), 1, turns="none")], Stock.rectangle(200, 200), gap=5, margin=0
    )
    (rest,) = left_overs(layout)
    assert rest.size == pytest.approx((100, 200))
    assert rest.outline is not None and rest.outline.area == pytest.approx(20000, rel=1e-9)
    stock = rest.as_stock("rest")
    assert stock is not None and stock.left_over and stock.size == pytest.approx((100, 200))


# --- the proof itself ---------------------------------------------------------------------------------


def broken_layouts() -> list[tuple[str, Layout]]:
    """A right layout, and what breaks each rule."""
    piece = Piece("tray", box(50, 50), 2, turns="90")
    stock = Stock.rectangle(200, 100, count=1)
    first = Placement(piece, 5, 5)
    base = Layout((piece,), (stock,), (), (), 5.0, 5.0)

    def with_second(second: Placement) -> Layout:
        return replace(base, sheets=(Sheet(stock, (first, second)),))

    return [
        ("", with_second(Placement(piece, 60, 5))),
        ("nearer to another than the gap", with_second(Placement(piece, 59.99, 5))),
        ("overlaps another", with_second(Placement(piece, 30, 5))),
        ("overlaps another", with_second(first)),
        ("over the edge", with_second(Placement(piece, 160, 5))),
        ("the margin", with_second(Placement(piece, 60, 4.99))),
        ("turned by 10", with_second(Placement(piece, 100, 10, math.radians(10)))),
        ("mirrored", with_second(Placement(piece, 110, 5, mirrored=True))),
        ("wanted 2 times", replace(base, sheets=(Sheet(stock, (first,)),))),
        (
            "sheets of '200 × 100' are used",
            replace(base, sheets=(Sheet(stock, (first,)), Sheet(stock, (first,)))),
        ),
    ]


@pytest.mark.parametrize(("words", "layout"), broken_layouts())
def test_proof_finds_every_broken_rule(words: str, layout: Layout) -> None:
    if not words:
        prove(layout)
        return
    with pytest.raises(planform.GeometryError, match=words) as caught:
        prove(layout)
    assert caught.value.kind == "law_broken"


def test_proof_sees_a_piece_around_a_hole_of_the_sheet_and_on_a_clamp() -> None:
    sheet = ProfileSet([planform.Profile(rectangle(0, 0, 100, 100).outer, [circle(10, 50, 50)])])
    over = _prove_layout(
        sheet, ProfileSet(), [box(80, 80).transformed([[1, 0, 10], [0, 1, 10]])], 0.0, 2.0
    )
    assert [fault.kind for fault in over.faults] == ["outside_sheet"]
    around = ring(40, 15).transformed([[1, 0, 50], [0, 1, 50]])
    assert _prove_layout(sheet, ProfileSet(), [around], 0.0, 5.0).faults == []
    clamp = disc(5).transformed([[1, 0, 80], [0, 1, 50]])
    assert [f.kind for f in _prove_layout(sheet, clamp, [around], 0.0, 5.0).faults] == ["not_clear"]


def test_containing_polygons_hold_and_stay_near() -> None:
    """Grown by 2 mm, a disc of 10 becomes one of 12; the polygon lies between 12 and 12.01 mm."""
    ((outer,),) = _containing_polygons(disc(10), 2.0, 0.01)
    middles = (outer + numpy.roll(outer, -1, axis=0)) / 2
    assert math.hypot(*min(middles, key=lambda p: math.hypot(*p))) >= 12 - 1e-9
    assert math.hypot(*max(outer, key=lambda p: math.hypot(*p))) <= 12.01 + 1e-9


def test_wrong_arguments_are_named() -> None:
    for options, words in (
        ({"gap": -1.0}, "gap must be"),
        ({"margin": math.inf}, "margin must be"),
        ({"seed": -1}, "seed must be"),
        ({"seconds": 0.0}, "seconds"),
    ):
        with pytest.raises(planform.GeometryError, match=words):
            planform.lay_out([Piece("a", box(1, 1))], Stock.rectangle(9, 9), **options)
    with pytest.raises(planform.GeometryError, match="turns = '45'"):
        Piece("a", box(1, 1), turns="45")
    with pytest.raises(planform.GeometryError, match="one closed outline"):
        Stock("a", ProfileSet())


def test_cut_list_is_laid_out_with_its_width_of_cut(tmp_path: Path) -> None:
    model = planform.load(planform.write_demo_assembly(tmp_path / "station.step"))
    cut_list = planform.CutList.from_model(model, kerf=0.2)
    layout = planform.lay_out(cut_list, Stock.rectangle(600, 400), gap=2, plain=True)
    judge(layout)
    assert sum(piece.quantity for piece in layout.pieces) == cut_list.pieces
    ways = sum(entry.quantity * entry.way.area for entry in cut_list.entries if entry.way)
    assert layout.used_area == pytest.approx(ways, rel=1e-12)
