"""Adds to a wheel what belongs to the libraries inside: licences, where their sources are, a list.

bundle.py WHEEL     in place; prints the list; fails where a library of a viewer has come in
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
from dataclasses import dataclass, field
from importlib.metadata import distribution
from pathlib import Path

# Of each package whose headers are compiled in one header; pybind11 comes from pip.
HEADERS = ("eigen3/Eigen/Core", "boost/polygon/voronoi.hpp", "xxhash.h", "nlohmann/json.hpp")
# Toolkits of the kernel's viewer, and what they stand on.
OF_A_VIEWER = re.compile(
    r"lib(TKService|TKV3d|TKVCAF|TKXCAF|TKOpenGl|X11|xcb|GL|EGL|freetype|fontconfig|freeimage|OpenEXR|tcl|tk)\b",
    re.IGNORECASE,
)
COMMON_LICENCES = Path("/usr/share/common-licenses")


@dataclass
class Bundled:
    """A Debian package of which something is in the wheel."""

    package: str
    version: str
    source: str
    source_version: str
    libraries: list[str] = field(default_factory=list)

    @property
    def copyright(self) -> str:
        return (Path("/usr/share/doc") / self.package / "copyright").read_text()

    @property
    def licence(self) -> str:
        """The short name that the copyright file (format 1.0) gives for all files, or for the first ones."""
        for pattern in (r"^Files: \*\n(?:.*\n)*?License: *(.+)$", r"^License: *(.+)$"):
            if match := re.search(pattern, self.copyright, re.MULTILINE):
                return match[1].strip()
        return "see the text"


def run(*command: str) -> str:
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout


def described(package: str) -> Bundled:
    fields = "${Package}\t${Version}\t${source:Package}\t${source:Version}"
    return Bundled(*run("dpkg-query", "--show", f"--showformat={fields}", package).split("\t"))


def package_with(file: str) -> str:
    return run("dpkg-query", "--search", f"*/{file}").splitlines()[0].split(":")[0]


def package_of(library: str) -> str:
    """Of a library that has been given a number of its own: libx-0123abcd.so.1 is libx.so.1."""
    return package_with(re.sub(r"-[0-9a-f]{8}(?=\.so)", "", library))


def packages_in(folder: Path) -> list[Bundled]:
    """One entry a package, sorted, with its libraries; then those whose headers are compiled in."""
    found: dict[str, Bundled] = {}
    for library in sorted(path.name for path in folder.glob("*.libs/*")):
        if OF_A_VIEWER.match(library):
            sys.exit(f"wheel: {library} is of a viewer and must not be in the wheel")
        package = package_of(library)
        found.setdefault(package, described(package)).libraries.append(library)
    headers = [described(package_with(f"include/{header}")) for header in HEADERS]
    return sorted(found.values(), key=lambda entry: entry.package) + headers


def table(entries: list[Bundled], release: str) -> str:
    """Markdown: what is inside, under which licence, and where the sources are."""
    lines = [
        "# What this wheel carries",
        "",
        "planform is under the MIT licence. Inside are libraries of others, under their own: shared ones in",
        "`planform.libs`, as the distribution below made them, and headers that are compiled in. Their",
        "licences lie beside this file. A shared library may be replaced by a build of your own: give it the",
        "name and the soname of the one that is here.",
        "",
        "| package | version | licence | libraries |",
        "| --- | --- | --- | --- |",
    ]
    lines += [
        f"| {entry.package} | {entry.version} | {entry.licence} | {', '.join(entry.libraries) or 'headers'} |"
        for entry in entries
    ]
    pybind11 = distribution("pybind11")
    lines += [
        f"| pybind11 (Python package) | {pybind11.version} | BSD-3-Clause | headers |",
        "",
        f"The sources are those of {release}: each copyright file names where they come from, and a machine",
        "with that distribution fetches the very ones by",
        "",
        "```sh",
        *sorted({f"apt-get source {entry.source}={entry.source_version}" for entry in entries}),
        "```",
        "",
    ]
    return "\n".join(lines)


def release_name() -> str:
    text = Path("/etc/os-release").read_text()
    match = re.search(r'^PRETTY_NAME="?([^"\n]+)', text, re.MULTILINE)
    return match[1] if match else "the distribution that it was built on"


def write_licences(folder: Path, entries: list[Bundled]) -> list[str]:
    """Names of the files, relative to the folder of licences."""
    texts = {f"{entry.package}.txt": entry.copyright for entry in entries}
    for text in list(texts.values()):
        for name in re.findall(r"/usr/share/common-licenses/([A-Za-z0-9.-]*[A-Za-z0-9])", text):
            if (COMMON_LICENCES / name).is_file():
                texts[f"{name}.txt"] = (COMMON_LICENCES / name).read_text()
    licence = [path for path in distribution("pybind11").files or [] if path.name == "LICENSE"]
    texts["pybind11.txt"] = Path(str(licence[0].locate())).read_text()
    texts["BUNDLED.md"] = table(entries, release_name())
    for name, text in texts.items():
        (folder / name).write_text(text)
    return sorted(texts)


def print_list(wheel: Path, folder: Path, entries: list[Bundled]) -> None:
    unpacked = sum(path.stat().st_size for path in folder.rglob("*") if path.is_file())
    print(f"{wheel.name}: {wheel.stat().st_size / 1e6:.1f} MB, {unpacked / 1e6:.1f} MB installed")
    for entry in entries:
        for library in entry.libraries:
            size = next(folder.glob(f"*.libs/{library}")).stat().st_size
            print(
                f"  {size / 1e6:6.2f} MB  {library}  ({entry.package} {entry.version}, {entry.licence})"
            )


def main(wheel: Path) -> None:
    with tempfile.TemporaryDirectory() as temporary:
        run(sys.executable, "-m", "wheel", "unpack", "--dest", temporary, str(wheel))
        folder = next(Path(temporary).iterdir())
        entries = packages_in(folder)
        information = next(folder.glob("*.dist-info"))
        place = information / "licenses" / "bundled"
        place.mkdir(parents=True, exist_ok=True)
        names = write_licences(place, entries)
        metadata = information / "METADATA"
        text = metadata.read_text()
        listed = "".join(f"License-File: bundled/{name}\n" for name in names)
        head, separator, rest = text.partition("License-File: LICENSE\n")
        if not separator:
            sys.exit("wheel: the metadata name no licence file of planform's")
        metadata.write_text(head + separator + listed + rest)
        wheel.unlink()
        run(sys.executable, "-m", "wheel", "pack", "--dest-dir", str(wheel.parent), str(folder))
        print_list(wheel, folder, entries)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
