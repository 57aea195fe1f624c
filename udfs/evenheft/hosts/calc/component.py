"""The component that LibreOffice loads: one method per formula, each of which converts, forwards and hands back.

This file and what it imports run in LibreOffice's own Python. Whatever goes wrong on the way in (a Python that is too
old, a damaged installation) is told in every cell that asks, since LibreOffice itself would show only #VALUE!.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import uno
import unohelper
from com.sun.star.sheet import ResultEvent, XVolatileResult

OLDEST_OFFICE_PYTHON = (3, 10)
HERE = Path(__file__).parent
CARRIED: dict[str, Any] = json.loads((HERE / "carried.json").read_text(encoding="utf-8"))
"""What the extension was built with: version, service, interface and the names of its formulas."""


class _Range(unohelper.Base, XVolatileResult):
    """Rows of cells as an add-in written in Python can hand them to Calc.

    A method's own answer reaches Calc as a list of lists of anything, which Calc does not take for a range; only as
    the value of an event can Python say what type it means. So the answer is an object that Calc asks once.
    """

    def __init__(self, rows: tuple[tuple[Any, ...], ...]) -> None:
        self._rows = rows

    def addResultListener(self, listener: Any) -> None:  # noqa: N802  LibreOffice's names
        event = ResultEvent()
        event.Value = uno.Any("[][]any", self._rows)
        listener.modified(event)

    def removeResultListener(self, listener: Any) -> None:  # noqa: N802
        pass


def _methods() -> dict[str, Callable[..., Any]]:
    """Every formula's method; or, where the package cannot be loaded, methods that say why."""
    names: list[str] = CARRIED["formulas"]
    try:
        if sys.version_info < OLDEST_OFFICE_PYTHON:
            oldest = ".".join(map(str, OLDEST_OFFICE_PYTHON))
            raise ImportError(f"it needs Python {oldest}, this LibreOffice has {sys.version.split()[0]}")
        _prefer_carried_package()
        from evenheft.formulas import REGISTRY, selftest
        from evenheft.hosts.calc import HOST
        from evenheft.hosts.calc.serving import handler

        selftest.expect(version=CARRIED["version"], folder=str(HERE / "pythonpath"), formulas=names)
        return {name: handler(REGISTRY[name], HOST, _Range) for name in names}
    except Exception as error:
        line = f"! Evenheft cannot start in LibreOffice: {' '.join(str(error).split()) or type(error).__name__}"
        return dict.fromkeys(names, lambda _component, *_given: line)


def _prefer_carried_package() -> None:
    """Put the package that the extension carries before any other Evenheft that this Python can see."""
    carried = str(HERE / "pythonpath")
    sys.path[:] = [carried, *(folder for folder in sys.path if folder != carried)]


def _interface() -> tuple[type, ...]:
    """Ask for the add-in's own interface, once LibreOffice knows it: while it registers the file it may not yet."""
    try:
        return (uno.getClass(CARRIED["interface"]),)
    except Exception:
        return ()


class _Names:
    """What LibreOffice asks of any add-in: who it is. Its function texts come from the configuration instead."""

    def getServiceName(self) -> str:  # noqa: N802  LibreOffice's names
        return str(CARRIED["service"])

    def getImplementationName(self) -> str:  # noqa: N802
        return str(CARRIED["service"])

    def supportsService(self, name: str) -> bool:  # noqa: N802
        return name in self.getSupportedServiceNames()

    def getSupportedServiceNames(self) -> tuple[str, ...]:  # noqa: N802
        return (CARRIED["service"], "com.sun.star.sheet.AddIn")


def _made(_context: object) -> Any:
    bases = (
        *_interface(),
        uno.getClass("com.sun.star.lang.XServiceName"),
        uno.getClass("com.sun.star.lang.XServiceInfo"),
    )
    return type("Component", (unohelper.Base, _Names, *bases), _methods())()


g_ImplementationHelper = unohelper.ImplementationHelper()  # noqa: N816  the name that LibreOffice looks for
g_ImplementationHelper.addImplementation(_made, CARRIED["service"], (CARRIED["service"], "com.sun.star.sheet.AddIn"))
