"""One name, one meaning: no public class or constant of the package stands in two modules.

Nor does a class or a type of the tests, which a reader meets beside the package's. Their constants are each test's own.
"""

from __future__ import annotations

import ast
from collections import defaultdict
from pathlib import Path

TESTS = Path(__file__).resolve().parent
SOURCE = TESTS.parent / "udfs" / "evenheft"

SAME_MEANING = {
    "CATEGORY": "the group of the formula list that a module's formulas stand in",
    "HOST": "what messages call the program that a host serves",
    "OLDEST_OFFICE_PYTHON": "the add-in's component asks it before it may load anything of ours; a test holds the two",
}
"""Names that may stand in several modules, since they mean the same in each."""


def public_names(below: Path = SOURCE) -> dict[str, set[str]]:
    """The modules that define each public class, type and constant at their top level."""
    found: dict[str, set[str]] = defaultdict(set)
    for path in below.rglob("*.py"):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            for name in _defined(node):
                if not name.startswith("_") and name != name.lower():
                    found[name].add(path.relative_to(below).as_posix())
    return found


def _defined(node: ast.stmt) -> list[str]:
    if isinstance(node, ast.ClassDef):
        return [node.name]
    targets = node.targets if isinstance(node, ast.Assign) else [node.target] if isinstance(node, ast.AnnAssign) else []
    return [target.id for target in targets if isinstance(target, ast.Name)]


def test_no_name_has_two_meanings() -> None:
    names = public_names()
    assert len(names) > 400, "they are read at all"
    twice = {name: sorted(where) for name, where in names.items() if len(where) > 1 and name not in SAME_MEANING}
    assert not twice


def test_no_class_or_type_of_the_tests_has_two_meanings() -> None:
    ours = public_names()
    names = {name: where for name, where in public_names(TESTS).items() if name != name.upper()}
    assert len(names) > 30, "they are read at all"
    assert not {name: sorted(where) for name, where in names.items() if len(where) > 1 or name in ours}


def test_each_exception_is_one() -> None:
    names = public_names()
    assert all(len(names[name]) > 1 for name in SAME_MEANING)


def test_nothing_is_named_for_having_been_said() -> None:
    """A label, a text, a message or a line says what it is; one word for all of them said nothing."""
    for path in SOURCE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            name = node.id if isinstance(node, ast.Name) else node.arg if isinstance(node, ast.arg) else None
            assert name != "told", f"{path}: line {getattr(node, 'lineno', 0)}"
