"""What a batch remembers beside its output, so that the next run does only what changed.

Each source's folder holds a record, ``.manifest``: digest of the source, options, version, the files made
and their digests. It is written twice: before the first file, with the names of all files that may be there
from now on, and after the last. So a run that is killed at any moment leaves nothing behind that the next
does not know. ``manifest.json`` in the output folder sums the records up.

A record is data that anyone may have written: names in it are used only if they are plain file names, and
nothing is followed through a symbolic link.
"""

from __future__ import annotations

import errno
import hashlib
import json
import os
import stat
from collections.abc import Iterable
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from typing import Any, BinaryIO, Literal

from planform._planform import __version__, write_whole_file
from planform.batch.settings import Settings
from planform.batch.system import BINARY, NO_FOLLOWING, NO_WAITING, NOT_INHERITED

SCHEMA = 1
MANIFEST = "manifest.json"
RECORD = ".manifest"
TEMPORARY = ".planform-"
"""How the temporary names begin under which files are written before they get their own."""

Status = Literal["started", "done", "not flat", "failed", "stopped"]


@dataclass(frozen=True)
class Record:
    """What is known of one source.

    Attributes
    ----------
    source : str
        Its path below the folder that all sources share.
    digest : str
        Of the source's bytes: BLAKE2b with 128 bits, hexadecimal.
    settings : str
        Digest of options and version.
    status : {"started", "done", "not flat", "failed", "stopped"}
        started: the work was cut off. not flat: a part has no plane to lie on, everything else is done.
        failed: an error of the file, the same each time. stopped: the process crashed, took too long or too
        much memory; the next run tries again.
    files : dict
        Digests by file name.
    drawings, pieces : int
        Number of drawings made and of pieces to cut.
    errors, notes : tuple of str
    """

    source: str
    digest: str
    settings: str
    status: Status = "started"
    files: dict[str, str] = field(default_factory=dict)
    drawings: int = 0
    pieces: int = 0
    errors: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def bytes_digest(data: bytes) -> str:
    """BLAKE2b (RFC 7693) with 128 bits, hexadecimal."""
    return hashlib.blake2b(data, digest_size=16).hexdigest()


def file_digest(path: Path, follow: bool = False) -> str:
    """Digest of a file's bytes; "" if it is no file, can't be read or, without ``follow``, is a symbolic
    link."""
    try:
        with opened(path, follow) as file:
            digest = hashlib.blake2b(digest_size=16)
            while block := file.read(1 << 20):
                digest.update(block)
            return digest.hexdigest()
    except OSError:
        return ""


def opened(path: Path, follow: bool = False) -> BinaryIO:
    """A file opened for reading. Raises OSError if it is none, can't be read or, without ``follow``, is a
    symbolic link."""
    # Without O_NONBLOCK a named pipe would hold us up for ever.
    flags = os.O_RDONLY | BINARY | NO_WAITING | NOT_INHERITED | (0 if follow else NO_FOLLOWING)
    file = os.fdopen(os.open(path, flags), "rb")
    if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
        file.close()
        raise OSError(errno.EINVAL, "is no file", str(path))
    return file


def settings_digest(settings: Settings) -> str:
    """Digest of all that decides what is drawn: options, version, layout of the records. Of a bend table the
    bytes, wherever it lies."""
    words = {"schema": SCHEMA, "version": __version__, **asdict(settings)}
    if settings.bend_table:
        words["bend_table"] = file_digest(Path(settings.bend_table), follow=True)
    return bytes_digest(json.dumps(words, sort_keys=True, default=list).encode())


def read_record(folder: Path) -> Record | None:
    """The record in a source's folder; None if there is none that makes sense."""
    try:
        with opened(folder / RECORD) as file:
            words = json.load(file)
        files = {str(name): str(digest) for name, digest in words["files"].items()}
        record = Record(
            **{
                **words,
                "files": files,
                "errors": tuple(map(str, words["errors"])),
                "notes": tuple(map(str, words["notes"])),
            }
        )
    except (OSError, ValueError, TypeError, KeyError, AttributeError, RecursionError):
        return None
    return replace(record, files={n: d for n, d in files.items() if is_plain(n)})


def is_plain(name: str) -> bool:
    """True for a name that stays in its folder."""
    return name not in ("", ".", "..", RECORD) and not set(name) & {"/", "\\", "\0"}


def write_record(folder: Path, record: Record) -> None:
    """Write the record of a source into its folder; whole or not at all. Raises WriteError."""
    write_whole_file(folder / RECORD, json_text(asdict(record)))


def json_text(words: dict[str, Any]) -> str:
    """A document with sorted keys: the same words, the same bytes. Lone surrogates in names of files stay
    escaped."""
    return json.dumps(words, indent=1, sort_keys=True) + "\n"


def why_not_current(record: Record, folder: Path, expected: Record) -> str:
    """Empty if the record is of the expected source, digest and settings, is of a finished run, and its files
    are all there as they were written; else what is not so."""
    if record.source != expected.source:
        return f"its folder was that of {record.source}"
    if record.digest != expected.digest:
        return "the model has changed"
    if record.settings != expected.settings:
        return "the options or planform itself have changed"
    if record.status == "started":
        return "the last run was cut off"
    if record.status == "stopped":
        return "the last run was stopped at it"
    for name, digest in record.files.items():
        now = file_digest(folder / name)
        if now != digest:
            return f"{name} {'has been changed' if now else 'is missing'}"
    return ""


def remove_files(folder: Path, names: Iterable[str]) -> None:
    """Remove files of a source's folder (a symbolic link itself, not what it points to)."""
    for name in names:
        if is_plain(name):
            try:
                (folder / name).unlink(missing_ok=True)
            except (IsADirectoryError, PermissionError):
                continue


def remove_temporary_files(folder: Path) -> None:
    """Remove what writers that were killed have left in a folder."""
    for entry in os.scandir(folder):
        if entry.name.startswith(TEMPORARY) and entry.name.endswith(".tmp"):
            remove_files(folder, [entry.name])


def known_entries(out: Path) -> dict[str, dict[str, Any]]:
    """The sources that the manifest of the output folder lists, by folder; none if it makes no sense."""
    try:
        with opened(out / MANIFEST) as file:
            entries = json.load(file)["sources"]
        return {str(entry["folder"]): dict(entry) for entry in entries if is_below(entry["folder"])}
    except (OSError, ValueError, TypeError, KeyError, RecursionError):
        return {}


def is_below(folder: object) -> bool:
    """True for a path that stays below the output folder."""
    parts = folder.split("/") if isinstance(folder, str) else [""]
    return all(part not in ("", ".", "..") and "\0" not in part for part in parts)
