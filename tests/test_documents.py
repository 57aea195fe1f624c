"""What the documents say is what the program does: examples replayed, links followed, the README's commands true."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from evenheft.cli import COMMANDS, main

HOUSE = Path(__file__).parents[1]
DOCUMENTS = [HOUSE / "README.md", HOUSE / "DEVELOPERS.md", *sorted((HOUSE / "docs").glob("*.md"))]
CONSOLE = re.compile(r"^```console\n(.*?)^```", re.MULTILINE | re.DOTALL)
EXAMPLES = [
    pytest.param(command, shown.strip("\n"), id=f"{path.name}: {command}")
    for path in DOCUMENTS
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
def test_commands_that_are_named_exist(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    for command in re.findall(r"(?:`|bin/|Scripts\\)evenheft ([a-z]+)", text):
        assert command in COMMANDS, f"{path.name} names evenheft {command}"


def test_the_readme_begins_with_the_job_and_the_two_commands() -> None:
    paragraphs = (HOUSE / "README.md").read_text(encoding="utf-8").split("\n\n")
    assert "builder" in paragraphs[1]
    commands = [p.strip() for p in paragraphs if p.startswith("    ")][:2]
    assert commands[0].endswith("evenheft demo")
    assert "\n" not in commands[0]
    assert commands[1] == "bash tests/run"
    windows = commands[0].replace("python3", "py").replace(".venv/bin/", ".venv\\Scripts\\")
    assert f"`{windows}`" in paragraphs[4], "the same line, as Windows spells it"
    assert "\nbash tests/run\n" in (HOUSE / ".ci" / "run").read_text(encoding="utf-8"), "CI runs the README's own line"


def test_no_document_names_a_machine() -> None:
    for path in DOCUMENTS:
        assert not re.search(r"/(work|home|root|tmp)/", path.read_text(encoding="utf-8")), path.name
