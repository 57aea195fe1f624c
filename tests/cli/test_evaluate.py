"""`evenheft eval` as a person types it: the answer on stdout, a refusal as one line on stderr with exit code 2."""

from __future__ import annotations

import subprocess
import sys

import pytest
from click.testing import CliRunner

from evenheft import __version__
from evenheft.cli import COMMANDS, main
from evenheft.formulas import REGISTRY


def run(*words: str) -> tuple[int, str, str]:
    result = CliRunner().invoke(main, words)
    assert result.exception is None or isinstance(result.exception, SystemExit)
    return result.exit_code, result.stdout, result.stderr


@pytest.mark.parametrize(
    ("formula", "shown"),
    [
        ("=HEFT_MOMENT(430, 75.56)", "17200"),
        ("HEFT_MOMENT(430, 75.56)", "17200"),
        ("  =heft_moment(430, 75.56) ", "17200"),
        ("=[1]!HEFT_MOMENT(430, 75.56)", "17200"),
        (r"='C:\Users\shop\[evenheft.xlam]'!HEFT_MOMENT(430, 75.56)", "17200"),
        ("=1/3", "0.3333333333333333"),
        ("=SUM(1,2)&\" g\"", "3 g"),
        ("=1>0", "TRUE"),
        ("=HEFT_MOMENT(\"\", 75.56)", ""),
        ("=HEFT_LABEL({29.96;32.25})", "D0.0\nD2.3"),
        ("=HEFT_MOMENT({430,15.2}, 75.56)", "17200\t! mass must be from 50 g to 2000 g, got 15.2: ounces?"),
        ("=HEFT_GRADIENT({1;2;3}, {30;31;32})", "30\t1\t0\t0"),
    ],
)  # fmt: skip
def test_answers(formula: str, shown: str) -> None:
    assert run("eval", formula) == (0, f"{shown}\n", "")


@pytest.mark.parametrize(
    ("formula", "line"),
    [
        ("=HEFT_POINTS(395, 29.6)", "! balance must be beyond the fulcrum at 35.56 cm, got 29.6 cm: inches?"),
        ("=HEFT_POINTS(395)", "! balance must be given"),
        ("=HEFT_POINT(395, 75.3)", "! HEFT_POINT is not a formula of Evenheft: did you mean HEFT_POINTS?"),
        ("=1/0", "! the formula gives #DIV/0!"),
        ("=NO_SUCH_FUNCTION(1)", "! the formula gives #NAME?"),
    ],
)
def test_refusals(formula: str, line: str) -> None:
    assert run("eval", formula) == (2, "", f"{line}\n")


@pytest.mark.parametrize("formula", ["=HEFT_POINTS(395, 75.3", '=HEFT_LABEL("D2)', "=", "=)(", "=1+*2"])
def test_what_is_no_formula_is_refused_in_one_line(formula: str) -> None:
    code, out, error = run("eval", formula)
    assert (code, out) == (2, "")
    assert error.startswith("! cannot read the formula")
    assert error.count("\n") == 1


@pytest.mark.parametrize("formula", REGISTRY.values(), ids=lambda formula: formula.name)
def test_every_formula_answers_its_first_example(formula: object) -> None:
    text, shown = formula.examples[0]  # type: ignore[attr-defined]
    code, out, error = run("eval", text)
    assert (code, error) == (0, "")
    assert out.startswith(shown[:4])


def test_the_door_loads_no_command_for_its_version_and_help() -> None:
    heavy = "{'formualizer', 'openpyxl', 'numpy', 'rich', 'xlwings', 'scipy', 'evenheft.formulas'}"
    program = (
        "import sys; from click.testing import CliRunner; from evenheft.cli import main\n"
        f"for word in ('--version', '--help'): assert CliRunner().invoke(main, [word]).exit_code == 0\n"
        f"print(sorted({heavy} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"


def test_version_and_help() -> None:
    assert run("--version") == (0, f"evenheft {__version__}\n", "")
    code, out, _ = run("--help")
    assert code == 0
    for name in COMMANDS:
        assert f"  {name} " in out


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_its_help(name: str) -> None:
    code, out, error = run(name, "--help")
    assert (code, error) == (0, "")
    assert f"Usage: main {name}" in out


def test_an_unknown_command_is_refused() -> None:
    code, _, error = run("chek")
    assert code == 2
    assert "chek" in error


def test_python_dash_m_is_the_same_door() -> None:
    done = subprocess.run([sys.executable, "-m", "evenheft", "--version"], capture_output=True, text=True, check=True)
    assert __version__ in done.stdout
