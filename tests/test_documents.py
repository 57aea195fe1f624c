"""What the documents say is what the program does: examples replayed, links followed, the README's commands true."""

from __future__ import annotations

import re
import shlex
import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner

from evenheft.cli import COMMANDS, doctor, main
from evenheft.hosts.calc import OLDEST_OFFICE, OLDEST_OFFICE_FOR_ODS
from evenheft.hosts.calc.doctor import OLDEST_OFFICE_PYTHON as OLDEST_PYTHON_IN_CALC
from tutorial import PAGES

HOUSE = Path(__file__).parents[1]
DOCUMENTS = [HOUSE / "README.md", HOUSE / "DEVELOPERS.md", *sorted((HOUSE / "docs").glob("*.md"))]
PROJECT = tomllib.loads((HOUSE / "pyproject.toml").read_text(encoding="utf-8"))["project"]
OLDEST_PYTHON = PROJECT["requires-python"].removeprefix(">=")
CONSOLE = re.compile(r"^```console\n(.*?)^```", re.MULTILINE | re.DOTALL)
EXAMPLES = [
    pytest.param(command, shown.strip("\n"), id=f"{path.name}: {command}")
    for path in DOCUMENTS
    if path.name not in PAGES  # whose commands build on each other: tests/test_tutorial.py
    for block in CONSOLE.findall(path.read_text(encoding="utf-8"))
    for command, shown in re.findall(r"^\$ evenheft (.*)\n((?:(?!\$ ).*\n)*)", block, re.MULTILINE)
]


def test_documents_hold_examples() -> None:
    assert len(EXAMPLES) >= 7


@pytest.mark.parametrize(("command", "shown"), EXAMPLES)
def test_examples_of_the_documents_answer_as_printed(command: str, shown: str) -> None:
    assert CliRunner().invoke(main, shlex.split(command)).output.strip("\n") == shown


def anchors(text: str) -> set[str]:
    """The anchors of a document's headings, as code hosts make them."""
    headings = re.findall(r"^#+ (.*)$", text, re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-") for heading in headings}


@pytest.mark.parametrize("path", DOCUMENTS, ids=lambda path: path.name)
def test_links_lead_somewhere(path: Path) -> None:
    for target in re.findall(r"\]\(([^)\s]+)\)", path.read_text(encoding="utf-8")):
        if target.startswith(("https://", "http://")):
            continue
        name, _, anchor = target.partition("#")
        linked = (path.parent / name) if name else path
        assert linked.exists(), f"{path.name} links to {target}"
        if anchor:
            assert anchor in anchors(linked.read_text(encoding="utf-8")), f"{path.name} links to {target}"


@pytest.mark.parametrize("path", DOCUMENTS, ids=lambda path: path.name)
def test_files_of_the_house_that_are_named_are_there(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    for name in re.findall(r"`(?:[^`\n]*[ =])?((?:[\w.-]+/)*[\w.-]+\.py|(?:tests|docs|udfs)/[\w./-]*)[^`]*`", text):
        assert (HOUSE / name).exists() or (HOUSE / "udfs/evenheft" / name).exists(), f"{path.name} names {name}"


@pytest.mark.parametrize("path", DOCUMENTS, ids=lambda path: path.name)
def test_commands_that_are_named_exist(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    for command in re.findall(r"(?:`|bin/|Scripts\\)evenheft ([a-z]+)", text):
        assert command in COMMANDS, f"{path.name} names evenheft {command}"


def test_the_readme_begins_with_the_job_and_the_two_commands() -> None:
    paragraphs = (HOUSE / "README.md").read_text(encoding="utf-8").split("\n\n")
    assert re.fullmatch(r"!\[[^\]]{40,}\]\(docs/pictures/window\.png\)", paragraphs[1]), "a picture, told in words too"
    assert "builder" in paragraphs[2]
    assert "](docs/tutorial.md)" in paragraphs[2]
    commands = [p.strip() for p in paragraphs if p.startswith("    ")][:2]
    assert commands[0].endswith("evenheft demo")
    assert "\n" not in commands[0]
    assert commands[1] == "bash tests/run"
    first = paragraphs[3]
    for needed in ("`apt install python3-venv`", "https://www.python.org/downloads/", "`xcode-select --install`"):
        assert needed in first, "what must be there stands before the line"
    assert f"Python {OLDEST_PYTHON} or newer" in first
    windows = commands[0].replace("python3", "py").replace(".venv/bin/", ".venv\\Scripts\\")
    assert f"`{windows}`" in paragraphs[5], "the same line, as Windows spells it"
    assert "\nbash tests/run\n" in (HOUSE / ".ci" / "run").read_text(encoding="utf-8"), "CI runs the README's own line"


def test_the_readme_stays_short() -> None:
    assert len((HOUSE / "README.md").read_text(encoding="utf-8").splitlines()) <= 96


def test_the_pythons_that_are_promised_begin_where_the_package_does() -> None:
    said = PROJECT["classifiers"]
    promised = [tuple(map(int, name.split("."))) for name in re.findall(r"Python :: (3\.\d+)\b", "\n".join(said))]
    oldest = tuple(map(int, OLDEST_PYTHON.split(".")))
    assert promised == [(3, minor) for minor in range(oldest[1], promised[-1][1] + 1)]
    assert oldest == doctor.OLDEST_PYTHON


def test_what_an_older_libreoffice_can_do_is_told_as_it_is_installed() -> None:
    text = " ".join((HOUSE / "docs/calc.md").read_text(encoding="utf-8").split())
    assert f"**A LibreOffice older than {OLDEST_OFFICE}**" in text
    assert (
        f"{OLDEST_OFFICE_FOR_ODS} or newer will do, with Python {'.'.join(map(str, OLDEST_PYTHON_IN_CALC))} or" in text
    )


def test_no_document_names_a_machine() -> None:
    for path in DOCUMENTS:
        assert not re.search(r"/(work|home|root|tmp)/", path.read_text(encoding="utf-8")), path.name
