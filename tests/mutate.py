"""Small faults put into the program, to see whether a test notices: `python -m tests.mutate --lines 20 --seed 1`.

Lines are chosen at random, one fault is made in each (`<` for `<=`, `+` for `-`, a `not` left out, arguments swapped,
a constant one off, a return left out), in a copy of the tree, and the tests of that part of the program are run there.
What no test notices is printed as survived: it wants a test, or a reason why the program is the same with it.
"""

from __future__ import annotations

import ast
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from random import Random

import click

ROOT = Path(__file__).parents[1]
COPIED = ("compiler", "tests", "workbook_templates", "examples", "README.md", "DEVELOPERS.md", "pyproject.toml")
SITUATIONS = tuple(f"tests/test_{name}.py" for name in ("cases", "example_loads", "properties", "generated"))
LONGEST_SECONDS = 600
"""A fault may make a loop endless; tests that have not ended by then have noticed it."""

OPERATORS: dict[type[ast.AST], type[ast.AST]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Mult,
    ast.And: ast.Or, ast.Or: ast.And,
}  # fmt: skip
NAMES = {"min": "max", "max": "min", "any": "all", "all": "any", "low": "high", "high": "low"}


@dataclass(frozen=True, slots=True)
class Fault:
    """Text put in place of a node's; lines and columns count as in `ast`, columns in bytes."""

    line: int
    column: int
    end_line: int
    end_column: int
    text: str

    def put_into(self, source: str) -> str:
        """Return the source with the fault in it."""
        lines = source.encode().splitlines(keepends=True)
        before, after = lines[self.line - 1][: self.column], lines[self.end_line - 1][self.end_column :]
        lines[self.line - 1 : self.end_line] = [before + self.text.encode() + after]
        return b"".join(lines).decode()


def faults(source: str) -> Iterator[Fault]:
    """Yield every fault that can be put into a module, in the order of its lines."""
    tree = ast.parse(source)
    skipped = {id(inner) for node in ast.walk(tree) for outer in _untouched(node) for inner in ast.walk(outer)}
    found = [
        Fault(node.lineno, node.col_offset, node.end_lineno or 0, node.end_col_offset or 0, text)
        for outer in ast.walk(tree)
        if id(outer) not in skipped
        for node, text in _changed(outer)
        if id(node) not in skipped
    ]
    yield from sorted(found, key=lambda fault: (fault.line, fault.column, fault.text))


def _untouched(node: ast.AST) -> Iterator[ast.AST]:
    """Yield what no test could notice a fault in: types, decorators, precautions, widths, texts, tables of examples."""
    match node:
        case ast.AnnAssign(target=ast.Name(id="EXAMPLES" | "REFUSED" | "__all__")):
            yield node
        case ast.keyword(arg="strict" | "width"):
            yield node.value
        case ast.AnnAssign():
            yield node.annotation
        case ast.FunctionDef():
            yield from (node.args, *node.decorator_list, *([node.returns] if node.returns else []))
        case ast.ClassDef():
            yield from node.decorator_list
        case ast.If(test=ast.Name(id="TYPE_CHECKING")) | ast.JoinedStr():
            yield node


def _changed(node: ast.AST) -> Iterator[tuple[ast.expr | ast.stmt, str]]:
    """Yield what could stand by a slip in place of an expression or a statement."""
    match node:
        case ast.Compare(ops=[op, *more]) if type(op) in OPERATORS:
            yield node, ast.unparse(ast.Compare(node.left, [OPERATORS[type(op)](), *more], node.comparators))
        case ast.BinOp() if type(node.op) in OPERATORS and not _is_text(node.left) and not _is_text(node.right):
            yield node, f"({ast.unparse(ast.BinOp(node.left, OPERATORS[type(node.op)](), node.right))})"
        case ast.BoolOp():
            yield node, f"({ast.unparse(ast.BoolOp(OPERATORS[type(node.op)](), node.values))})"
        case ast.UnaryOp(op=ast.Not() | ast.USub()):
            yield node, f"({ast.unparse(node.operand)})"
        case ast.IfExp():
            yield node, f"({ast.unparse(ast.IfExp(node.test, node.orelse, node.body))})"
        case ast.Call(args=[first, second, *rest]) if _may_be_swapped(node):
            yield node, ast.unparse(ast.Call(node.func, [second, first, *rest], node.keywords))
        case ast.Constant(value=bool()):
            yield node, str(not node.value)
        case ast.Constant(value=int()):
            yield node, str(node.value + 1)
        case ast.Name() if node.id in NAMES:
            yield node, NAMES[node.id]
        case ast.Attribute() if node.attr in NAMES:
            yield node, f"{ast.unparse(node.value)}.{NAMES[node.attr]}"
        case ast.If(body=[*_, ast.Return() | ast.Raise() as last]):
            yield last, "pass"


def _may_be_swapped(call: ast.Call) -> bool:
    """Tell whether the first two arguments are of a kind, so that a slip could swap them unseen."""
    first, second = call.args[:2]
    return type(first) is type(second) and not isinstance(first, ast.Starred | ast.Constant)


def _is_text(node: ast.AST) -> bool:
    return isinstance(node, ast.JoinedStr) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


def chosen(lines: int, seed: int, under: tuple[str, ...]) -> list[tuple[Path, Fault]]:
    """Return so many lines of the program at random, with a fault in each; the same seed, the same faults."""
    random = Random(seed)  # noqa: S311 - no secret
    by_line: dict[tuple[Path, int], list[Fault]] = {}
    for path in sorted((ROOT / "compiler").rglob("*.py")):
        place = path.relative_to(ROOT)
        if not under or place.relative_to("compiler").as_posix().startswith(under):
            for fault in faults(path.read_text(encoding="utf-8")):
                by_line.setdefault((place, fault.line), []).append(fault)
    picked = random.sample(sorted(by_line), min(lines, len(by_line)))
    return [(place, random.choice(by_line[place, line])) for place, line in picked]


def likely_tests(place: Path) -> list[tuple[str, ...]]:
    """Return the tests most likely to notice a fault in a module: those beside it or naming it, then situations."""
    beside = Path("tests/unit", place.parts[1])
    module = ".".join(place.with_suffix("").parts)
    naming = tuple(
        str(path.relative_to(ROOT))
        for path in sorted((ROOT / "tests").rglob("test_*.py"))
        if ROOT / beside not in path.parents and module in path.read_text(encoding="utf-8")
    )
    groups = (naming, (str(beside),) * (ROOT / beside).is_dir(), SITUATIONS)
    return [group for group in groups if group]


def noticed(tree: Path, groups: list[tuple[str, ...]]) -> str:
    """Return the first test that fails in a tree, empty where none does."""
    for group in groups:
        command = [sys.executable, "-m", "pytest", "-q", "-x", "--tb=no", "-p", "no:cacheprovider", *group]
        environment = {**os.environ, "PYTHONPATH": str(tree), "PYTHONDONTWRITEBYTECODE": "1"}
        try:
            done = subprocess.run(
                command, cwd=tree, env=environment, capture_output=True, check=False, text=True, timeout=LONGEST_SECONDS
            )
        except subprocess.TimeoutExpired:
            return "took too long"
        if done.returncode:
            said = [line for line in done.stdout.splitlines() if line.startswith(("FAILED", "ERROR"))]
            return said[0].split(" - ")[0] if said else f"pytest ended with {done.returncode}"
    return ""


@click.command()
@click.option("--lines", type=int, default=20, show_default=True, help="How many faults.")
@click.option("--seed", type=int, default=1, show_default=True, help="Of the choice.")
@click.option("--under", multiple=True, help="Choose below compiler/ here alone: resolve, notation/load.")
@click.option("--tests", multiple=True, help="Run these, in place of the tests beside the module and the situations.")
def main(lines: int, seed: int, under: tuple[str, ...], tests: tuple[str, ...]) -> None:
    """Put faults into a copy of the program, one at a time; print which of them a test notices."""
    survived = 0
    with tempfile.TemporaryDirectory() as folder:
        tree = Path(folder)
        for name in COPIED:
            copy = shutil.copytree if (ROOT / name).is_dir() else shutil.copy
            copy(ROOT / name, tree / name)
        for place, fault in chosen(lines, seed, under):
            source = (ROOT / place).read_text(encoding="utf-8")
            (tree / place).write_text(fault.put_into(source), encoding="utf-8")
            by = noticed(tree, [tests] if tests else likely_tests(place))
            (tree / place).write_text(source, encoding="utf-8")
            survived += not by
            was = source.splitlines()[fault.line - 1].strip()
            click.echo(f"{by or 'SURVIVED'}\n    {place}:{fault.line}  {was}\n    now {fault.text}")
    click.echo(f"{survived} survived")


if __name__ == "__main__":
    main()
