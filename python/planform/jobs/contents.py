"""The files of a job's folder, and what its page says of them."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

from planform.jobs.sources import JobPiece
from planform.sheets.output import LAYOUT

PLAN, PLAN_PAGE = "plan.json", "job.html"
QUOTE_PAGE, QUOTE_TABLE, QUOTE_DATA = "quote.html", "quote.csv", "quote.json"
INSPECTION, FITS = "inspection.json", "fits.json"


def outline_findings(pieces: Sequence[JobPiece]) -> list[tuple[str, str, str, str]]:
    """Errors and warnings of the outlines: piece, rule, weight, what to do."""
    return [
        (piece.name, finding["rule"].replace("_", " "), finding["severity"], finding["text"])
        for piece in pieces
        for finding in piece.findings
        if finding["severity"] != "note"
    ]


def fits(pieces: Sequence[JobPiece]) -> list[tuple[str, str, int, str, str]]:
    """Pieces that meet others: name, joints, curves that were moved, by how much, width of cut."""
    rows = []
    for piece in pieces:
        if not piece.joints and not piece.fits:
            continue
        moved = sorted({round(mm, 6) for _, _, _, mm in piece.fits})
        rows.append(
            (
                piece.name,
                "" if piece.joints is None else str(piece.joints),
                len(piece.fits),
                ", ".join(f"{mm:g}" for mm in moved),
                f"{piece.kerf:g}",
            )
        )
    return rows


def links(folder: Path) -> list[tuple[str, str]]:
    """What else is in the folder: names of files, and what they are."""
    what = [
        (QUOTE_PAGE, "the quote, to be printed"),
        (QUOTE_TABLE, "the quote as a table"),
        (PLAN, "the plan as data"),
        ("sheets.html", "the layout"),
        (LAYOUT, "the layout as data"),
        (INSPECTION, inspection_words(folder / INSPECTION)),
        (FITS, "which curves were moved so that parts fit"),
    ]
    return [(name, text) for name, text in what if (folder / name).exists()]


def inspection_words(path: Path) -> str:
    """How many findings the outlines have."""
    try:
        pieces = json.loads(path.read_text(encoding="utf-8"))["pieces"]
    except (OSError, ValueError, KeyError):
        return "findings of the outlines"
    found = [finding["severity"] for piece in pieces for finding in piece["findings"]]
    counts = ", ".join(f"{found.count(word)} {word}s" for word in ("error", "warning", "note"))
    return f"findings of the outlines: {counts}"
