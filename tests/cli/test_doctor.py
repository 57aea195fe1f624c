"""The doctor tells each finding with what to do, and one check that fails does not silence the others."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner, Result

from evenheft.cli import doctor, main
from evenheft.hosts.findings import Finding
from evenheft.order.demo import build_demo
from evenheft.order.drawing.template import save_bytes
from evenheft.order.layout import KIND_NAME, KIND_OF_WORKBOOK


def run(*words: str) -> Result:
    return CliRunner().invoke(main, ["doctor", *words])


@pytest.fixture
def no_hosts(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(doctor, "HOSTS", {})


def test_a_finding_that_is_not_ok_says_what_to_do() -> None:
    with pytest.raises(ValueError, match="must say what to do"):
        Finding("wrong", "something")
    assert Finding("ok", "something").todo == ""


@pytest.mark.usefixtures("no_hosts")
def test_a_healthy_machine_ends_well() -> None:
    result = run()
    assert result.exit_code == 0
    assert "ok, evenheft" in result.output


def test_every_host_is_asked() -> None:
    output = run().output
    for title in ("Evenheft", "LibreOffice", "Excel"):
        assert f"\n{title}\n" in f"\n{output}"


def test_a_check_that_fails_says_so_and_the_next_is_made(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(doctor, "HOSTS", {"Broken": "evenheft.no_such_module", "Excel": doctor.HOSTS["Excel"]})
    result = run()
    assert result.exit_code == 2
    assert "WRONG this could not be looked at: No module named" in result.output
    assert "\nExcel\n" in result.output


@pytest.mark.usefixtures("no_hosts")
def test_workbooks_are_looked_at(tmp_path: Path) -> None:
    good, bad = tmp_path / "good.xlsx", tmp_path / "bad.xlsx"
    good.write_bytes(save_bytes(build_demo()))
    bad.write_text("no workbook")
    assert "an order of 9 clubs" in run(str(good)).output
    result = run(str(good), str(bad), str(tmp_path / "absent.xlsx"))
    assert result.exit_code == 2
    assert result.output.count("WRONG") == 2
    assert "Traceback" not in result.output


@pytest.mark.usefixtures("no_hosts")
def test_a_workbook_of_a_newer_layout_is_told(tmp_path: Path) -> None:
    book = build_demo()
    sheet, cell = book.defined_names[KIND_NAME].attr_text.replace("$", "").split("!")
    book[sheet.strip("'")][cell].value = f"{KIND_OF_WORKBOOK} 99"
    newer = tmp_path / "newer.xlsx"
    newer.write_bytes(save_bytes(book))
    result = run(str(newer))
    assert result.exit_code == 2
    assert "newer Evenheft" in result.output


@pytest.mark.usefixtures("no_hosts")
def test_a_workbook_that_is_no_order_is_not_called_damaged(tmp_path: Path) -> None:
    shop = tmp_path / "prices.xlsx"
    book = openpyxl.Workbook()
    book.active.title = "Irons"
    book.save(shop)
    result = run(str(shop))
    assert result.exit_code == 0
    assert "a workbook of its own, no Evenheft order, with the sheet Irons" in result.output
    assert "evenheft adopt prices.xlsx" in result.output
    absent = run(str(tmp_path / "absent.xlsx")).output
    assert "look at the name" in absent
    assert "copy of it from before" not in absent


@pytest.mark.usefixtures("no_hosts")
def test_what_killed_runs_have_left_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert "no half-written file" in run().output
    (tmp_path / ".order.xlsx.evenheft-abc.tmp").write_bytes(b"half")
    for words in ((), ("order.xlsx",)):
        output = run(*words).output
        assert "a half-written file of a run that was killed" in output
        assert ".order.xlsx.evenheft-abc.tmp" in output
