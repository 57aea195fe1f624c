"""What doctor tells about Excel, on machines that stand in a temporary folder."""

from __future__ import annotations

import dataclasses
import sys
from pathlib import Path
from typing import Any

import pytest
import xlwings

from evenheft import __version__
from evenheft.hosts.excel import INSTALL_AGAIN
from evenheft.hosts.excel.building.book import build_add_in
from evenheft.hosts.excel.windows.doctor import REINSTALL, findings, findings_on
from evenheft.hosts.excel.windows.install import install
from evenheft.hosts.excel.windows.machine import Machine
from evenheft.hosts.findings import Finding


@pytest.fixture
def installed(machine: Machine) -> Machine:
    install(machine)
    return machine


def wrong(machine: Machine) -> list[Finding]:
    return [finding for finding in findings_on(machine) if finding.level == "wrong"]


def test_all_is_well_after_installing(installed: Machine) -> None:
    assert [finding.level for finding in findings_on(installed)] == ["ok", "ok"]
    assert findings_on(installed)[0].what.startswith(f"xlwings {xlwings.__version__} with its library")
    assert findings_on(installed)[1].what == f"the add-in, version {__version__}, in {installed.start_folder}"


def test_before_installing_the_command_is_told(machine: Machine) -> None:
    last = findings_on(machine)[-1]
    assert (last.level, last.todo) == ("note", "evenheft excel install")


@pytest.mark.skipif(sys.platform == "win32", reason="this is no other system")
def test_on_another_system_it_says_what_is_possible_there() -> None:
    found = findings()
    assert [finding.level for finding in found] == ["note"]
    assert "evenheft excel build" in found[0].todo


def test_a_machine_without_excel(machine: Machine) -> None:
    (machine.app_data / "Microsoft" / "Excel").rmdir()
    assert findings_on(machine) == [
        Finding("note", "no Excel is found for this user", "install Excel, or use evenheft calc or check")
    ]


def test_a_package_that_is_gone(installed: Machine, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pyopenvba", None)  # by which Python itself knows a module that is not to be found
    assert findings_on(installed) == [Finding("wrong", "this Python lacks pyopenvba", INSTALL_AGAIN)]


def test_a_moved_interpreter(installed: Machine) -> None:
    python = installed.profile / "new" / "python.exe"
    python.parent.mkdir()
    installed.interpreter.rename(python)
    (python.parent / f"xlwings64-{xlwings.__version__}.dll").write_bytes(b"MZ")
    found = wrong(dataclasses.replace(installed, interpreter=python))
    assert [finding.what for finding in found] == [
        f"the add-in names {installed.interpreter}, where there is no Python any more",
        f"{installed.settings_file} names {installed.interpreter}, where there is no Python any more",
    ]
    assert {finding.todo for finding in found} == {REINSTALL}


def test_an_add_in_of_another_python(installed: Machine) -> None:
    other = installed.interpreter.with_name("python3.exe")
    other.write_bytes(b"MZ")
    found = [f for f in findings_on(dataclasses.replace(installed, interpreter=other)) if f.level == "note"]
    assert len(found) == 2
    assert all(finding.what.endswith(f"this Evenheft runs in {other}") for finding in found)


def test_an_add_in_of_another_version(installed: Machine, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("evenheft.hosts.excel.windows.doctor.__version__", "9.9.9")
    assert wrong(installed) == [Finding("wrong", f"the add-in is of Evenheft {__version__}, this is 9.9.9", REINSTALL)]


def test_an_add_in_for_another_xlwings(installed: Machine, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("evenheft.hosts.excel.building.configuration.version", lambda _: "0.30.1")
    installed.add_in.write_bytes(build_add_in(str(installed.interpreter)))
    assert wrong(installed) == [
        Finding("wrong", f"the add-in is for xlwings 0.30.1, {xlwings.__version__} is installed", REINSTALL)
    ]


def test_a_library_of_another_version(installed: Machine) -> None:
    library = installed.library(xlwings.__version__)
    assert library is not None
    library.rename(library.with_name("xlwings64-0.30.1.dll"))
    assert wrong(installed) == [
        Finding(
            "wrong",
            f"xlwings {xlwings.__version__} lacks its library beside {installed.interpreter}; there is "
            "xlwings64-0.30.1.dll",
            f"python -m pip install --force-reinstall xlwings=={xlwings.__version__}",
        )
    ]


def test_a_blocked_add_in(installed: Machine) -> None:
    Path(f"{installed.add_in}:Zone.Identifier").write_bytes(b"[ZoneTransfer]\r\nZoneId=3\r\n")
    assert wrong(installed) == [
        Finding("wrong", f"Windows blocks {installed.add_in} as a file from the internet", REINSTALL)
    ]


def test_two_add_ins(installed: Machine) -> None:
    other = installed.app_data / "Microsoft" / "AddIns" / "evenheft.xlam"
    other.parent.mkdir()
    other.write_bytes(build_add_in())
    assert wrong(installed) == [
        Finding(
            "wrong",
            f"another Evenheft add-in, version {__version__}, is at {other}",
            "delete it, two answer for each other",
        )
    ]


def test_office_from_the_store(installed: Machine) -> None:
    (installed.local_app_data / "Packages" / "Microsoft.Office.Desktop_8wekyb3d8bbwe").mkdir(parents=True)
    assert [finding.what for finding in wrong(installed)] == [
        "Office comes from the Microsoft Store, which keeps add-ins from reaching Python"
    ]


def test_python_from_the_store(installed: Machine, tmp_path: Path) -> None:
    python = tmp_path / "Microsoft" / "WindowsApps" / "python.exe"
    found = wrong(dataclasses.replace(installed, interpreter=python))
    assert found[0].what == f"{python} is the Microsoft Store's Python, which Excel cannot start"


def test_python_in_onedrive(installed: Machine) -> None:
    python = installed.profile / "OneDrive" / "heft" / "Scripts" / "python.exe"
    python.parent.mkdir(parents=True)
    python.write_bytes(b"MZ")
    (python.parent / f"xlwings64-{xlwings.__version__}.dll").write_bytes(b"MZ")
    found = findings_on(dataclasses.replace(installed, interpreter=python))
    assert found[0] == Finding(
        "note",
        f"{python} lies in OneDrive, which may take files off the disk",
        "install Python and Evenheft in a folder that OneDrive does not keep",
    )


def test_a_path_beyond_the_code_page(installed: Machine) -> None:
    python = installed.profile / "Ελένη" / "python.exe"
    found = wrong(dataclasses.replace(installed, interpreter=python))
    assert found[0].what == f"{python} has letters in its path that Excel's macros cannot name"


def test_trusted_folders_switched_off(installed: Machine, registry: Any) -> None:
    settings = registry(**{"Security__Trusted Locations": {"AllLocationsDisabled": 1}})
    found = wrong(dataclasses.replace(installed, registry=settings))
    assert [finding.what for finding in found] == [
        "Excel trusts no folder on this machine, so its start folder's add-ins are blocked"
    ]


def test_an_add_in_that_excel_has_disabled(installed: Machine, registry: Any) -> None:
    """A disabled item is bytes with the path in UTF-16 among them."""
    item = b"\x01\x00\x00\x00\x2a\x00\x00\x00" + r"C:\xlstart\Evenheft.xlam".encode("utf-16-le")
    settings = registry(Resiliency__DisabledItems={"A1": item, "B2": b"\x00"})
    found = wrong(dataclasses.replace(installed, registry=settings))
    assert [finding.what for finding in found] == [
        "Excel has put the add-in on its list of disabled items, as after a crash"
    ]


def test_an_add_in_ticked_in_excels_own_list(installed: Machine, registry: Any, tmp_path: Path) -> None:
    elsewhere = tmp_path / "Downloads" / "evenheft.xlam"
    elsewhere.parent.mkdir()
    elsewhere.write_bytes(build_add_in())
    settings = registry(Options={"OPEN": f'/R "{elsewhere}"', "OPEN1": '"C:\\solver.xlam"', "AltStartup": ""})
    found = wrong(dataclasses.replace(installed, registry=settings))
    assert [finding.what for finding in found] == [f"another Evenheft add-in, version {__version__}, is at {elsewhere}"]


def test_settings_that_name_no_python(installed: Machine) -> None:
    installed.settings_file.unlink()
    assert [finding.what for finding in wrong(installed)] == [
        "the settings that workbooks with Evenheft inside need name no Python"
    ]
