"""What `python -m venv` asks of ensurepip: pip, from the wheel that lies beside this file."""

from __future__ import annotations

import runpy
import sys
from pathlib import Path


def main() -> None:
    """Install pip into the environment that runs this."""
    wheel = str(next(Path(__file__).parent.glob("pip-*.whl")))
    sys.path.insert(0, wheel)
    sys.argv = ["pip", "install", "--quiet", "--no-index", "--no-deps", wheel]
    runpy.run_module("pip", run_name="__main__", alter_sys=True)
