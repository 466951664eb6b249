"""Random jobs laid out and judged by Shapely on fine chords, with motions of its own; PLANFORM_LONG_TESTS=1
runs 300, every second one with a search."""

from __future__ import annotations

import os

import planform
import pytest
from layout_jobs import fits_nowhere, judge, random_job

LONG = bool(os.environ.get("PLANFORM_LONG_TESTS"))
JOBS = 300 if LONG else 10
REASONS = ("fit no stock", "there is no stock", "no room found", "the stock is used up")


@pytest.mark.parametrize("seed", range(JOBS))
def test_random_job_keeps_its_rules(seed: int) -> None:
    job = random_job(seed)
    plain = not LONG or seed % 2 == 0
    layout = planform.lay_out(
        job.pieces, job.stock, plain=plain, seconds=4, workers=2, **job.options
    )
    judge(layout)
    assert layout.sheets
    for one in layout.not_placed:
        assert any(reason in one.reason for reason in REASONS)
        assert not one.fits_nowhere or fits_nowhere(one.piece, layout)


def test_jobs_hold_what_they_should() -> None:
    """A guard against an empty run: all kinds of shapes and stock come up."""
    jobs = [random_job(seed) for seed in range(300)]
    names = {piece.name for job in jobs for piece in job.pieces}
    for kind in (
        "gear",
        "letter",
        "ring",
        "ell",
        "disc",
        "sliver",
        "gable",
        "whole sheet",
        "too large",
    ):
        assert kind in names
    assert sum(any(stock.left_over for stock in job.stock) for job in jobs) > 100
    assert sum(bool(stock.keep_clear.profiles) for job in jobs for stock in job.stock) > 80
    assert sum(stock.grain is not None for job in jobs for stock in job.stock) > 100
    assert sum(job.options["gap"] == 0 for job in jobs) > 40
