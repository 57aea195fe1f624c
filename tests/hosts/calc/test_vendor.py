"""Numpy and scipy taken along in the extension load inside LibreOffice's own Python."""

from __future__ import annotations

import os
import platform
from pathlib import Path

import pytest
from openpyxl.utils import get_column_letter

from calc_office import Calc, running
from evenheft import __version__
from evenheft.formulas import REGISTRY, call
from evenheft.hosts.calc import HOST
from evenheft.hosts.calc import extension as package
from evenheft.hosts.calc.contents import contents
from evenheft.hosts.calc.vendor import VendorError, wheels
from pairing_shops import shop
from pairing_tables import tables_of

USES_SCIPY = "pythonpath/evenheft/mechanics/units.py"
"""A module that every formula needs; the test's extension lets it import scipy, so that nothing answers without."""


@pytest.mark.skipif(platform.machine() != "x86_64", reason="the target linux is for x86-64 machines")
def test_wheels_taken_along_load_in_libreoffice(calc: Calc, tmp_path: Path) -> None:
    version = calc.office.python_version()
    assert version is not None
    try:
        taken = wheels(f"linux-{version.rpartition('.')[0]}")
    except VendorError as error:
        if os.environ.get("CI"):
            raise
        pytest.skip(f"needs a package index: {error}")
    assert "pythonpath/scipy/optimize/__init__.py" in taken
    probe = b"\nimport scipy.optimize\nassert 'pythonpath' in scipy.__file__, scipy.__file__\n"
    package.write(tmp_path / "evenheft.oxt", {**taken, USES_SCIPY: contents()[USES_SCIPY] + probe})
    with running(tmp_path / "evenheft.oxt") as office, office.open() as book:
        book.put("Sheet1", "A1", [["=HEFT_SELFTEST()"]])
        assert book.value("Sheet1", "A1") == f"ok, evenheft {__version__} on {HOST}"
        # With them a set is planned in cells: every answer as here.
        tables = tables_of(shop(clubs=4, shafts=6, sizes=3, seed=2, inertia=20.0))
        top, areas = 1, []
        for table in tables:
            areas.append(f"B{top}:{get_column_letter(len(table[0]) + 1)}{top + len(table) - 1}")
            book.put("Sheet1", areas[-1], [list(row) for row in table])
            top += len(table) + 1
        answers = [[*row] for row in call(REGISTRY["HEFT_PLAN"], tables)]
        book.put_array("Sheet1", "B40:O43", f"=HEFT_PLAN({';'.join(areas)})")
        book.type("Sheet1", "B45", f'=HEFT_PLAN({";".join(areas)};"club 2";"shaft")')
        book.calculate()
        for found, row in zip(book.read("Sheet1", "B40:O43"), answers, strict=True):
            assert list(found) == [pytest.approx(cell, rel=1e-9) if isinstance(cell, float) else cell for cell in row]
        assert book.value("Sheet1", "B45") == answers[1][0]
