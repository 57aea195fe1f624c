"""The arrows of the house: an import goes down from one layer to the next, never up."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[1] / "udfs"
LAYERS = ("ooxml", "mechanics", "formulas", "python", "hosts", "order", "shop", "cli")
"""From the bottom of the house to its top; a module may import from its own layer and those before it."""
OWN_HOUSE = {
    "formualizer": ("evenheft/hosts/embedded.py",),
    "xlwings": ("evenheft/hosts/excel",),
    "pyopenvba": ("evenheft/hosts/excel/building/project.py",),
    "uno": ("evenheft/hosts/calc",),
}
"""Packages that one host alone may know."""

MODULES = sorted(SOURCE.glob("evenheft/*/**/*.py"))
FOR_ANY_PYTHON = [path for path in MODULES if path.parts[len(SOURCE.parts) + 1] in ("mechanics", "formulas", "python")]


def imports_of(tree: ast.AST) -> Iterator[str]:
    """Dotted names of the modules that a module imports, wherever in it."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports are written in full"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def in_source(path: Path) -> str:
    return str(path.relative_to(SOURCE))


def parsed(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def test_the_layers_are_all_there_is() -> None:
    found = {path.name for path in (SOURCE / "evenheft").iterdir() if (path / "__init__.py").exists()}
    assert found == set(LAYERS)


@pytest.mark.parametrize("path", MODULES, ids=in_source)
def test_no_import_points_up(path: Path) -> None:
    layer = LAYERS.index(path.relative_to(SOURCE).parts[1])
    for name in imports_of(parsed(path)):
        parts = name.split(".")
        if parts[0] == "evenheft" and len(parts) > 1 and parts[1] in LAYERS:
            assert LAYERS.index(parts[1]) <= layer, f"{in_source(path)} imports {name}"


@pytest.mark.parametrize("path", MODULES, ids=in_source)
def test_a_spreadsheet_engine_is_known_to_its_host_alone(path: Path) -> None:
    for name in imports_of(parsed(path)):
        houses = OWN_HOUSE.get(name.split(".")[0])
        assert houses is None or path.relative_to(SOURCE).as_posix().startswith(houses), f"{in_source(path)}: {name}"


@pytest.mark.parametrize("path", FOR_ANY_PYTHON, ids=in_source)
def test_formulas_and_mechanics_load_with_the_standard_library_alone(path: Path) -> None:
    # The Python inside LibreOffice on Windows and macOS has no numpy: what needs it imports it where it is called.
    for node in parsed(path).body:
        for name in imports_of(node) if isinstance(node, ast.Import | ast.ImportFrom) else ():
            top = name.split(".")[0]
            assert top == "evenheft" or top in sys.stdlib_module_names, f"{in_source(path)} imports {name}"


def test_formulas_answer_without_any_installed_package() -> None:
    # -I -S: no site-packages, no environment; only the source itself is put on the path.
    program = (
        f"import sys; sys.path.insert(0, {str(SOURCE)!r})\n"
        "from evenheft.formulas import REGISTRY, call\n"
        "print(call(REGISTRY['HEFT_SWINGWEIGHT'], [[[395], [402]], [[75.3], ['29 1/2 in']]]))\n"
    )
    done = subprocess.run([sys.executable, "-I", "-S", "-c", program], capture_output=True, text=True, check=False)
    assert done.stderr == ""
    assert done.stdout.strip() == "(('D2.6',), ('D3.6',))"
