"""`xlwings.udfs`, also where pywin32 is missing: to generate VBA, on any platform, nothing of Windows is called."""

from __future__ import annotations

import importlib
import sys
from types import ModuleType
from typing import Any


def _import_udfs() -> Any:
    """Import the module; where pywin32 is missing, with empty stand-ins for it, which are taken away again."""
    names = ("pythoncom", "pywintypes", "win32com", "win32com.client")
    missing = [name for name in names if not _importable(name)]
    for name in missing:
        sys.modules[name] = _stand_in(name)
    try:
        return importlib.import_module("xlwings.udfs")
    finally:
        for name in missing:
            del sys.modules[name]


def _importable(name: str) -> bool:
    try:
        importlib.import_module(name)
    except ImportError:
        return False
    return True


def _stand_in(name: str) -> ModuleType:
    module = ModuleType(name)
    module.__dict__.update(
        CoInitialize=lambda: None,
        com_error=type("com_error", (Exception,), {}),
        Dispatch=lambda dispatched, **_: dispatched,
    )
    return module


udfs = _import_udfs()
