"""Names from files: safe in folders and on terminals."""

from __future__ import annotations

import unicodedata

import planform
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
    assert len(stem.encode()) <= 180
    assert all(character.isalnum() or character in "-_." for character in stem)
    assert stem.lower() != "nul"


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ("前板", "前板"),
        ("Rückwand", "Rückwand"),
        (unicodedata.normalize("NFD", "Rückwand"), "Rückwand"),
        ("крыша 2", "крыша_2"),
        ("छत", "छत"),
        ("tray 🐦 (left)", "tray____left_"),
    ],
)
def test_letters_and_digits_of_every_script_stay(name: str, stem: str) -> None:
    assert FileNames().unique(name) == stem


# From memory of the Unicode Standard 15.1, which Python 3.13 knows and the utf8proc of Debian 12 (15.0) does
# not: its only new letters, CJK Unified Ideographs Extension I.
LETTERS_OF_UNICODE_15_1 = range(0x2EBF0, 0x2EE5E)


def test_stems_are_what_python_calls_letters_digits_and_marks() -> None:
    """Of every character that both know: Python's own table of the Unicode categories is the judge."""
    wrong = []
    kept = 0
    for code in range(0x20, 0x30000):
        character = chr(code)
        if 0xD800 <= code < 0xE000 or unicodedata.normalize("NFC", character) != character:
            continue
        category = unicodedata.category(character)
        if category == "Cn" or character in "-_.":
            continue
        expected = character if category[0] in "LM" or category == "Nd" else "_"
        if category == "Me":
            expected = "_"  # frames around letters
        stem = planform.safe_file_stem(f"a{character}")
        if code in LETTERS_OF_UNICODE_15_1 and stem == "a_":
            continue
        kept += expected != "_"
        if stem != f"a{expected}" and stem != unicodedata.normalize("NFC", f"a{expected}"):
            wrong.append(hex(code))
    assert kept > 90_000
    assert wrong == []


def test_equal_names_in_two_forms_are_two_files() -> None:
    names = FileNames()
    forms = [unicodedata.normalize(form, "Rückwand") for form in ("NFC", "NFD")]
    assert [names.unique(name) for name in forms] == ["Rückwand", "Rückwand-2"]


def test_control_codes_do_not_reach_a_terminal() -> None:
    assert printable("red \x1b[31m\x07 name") == "red \ufffd[31m\ufffd name"
    assert printable("turned \u202etxet") == "turned \ufffdtxet"
    assert printable("Futterhäuschen 🐦 ×") == "Futterhäuschen 🐦 ×"


def test_messages_become_one_line() -> None:
    assert one_line("first\n  second\tthird \r\n") == "first second third"
