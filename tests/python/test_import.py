"""What ``import planform`` loads, and what it does without."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import planform
import pytest

FOREIGN = {
    "OCP", "click", "ezdxf", "fontTools", "jinja2", "matplotlib", "rich", "shapely", "spyrrow",
    "svgelements", "watchfiles", "HersheyFonts", "multiprocessing", "subprocess", "ctypes", "socket",
}  # fmt: skip


def python(script: str, *arguments: str) -> str:
    done = subprocess.run(
        [sys.executable, "-c", script, *arguments], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_import_loads_little() -> None:
    loaded = python("import planform, sys; print(*sys.modules)").split()
    assert "planform._planform" in loaded
    assert not FOREIGN & {name.partition(".")[0] for name in loaded}
    # Of our own only what every run needs.
    ours = {name for name in loaded if name.startswith("planform")}
    assert ours <= {"planform", "planform._planform", "planform.curves", "planform.errors"}


def test_every_public_name_is_there() -> None:
    script = """
import planform
for name in planform.__all__:
    assert getattr(planform, name) is not None, name
assert set(dir(planform)) == set(planform.__all__)
"""
    python(script)


# Stands in for a system without them: Windows has neither.
WITHOUT = """
import sys
class Missing:
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] in WITHOUT:
            raise ModuleNotFoundError(f"No module named {name!r}", name=name)
sys.meta_path.insert(0, Missing())
for name in WITHOUT:
    sys.modules.pop(name, None)
"""


def test_works_where_posix_modules_are_missing(tmp_path: Path) -> None:
    script = (
        "WITHOUT = {'fcntl', 'resource'}\n"
        + WITHOUT
        + """
import os, pathlib, signal
for name in ("O_NOFOLLOW", "O_CLOEXEC", "O_NONBLOCK"):
    delattr(os, name)
del signal.pthread_sigmask
import planform
if __name__ == "__main__":
    folder = pathlib.Path(sys.argv[1])
    path = planform.write_demo_assembly(folder / "station.step")
    outline = planform.silhouette(planform.load(path)[0], "auto")
    assert outline.area > 0
    (folder / "models").mkdir()
    outline.to_dxf(folder / "plate.dxf")
    manifest = planform.flatten_all([path], folder / "out", workers=1)
    print(manifest.count("done"))
    from planform.batch.many import locked
    with locked(folder / "out"):
        pass
"""
    )
    file = tmp_path / "script.py"
    file.write_text(script)
    done = subprocess.run(
        [sys.executable, str(file), str(tmp_path)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip() == "1"


@pytest.mark.parametrize(
    ("library", "extra", "call"),
    [
        ("ezdxf", "drawings", "planform.read_dxf('x.dxf')"),
        ("ezdxf", "drawings", "planform.read_drawing('x.dxf')"),
        ("svgelements", "drawings", "planform.read_svg('x.svg')"),
        ("matplotlib", "pictures", "planform.inspect(planform.ProfileSet()).to_png('x.png')"),
        ("rich", "cli", "__import__('planform.cli')"),
        ("fontTools", "text", "planform.text('12', 30.0)"),
        (
            "trimesh",
            "preview",
            "__import__('planform.pictures.preview', fromlist='x')._scene([], None)",
        ),
    ],
)
def test_a_missing_library_is_named_with_its_extra(library: str, extra: str, call: str) -> None:
    script = (
        f"WITHOUT = {{{library!r}}}\n"
        + WITHOUT
        + f"""
import planform
try:
    {call}
except ImportError as error:
    print(error)
"""
    )
    message = python(script).strip()
    assert message == f"this needs the library {library}: pip install 'planform[{extra}]'"


def test_all_names_come_without_any_extra() -> None:
    """`from planform import *`; what needs a library says so when it is used, and only then."""
    from planform.extras import EXTRAS

    script = (
        f"WITHOUT = {set(EXTRAS)!r}\n"
        + WITHOUT
        + """
from planform import *
import planform
assert all(name in globals() for name in planform.__all__)
for use in (lambda: read_svg("x.svg"), lambda: repair("a.dxf", "b.dxf"), lambda: Repair()):
    try:
        use()
    except ImportError as error:
        print(error)
assert planform.Repair is planform.Repair and planform.read_svg is planform.read_svg
print(isinstance(1, Repair), round(Arc((0, 0), 1).length, 3))
"""
    )
    *errors, last = python(script).strip().splitlines()
    assert last == "False 6.283"
    assert len(errors) == 3
    assert all("pip install 'planform[drawings]'" in error for error in errors)


def test_extras_are_those_of_the_package() -> None:
    import tomllib

    from planform.extras import EXTRAS

    root = Path(__file__).resolve().parents[2]
    project = tomllib.loads((root / "pyproject.toml").read_text())["project"]
    extras = project["optional-dependencies"]
    names = {"HersheyFonts": "hershey-fonts"}
    for library, extra in EXTRAS.items():
        wanted = names.get(library, library.lower())
        assert any(wanted in line.lower() for line in extras[extra]), library
        assert not any(wanted in line.lower() for line in project["dependencies"])
    assert planform.__version__ == project["version"]
