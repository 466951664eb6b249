"""The pieces of a job as they are laid out and cut: what the job wishes of each of them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from planform.jobs.job_file import JobFile, JobSource
from planform.jobs.sources import Address, JobPiece
from planform.sheets.values import Piece, Stock

Kind = tuple[str, str, float]
"""What pieces of one kind have in common: name, material, thickness (mm, to 0.001)."""


def kind_of(piece: JobPiece | Piece) -> Kind:
    """The kind of a piece."""
    return piece.name, piece.material, round(piece.thickness, 3)


def wanted_pieces(
    job: JobFile, listed: Iterable[tuple[JobSource, JobPiece]], stock: Sequence[Stock]
) -> list[Piece]:
    """The pieces of a job as they are to be laid out on this stock."""
    wishes = {wish.name: wish for wish in job.wishes}
    grained = any(one.grain is not None for one in stock)
    pieces = []
    for source, piece in listed:
        wish = wishes.get(piece.name)
        count = piece.quantity * source.quantity
        pieces.append(
            Piece(
                piece.name,
                piece.way,
                count if wish is None or wish.quantity is None else wish.quantity,
                piece.material,
                piece.thickness,
                (wish.turns if wish else "") or job.turns or ("180" if grained else "any"),  # type: ignore[arg-type]
                wish.may_mirror if wish else False,
                wish.priority if wish else 0,
                wish.spares if wish else 0,
            )
        )
    return pieces


def avoided(placement: Any, piece: JobPiece | None) -> list[Address]:
    """The curves that nothing is to start on, as the placed outline numbers them: one that is turned over
    runs the other way round."""
    if piece is None or not placement.mirrored:
        return list(piece.avoid) if piece else []
    profiles = placement.outline.profiles
    result = []
    for p, c, k in piece.avoid:
        contour = profiles[p].outer if c == 0 else profiles[p].holes[c - 1]
        result.append((p, c, len(contour.curves) - 1 - k))
    return result
