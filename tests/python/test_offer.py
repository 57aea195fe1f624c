"""What `import evenheft` offers: by topic, lazily, typed, documented, and the same in docs/python.md."""

from __future__ import annotations

import ast
import doctest
import inspect
import os
import re
import subprocess
import sys
from collections.abc import Callable
from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest

import evenheft
from evenheft.mechanics import club
from evenheft.python.parts import Parts

HOUSE = Path(__file__).parents[2]
SOURCE = HOUSE / "udfs"
DOCUMENT = HOUSE / "docs" / "python.md"
OFFERED = [name for name in evenheft.__all__ if name != "__version__"]
FUNCTIONS = [name for name in OFFERED if inspect.isfunction(getattr(evenheft, name))]
METHODS = {
    f"Club.{name}": method
    for name, method in vars(evenheft.Club).items()
    if inspect.isfunction(method) and name[0] != "_"
}
ONE_ONLY = ("from_label", "gravity", "pick", "cm", "grams")


def run(program: str, *options: str) -> str:
    done = subprocess.run([sys.executable, *options, "-c", program], capture_output=True, text=True, check=False)
    assert done.stderr == ""
    return done.stdout.strip()


def test_every_name_is_there_and_belongs_to_one_topic() -> None:
    topics = evenheft._TOPICS
    listed = [name for names in topics.values() for name in names.split()]
    assert sorted(listed) == sorted(OFFERED)
    assert set(OFFERED) <= set(dir(evenheft))
    for topic, names in topics.items():
        module = __import__(f"evenheft.python.{topic}", fromlist=["x"])
        assert all(getattr(evenheft, name) is getattr(module, name) for name in names.split())


def test_type_checkers_are_told_the_same_names() -> None:
    tree = ast.parse((SOURCE / "evenheft" / "__init__.py").read_text(encoding="utf-8"))
    checking = next(node for node in tree.body if isinstance(node, ast.If))
    typed = {
        str(node.module).removeprefix("evenheft.python."): {alias.name for alias in node.names}
        for node in checking.body
        if isinstance(node, ast.ImportFrom)
    }
    assert typed == {topic: set(names.split()) for topic, names in evenheft._TOPICS.items()}


def test_what_is_not_offered_is_told_as_python_tells_it() -> None:
    with pytest.raises(AttributeError, match="module 'evenheft' has no attribute 'swing_weight'"):
        evenheft.swing_weight  # noqa: B018


def test_importing_evenheft_or_the_door_imports_nothing_for_python_users() -> None:
    program = (
        f"import sys; sys.path.insert(0, {str(SOURCE)!r}); import evenheft, evenheft.cli\n"
        "print(*(name for name in sys.modules if name == 'numpy' or name.startswith(('evenheft.python', "
        "'evenheft.formulas', 'evenheft.mechanics'))))"
    )
    assert run(program) == ""


def test_numbers_need_no_installed_package() -> None:
    # -I -S: no site-packages, as in a LibreOffice without numpy.
    program = (
        f"import sys; sys.path.insert(0, {str(SOURCE)!r}); import evenheft as heft\n"
        "parts = heft.Parts(head_mass=200, club_length=114.3, shaft_mass=65, shaft_length=117, grip_mass=50)\n"
        "club = heft.Club(parts)\n"
        "print(heft.swingweight(395, 75.3), club.label(), round(club.doubt(), 2), heft.verdict(32, 32, 0.5))\n"
        "print(*(getattr(heft, name).__name__ for name in heft.__all__ if name != '__version__'))"
    )
    first, names = run(program, "-I", "-S").splitlines()
    assert first == "D2.6 D1.3 14.85 in"
    assert names.split() == OFFERED


@pytest.mark.parametrize("name", [*FUNCTIONS, *METHODS])
def test_docstrings_name_every_argument_with_its_unit(name: str) -> None:
    function: Callable[..., Any] = METHODS.get(name) or getattr(evenheft, name)
    text = inspect.getdoc(function)
    assert text is not None
    section = text.partition("Args:\n")[2].partition("\n\n")[0]
    named = re.findall(r"^    (\w+): ", section, re.MULTILINE)
    assert named == [argument for argument in inspect.signature(function).parameters if argument != "self"]
    arguments = re.split(r"^    \w+: ", section, flags=re.MULTILINE)[1:]
    assert all(re.search(r"\[[^\]]+\]\.?$", argument.strip()) for argument in arguments)
    if "." not in name:
        assert re.search(r"^Source: \S", text, re.MULTILINE), "says where it is from"
        assert (name in ONE_ONLY) == ("arrays" in text and "not taken" in text), "scalar-only functions say so"


@pytest.mark.parametrize("name", ONE_ONLY)
def test_functions_of_one_thing_refuse_an_array(name: str) -> None:
    argument = {"from_label": ["D2"], "cm": ["44 in"], "grams": ["7 oz"]}.get(name, [45.0, 46.0])
    more = [[2.0, 4.0]] if name == "pick" else []
    with pytest.raises(TypeError, match=r"must be one (number|text) here, got"):
        getattr(evenheft, name)(argument, *more)


def test_a_type_checker_sees_every_part_with_its_default() -> None:
    tree = ast.parse((SOURCE / "evenheft" / "python" / "parts.py").read_text(encoding="utf-8"))
    checking = next(node for node in tree.body if isinstance(node, ast.If))
    typed = next(node for node in checking.body if isinstance(node, ast.ClassDef))
    names = [
        node.target.id for node in typed.body if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name)
    ]
    made = [part.name for part in fields(club.Parts)]
    assert names == made == [part.name for part in fields(Parts)]
    required = len(inspect.signature(club.Parts).parameters) - sum(
        parameter.default is not inspect.Parameter.empty
        for parameter in inspect.signature(club.Parts).parameters.values()
    )
    for signature in [node for node in typed.body if isinstance(node, ast.FunctionDef)][:2]:
        assert [argument.arg for argument in signature.args.args[1:]] == made
        assert len(made) - len(signature.args.defaults) == required


def test_mypy_strict_accepts_numbers_and_arrays_and_tells_them_apart(tmp_path: Path) -> None:
    # A folder and a configuration of its own: what a user of the installed package would run.
    (tmp_path / "user.py").write_bytes((Path(__file__).parent / "typed_user.py").read_bytes())
    done = subprocess.run(
        [sys.executable, "-m", "mypy", "--strict", "--config-file=", "--follow-imports=silent", "user.py"],
        cwd=tmp_path, env={**os.environ, "MYPYPATH": str(SOURCE)}, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.stdout.strip() == "Success: no issues found in 1 source file", done.stdout + done.stderr


def test_the_notebook_of_the_docs_answers_as_printed() -> None:
    tried = doctest.testfile(str(DOCUMENT), module_relative=False)
    assert tried.failed == 0
    assert tried.attempted > 25
    assert doctest.testfile(str(HOUSE / "README.md"), module_relative=False) == doctest.TestResults(0, 2)


def test_the_docs_list_every_name() -> None:
    rows = re.findall(r"^\| [a-z]+ \| (`.*`) \|$", DOCUMENT.read_text(encoding="utf-8"), re.MULTILINE)
    assert [name for row in rows for name in re.findall(r"`(\w+)`", row)] == [
        name for names in evenheft._TOPICS.values() for name in names.split()
    ]
    text = " ".join(DOCUMENT.read_text(encoding="utf-8").split())
    listed = re.search(r"One thing at a time, no arrays: (.*?)\.", text)
    assert listed is not None
    assert re.findall(r"`(\w+)`", listed[1]) == list(ONE_ONLY)
