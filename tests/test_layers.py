"""One row of stages: a module may import only what stands above it. An import that goes down the tree fails here."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1] / "compiler"

LAYERS = (
    ("frozen",),
    ("font_coverage", "fallback", "cellref", "counting", "folding", "quantities", "exits"),
    ("printable",),
    ("flags.model",),
    ("flags.catalogue", "flags.nearest"),
    ("flags",),
    ("source",),
    ("notation",),
    ("schema",),
    ("model",),
    ("binding",),
    ("checks",),
    ("resolve",),
    ("review",),
    ("progress",),
    ("documents",),
    ("layout",),
    ("render",),
    ("file_names", "files_disk"),
    ("files_decision",),
    ("files",),
    ("files_printed",),
    ("files_waiting",),
    ("demo",),
    ("pipeline",),
    ("fallback_files",),
    ("api",),
    ("terminal",),
    ("told", "speaking"),
    ("watch",),
    ("cli",),
    ("__main__",),
)
"""From the top of the tree down. Modules of one entry may import each other and everything in the entries above."""

LATE = {
    "cli.py": "bodies of commands",
    "speaking.py": "what is said when all is done",
    "__init__.py": "the package's __getattr__",
}
"""The only files that may import inside a function, and where."""

RANK = {name: rank for rank, names in enumerate(LAYERS) for name in names}

MODULES = sorted(path for path in ROOT.rglob("*.py") if path.parent != ROOT or path.name != "__init__.py")


def _name(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(part for part in parts if part != "__init__")


def _rank(module: str) -> int:
    """Return the layer of a module: its own entry, or that of the nearest folder above it."""
    name = module
    while name:
        if name in RANK:
            return RANK[name]
        name = name.rpartition(".")[0]
    raise AssertionError(f"{module} has no place in LAYERS")


def _imports(tree: ast.AST) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("compiler."):
            yield node.module.removeprefix("compiler.")
        elif isinstance(node, ast.Import):
            yield from (
                name.name.removeprefix("compiler.")
                for name in node.names
                if name.name.startswith("compiler.")
            )


@pytest.mark.parametrize("path", MODULES, ids=_name)
def test_imports_go_up(path: Path) -> None:
    """No module imports one that stands below it."""
    own = _rank(_name(path))
    tree = ast.parse(path.read_text(encoding="utf-8"))
    assert [name for name in _imports(tree) if _rank(name) > own] == []


@pytest.mark.parametrize("path", MODULES, ids=_name)
def test_imports_stand_at_the_top(path: Path) -> None:
    """Imports inside functions hide cycles; only the listed files have them, to start quickly."""
    if path.name in LATE and path.parent == ROOT:
        return
    tree = ast.parse(path.read_text(encoding="utf-8"))
    inside = [
        node.lineno
        for function in ast.walk(tree)
        if isinstance(function, ast.FunctionDef | ast.AsyncFunctionDef)
        for node in ast.walk(function)
        if isinstance(node, ast.Import | ast.ImportFrom)
    ]
    assert inside == []


@pytest.mark.parametrize("path", MODULES, ids=_name)
def test_modules_stay_small(path: Path) -> None:
    """A module over 400 lines is two."""
    assert len(path.read_text(encoding="utf-8").splitlines()) <= 400


def test_only_drawing_knows_reportlab() -> None:
    """The PDF library is known to render/ and to layout's font metrics alone; pandas to the summary alone."""
    users: dict[str, set[str]] = {"reportlab": set(), "pandas": set()}
    for path in MODULES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            names = [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            names += [name.name for name in node.names] if isinstance(node, ast.Import) else []
            for name in names:
                if name.split(".")[0] in users:
                    users[name.split(".")[0]].add(_name(path))
    assert all(name.startswith(("render.", "layout.")) for name in users["reportlab"])
    assert all(name.startswith("documents.summary") for name in users["pandas"])
