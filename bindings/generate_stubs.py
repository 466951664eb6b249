"""Write python/planform/_planform.pyi from the built module, or compare it with the one that is there.

    python bindings/generate_stubs.py            writes the stubs
    python bindings/generate_stubs.py --check    exit status 1 and a difference if they are out of date

The package `planform` must be importable, with the module that the sources build.
"""

import argparse
import difflib
import re
import subprocess
import sys
import tempfile
from pathlib import Path

STUB = Path(__file__).resolve().parents[1] / "python" / "planform" / "_planform.pyi"


# Python 3.13 takes the indentation out of docstrings when it compiles them, earlier ones don't: the
# methods that Python adds to the module's classes get the same text under both.
GENERATOR = """
import inspect, sys, types
import planform._planform as module
from pybind11_stubgen import main

all_arguments = inspect.getfullargspec


def of_python(function):
    # What is compiled shows names and defaults; the line in its docstring has the types, too.
    if not isinstance(function, types.FunctionType | types.MethodType):
        raise TypeError
    return all_arguments(function)


inspect.getfullargspec = of_python
for owner in vars(module).values():
    for name in dir(owner) if isinstance(owner, type) else []:
        getattr(owner, name, None)  # some are loaded when they are first asked for
    for member in list(vars(owner).values()) if isinstance(owner, type) else []:
        function = getattr(member, "__func__", getattr(member, "fget", member))
        if isinstance(function, types.FunctionType) and function.__doc__:
            function.__doc__ = inspect.cleandoc(function.__doc__)
            if isinstance(member, property):  # it has a copy
                member.__doc__ = function.__doc__
main(sys.argv[1:])
"""


def generated_text() -> str:
    """The stubs of the module that Python imports now."""
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run(
            [
                sys.executable,
                "-c",
                GENERATOR,
                "planform._planform",
                "--output-dir",
                folder,
                "--numpy-array-use-type-var",
                "--exit-code",
            ],
            check=True,
            capture_output=True,
            text=True,
        )
        return readable((Path(folder) / "planform" / "_planform.pyi").read_text())


def readable(text: str) -> str:
    """The text without what depends on the machine, and with plain numbers as callers give them."""
    text = text.replace("typing.SupportsFloat | typing.SupportsIndex", "float")
    text = text.replace("typing.SupportsInt | typing.SupportsIndex", "int")
    text = text.replace("os.PathLike |", "os.PathLike[str] |")
    text = text.replace("arg0: tuple)", "arg0: tuple[typing.Any, ...])")
    text = text.replace("-> tuple:", "-> tuple[typing.Any, ...]:")
    text = text.replace("-> list:", "-> list[typing.Any]:")
    text = text.replace("tuple[type, tuple[list]]", "tuple[typing.Any, ...]")
    text = text.replace("memo: dict)", "memo: dict[typing.Any, typing.Any])")
    text = text.replace(
        "__hash__: typing.ClassVar[None] = None",
        "__hash__: typing.ClassVar[None] = None  # type: ignore[assignment]",
    )
    # Classes that callers don't make have no constructor worth a line.
    text = re.sub(
        r"    def __init__\(self, \*args, \*\*kwargs\) -> None:\n        \.\.\.\n", "", text
    )
    text = re.sub(r"[ \t]+$", "", text, flags=re.MULTILINE)
    return text.rstrip() + "\n"


def difference(old: str, new: str) -> str:
    """What would change, as a unified diff; empty if nothing."""
    return "".join(
        difflib.unified_diff(
            old.splitlines(keepends=True),
            new.splitlines(keepends=True),
            f"{STUB.name} (in the repository)",
            f"{STUB.name} (of the module)",
        )
    )


def main(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="compare, don't write")
    options = parser.parse_args(arguments)
    text = generated_text()
    if not options.check:
        STUB.write_text(text)
        return 0
    changes = difference(STUB.read_text() if STUB.exists() else "", text)
    sys.stdout.write(changes)
    return 1 if changes else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
