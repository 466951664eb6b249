"""Notebooks run in kernels and put into the site with their outputs; a gallery of their pictures."""

from __future__ import annotations

import base64
import hashlib
import os
import tempfile
from pathlib import Path

import nbformat
import planform
from nbclient import NotebookClient

PICTURES = {"image/svg+xml": ".svg", "image/png": ".png"}


def run(notebook: Path, cache: Path) -> nbformat.NotebookNode:
    """The notebook with its outputs; from the cache if it, the package and its sources are as they were."""
    sources = Path(planform.__file__).parent
    digest = hashlib.sha256(notebook.read_bytes())
    used = [*sources.rglob("*.py"), *sources.glob("*.so")]
    if prefix := os.environ.get("PLANFORM_PREFIX"):  # what the notebook on C++ compiles against
        used += [*Path(prefix).rglob("*.hpp"), *Path(prefix).rglob("libplanform.*")]
    for path in sorted(path for path in used if path.is_file()):
        digest.update(path.read_bytes())
    kept = cache / f"{notebook.stem}-{digest.hexdigest()[:16]}.ipynb"
    if not kept.exists():
        node = nbformat.read(notebook, as_version=4)
        with tempfile.TemporaryDirectory() as folder:
            NotebookClient(node, timeout=300, resources={"metadata": {"path": folder}}).execute()
        cache.mkdir(parents=True, exist_ok=True)
        for old in cache.glob(f"{notebook.stem}-*.ipynb"):
            old.unlink()
        kept.write_text(nbformat.writes(node), encoding="utf-8")
    return nbformat.read(kept, as_version=4)


def title_and_question(node: nbformat.NotebookNode) -> tuple[str, str]:
    """The heading of a notebook, and what stands under it."""
    title, question, *_ = node.cells[0].source.split("\n\n")
    return title.removeprefix("# "), question.strip("*").replace("\n", " ")


def picture(node: nbformat.NotebookNode) -> tuple[str, bytes] | None:
    """The last picture of a notebook, with the end of its name."""
    found = None
    for cell in node.cells:
        for output in cell.get("outputs", []):
            data = output.get("data", {})
            html = data.get("text/html", "")
            if "<svg" in html:
                svg = html[html.index("<svg") : html.index("</svg>") + len("</svg>")]
                if 'xmlns="' not in svg:
                    svg = svg.replace("<svg", '<svg xmlns="http://www.w3.org/2000/svg"', 1)
                found = ".svg", svg.replace("currentColor", "#5b6470").encode()
            elif "image/svg+xml" in data:
                found = ".svg", "".join(data["image/svg+xml"]).encode()
            elif "image/png" in data:
                found = ".png", base64.b64decode(data["image/png"])
    return found


def write(folder: Path, jobs: Path, cache: Path, *, execute: bool) -> None:
    """Fill the notebooks of a folder with their outputs and write the page that shows them all."""
    cards, entries = [], []
    for path in sorted(folder.glob("*.ipynb")):
        node = run(path, cache) if execute else nbformat.read(path, as_version=4)
        path.write_text(nbformat.writes(node), encoding="utf-8")
        title, question = title_and_question(node)
        shown = picture(node)
        image = ""
        if shown is not None:
            file = folder / "gallery" / f"{path.stem}{shown[0]}"
            file.parent.mkdir(exist_ok=True)
            file.write_bytes(shown[1])
            image = f"![{title}](notebooks/gallery/{file.name})\n\n"
        link = f"**[{title}](notebooks/{path.name})**"
        cards.append(f"::::{{container}} card\n{image}{link}\n\n{question}\n::::\n")
        entries.append(f"notebooks/{path.stem}")
    jobs.write_text(
        "# Jobs\n\nOne notebook a job. Each opens with the question that it answers, and runs as it "
        "stands.\n\n"
        ":::::{container} gallery\n" + "\n".join(cards) + ":::::\n\n```{toctree}\n:hidden:\n\n"
        + "\n".join(entries) + "\n```\n",
        encoding="utf-8",
    )  # fmt: skip
