"""Every kind of error has a message and a Python exception; exceptions travel between processes."""

from __future__ import annotations

import os
import pickle
import re
from pathlib import Path

import planform
import pytest
from planform import _planform

HEADER = Path(__file__).resolve().parents[2] / "lib" / "include" / "planform" / "error.hpp"
FAMILIES = {
    "Error": (planform.Error, Exception),
    "LoadError": (planform.LoadError, OSError),
    "GeometryError": (planform.GeometryError, ValueError),
    "WriteError": (planform.WriteError, OSError),
}


def kinds_of_the_header() -> list[str]:
    body = re.search(r"enum class ErrorKind \{(.*?)\};", HEADER.read_text(), re.DOTALL)
    assert body is not None
    return re.findall(r"^\s*(\w+),", body.group(1), re.MULTILINE)


def test_every_kind_has_its_own_message() -> None:
    kinds = planform.error_kinds()
    assert list(kinds) == kinds_of_the_header()
    assert len(kinds) > 10
    assert len(set(kinds.values())) == len(kinds)
    assert all(len(text) > 10 for text in kinds.values())


@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize("kind", kinds_of_the_header())
def test_every_kind_becomes_a_python_exception(family: str, kind: str) -> None:
    own, builtin = FAMILIES[family]
    with pytest.raises(own) as caught:
        _planform._throw_error(family, kind, "nest \N{BIRD}: what to do")
    is_missing = (family, kind) == ("LoadError", "file_missing")
    assert type(caught.value) is (planform.FileMissingError if is_missing else own)
    assert isinstance(caught.value, planform.Error)
    assert isinstance(caught.value, builtin)
    assert caught.value.kind == kind
    assert str(caught.value) == "nest \N{BIRD}: what to do"


@pytest.mark.parametrize("family", FAMILIES)
def test_exceptions_can_be_pickled(family: str) -> None:
    own, _ = FAMILIES[family]
    copy = pickle.loads(pickle.dumps(own.of_kind("no_solid", "empty nest")))
    assert type(copy) is own
    assert (copy.kind, str(copy)) == ("no_solid", "empty nest")


def test_names_that_are_no_utf8_do_not_hide_the_error(tmp_path: Path) -> None:
    path = os.fsdecode(bytes(tmp_path) + b"/nest-\xff.step")
    with pytest.raises(planform.LoadError, match="nest-") as caught:
        planform.load(path)
    assert caught.value.kind == "file_missing"
