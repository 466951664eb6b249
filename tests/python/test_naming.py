"""Names from files: safe in folders and on terminals."""

from __future__ import annotations

import pytest
from planform.naming import FileNames, one_line, printable


def test_equal_names_get_numbers() -> None:
    names = FileNames()
    assert [names.unique("plate") for _ in range(3)] == ["plate", "plate-2", "plate-3"]


def test_case_does_not_tell_files_apart() -> None:
    names = FileNames()
    assert [names.unique(name) for name in ("Plate", "plate", "PLATE")] == [
        "Plate",
        "plate-2",
        "PLATE-3",
    ]


def test_a_number_that_is_taken_is_skipped() -> None:
    names = FileNames()
    assert [names.unique(name) for name in ("plate-2", "plate", "plate")] == [
        "plate-2",
        "plate",
        "plate-3",
    ]


@pytest.mark.parametrize(
    "name",
    [
        "../../x",
        "a/b",
        "a\\b",
        '"><script>',
        "n" * 300,
        "🐦",
        "",
        ".",
        "..",
        ".hidden",
        "nul",
        "a\0b",
    ],
)
def test_stems_stay_in_the_folder(name: str) -> None:
    stem = FileNames().unique(name)
    assert stem
    assert not stem.startswith(".")
    assert len(stem.encode()) <= 80
    assert all(
        character.isascii() and (character.isalnum() or character in "-_.") for character in stem
    )
    assert stem.lower() != "nul"


def test_control_codes_do_not_reach_a_terminal() -> None:
    assert printable("red \x1b[31m\x07 name") == "red \ufffd[31m\ufffd name"
    assert printable("turned \u202etxet") == "turned \ufffdtxet"
    assert printable("Futterhäuschen 🐦 ×") == "Futterhäuschen 🐦 ×"


def test_messages_become_one_line() -> None:
    assert one_line("first\n  second\tthird \r\n") == "first second third"
