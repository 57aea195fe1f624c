"""What every formula of the registry must be, so that any host can serve it; new ones are held to it too."""

from __future__ import annotations

import ast
import dataclasses
import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

import evenheft.formulas
import evenheft.mechanics
from evenheft.formulas import REGISTRY, Argument, Formula
from evenheft.formulas.kinds import Choice, Number, Quantity, UnitPair
from evenheft.formulas.registry import HELP_LIMIT, Answer, formula
from evenheft.formulas.wording import DEFAULT_SCALE
from evenheft.hosts.embedded import evaluate

FORMULAS = pytest.mark.parametrize("entry", REGISTRY.values(), ids=lambda entry: entry.name)
ARGUMENTS = pytest.mark.parametrize(
    ("entry", "argument"),
    [(entry, argument) for entry in REGISTRY.values() for argument in entry.arguments],
    ids=lambda part: part.name,
)
EXAMPLES = pytest.mark.parametrize(
    ("text", "shown"), [example for entry in REGISTRY.values() for example in entry.examples]
)

VBA_WORDS = """
addressof and any append as binary boolean byref byte byval call case cbool cbyte ccur cdate cdbl cint clng
close compare const csng cstr currency cvar date debug declare defbool defdbl defint deflng defobj defsng defstr
defvar dim do double each else elseif empty end endif enum eqv erase error event exit explicit false for friend
function get global gosub goto if imp implements in input integer is len let lib like line lock long longlong
longptr loop lset me mid mod module name new next not nothing null object of on open option optional or output
paramarray preserve print private property ptrsafe public put raiseevent random read redim rem resume return
rset seek select set shared single spc static step stop string sub tab text then to true type typeof unlock
until variant wend while width with withevents write xor
"""
"""Microsoft's list of VBA keywords (from memory), with words that have a meaning inside statements."""
UNOIDL_WORDS = """
any attribute boolean bound byte char const constants constrained context default double enum exception false
float get hyper in inout interface long maybeambiguous maybedefault maybevoid module out published property
raises readonly removable sequence service set short singleton string struct transient true type typedef
unsigned void
"""
"""The reserved words of UNOIDL (from memory)."""


@FORMULAS
def test_names_are_words_and_never_a_cell_address(entry: Formula) -> None:
    assert re.fullmatch(r"HEFT(_[A-Z]+)+", entry.name)
    assert not re.fullmatch(r"[A-Z]{1,3}[0-9]+", entry.name)  # A1 style
    assert not re.fullmatch(r"R[0-9]*(C[0-9]*)?|C[0-9]*", entry.name)  # R1C1 style
    assert REGISTRY[entry.name] is entry


@ARGUMENTS
def test_argument_names_are_usable_in_every_host(entry: Formula, argument: Argument) -> None:
    assert re.fullmatch(r"[a-z]+(_[a-z]+)*", argument.name), entry.name
    assert argument.name not in VBA_WORDS.split()
    assert argument.name not in UNOIDL_WORDS.split()
    assert not re.fullmatch(r"[a-z]{1,3}[0-9]+|r|c", argument.name)


@FORMULAS
def test_arguments_differ_and_the_required_ones_come_first(entry: Formula) -> None:
    names = [argument.name for argument in entry.arguments]
    assert len(set(names)) == len(names)
    required = [argument.required for argument in entry.arguments]
    assert required == sorted(required, reverse=True)
    assert entry.required == sum(required)


@FORMULAS
def test_help_is_a_sentence_that_a_function_wizard_shows_whole(entry: Formula) -> None:
    assert 20 < len(entry.help) <= HELP_LIMIT
    assert entry.help.strip() == entry.help
    assert entry.help.endswith(".")
    assert entry.source.endswith(".")
    assert "\n" not in entry.help + entry.source


@ARGUMENTS
def test_argument_help_is_a_sentence_with_its_unit(entry: Formula, argument: Argument) -> None:
    assert 10 < len(argument.help) <= HELP_LIMIT, entry.name
    assert argument.help.endswith((".", "...")), entry.name
    assert "\n" not in argument.help
    if isinstance(argument.kind, Quantity) and "when left out" not in argument.help:
        one_unit = r"in (g|cm)\b" if entry.units_at is None else r"units say otherwise"
        assert re.search(one_unit, argument.help), f"{entry.name}: {argument.name} has no unit"
    elif isinstance(argument.kind, Quantity):
        assert re.search(r"\b(g|cm|in|units?)\b", argument.help), f"{entry.name}: {argument.name} has no unit"
    if isinstance(argument.kind, Number) and argument.kind.unit == "s":
        assert "second" in argument.help


@ARGUMENTS
def test_the_reference_can_say_what_is_accepted(entry: Formula, argument: Argument) -> None:
    assert argument.kind.wanted, entry.name
    if isinstance(argument.kind, Choice):
        for option in argument.kind.options:
            assert option in argument.kind.wanted


@ARGUMENTS
def test_a_default_is_itself_accepted(entry: Formula, argument: Argument) -> None:
    if argument.default is not None and not argument.required and argument.takes == "cell":
        assert argument.kind.read(argument.default, DEFAULT_SCALE) == argument.default, entry.name


@FORMULAS
def test_units_and_what_are_the_shared_arguments(entry: Formula) -> None:
    for argument in entry.arguments:
        assert isinstance(argument.kind, UnitPair) == (argument.name == "units")
    in_units = any(answer.dimension for answer in entry.answers)
    in_units |= any("unless units say otherwise" in argument.help for argument in entry.arguments)
    assert in_units == (entry.units_at is not None), "units are taken where something is told in them, and only there"
    names = tuple(answer.name for answer in entry.answers)
    assert len(set(names)) == len(names)
    assert (len(names) > 1) == (entry.what_at is not None)
    if entry.what_at is not None:
        assert entry.arguments[entry.what_at].kind == Choice(names)


@FORMULAS
def test_the_function_takes_the_arguments_in_their_order(entry: Formula) -> None:
    taken = list(inspect.signature(entry.function).parameters.values())
    handed = [a for i, a in enumerate(entry.arguments) if i not in (entry.units_at, entry.what_at)]
    assert len(taken) == len(handed) + entry.tells_host
    assert all(parameter.default is parameter.empty for parameter in taken), "the registry holds the defaults"


@FORMULAS
def test_the_signature_reads_as_the_call(entry: Formula) -> None:
    assert entry.signature.startswith(f"{entry.name}(")
    assert entry.signature.count("[") == len(entry.arguments) - entry.required


@FORMULAS
def test_every_formula_has_an_example_of_its_own(entry: Formula) -> None:
    assert entry.examples
    for text, _ in entry.examples:
        assert text.startswith(f"={entry.name}(")


@EXAMPLES
def test_examples_answer_to_their_printed_digits(text: str, shown: str) -> None:
    # Computed by the embedded engine, as a reader of the reference would see it.
    found = evaluate(text)
    try:
        number = float(shown)
    except ValueError:
        assert found == shown
        return
    assert isinstance(found, float)
    digits = len(shown.partition(".")[2])
    assert abs(found - number) <= 0.5 * 10**-digits * (1 + 1e-9)


def modules_of(package: ModuleType) -> list[str]:
    return [info.name for info in pkgutil.iter_modules(package.__path__)]


def test_every_module_with_formulas_is_loaded_by_the_package() -> None:
    folder = Path(evenheft.formulas.__file__).parent
    written = set(re.findall(r'@formula\(\s*"(HEFT_\w+)"', "".join(p.read_text() for p in folder.rglob("*.py"))))
    assert written == set(REGISTRY)


def a_formula(**changes: object) -> Callable[[Callable[[], float]], Callable[[], float]]:
    declared: dict[str, Any] = {
        "category": "Test",
        "help": "A formula that is never served to anybody.",
        "arguments": (),
        "answers": (Answer("one"),),
        "source": "None.",
        "examples": (),
    }
    declared.update(changes)
    return formula(declared.pop("name", "HEFT_NEVER"), **declared)


def test_a_name_is_registered_once() -> None:
    before = dict(REGISTRY)
    with pytest.raises(ValueError, match="HEFT_POINTS is registered twice"):
        a_formula(name="HEFT_POINTS")(lambda: 1.0)
    assert before == REGISTRY


def test_a_help_text_too_long_for_the_wizard_is_refused_at_once() -> None:
    long = "x" * (HELP_LIMIT + 1)
    with pytest.raises(ValueError, match="HEFT_NEVER: a help text is 256 characters long"):
        a_formula(help=long)(lambda: 1.0)
    with pytest.raises(ValueError, match="256 characters"):
        a_formula(arguments=(dataclasses.replace(REGISTRY["HEFT_POINTS"].arguments[0], help=long),))(lambda: 1.0)
    assert "HEFT_NEVER" not in REGISTRY


def public_functions(package: ModuleType) -> list[tuple[str, ast.FunctionDef]]:
    found = []
    for name in modules_of(package):
        module = importlib.import_module(f"{package.__name__}.{name}")
        tree = ast.parse(inspect.getsource(module))
        found += [
            (f"{name}.{node.name}", node)
            for node in tree.body
            if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
        ]
    return found


@pytest.mark.parametrize(
    ("name", "node"), [pytest.param(*found, id=found[0]) for found in public_functions(evenheft.mechanics)]
)
def test_docstrings_of_the_mechanics_tell_each_argument_with_its_unit(name: str, node: ast.FunctionDef) -> None:
    docstring = ast.get_docstring(node) or ""
    signature = node.args
    parameters = [a.arg for a in (*signature.posonlyargs, *signature.args, *signature.kwonlyargs)]
    parameters += [a.arg for a in (signature.vararg, signature.kwarg) if a is not None]
    section = re.search(r"^Args:\n((?:    .*\n?|\n)+)", docstring, re.MULTILINE)
    if section is None:
        assert len(parameters) < 3, f"{name} needs an Args section"
        return
    entries = re.findall(r"^    (\w+): ((?:.*\n?)(?:     +.*\n?)*)", section[1], re.MULTILINE)
    assert [entry[0] for entry in entries] == parameters, name
    for argument, text in entries:
        assert re.search(r"\[[^\]]+\]\.?\s*$", text), f"{name}: {argument} ends without its unit"
