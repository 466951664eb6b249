"""What the README shows is run: its Python, its C++, its commands; its links lead somewhere."""

from __future__ import annotations

import doctest
import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import planform
import pytest
from drawing_judges import audited
from planform.batch import Settings

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def blocks(language: str) -> list[str]:
    found = re.findall(rf"^```{language}\n(.*?)^```$", README, re.MULTILINE | re.DOTALL)
    assert found, f"the README has a block of {language}"
    return found


def test_python_example(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    (source,) = blocks("python")
    assert len(source.splitlines()) <= 12
    exec(compile(source, "README.md", "exec"), {})
    lines = capsys.readouterr().out.splitlines()
    solids = planform.load(tmp_path / "station.step").solids
    assert len(lines) == len(solids)
    assert all(re.fullmatch(r".+: [\d.]+ x [\d.]+ mm, \d+ mm\^2", line) for line in lines)
    assert len(audited(tmp_path / "section.dxf").modelspace()) > 0


@pytest.mark.parametrize("session", blocks("pycon"))
def test_python_session(session: str) -> None:
    test = doctest.DocTestParser().get_doctest(session, {}, "README.md", "README.md", 0)
    result = doctest.DocTestRunner().run(test)
    assert result.attempted > 5 and result.failed == 0


def test_dask_example(tmp_path: Path) -> None:
    """As a person runs it: a file of its own. The same drawings as without Dask."""
    (source,) = blocks("py")
    (tmp_path / "example.py").write_text(source, encoding="utf-8")
    finished = subprocess.run(
        [sys.executable, "example.py"], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert finished.stdout == "station.step done 12\n", finished.stderr
    planform.flatten_all(
        tmp_path / "models", tmp_path / "cut", Settings(formats=["dxf", "json"]), workers=1
    )
    made = sorted(path.relative_to(tmp_path / "cut") for path in (tmp_path / "cut").rglob("*.*"))
    assert len(made) > 22
    for name in made:
        assert (tmp_path / "cut" / name).read_bytes() == (
            tmp_path / "cut-by-dask" / name
        ).read_bytes()


@pytest.mark.skipif(
    "PLANFORM_PREFIX" not in os.environ,
    reason="needs the installed C++ library: .ci/test sets PLANFORM_PREFIX",
)
def test_cpp_example(tmp_path: Path) -> None:
    (source,) = blocks("cpp")
    assert len(source.splitlines()) <= 12
    (tmp_path / "main.cpp").write_text(source, encoding="utf-8")
    (lines,) = blocks("cmake")
    (tmp_path / "CMakeLists.txt").write_text(
        "cmake_minimum_required(VERSION 3.25)\nproject(readme LANGUAGES CXX)\n"
        + lines.replace("target_link", "add_executable(your_program main.cpp)\ntarget_link"),
        encoding="utf-8",
    )
    cmake = shutil.which("cmake")
    assert cmake
    build = tmp_path / "build"
    prefix = os.environ["PLANFORM_PREFIX"]
    subprocess.run(
        [cmake, "-G", "Ninja", "-S", tmp_path, "-B", build, f"-DCMAKE_PREFIX_PATH={prefix}"],
        check=True,
        capture_output=True,
    )
    subprocess.run([cmake, "--build", build], check=True, capture_output=True)
    subprocess.run([build / "your_program"], check=True, cwd=tmp_path)
    assert len(audited(tmp_path / "plate.dxf").modelspace()) > 0


@pytest.fixture(scope="module")
def clone(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An empty folder with what stands in for a fresh clone: its .ci/demo, the setup done, and no
    tests to pass."""
    folder = tmp_path_factory.mktemp("clone")
    (folder / ".ci").mkdir()
    shutil.copy(ROOT / ".ci" / "demo", folder / ".ci")
    (folder / ".venv" / "bin").mkdir(parents=True)
    scripts = {
        ".ci/setup": "",
        ".ci/test": "",
        ".venv/bin/planform": f'exec "{sys.executable}" -m planform.cli "$@"',
        ".venv/bin/pip": f'exec "{sys.executable}" -m pip --disable-pip-version-check "$@"',
    }
    for name, line in scripts.items():
        (folder / name).write_text(f"#!/bin/bash\n{line}\n")
        (folder / name).chmod(0o755)
    (folder / ".venv" / "bin" / "activate").write_text(
        f'export PATH="{folder}/.venv/bin:/usr/bin:/bin"\n'
    )
    return folder


def test_every_command_in_order_as_written(clone: Path) -> None:
    """One shell, one folder, which is empty but for the clone; a command that fails ends it."""
    script = "\n".join(blocks("sh"))
    assert script.count("\nplanform ") + script.startswith("planform ") >= 12
    finished = subprocess.run(
        ["/bin/bash", "-euo", "pipefail", "-c", f"set -x\n{script}"],
        cwd=clone,
        capture_output=True,
        text=True,
        check=False,
        env={"PATH": "/usr/bin:/bin", "HOME": str(clone), "PYTHONPATH": os.pathsep.join(sys.path)},
    )
    assert finished.returncode == 0, finished.stderr[-3000:]
    names = set(re.findall(r"--(?:out|html|repair) (\S+)", script))
    assert len(names) >= 9
    for name in names:
        assert (clone / name).exists(), name
    assert list((clone / "cut").glob("*.dxf"))


def test_no_two_commands_write_into_one_folder() -> None:
    """But those that look at what the one before has written and change nothing."""
    commands = [
        shlex.split(line, comments=True)
        for block in blocks("sh")
        for line in block.splitlines()
        if line.startswith("planform ")
    ]
    folders = [c[c.index("--out") + 1] for c in commands if "--out" in c and "--check" not in c]
    assert len(folders) >= 7
    assert len(set(folders)) == len(folders), folders


def test_scripts_that_are_named_exist() -> None:
    texts = README + (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    scripts = set(re.findall(r"\.ci/[a-z]+", texts))
    assert {".ci/demo", ".ci/test", ".ci/format"} <= scripts
    for script in scripts:
        assert os.access(ROOT / script, os.X_OK), script


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_links_lead_somewhere(name: str) -> None:
    text = (ROOT / name).read_text(encoding="utf-8")
    targets = re.findall(r"\]\(([^)#]+)\)", text)
    for target in targets:
        assert (ROOT / target).exists(), target
    for path in re.findall(r"`((?:tests|notebooks|lib|bindings|python)/[\w./-]*)`", text):
        assert (ROOT / path).exists(), path


def test_files_that_are_named_short_exist() -> None:
    """`room/name` stands for a file or folder of the library, of the package, of the tests."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    roots = (
        "lib/src",
        "lib/src/model",
        "lib/src/flatten",
        "python/planform",
        "tests",
        "tests/python",
        "",
    )
    names = set(re.findall(r"`([a-z_]+(?:/[a-z_]+)+(?:\.[a-z]{2,3})?)`", text))
    assert len(names) >= 30
    ends = ("", ".cpp", ".hpp", ".py")
    missing = [
        name
        for name in sorted(names)
        if not name.startswith("out/")  # what the commands make
        and not any((ROOT / root / (name + end)).exists() for root in roots for end in ends)
    ]
    assert missing == []


@pytest.mark.parametrize(
    ("script", "least"),
    [
        ("make_pictures.py", 50),
        ("make_joint_picture.py", 15),
        ("make_plan_picture.py", 200),
        ("make_algorithm_pictures.py", 2),
    ],
)
def test_the_picture_is_the_one_that_the_script_makes(
    script: str, least: int, tmp_path: Path
) -> None:
    pictures = ROOT / "notebooks" / "pictures"
    subprocess.run([sys.executable, pictures / script, "--out", tmp_path], check=True)
    made = sorted(path.name for path in tmp_path.iterdir())
    assert made
    for name in made:
        stored, fresh = (
            ElementTree.parse(folder / name).getroot() for folder in (pictures, tmp_path)
        )
        shapes = list(zip(stored.iter(), fresh.iter(), strict=True))
        assert len(shapes) > least
        for first, second in shapes:
            assert (first.tag, first.text) == (second.tag, second.text)
            # Chords may fall otherwise from one kernel to the next; the shape may not.
            assert box_of(second) == pytest.approx(box_of(first), abs=0.5)


def box_of(element: ElementTree.Element) -> list[float]:
    """Left, right, top and bottom of an SVG path with absolute coordinates; empty for other elements."""
    pairs = re.findall(r"(-?[\d.]+) (-?[\d.]+)", element.get("d", ""))
    axes = [[float(number) for number in axis] for axis in zip(*pairs, strict=True)]
    return [bound for axis in axes for bound in (min(axis), max(axis))]
