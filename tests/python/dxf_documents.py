"""Documents of ezdxf, and what planform reads of them."""

from __future__ import annotations

from pathlib import Path

import ezdxf
import ezdxf.document
import planform

EXACT = 1e-9
SQUARE = [(0, 0), (10, 0), (10, 10), (0, 10)]


def drawing(units: int = 4, version: str = "R2010") -> ezdxf.document.Drawing:
    return ezdxf.new(version, units=units)


def read(document: ezdxf.document.Drawing, folder: Path, **options: object) -> planform.LooseCurves:
    path = folder / "drawing.dxf"
    document.saveas(path)
    return planform.read_dxf(path, **options)
