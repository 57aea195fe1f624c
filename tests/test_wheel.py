"""The built wheel, installed away from the source: everything that the commands need is in it, and nothing more."""

from __future__ import annotations

import re
import subprocess
import sys
import tarfile
import zipfile
from email.parser import Parser
from pathlib import Path

import pytest

HOUSE = Path(__file__).parents[1]

DRIVER = """
import sys

def offline(event, arguments):
    if event in ("socket.connect", "socket.bind", "socket.getaddrinfo", "socket.gethostbyname", "socket.sendto"):
        raise SystemExit(f"the network was asked for: {event} {arguments}")

sys.addaudithook(offline)
import evenheft
assert evenheft.__file__.startswith(sys.argv.pop(1)), evenheft.__file__
from evenheft.cli import main
main(prog_name="evenheft")
"""
"""Runs a command of the installed wheel in which no network can be reached."""


def built(kind: str, source: Path, folder: Path) -> Path:
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "--target", kind, "--directory", folder],
        cwd=source, check=True, capture_output=True,
    )  # fmt: skip
    (made,) = folder.iterdir()
    return made


@pytest.fixture(scope="session")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built("wheel", HOUSE, tmp_path_factory.mktemp("wheel"))


@pytest.fixture(scope="session")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("installed")
    with zipfile.ZipFile(wheel) as package:
        package.extractall(folder)  # which is what an installer does with a wheel of plain Python
    return folder


def run(installed: Path, folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-W", "error", "-c", DRIVER, str(installed), *words],
        cwd=folder, env={"PYTHONPATH": str(installed), "PATH": "", "HOME": str(folder), "PYTHONUTF8": "1"},
        capture_output=True, text=True, check=False,
    )  # fmt: skip


def names(wheel: Path) -> set[str]:
    with zipfile.ZipFile(wheel) as package:
        return set(package.namelist())


def test_the_wheel_holds_the_package_and_nothing_else(wheel: Path) -> None:
    package = HOUSE / "udfs" / "evenheft"
    parts = [*package.rglob("*.py"), *package.rglob("*.bas")]
    expected = {f"evenheft/{path.relative_to(package).as_posix()}" for path in parts}
    templates = ("evenheft-order.xlsx", "evenheft-order.xltx", "evenheft-shop.xlsx")
    expected |= {f"evenheft/templates/{name}" for name in templates} | {"evenheft/py.typed"}
    assert {name for name in names(wheel) if ".dist-info/" not in name} == expected


def test_one_installation_serves_every_host(wheel: Path) -> None:
    (metadata,) = (name for name in names(wheel) if name.endswith(".dist-info/METADATA"))
    with zipfile.ZipFile(wheel) as package:
        described = Parser().parsestr(package.read(metadata).decode())
    needed = {re.split(r"[<=>!;\[ ]", line)[0].lower() for line in described.get_all("Requires-Dist", [])}
    assert {"formualizer", "openpyxl", "pyopenvba", "xlwings"} <= needed
    assert described.get_all("Provides-Extra") is None
    assert ";" not in "".join(described.get_all("Requires-Dist", [])), "the same on every system"


def test_the_sdist_makes_the_same_wheel(wheel: Path, tmp_path: Path) -> None:
    (tmp_path / "sdist").mkdir()
    with tarfile.open(built("sdist", HOUSE, tmp_path / "sdist")) as archive:
        archive.extraction_filter = lambda member, _: member  # our own; a keyword that Python 3.11.2 lacks says so too
        archive.extractall(tmp_path)
    (source,) = tmp_path.glob("evenheft-*")
    (tmp_path / "wheel").mkdir()
    assert names(built("wheel", source, tmp_path / "wheel")) == names(wheel)


def test_the_commands_work_from_the_wheel_without_a_network(installed: Path, tmp_path: Path) -> None:
    for words, code in (
        (("demo",), 0),
        (("new", "order.xlsx"), 0),
        (("new", "order.xltx"), 0),
        (("check", "evenheft-demo/demo-order.xlsx"), 3),  # three clubs are flagged
        (("eval", "=HEFT_SELFTEST()"), 0),
        (("share", "evenheft-demo/demo-order.xlsx", "--for", "supplier", "-o", "heads.xlsx"), 0),
        (("calc", "build"), 0),
        (("excel", "build"), 0),
    ):
        done = run(installed, tmp_path, *words)
        assert (done.returncode, done.stderr) == (code, ""), words
    assert {path.name for path in tmp_path.iterdir()} == {
        "evenheft-demo", "order.xlsx", "order.xltx", "heads.xlsx", "evenheft.oxt", "evenheft.xlam",
        "evenheft-order.xlsm", "evenheft-order.xltm",
    }  # fmt: skip


def test_the_doctor_of_the_wheel_sees_itself_and_asks_no_network(installed: Path, tmp_path: Path) -> None:
    done = run(installed, tmp_path, "doctor")
    assert done.returncode in (0, 2)  # what it finds of the spreadsheet programs is this machine's own
    assert done.stderr == ""
    assert f"{installed / 'evenheft'}: ok, evenheft" in done.stdout
    assert list(tmp_path.iterdir()) == []
