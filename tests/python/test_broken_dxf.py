"""Broken, odd and hostile DXF files: refused by name, or read as far as they are sound."""

from __future__ import annotations

import math
import os
import subprocess
import sys
from pathlib import Path

import ezdxf
import ezdxf.document
import numpy as np
import planform
import planform.drawings.dxf_reader
import planform.drawings.source_file
import pytest
from dxf_documents import EXACT, SQUARE, drawing, read
from planform import LoadError


def text_of(document: ezdxf.document.Drawing, folder: Path) -> str:
    path = folder / "good.dxf"
    document.saveas(path)
    return path.read_text()


def plate(folder: Path) -> str:
    document = drawing()
    document.modelspace().add_lwpolyline(SQUARE, close=True)
    document.modelspace().add_circle((5, 5), 2)
    return text_of(document, folder)


def test_truncated_at_any_place(tmp_path: Path) -> None:
    data = plate(tmp_path)
    path = tmp_path / "cut.dxf"
    for share in np.linspace(0.01, 0.99, 25):
        path.write_text(data[: int(share * len(data))])
        with pytest.raises(LoadError, match=r"cut\.dxf: (the DXF is cut off|no DXF)"):
            planform.read_dxf(path)
    assert sorted(p.name for p in tmp_path.iterdir()) == ["cut.dxf", "good.dxf"]


def test_binary_is_read_like_text(tmp_path: Path) -> None:
    document = drawing()
    document.modelspace().add_lwpolyline(SQUARE, close=True)
    path = tmp_path / "binary.dxf"
    document.saveas(path, fmt="bin")
    assert path.read_bytes().startswith(b"AutoCAD Binary DXF")
    assert planform.read_dxf(path).profile_set().area == 100
    path.write_bytes(path.read_bytes()[:-40])
    with pytest.raises(LoadError, match="cut off"):
        planform.read_dxf(path)


@pytest.mark.parametrize("version", ["R12", "R2000", "R2004", "R2007", "R2018"])
def test_versions(version: str, tmp_path: Path) -> None:
    document = drawing(version=version)
    document.modelspace().add_circle((5, 5), 2)
    assert read(document, tmp_path).profile_set().area == pytest.approx(4 * math.pi, rel=EXACT)


def test_wrong_encodings(tmp_path: Path) -> None:
    document = drawing()
    document.layers.add("Vogelhäuschen")
    document.modelspace().add_circle((0, 0), 2, dxfattribs={"layer": "Vogelhäuschen"})
    text = text_of(document, tmp_path)
    path = tmp_path / "a.dxf"
    path.write_bytes(text.encode("cp1252"))  # says UTF-8
    (loose,) = planform.read_dxf(path).curves
    assert loose.layer.startswith("Vogelh") and loose.layer.isprintable()
    path.write_bytes(text.encode("utf-16"))
    with pytest.raises(LoadError, match="UTF-16"):
        planform.read_dxf(path)


@pytest.mark.parametrize("value", ["nan", "inf", "-1e300", "1e308", "1e999", "abc"])
def test_numbers_that_make_no_sense(value: str, tmp_path: Path) -> None:
    text = plate(tmp_path)
    path = tmp_path / "a.dxf"
    head, tail = text.split("AcDbCircle")
    path.write_text(head + "AcDbCircle" + tail.replace("5.0", value, 1))
    try:
        loose = planform.read_dxf(path)
    except LoadError as error:
        assert "a.dxf" in str(error)
        return
    (unread,) = [item for item in loose.left_over if item.kind == "unread"]
    assert "CIRCLE" in unread.entity
    with pytest.raises(LoadError, match=r"CIRCLE.* can.t be read"):
        loose.profile_set()  # a hole would be lost
    rest = loose.close().profile_set(allow_open=True)
    assert rest.area == 100 and "left out as they can't be read: 1" in rest.notes
    assert [f.rule for f in planform.drawing_findings(loose.close())] == ["unread"]


def test_entities_of_unknown_kinds_are_named(tmp_path: Path) -> None:
    """Damage to the word of an entity, bytes that are no text among it, leaves the others readable."""
    text = plate(tmp_path).encode()
    path = tmp_path / "a.dxf"
    for kind in (b"CIRCLX", b"", b"\xff\xfe", b"ACAD_PROXY_ENTITY"):
        path.write_bytes(text.replace(b"\nCIRCLE\n", b"\n" + kind + b"\n"))
        inspected = planform.inspect_drawing(path)
        assert [f.rule for f in inspected.findings] == ["unread"], kind
        closed = planform.read_dxf(path).close()
        assert closed.profile_set(allow_open=True).area == 100
        with pytest.raises(LoadError, match="can't be read"):
            closed.profile_set()


def test_damage_that_shows_when_the_copy_is_written(tmp_path: Path) -> None:
    """Cut off behind the curves, with an end mark: the parser trips over what is missing only when it
    writes."""
    text = plate(tmp_path)
    source, copy = tmp_path / "a.dxf", tmp_path / "b.dxf"
    first = text.index("\nOBJECTS\n")
    refused = 0
    for share in np.linspace(0.02, 0.98, 30):
        lines = text[: first + int(share * (len(text) - first))].splitlines()
        whole = lines[: len(lines) - len(lines) % 2]
        source.write_text("\n".join([*whole, "  0", "ENDSEC", "  0", "EOF", ""]))
        copy.unlink(missing_ok=True)
        try:
            planform.repair(source, copy)
        except LoadError as error:
            assert "a.dxf" in str(error)
            assert not copy.exists()
            refused += "can't be written" in str(error)
        else:
            assert planform.read_dxf(copy).profile_set().area == pytest.approx(100 - 4 * math.pi)
    assert refused > 0


def test_a_file_of_no_more_than_a_comment(tmp_path: Path) -> None:
    path = tmp_path / "a.dxf"
    path.write_bytes(b"999\nonly a comment\n  9\nEOF")
    with pytest.raises(LoadError, match=r"a\.dxf"):
        planform.read_dxf(path)


def test_blocks_that_contain_themselves(tmp_path: Path) -> None:
    document = drawing()
    first, second = document.blocks.new("A"), document.blocks.new("B")
    first.add_blockref("B", (0, 0))
    second.add_blockref("A", (1, 0))
    document.modelspace().add_blockref("A", (0, 0))
    with pytest.raises(LoadError, match="contains itself"):
        read(document, tmp_path)


def test_blocks_that_stand_for_too_much(tmp_path: Path) -> None:
    """Ten in ten in ten ...: 10^12 circles."""
    document = drawing()
    document.blocks.new("L0").add_circle((0, 0), 1)
    for level in range(1, 13):
        block = document.blocks.new(f"L{level}")
        for i in range(10):
            block.add_blockref(f"L{level - 1}", (i, level))
    document.modelspace().add_blockref("L12", (0, 0), dxfattribs={"row_count": 10**5})
    planform.drawings.dxf_reader.MOST_CURVES, usual = (
        2_000,
        planform.drawings.dxf_reader.MOST_CURVES,
    )
    try:
        with pytest.raises(LoadError, match=r"more than 2000 curves|an array of"):
            read(document, tmp_path)
    finally:
        planform.drawings.dxf_reader.MOST_CURVES = usual


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        (b"", "file_empty"),
        (b"ISO-10303-21;\nHEADER;\n", "file_not_recognised"),
        (b"\x89PNG\r\n\x1a\n\0\0", "file_not_recognised"),
        (b"  0\nSECTION\n  2\nENTITIES\n  0\nEOF\n", None),
        (
            b"  0\nSECTION\n  2\nENTITIES\n  0\nLINE\n 10\nx\n  0\nENDSEC\n  0\nEOF\n",
            "file_damaged",
        ),
        (b"  0\nEOF\n", None),
    ],
)
def test_other_bytes(data: bytes, kind: str | None, tmp_path: Path) -> None:
    path = tmp_path / "a.dxf"
    path.write_bytes(data)
    try:
        assert len(planform.read_dxf(path)) == 0
        assert kind is None
    except LoadError as error:
        assert error.kind == (kind or "file_damaged")
        assert "a.dxf" in str(error)


def test_missing_files_and_folders(tmp_path: Path) -> None:
    for path, kind in ((tmp_path / "no.dxf", "file_missing"), (tmp_path, "file_unreadable")):
        with pytest.raises(LoadError) as caught:
            planform.read_dxf(path)
        assert caught.value.kind == kind


MANY = 1_000_000 if os.environ.get("PLANFORM_LONG_TESTS") else 5_000

# VmHWM, not ru_maxrss: the latter starts from the peak of the process that started this one.
CHILD = """
import pathlib, sys, time, planform
loose = planform.read_dxf(sys.argv[1])
status = pathlib.Path("/proc/self/status").read_text()
print(len(loose), status.split("VmHWM:")[1].split()[0], round(time.process_time()))
"""


def test_many_entities_in_bounded_memory(tmp_path: Path) -> None:
    """Measured on 10^6: 1.2 kB each, most of it ezdxf's."""
    path = tmp_path / "many.dxf"
    with path.open("w") as file:
        file.write("  0\nSECTION\n  2\nENTITIES\n")
        for i in range(MANY):
            x, y = 10.0 * (i % 1000), 10.0 * (i // 1000)
            file.write(f"  0\nLINE\n  8\n0\n 10\n{x}\n 20\n{y}\n 11\n{x + 5}\n 21\n{y + 3}\n")
        file.write("  0\nENDSEC\n  0\nEOF\n")
    result = subprocess.run(
        [sys.executable, "-c", CHILD, str(path)], capture_output=True, text=True, check=True
    )
    count, kibibytes, seconds = map(int, result.stdout.split())
    print(f"{count} entities: {seconds} s of processor time, {kibibytes / 1024:.0f} MiB at most")
    assert count == MANY
    assert 10_000 < kibibytes < 400_000 + 3 * MANY
    usual, planform.drawings.source_file.MOST_BYTES = planform.drawings.source_file.MOST_BYTES, 1000
    try:
        with pytest.raises(LoadError, match="split the drawing"):
            planform.read_dxf(path)
    finally:
        planform.drawings.source_file.MOST_BYTES = usual
