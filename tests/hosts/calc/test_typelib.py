"""The type library that is written here is what LibreOffice's own compiler writes from the interface's text."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

import pytest

from evenheft.formulas import REGISTRY
from evenheft.hosts.calc.office import OfficeError, find
from evenheft.hosts.calc.typelib import idl, type_library


@pytest.fixture
def sdk() -> Path:
    """The folder of LibreOffice's SDK; CI has it, a user never needs it."""
    try:
        folder = find().program.parent / "sdk/bin"
    except OfficeError:
        folder = Path("nowhere")
    if not (folder / "unoidl-write").exists():
        if os.environ.get("CI"):
            pytest.fail("CI needs LibreOffice's SDK (package libreoffice-dev)")
        pytest.skip("needs LibreOffice's SDK (package libreoffice-dev)")
    return folder


def test_it_is_byte_for_byte_what_the_compiler_writes(sdk: Path, tmp_path: Path) -> None:
    source, made = tmp_path / "evenheft.idl", tmp_path / "evenheft.rdb"
    source.write_text(idl(REGISTRY.values()))
    types = sdk.parent.parent / "program/types.rdb"
    subprocess.run([sdk / "unoidl-write", types, source, made], check=True)
    theirs = made.read_bytes()
    note = theirs[16 : theirs.index(b"**\0", 16) + 3]
    assert type_library(REGISTRY.values(), note) == theirs
    assert note not in type_library(REGISTRY.values())


def test_libreoffices_reader_takes_it_for_the_interface(sdk: Path, tmp_path: Path) -> None:
    library = tmp_path / "evenheft.rdb"
    library.write_bytes(type_library(REGISTRY.values()))
    types = sdk.parent.parent / "program/types.rdb"
    read = subprocess.run([sdk / "unoidl-read", types, library], check=True, capture_output=True, text=True).stdout
    for formula in REGISTRY.values():
        assert f"any {formula.name}(" in read


def test_the_interface_has_a_method_for_each_formula_in_order() -> None:
    lines = [line.strip() for line in idl(REGISTRY.values()).splitlines() if "HEFT_" in line]
    assert [line.split("(")[0].split()[-1] for line in lines] == list(REGISTRY)
    for line, formula in zip(lines, REGISTRY.values(), strict=True):
        assert line.count("[in] any arg") == len(formula.arguments)
