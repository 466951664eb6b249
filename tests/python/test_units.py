"""Lengths as people write them, figures as outputs show them.

The inch is 25.4 mm exactly and the foot twelve of them (international yard and pound agreement of 1959, from
memory)."""

from __future__ import annotations

import pytest
from planform.units.figures import INCH_FIGURES, MM_FIGURES, figures_in
from planform.units.lengths import parse_length, parse_size

LENGTHS = {
    "12.5": 12.5,
    "12.5mm": 12.5,
    " 12.5 MM ": 12.5,
    "1.2 cm": 12.0,
    "2m": 2000.0,
    "1in": 25.4,
    "96 inch": 2438.4,
    "3/8in": 9.525,
    '1 1/2"': 38.1,
    "1-1/2in": 38.1,
    "-1/8in": -3.175,
    "4ft": 1219.2,
    "4'6\"": 1371.6,
    "4ft 6in": 1371.6,
    "4′ 6 1/2″": 1384.3,
    "-0.05": -0.05,
    ".5in": 12.7,
    "1e-3in": 0.0254,
}


@pytest.mark.parametrize("text", LENGTHS)
def test_lengths_are_read_to_the_last_digit(text: str) -> None:
    assert parse_length(text) == LENGTHS[text]


def test_a_number_alone_is_in_the_unit_that_the_caller_says() -> None:
    assert parse_length("0.25", unit="in") == 6.35
    assert parse_length("5mm", unit="in") == 5.0


@pytest.mark.parametrize(
    "text", ["", "x", "nan", "inf", "1e999", "3/0in", "1inches", "1,5", "in", "1 2", "--1", "1/2/3"]
)
def test_what_is_no_length_is_said(text: str) -> None:
    with pytest.raises(ValueError):
        parse_length(text)


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("3000x1500", (3000.0, 1500.0)),
        ("3000 × 1500", (3000.0, 1500.0)),
        ("96inx48in", (2438.4, 1219.2)),
        ("8ftx4ft", (2438.4, 1219.2)),
        ("8x4ft", (2438.4, 1219.2)),
        ("4ftX8ft", (1219.2, 2438.4)),
        ('96"x48"', (2438.4, 1219.2)),
        ("2440mmx4ft", (2440.0, 1219.2)),
    ],
)
def test_sizes(text: str, size: tuple[float, float]) -> None:
    assert parse_size(text) == size


@pytest.mark.parametrize("text", ["3000", "x", "1x", "1x2x3", "0x5", "-1x2", "axb", "1inx"])
def test_what_is_no_size_is_said(text: str) -> None:
    with pytest.raises(ValueError):
        parse_size(text)


def test_figures() -> None:
    assert [MM_FIGURES.length(v) for v in (12.0, 12.345, 0.0, -1e-9)] == ["12", "12.35", "0", "0"]
    assert [INCH_FIGURES.length(v) for v in (25.4, 9.525, -1e-9)] == ["1.000", "0.375", "0.000"]
    assert MM_FIGURES.size(60, 40.5) == "60 × 40.5"
    assert INCH_FIGURES.area(645.16) == "1.000"
    assert INCH_FIGURES.run(254.0) == "10.00"
    assert INCH_FIGURES.exact(0.15) == "0.00590551"
    assert (INCH_FIGURES.rounded(25.4), MM_FIGURES.rounded(1 / 3)) == (1.0, 0.333)
    assert figures_in("in") is figures_in("inch") is INCH_FIGURES
    with pytest.raises(ValueError, match="valid: mm, inch"):
        figures_in("cubit")
