"""Numpy and scipy taken along in the extension load inside LibreOffice's own Python."""

from __future__ import annotations

import os
import platform
from pathlib import Path

import pytest

from calc_office import Calc, running
from evenheft import __version__
from evenheft.hosts.calc import HOST
from evenheft.hosts.calc import extension as package
from evenheft.hosts.calc.contents import contents
from evenheft.hosts.calc.vendor import VendorError, wheels

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
