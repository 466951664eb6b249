"""How Sphinx builds the site; `.ci/docs` puts the sources together and calls it."""

import inspect
import os
import re
import sys
import tomllib
import types
from pathlib import Path
from typing import Any

from sphinx.ext.napoleon import GoogleDocstring

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
sys.path.insert(0, str(HERE))

settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
project = settings["name"]
release = version = settings["version"]
project_copyright = ""
html_title = f"planform {release}"

extensions = [
    "sphinx.ext.autodoc",
    "sphinx.ext.napoleon",
    "myst_nb",
    "breathe",
]
root_doc = "index"
exclude_patterns = ["**.ipynb_checkpoints"]
# Docstrings write names of parameters in single backticks.
default_role = "code"
nitpicky = False
toc_object_entries = True
toc_object_entries_show_parents = "hide"
add_module_names = False
python_use_unqualified_type_names = True
maximum_signature_line_length = 88

autodoc_member_order = "bysource"
autodoc_typehints = "signature"
napoleon_google_docstring = False
napoleon_use_param = False
napoleon_use_rtype = False
napoleon_use_admonition_for_examples = False

breathe_projects = {"planform": os.environ.get("PLANFORM_DOXYGEN_XML", "")}
breathe_default_project = "planform"
breathe_show_include = False
breathe_order_parameters_first = False
cpp_index_common_prefix = ["planform::"]

myst_enable_extensions = ["colon_fence", "deflist", "attrs_inline", "attrs_block"]
myst_heading_anchors = 3
# build.py has run them.
nb_execution_mode = "off"
nb_merge_streams = True

html_theme = "furo"
html_static_path = [str(HERE / "static")]
html_css_files = ["site.css"]
html_theme_options = {
    "footer_icons": [],
    "light_css_variables": {"color-brand-primary": "#8a3a12", "color-brand-content": "#8a3a12"},
    "dark_css_variables": {"color-brand-primary": "#f0a57a", "color-brand-content": "#f0a57a"},
}
html_show_sphinx = False
html_show_copyright = False
html_copy_source = False
html_use_index = True
# Words in types ("width") that several classes have as members are no references.
suppress_warnings = ["ref.python"]


def shortened(signature: str) -> str:
    """A signature as people read it: no modules, numbers as `float` and `int`."""
    for long, short in (
        (r"typing\.SupportsFloat \| typing\.SupportsIndex", "float"),
        (r"typing\.SupportsInt \| typing\.SupportsIndex", "int"),
        (r'typing\.Annotated\[numpy\.typing\.ArrayLike, numpy\.float64, "[^"]*"\]', "ArrayLike"),
        (r'typing\.Annotated\[numpy\.typing\.NDArray\[numpy\.float64\], "[^"]*"\]', "ndarray"),
        (r"numpy\.typing\.NDArray\[numpy\.\w+\]", "ndarray"),
        (r"os\.PathLike \| str \| bytes", "PathLike | str"),
        (r"planform\.(?:\w+\.)*(?=\w)", ""),
        (r"(?:collections\.abc|typing|pathlib|numpy)\.", ""),
    ):
        signature = re.sub(long, short, signature)
    return signature


def process_signature(
    _app: Any, what: str, _name: str, _obj: Any, _options: Any, signature: str, returned: str
) -> tuple[str, str] | None:
    if signature is None:
        return None
    if what == "class" and "*args" in signature:
        return "", ""  # made by functions, not by callers
    if what in ("class", "exception"):
        returned = ""
    # Long lists of words stand in the text.
    signature = re.sub(
        r"Literal\[('[^\]]{160,}')\]", "str", shortened(signature).replace("(self: object, ", "(")
    )
    signature = re.sub(r"^\(self: \w+(?:, )?", "(", signature)
    return signature, shortened(returned or "")


def process_docstring(
    _app: Any, _what: str, _name: str, _obj: Any, _options: Any, lines: list[str]
) -> None:
    """Bars of |values| are no substitutions; overloads are told one after the other."""
    text = "\n".join(lines)
    text = re.sub(r"(?<!\|)\|(?!\|)", r"\\|", text) if "|" in text and ">>>" not in text else text
    text = re.sub(
        r"^(\d)\. (\w+)(\(self.*|\(.*->.*)$",
        lambda m: f"**{m[2]}** ``{shortened(m[3])}``",
        text,
        flags=re.MULTILINE,
    )
    text = re.sub(r"^__init__\(.*\) -> None$", "", text, flags=re.MULTILINE)
    text = re.sub(r"^Initialize self\.  See help.*$", "", text, flags=re.MULTILINE)
    lines[:] = text.replace("Overloaded function.\n", "").splitlines()


def skip_member(
    _app: Any, _what: str, name: str, obj: Any, skip: bool, _options: Any
) -> bool | None:
    # What Python's own exceptions bring along is documented there.
    if name in ("add_note", "with_traceback", "args") and inspect.ismethoddescriptor(obj):
        return True
    if isinstance(obj, types.MethodType) and name == "__init__":
        return True
    return None


def setup(app: Any) -> None:
    # A colon in the text of a property ends no type.
    GoogleDocstring._parse_attribute_docstring = lambda self: self._consume_to_end()
    app.connect("autodoc-process-signature", process_signature)
    app.connect("autodoc-process-docstring", process_docstring)
    app.connect("autodoc-skip-member", skip_member)
