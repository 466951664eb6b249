"""Names from files, made safe: as file names, and for a terminal.

A name in a model is data that anyone may have written. It never chooses a folder, never hides another
file and never sends control codes to a terminal.
"""

from __future__ import annotations

import fnmatch
import unicodedata

from planform._planform import safe_file_stem


class FileNames:
    """Hands out file stems that differ from each other, case ignored.

    Two stems that differ only in case would be one file on some systems, so they count as equal. The
    second of a name gets ``-2``, the third ``-3``. What lies in the folder from an earlier run doesn't
    count: the same input gives the same names.
    """

    def __init__(self) -> None:
        self._taken: set[str] = set()

    def unique(self, name: str) -> str:
        """Return a safe stem (no folder, no suffix) for a part's name, not handed out before."""
        stem = safe_file_stem(name)
        candidate = stem
        number = 1
        while candidate.casefold() in self._taken:
            number += 1
            candidate = f"{stem}-{number}"
        self._taken.add(candidate.casefold())
        return candidate


def printable(text: str) -> str:
    """Return the text on one line, with whatever could steer a terminal or turn the reading direction
    replaced by U+FFFD."""
    return "".join(_printable_character(character) for character in text)


def _printable_character(character: str) -> str:
    if character.isspace():
        return " "
    # Cc: control codes, Cf: invisible format codes (bidirectional overrides), Cs: lone surrogates.
    if unicodedata.category(character) in ("Cc", "Cf", "Cs") and character != "\u200d":
        return "\ufffd"
    return character


def one_line(text: str) -> str:
    """Return a message as one printable line, runs of white space as one space."""
    return " ".join(printable(text).split())


def counted(number: int, noun: str, plural: str = "") -> str:
    """The number with its noun: ``1 plate``, ``2 plates``."""
    return f"{number} {noun if number == 1 else plural or noun + 's'}"


def name_fits(pattern: str, name: str, whole: bool = False) -> bool:
    """Does a name fit a pattern of the user's? Case is ignored, and so is how letters are composed.

    With ``*`` (any characters) or ``?`` (any one) the pattern stands for the whole name; else it has to occur
    in it, or, with ``whole``, be all of it.
    """
    wanted, given = (unicodedata.normalize("NFC", text).casefold() for text in (pattern, name))
    if "*" in wanted or "?" in wanted:
        return fnmatch.fnmatchcase(given, wanted.replace("[", "[[]"))
    return wanted == given if whole else wanted in given
