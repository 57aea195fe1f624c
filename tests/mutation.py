"""Change mechanics and formulas a little, one change at a time, and see whether a test notices.

By hand, not in CI: it takes a minute or more for each module. A mutant is one operator or one number changed; the tests
that tests/mirrors.py names for its module are run until one fails. A mutant that all of them pass has survived: either
a test is missing, or the change means nothing (a hair's width, a number of rounds), and a reader decides which.

    .venv-tests/bin/python tests/mutation.py                                   # 8 mutants of each module, drawn by lot
    .venv-tests/bin/python tests/mutation.py --each 40 mechanics/doubt.py      # more of one module
    .venv-tests/bin/python tests/mutation.py --each 0 mechanics/doubt.py       # all of it
"""

from __future__ import annotations

import argparse
import ast
import copy
import importlib
import importlib.abc
import importlib.machinery
import importlib.util
import os
import random
import resource
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import CodeType, ModuleType

HOUSE = Path(__file__).resolve().parents[1]
SOURCE = HOUSE / "udfs" / "evenheft"
SECONDS = 240
"""More processor time than this no test takes: the mutant goes round in circles and is as good as noticed [s]."""
SWAPS: dict[type[ast.AST], type[ast.AST]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.Pow: ast.Mult,
    ast.FloorDiv: ast.Mult, ast.And: ast.Or, ast.Or: ast.And, ast.BitAnd: ast.BitOr, ast.BitOr: ast.BitAnd,
}  # fmt: skip


@dataclass(frozen=True)
class Mutant:
    """One small change."""

    line: int
    what: str
    tree: ast.Module


def mutants(tree: ast.Module) -> Iterator[Mutant]:
    """Every mutant of a module; texts, annotations and what only a type checker reads are left alone."""
    places = [node for node in walk(tree) if changed(node)]
    for at in range(len(places)):
        made = copy.deepcopy(tree)
        node = [node for node in walk(made) if changed(node)][at]
        before = ast.unparse(node)
        change(node)
        yield Mutant(getattr(node, "lineno", 0), f"{before}  ->  {ast.unparse(node)}", made)


def walk(node: ast.AST) -> Iterator[ast.AST]:
    for name, value in ast.iter_fields(node):
        if name in ("annotation", "returns", "type_comment"):
            continue
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.If) and "TYPE_CHECKING" in ast.unparse(child.test):
                continue
            if isinstance(child, ast.AST) and not isinstance(child, ast.JoinedStr | ast.Assert):
                yield child
                yield from walk(child)


def changed(node: ast.AST) -> bool:
    """Whether a node is one that is changed."""
    if isinstance(node, ast.BinOp):
        # A union of types is no arithmetic.
        return type(node.op) in SWAPS and not (isinstance(node.op, ast.BitOr) and "None" in ast.unparse(node))
    if isinstance(node, ast.Compare):
        return type(node.ops[0]) in SWAPS
    if isinstance(node, ast.UnaryOp):
        return isinstance(node.op, ast.Not | ast.USub)
    if isinstance(node, ast.Constant):
        return isinstance(node.value, bool | int | float)
    return isinstance(node, ast.BoolOp | ast.IfExp)


def change(node: ast.AST) -> None:
    """Change a node in its place."""
    if isinstance(node, ast.BinOp | ast.BoolOp):
        node.op = SWAPS[type(node.op)]()  # type: ignore[assignment]
    elif isinstance(node, ast.Compare):
        node.ops[0] = SWAPS[type(node.ops[0])]()  # type: ignore[call-overload]
    elif isinstance(node, ast.UnaryOp):
        node.op = ast.UAdd() if isinstance(node.op, ast.USub) else ast.Not()
        if isinstance(node.op, ast.Not):
            node.operand = ast.UnaryOp(ast.Not(), node.operand)
    elif isinstance(node, ast.IfExp):
        node.body, node.orelse = node.orelse, node.body
    elif isinstance(node, ast.Constant) and isinstance(node.value, bool):
        node.value = not node.value
    elif isinstance(node, ast.Constant) and isinstance(node.value, int | float):
        node.value = node.value + 1 if isinstance(node.value, int) or node.value == 0 else node.value * 1.25


class Loader(importlib.machinery.SourceFileLoader):
    """Loads a mutant in the place of its module."""

    code: CodeType

    def get_code(self, fullname: str) -> CodeType:  # noqa: ARG002  the importer's signature
        return self.code


class Finder(importlib.abc.MetaPathFinder):
    """Finds one module only."""

    def __init__(self, name: str, path: Path, code: CodeType) -> None:
        self.name, self.path, self.code = name, path, code

    def find_spec(
        self,
        fullname: str,
        path: Sequence[str] | None,  # noqa: ARG002
        target: ModuleType | None = None,  # noqa: ARG002
    ) -> importlib.machinery.ModuleSpec | None:
        if fullname != self.name:
            return None
        loader = Loader(fullname, str(self.path))
        loader.code = self.code
        return importlib.util.spec_from_file_location(fullname, self.path, loader=loader)


def noticed(path: Path, tree: ast.Module, tests: Sequence[str]) -> bool:
    """Whether a test fails with a mutant in the place of its module; in a child, so that nothing of it stays."""
    child = os.fork()
    if child == 0:
        resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))
        resource.setrlimit(resource.RLIMIT_AS, (6 << 30, 6 << 30))
        silence = os.open(os.devnull, os.O_WRONLY)
        os.dup2(silence, 1)
        os.dup2(silence, 2)
        code = 1
        try:
            import pytest

            name = ".".join(path.relative_to(SOURCE.parent).with_suffix("").parts)
            ast.fix_missing_locations(tree)
            sys.meta_path.insert(0, Finder(name, path, compile(tree, str(path), "exec")))
            importlib.import_module(name)
            options = ["-x", "-q", "-p", "no:cacheprovider", "--assert=plain", "--hypothesis-profile=quick"]
            code = int(pytest.main([*options, str(path), *tests]))
        finally:
            os._exit(code)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) != 0


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("modules", nargs="*", help="paths in udfs/evenheft; mechanics/ and formulas/ when left out")
    asked.add_argument("--each", type=int, default=8, help="mutants of each module, 0 for all")
    asked.add_argument("--seed", type=int, default=9)
    given = asked.parse_args()
    sys.path[:0] = [str(HOUSE / "udfs"), str(HOUSE / "tests")]
    os.chdir(HOUSE)
    for heavy in ("numpy", "hypothesis", "pytest", "scipy.stats", "scipy.optimize", "_pytest.doctest"):
        importlib.import_module(heavy)
    from mirrors import quick_tests_of

    if any(name.split(".")[0] == "evenheft" for name in sys.modules):
        raise SystemExit("evenheft is loaded already: mutants would not be seen")
    wanted = given.modules or sorted(
        str(path.relative_to(SOURCE)) for floor in ("mechanics", "formulas") for path in (SOURCE / floor).rglob("*.py")
    )
    total = survived = 0
    for module in wanted:
        path = SOURCE / module
        tree = ast.parse(path.read_text(encoding="utf-8"))
        found = list(mutants(tree))
        if given.each:
            found = random.Random(f"{given.seed} {module}").sample(found, min(given.each, len(found)))
        if not found:
            continue
        tests = quick_tests_of(module)
        if noticed(path, tree, tests):
            print(f"{module}: its tests fail as it is: {' '.join(tests)}", flush=True)
            continue
        left = [mutant for mutant in found if not noticed(path, mutant.tree, tests)]
        total, survived = total + len(found), survived + len(left)
        print(f"{module}: {len(left)} of {len(found)} survived", flush=True)
        for mutant in sorted(left, key=lambda mutant: mutant.line):
            print(f"    line {mutant.line}: {mutant.what}", flush=True)
    print(f"{survived} of {total} mutants survived")


if __name__ == "__main__":
    main()
