"""What is installed of the C++ library: its package for CMake, its pkg-config files, its licence.

Needs the installed library: .ci/test sets PLANFORM_PREFIX. tests/consumer compiles against it, with the
kernel and without.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from pathlib import Path

import planform
import pytest

pytestmark = pytest.mark.skipif(
    "PLANFORM_PREFIX" not in os.environ,
    reason="needs the installed C++ library: .ci/test sets PLANFORM_PREFIX",
)
ROOT = Path(__file__).resolve().parents[2]
PROJECT = """
cmake_minimum_required(VERSION 3.25)
project(asks LANGUAGES CXX)
find_package(planform {version})
message(STATUS "found: ${{planform_FOUND}} because ${{planform_NOT_FOUND_MESSAGE}}")
if(planform_FOUND)
  get_target_property(headers planform::occt INTERFACE_INCLUDE_DIRECTORIES)
  message(STATUS "headers: ${{headers}}")
endif()
"""
OTHER_KERNEL = "set(OpenCASCADE_VERSION 7.99.0)\nset(OpenCASCADE_FOUND TRUE)\n"


def prefix() -> Path:
    return Path(os.environ["PLANFORM_PREFIX"])


def asked(folder: Path, version: str, *options: str) -> str:
    """What CMake says when a project asks for this version."""
    (folder / "CMakeLists.txt").write_text(PROJECT.format(version=version), encoding="utf-8")
    cmake = shutil.which("cmake")
    assert cmake
    done = subprocess.run(
        [
            cmake,
            "-G",
            "Ninja",
            "-S",
            folder,
            "-B",
            folder / "build",
            f"-DCMAKE_PREFIX_PATH={prefix()}",
            *options,
        ],
        capture_output=True,
        text=True,
        check=True,
    )
    return done.stdout + done.stderr


def test_cmake_gives_this_minor_version_and_no_other(tmp_path: Path) -> None:
    """In 0.x the second number may change what callers see."""
    major, minor, _ = planform.__version__.split(".")
    for name in ("this", "next"):
        (tmp_path / name).mkdir()
    said = asked(tmp_path / "this", f"{major}.{minor}")
    assert "found: 1" in said
    # The target for callers with kernel shapes brings the kernel's headers along.
    headers = re.search(r"headers: (.*)", said)
    assert headers and any(
        (Path(folder) / "TopoDS_Shape.hxx").exists() for folder in headers[1].split(";")
    )
    assert "found: 0" in asked(tmp_path / "next", f"{major}.{int(minor) + 1}")


def test_another_kernel_is_refused_with_both_versions(tmp_path: Path) -> None:
    (tmp_path / "OpenCASCADEConfig.cmake").write_text(OTHER_KERNEL, encoding="utf-8")
    said = asked(tmp_path, "", f"-DOpenCASCADE_DIR={tmp_path}")
    assert "found: 0" in said or "found: FALSE" in said
    assert re.search(r"planform was built with Open CASCADE 7\.\d+\.\d+, found is 7\.99\.0", said)


def test_the_name_that_programs_load_says_the_same_as_the_version_file() -> None:
    lines = (ROOT / "lib" / "CMakeLists.txt").read_text(encoding="utf-8")
    assert "SOVERSION ${PROJECT_VERSION_MAJOR}.${PROJECT_VERSION_MINOR}" in lines
    assert "COMPATIBILITY SameMinorVersion" in lines


@pytest.mark.skipif(shutil.which("pkg-config") is None, reason="pkg-config is not installed")
@pytest.mark.parametrize("name", ["planform", "planform-occt"])
def test_pkg_config_names_what_is_there(name: str) -> None:
    (folder,) = prefix().rglob("pkgconfig")
    options = subprocess.run(
        ["pkg-config", "--cflags", "--libs", name],
        env=dict(os.environ, PKG_CONFIG_PATH=str(folder)),
        capture_output=True,
        text=True,
        check=True,
    ).stdout.split()
    headers = [Path(option[2:]) for option in options if option.startswith("-I")]
    assert any((folder / "planform" / "planform.hpp").exists() for folder in headers)
    libraries = [Path(option[2:]) for option in options if option.startswith("-L")]
    assert "-lplanform" in options
    assert any(list(folder.glob("libplanform.*")) for folder in libraries)
    kernel = [option[2:] for option in options if option.startswith("-lTK")]
    assert {"TKernel", "TKBRep"} <= set(kernel)
    for toolkit in kernel:
        names = [f"lib{toolkit}.so", f"lib{toolkit}.a"]
        assert any(
            (place / name).exists()
            for place in [*libraries, Path("/usr/lib"), Path("/usr/lib/x86_64-linux-gnu")]
            for name in names
        ), toolkit


def test_the_licence_is_installed() -> None:
    (found,) = prefix().glob("share/doc/*/LICENSE")
    assert found.read_text() == (ROOT / "LICENSE").read_text()
