"""A DXF file opened by ezdxf, or a clear word on what is wrong with it."""

from __future__ import annotations

import os
from itertools import islice
from pathlib import Path

import ezdxf
import ezdxf.document
from ezdxf.lldxf.const import DXFError
from ezdxf.lldxf.encoding import decode_dxf_unicode

from planform.drawings.source_file import require_file
from planform.errors import LoadError


def open_dxf(path: Path) -> ezdxf.document.Drawing:
    """The document of a file. Raises LoadError."""
    require_file(path)
    try:
        require_whole(path)
        return ezdxf.readfile(path)
    except LoadError:
        raise
    except PermissionError as error:
        raise LoadError.of_kind("file_unreadable", f"{path}: {error.strerror}") from error
    except (DXFError, OSError, UnicodeError) as error:
        raise LoadError.of_kind(
            "file_damaged", f"{path}: no DXF that can be read: {error}"
        ) from error
    except MemoryError:
        raise
    except (
        Exception
    ) as error:  # what damage makes of a parser that trusts its input is no one's list
        raise LoadError.of_kind(
            "file_damaged", f"{path}: the DXF is damaged ({type(error).__name__}: {error})"
        ) from error


def require_whole(path: Path) -> None:
    """Raise LoadError unless the file begins like a DXF and ends with its end mark: a reader takes what is
    left of a cut-off file without a word."""
    with path.open("rb") as file:
        head = file.read(4096)
        file.seek(0, os.SEEK_END)
        file.seek(max(0, file.tell() - 4096))
        tail = file.read()
    binary = head.startswith(b"AutoCAD Binary DXF\r\n\x1a\x00")
    if not binary:
        if b"\0" in head:
            raise LoadError.of_kind(
                "file_not_recognised",
                f"{path}: no DXF: text with zero bytes (UTF-16?); save it as ASCII or UTF-8",
            )
        lines = head.lstrip(b"\xef\xbb\xbf").split(b"\n", 2)
        if not lines[0].strip().lstrip(b"-").isdigit():
            raise LoadError.of_kind(
                "file_not_recognised", f"{path}: no DXF: it does not begin with a group code"
            )
    end = tail.rstrip(b"\0\r\n\t \x1a")
    if not end.endswith(b"EOF"):
        raise LoadError.of_kind(
            "file_damaged", f"{path}: the DXF is cut off: its end mark (EOF) is missing"
        )


MOST_COMMENTS = 1000
"""More than so many comments are not read."""


def comments_of(path: Path) -> tuple[str, ...]:
    """The comments (group code 999) before the first section of a DXF in ASCII, where our own writer puts
    notes; none of a binary one."""
    comments = []
    with path.open(encoding="utf-8", errors="replace") as file:
        for code, value in zip(*[islice(file, 2 * MOST_COMMENTS)] * 2, strict=False):
            if code.strip().lstrip("\ufeff") != "999":
                break
            comments.append(decode_dxf_unicode(value.strip()))
    return tuple(comments)
