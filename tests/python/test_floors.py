"""The check of floors: it passes on the tree as it is, and fails on each kind of fault."""

from __future__ import annotations

import importlib.machinery
import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[2]

SOUND = {
    "DEVELOPERS.md": (
        "```\n"
        "lib/src/curve/            plane curves\n"
        "lib/src/model/read/       files in\n"
        "lib/src/model/            solids\n"
        "python/planform/          names\n"
        "python/planform/pages/    pages\n"
        "```\n"
    ),
    "lib/include/planform/planform.hpp": '#include "planform/model.hpp"\n',
    "lib/include/planform/curve.hpp": "#pragma once\n",
    "lib/include/planform/model.hpp": '#pragma once\n#include "planform/curve.hpp"\n',
    "lib/src/curve/line.hpp": '#pragma once\n#include "planform/curve.hpp"\n',
    "lib/src/curve/line.cpp": '#include "curve/line.hpp"\n',
    "lib/src/model/read/step.hpp": '#pragma once\n#include "planform/model.hpp"\n',
    "lib/src/model/read/step.cpp": '#include "curve/line.hpp"\n#include "model/read/step.hpp"\n',
    "lib/src/model/load.cpp": '#include "model/read/step.hpp"\n',
    "python/planform/__init__.py": "from planform.pages.page import page\n",
    "python/planform/naming.py": "from planform._planform import counted\n",
    "python/planform/pages/__init__.py": "",
    "python/planform/pages/page.py": "from planform.naming import name\n",
}
"""Files of a small project whose floors are in order."""

FAULTS = {
    "an include runs up": (
        {"lib/src/curve/arc.cpp": '#include "model/read/step.hpp"\n'},
        "lib/src/curve/arc.cpp:1: lib/src/curve/ uses lib/src/model/read/, which stands above it",
    ),
    "a room's include runs up to its floor": (
        {"lib/src/model/whole.hpp": "", "lib/src/model/read/a.cpp": '#include "model/whole.hpp"\n'},
        "lib/src/model/read/a.cpp:1: lib/src/model/read/ uses lib/src/model/, which stands above it",
    ),
    "a public header runs up": (
        {
            "lib/include/planform/curve.hpp": '#pragma once\n#include "planform/model.hpp"\n',
            "lib/include/planform/model.hpp": "#pragma once\n",
        },
        "lib/include/planform/curve.hpp:2: lib/src/curve/ uses lib/src/model/, which stands above it",
    ),
    "includes in a circle": (
        {
            "lib/src/curve/line.cpp": '#include "curve/line.hpp"\n#include "curve/arc.hpp"\n',
            "lib/src/curve/arc.hpp": "#pragma once\n",
            "lib/src/curve/arc.cpp": '#include "curve/arc.hpp"\n#include "curve/line.hpp"\n',
        },
        "in a circle: lib/src/curve/arc, lib/src/curve/line",
    ),
    "an import runs up": (
        {"python/planform/errors.py": "from planform.pages.page import page\n"},
        "python/planform/errors.py:1: python/planform/ uses python/planform/pages/, which stands above it",
    ),
    "an import of a whole module runs up": (
        {"python/planform/errors.py": "import planform.pages.page\n"},
        "python/planform/errors.py:1: python/planform/ uses python/planform/pages/, which stands above it",
    ),
    "an import inside of a function runs up": (
        {"python/planform/errors.py": "def f():\n    from planform.pages import page\n"},
        "python/planform/errors.py:2: python/planform/ uses python/planform/pages/, which stands above it",
    ),
    "imports in a circle, one of them for types alone": (
        {
            "python/planform/pages/page.py": "from planform.pages.table import table\n",
            "python/planform/pages/table.py": (
                "from typing import TYPE_CHECKING\n"
                "if TYPE_CHECKING:\n    from planform.pages.page import Page\n"
            ),
        },
        "in a circle: python/planform/pages/page, python/planform/pages/table",
    ),
    "an import from the face": (
        {"python/planform/pages/page.py": "from planform import name\n"},
        "python/planform/pages/page.py:1: imports from the package's face; import from the room",
    ),
    "an import relative to a folder": (
        {"python/planform/pages/page.py": "from . import table\n"},
        "python/planform/pages/page.py:1: imports from the package's face; import from the room",
    ),
    "a folder that the tree doesn't name": (
        {"lib/src/model/heal/gap.cpp": '#include "curve/line.hpp"\n'},
        "lib/src/model/heal/ is not in the tree of DEVELOPERS.md",
    ),
    "a folder of Python that the tree doesn't name": (
        {"python/planform/cli/command.py": "from planform.naming import name\n"},
        "python/planform/cli/ is not in the tree of DEVELOPERS.md",
    ),
    "a folder without includes that the tree doesn't name": (
        {"lib/src/stray/alone.cpp": "int main();\n"},
        "lib/src/stray/ is not in the tree of DEVELOPERS.md",
    ),
    "a folder of the tree that isn't there": (
        {"DEVELOPERS.md": SOUND["DEVELOPERS.md"] + "lib/src/write/            files out\n"},
        "DEVELOPERS.md: the tree names lib/src/write/, which does not exist",
    ),
}


@pytest.fixture(scope="module")
def floors() -> ModuleType:
    loader = importlib.machinery.SourceFileLoader("floors", str(ROOT / ".ci" / "floors"))
    module = importlib.util.module_from_spec(importlib.util.spec_from_loader("floors", loader))
    loader.exec_module(module)
    return module


def faults_of(floors: ModuleType, root: Path, files: dict[str, str]) -> list[str]:
    for name, text in files.items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text)
    return floors.all_faults(root)


def test_our_floors_are_in_order(floors: ModuleType) -> None:
    assert floors.all_faults(ROOT) == []
    # Not because nothing was looked at.
    assert len(floors.cpp_uses(ROOT)) > 1000
    assert len(floors.python_uses(ROOT)) > 200


def test_a_small_project_is_in_order(floors: ModuleType, tmp_path: Path) -> None:
    assert faults_of(floors, tmp_path, SOUND) == []
    assert len(floors.cpp_uses(tmp_path)) == 7
    assert len(floors.python_uses(tmp_path)) == 2


@pytest.mark.parametrize("fault", FAULTS)
def test_each_fault_is_found_and_no_other(floors: ModuleType, tmp_path: Path, fault: str) -> None:
    changed, text = FAULTS[fault]
    assert faults_of(floors, tmp_path, {**SOUND, **changed}) == [text]


def test_the_picture_has_every_floor_and_its_arrows(floors: ModuleType, tmp_path: Path) -> None:
    faults_of(floors, tmp_path, SOUND)
    drawn = floors.picture(tmp_path)
    assert drawn.count("<rect ") == 2
    assert (
        drawn.count('<path d="M') == 2
    )  # the arrow from model to curve, and the tip of all arrows


def test_our_picture_is_as_the_floors_are(floors: ModuleType) -> None:
    assert floors.PICTURE.read_text() == floors.picture(ROOT)
