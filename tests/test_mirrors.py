"""Each module has a test of its name, or a line in tests/mirrors.py that says where it is tested; none is too long."""

from __future__ import annotations

import ast
from fnmatch import fnmatch
from functools import cache
from pathlib import Path

import pytest

from mirrors import LINES, SOURCE, TESTS, line_of, modules, own_test

MODULES = modules()
EVERY_TEST = sorted(TESTS.rglob("test_*.py"))
LONGEST = 400
"""Lines of a module: one that is longer has more than one thing to say."""


THE_DOOR = [f"evenheft.cli.{path.stem}" for path in (SOURCE / "cli").glob("*.py")]
"""Commands, which are imported by their names when they are called."""


@cache
def imported(path: Path) -> frozenset[str]:
    """Dotted names that a file imports, wherever in it; whoever opens the door may call any command."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            names.update([node.module, *(f"{node.module}.{alias.name}" for alias in node.names)])
    if any(name.startswith("evenheft.cli") for name in names):
        names.update(THE_DOOR)
    return frozenset(names)


@cache
def reached_from(path: Path) -> frozenset[Path]:
    """Every file of the package, and helper of the tests, that is imported with a file."""
    seen: set[Path] = set()
    waiting = [path]
    while waiting:
        here = waiting.pop()
        for name in imported(here):
            parts = name.split(".")
            base = SOURCE.parent if parts[0] == "evenheft" else TESTS
            packages = [base.joinpath(*parts[:depth], "__init__.py") for depth in range(1, len(parts) + 1)]
            for found in (*packages, base.joinpath(*parts).with_suffix(".py")):
                if found.exists() and found not in seen:
                    seen.add(found)
                    waiting.append(found)
    return frozenset(seen)


@pytest.mark.parametrize("module", MODULES)
def test_a_module_is_tested_under_its_name_or_where_a_line_says(module: str) -> None:
    assert own_test(module) or line_of(module), f"tests/mirrors.py lacks a line for {module}"


@pytest.mark.parametrize("named", LINES)
def test_a_line_names_what_is_there(named: str) -> None:
    tested = [module for module in MODULES if fnmatch(module, named)]
    assert tested, f"no module is called {named}"
    for test in LINES[named]:
        assert (TESTS / test).exists(), f"{named}: {test} is not there"


@pytest.mark.parametrize("module", [module for module in MODULES if not own_test(module)])
def test_the_tests_that_a_line_names_import_the_module(module: str) -> None:
    path = SOURCE / module
    if module in ("__init__.py", "__main__.py", "hosts/calc/component.py"):
        return  # run as a program, or imported by its package's name
    named = [TESTS / test for test in line_of(module)]
    of_a_folder = module not in LINES  # of a folder's modules each has some test, and the line names the main ones
    assert any(path in reached_from(test) for test in (*named, *(EVERY_TEST if of_a_folder else ()))), (
        f"{module}: no test imports it"
    )


def test_no_module_is_longer_than_a_reader_wants() -> None:
    lengths = {
        path.relative_to(SOURCE).as_posix(): path.read_text(encoding="utf-8").count("\n")
        for path in SOURCE.rglob("*.py")
    }
    assert {module: lines for module, lines in lengths.items() if lines > LONGEST} == {}
