"""Stock and piece files: what they say, and what is said of those that are wrong: the line, what to write."""

from __future__ import annotations

import math
from pathlib import Path

import planform
import pytest
from layout_jobs import box, circle, disc, outline, polygon
from planform import Piece
from planform.sheets.jobs import JobOptions, collect, job_of, with_wishes

GOOD = """
# Our stock.
[[stock]]
name = "whole"
size = [2440, "48in"]
material = "birch plywood"
thickness = "1/4in"
count = 12
price = 38.5
grain = 90
keep_clear = [
  [0, 0, 80, 60],
  "clamp.dxf",
]

[[stock]]
outline = "rest.dxf"
left_over = true
count = 1

[[stock]]
size = "30mx1500mm"
roll = true
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    disc(30).transformed([[1, 0, 200], [0, 1, 200]]).to_dxf(tmp_path / "clamp.dxf")
    outline(polygon((0, 0), (300, 0), (200, 150), (0, 150)), circle(20, 60, 60)).to_dxf(
        tmp_path / "rest.dxf"
    )
    planform.ProfileSet(
        [*disc(5).profiles, *disc(5).transformed([[1, 0, 50], [0, 1, 0]]).profiles]
    ).to_dxf(tmp_path / "two.dxf")
    return tmp_path


def test_a_stock_file_is_read(folder: Path) -> None:
    path = folder / "stock.toml"
    path.write_text(GOOD)
    whole, rest, roll = planform.read_stock(path)
    assert whole.size == pytest.approx((2440, 1219.2))
    assert (whole.material, whole.count, whole.price) == ("birch plywood", 12, 38.5)
    assert whole.thickness == pytest.approx(6.35)
    assert whole.grain == pytest.approx(math.pi / 2)
    assert whole.keep_clear.area == pytest.approx(80 * 60 + math.pi * 900)
    assert rest.left_over and rest.area == pytest.approx(37500 - math.pi * 400)
    assert (rest.material, rest.thickness) == (None, None)
    assert roll.roll and roll.size == (30000.0, 1500.0)


def test_sizes_stand_for_files() -> None:
    (stock,) = planform.read_stock("96inx48in")
    assert stock.size == pytest.approx((2438.4, 1219.2))
    assert stock.count is None


WRONG = [
    ("[[stock]]\nsize = [1, 2\n", "is no TOML", ""),
    ("", "holds no [[stock]]", "line 1"),
    ("[stock]\nsize = [1, 2]\n", "holds no [[stock]]", "line 1"),
    ("[[sheet]]\nsize = [1, 2]\n", "'sheet' is unknown", "line 1"),
    ("\n[[stock]]\nname = 'a'\n", "either size = [width, height]", "line 2"),
    ("[[stock]]\nsize = [1, 2]\noutline = 'a.dxf'\n", "either size", "line 2"),
    ("[[stock]]\nsize = [1, 2]\nwidth = 3\n", "width: is unknown; valid: name, size", "line 3"),
    ("[[stock]]\nsize = [1, 2, 3]\n", "such as size = [2440, 1220]", "line 2"),
    ("[[stock]]\nsize = [1, -2]\n", "must be above 0", "line 2"),
    ("[[stock]]\nsize = [1, 'two']\n", '"3/8in"', "line 2"),
    ("[[stock]]\nsize = '12'\n", "is no size", "line 2"),
    (
        "[[stock]]\nsize = [1, 2]\n\n[[stock]]\nsize = [1, 2]\ncount = -1\n",
        "whole number of 0",
        "line 6",
    ),
    ("[[stock]]\nsize = [1, 2]\ncount = 1.5\n", "such as count = 3", "line 3"),
    ("[[stock]]\nsize = [1, 2]\ncount = true\n", "whole number", "line 3"),
    ("[[stock]]\nsize = [1, 2]\nprice = 'dear'\n", "such as price = 38.5", "line 3"),
    ("[[stock]]\nsize = [1, 2]\nprice = -1\n", "0 or more", "line 3"),
    ("[[stock]]\nsize = [1, 2]\nthickness = 0\n", "above 0", "line 3"),
    ("[[stock]]\nsize = [1, 2]\nmaterial = 5\n", "a text in quotes", "line 3"),
    ("[[stock]]\nsize = [1, 2]\ngrain = 'x'\n", "must be a number", "line 3"),
    ("[[stock]]\nsize = [1, 2]\ngrain = nan\n", "must be a number", "line 3"),
    ("[[stock]]\nsize = [1, 2]\nleft_over = 1\n", "true or false", "line 3"),
    ("[[stock]]\nsize = [1, 2]\nkeep_clear = 5\n", "[left, low, right, high]", "line 3"),
    ("[[stock]]\nsize = [1, 2]\nkeep_clear = [[1, 2, 3]]\n", "[left, low, right, high]", "line 3"),
    (
        "[[stock]]\nsize = [1, 2]\nkeep_clear = [[3, 0, 1, 1]]\n",
        "left must be below right",
        "line 3",
    ),
    ("[[stock]]\nsize = [1, 2]\nkeep_clear = ['no.dxf']\n", "does not exist", "line 3"),
    ("[[stock]]\noutline = 'no.dxf'\n", "does not exist", "line 2"),
    ("[[stock]]\noutline = 'no.png'\n", ".dxf, .svg and .json", "line 2"),
    ("[[stock]]\noutline = 'two.dxf'\n", "holds 2 outlines", "line 2"),
    ("[[stock]]\noutline = 'rest.dxf'\nroll = true\n", "a roll must be a rectangle", "line 3"),
]


@pytest.mark.parametrize(("text", "words", "place"), WRONG)
def test_wrong_stock_files_say_where_and_what(
    text: str, words: str, place: str, folder: Path
) -> None:
    path = folder / "stock.toml"
    path.write_text(text)
    with pytest.raises(planform.LoadError) as caught:
        planform.read_stock(path)
    message = str(caught.value)
    assert message.startswith(str(path)) and words in message and place in message, message
    assert "\n" not in message


def test_files_that_are_none(tmp_path: Path) -> None:
    with pytest.raises(planform.FileMissingError, match="does not exist"):
        planform.read_stock(tmp_path / "no.toml")
    (tmp_path / "bytes.toml").write_bytes(b"\xff\xfe")
    with pytest.raises(planform.LoadError, match="UTF-8"):
        planform.read_stock(tmp_path / "bytes.toml")
    with pytest.raises(planform.GeometryError, match=r"ends in \.toml"):
        planform.read_stock("stock.txt")


def test_wishes_for_pieces(tmp_path: Path) -> None:
    pieces = [Piece("roof", box(20, 10)), Piece("tray", disc(5), 3)]
    path = tmp_path / "pieces.toml"
    path.write_text(
        '[[piece]]\nname = "tray"\nturns = 180\nmay_mirror = true\nquantity = 7\npriority = 2\nspares = 1\n'
    )
    roof, tray = with_wishes(pieces, path)
    assert roof is pieces[0]
    assert (tray.turns, tray.may_mirror, tray.quantity, tray.priority, tray.spares) == (
        "180",
        True,
        7,
        2,
        1,
    )


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[[piece]]\nturns = 90\n", "line 1: [[piece]] has no name; add it"),
        ('[[piece]]\nname = "door"\n', "line 2: name: there is no piece 'door'; there are 'roof'"),
        (
            '[[piece]]\nname = "roof"\nturns = 45\n',
            "line 3: turns: is unknown; valid: any, 90, 180, none",
        ),
        ('[[piece]]\nname = "roof"\nspares = -1\n', "line 3: spares: must be a whole number"),
        ('[[piece]]\nname = "roof"\ncolour = "red"\n', "line 3: colour: is unknown"),
    ],
)
def test_wrong_wishes_say_where_and_what(text: str, words: str, tmp_path: Path) -> None:
    path = tmp_path / "pieces.toml"
    path.write_text(text)
    with pytest.raises(planform.LoadError) as caught:
        with_wishes([Piece("roof", box(20, 10))], path)
    assert words in str(caught.value)


def test_jobs_are_models_drawings_and_outlines(folder: Path) -> None:
    box(30, 20).to_json(folder / "lid.json")
    jobs = [
        job_of(f"2:{folder / 'two.dxf'}"),
        job_of(str(folder / "lid.json")),
        job_of(str(folder / "no.dxf")),
    ]
    collected = collect(jobs, JobOptions(thickness=3.0, material="acrylic"))
    assert [(p.name, p.quantity, p.material, p.thickness) for p in collected.pieces] == [
        ("two 1", 2, "acrylic", 3.0),
        ("two 2", 2, "acrylic", 3.0),
        ("lid", 1, "acrylic", 3.0),
    ]
    assert len(collected.errors) == 1 and "does not exist" in collected.errors[0]
