"""What the extension holds is generated from the registry, and runs on the standard library of an older Python."""

from __future__ import annotations

import ast
import json
import subprocess
import sys
import zipfile
from pathlib import Path
from xml.etree import ElementTree

import pytest
import vermin

from evenheft import __version__
from evenheft.formulas import REGISTRY
from evenheft.hosts.calc import OLDEST_OFFICE
from evenheft.hosts.calc import extension as package
from evenheft.hosts.calc.contents import COMPONENT, TEXTS, TYPES, contents
from evenheft.hosts.calc.doctor import OLDEST_OFFICE_PYTHON

NAME, TYPE = "{http://openoffice.org/2001/registry}name", "{http://openoffice.org/2001/manifest}media-type"
PATH = "{http://openoffice.org/2001/manifest}full-path"


@pytest.fixture(scope="module")
def held() -> dict[str, bytes]:
    return contents()


def test_the_manifest_lists_the_type_library_before_the_component(held: dict[str, bytes]) -> None:
    entries = ElementTree.fromstring(held["META-INF/manifest.xml"])
    assert [entry.attrib[PATH] for entry in entries] == [TYPES, COMPONENT, TEXTS]
    assert all(entry.attrib[PATH] in held for entry in entries)


def test_the_description_tells_version_and_oldest_office(held: dict[str, bytes]) -> None:
    text = held["description.xml"].decode()
    ElementTree.fromstring(text)
    assert f'<version value="{__version__}"/>' in text
    assert f'LibreOffice-minimal-version value="{OLDEST_OFFICE}"' in text


def test_every_formula_and_argument_has_its_names_and_texts(held: dict[str, bytes]) -> None:
    texts = ElementTree.fromstring(held[TEXTS])
    for formula in REGISTRY.values():
        node = next(n for n in texts.iter("node") if n.attrib[NAME] == formula.name)
        described = {p.attrib[NAME]: p[0].text for p in node.findall("prop")}
        assert described["DisplayName"] == described["CompatibilityName"] == formula.name
        assert described["Description"] == formula.help
        assert described["Category"] == "Add-In"
        parameters = next(n for n in node.findall("node") if n.attrib[NAME] == "Parameters")
        shown = [[p[0].text for p in parameter.findall("prop")] for parameter in parameters]
        assert [name for name, _ in shown] == [argument.name for argument in formula.arguments]
        assert all(str(text).endswith(a.help) for (_, text), a in zip(shown, formula.arguments, strict=True))


def test_the_component_is_told_what_it_carries(held: dict[str, bytes]) -> None:
    carried = json.loads(held["carried.json"])
    assert carried["version"] == __version__
    assert carried["formulas"] == list(REGISTRY)


def test_the_package_loads_with_nothing_but_the_standard_library(tmp_path: Path) -> None:
    package.write(tmp_path / "evenheft.oxt")
    with zipfile.ZipFile(tmp_path / "evenheft.oxt") as extension:
        extension.extractall(tmp_path)
    asked = "import evenheft.formulas as f, evenheft.hosts.calc.serving; print(f.call(f.REGISTRY['HEFT_LABEL'], [32]))"
    line = [sys.executable, "-I", "-S", "-c", f"import sys; sys.path.insert(0, 'pythonpath'); {asked}"]
    assert subprocess.run(line, check=True, capture_output=True, text=True, cwd=tmp_path).stdout == "D2.0\n"


def test_all_that_runs_in_libreoffice_runs_on_its_oldest_python(held: dict[str, bytes]) -> None:
    config = vermin.Config()
    for name, data in held.items():
        if name.endswith(".py"):
            ast.parse(data, feature_version=OLDEST_OFFICE_PYTHON)
            needed = vermin.visit(data.decode(), config).minimum_versions()[1]
            assert needed is None or needed <= OLDEST_OFFICE_PYTHON, f"{name} needs Python {needed}"


def test_component_and_doctor_agree_on_the_oldest_python(held: dict[str, bytes]) -> None:
    assert f"OLDEST_OFFICE_PYTHON = {OLDEST_OFFICE_PYTHON}" in held[COMPONENT].decode()


def test_the_same_registry_makes_the_same_file(tmp_path: Path) -> None:
    package.write(tmp_path / "one.oxt")
    package.write(tmp_path / "two.oxt")
    assert (tmp_path / "one.oxt").read_bytes() == (tmp_path / "two.oxt").read_bytes()
    assert sorted(path.name for path in tmp_path.iterdir()) == ["one.oxt", "two.oxt"]
